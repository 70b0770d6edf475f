# Each target works as the first command in a fresh clone: it makes .venv from the lock files when that is needed.
.PHONY: demo test lint bench evaluate lock clean
.DELETE_ON_ERROR:

PYTHON ?= $(shell command -v python3.11 || command -v python3)
VENV := .venv
BIN := $(VENV)/bin
PIP := $(BIN)/python -m pip --disable-pip-version-check --quiet
# More for pytest, for example: make test PYTEST_ARGS="tests/fill -x"
PYTEST_ARGS ?=
# More for the lock: LOCK_ARGS=--upgrade takes newer releases, else every pin that still fits stays.
LOCK_ARGS ?=
LOCK := $(BIN)/uv pip compile pyproject.toml --no-config --quiet --universal --python-version 3.11 \
	--fork-strategy fewest --generate-hashes --custom-compile-command "make lock" $(LOCK_ARGS)

demo: $(VENV)/.runtime
	$(BIN)/spoken-exam demo

test: lint
	sh scripts/setup.sh
	$(BIN)/python -m pytest -n 2 --dist loadfile $(PYTEST_ARGS)

lint: $(VENV)/.dev
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(BIN)/lint-imports --no-logo

bench: $(VENV)/.dev
	$(BIN)/python scripts/bench.py

evaluate: $(VENV)/.dev
	$(BIN)/python scripts/evaluate.py

lock: $(VENV)/.dev
	$(LOCK) --group build --output-file requirements.lock
	$(LOCK) --group dev --all-extras --constraint requirements.lock --output-file requirements-dev.lock

clean:
	rm -rf $(VENV) build dist .mypy_cache .ruff_cache .pytest_cache .import_linter_cache .hypothesis
	find . -name __pycache__ -type d -prune -exec rm -rf {} +

$(BIN)/python:
	@"$(PYTHON)" -c 'import sys; sys.exit(sys.version_info < (3, 11))' || \
		{ echo "Python 3.11 or newer is needed; name it with: make PYTHON=/path/to/python3.11" >&2; exit 1; }
	"$(PYTHON)" -m venv $(VENV)

$(VENV)/.runtime: requirements.lock pyproject.toml | $(BIN)/python
	@echo "Installing what spoken-exam needs into $(VENV); the first time this takes some minutes."
	$(PIP) install --require-hashes -r requirements.lock
	$(PIP) install --no-deps --no-build-isolation --editable .
	@touch $@

$(VENV)/.dev: requirements-dev.lock $(VENV)/.runtime
	@echo "Installing what the tests need into $(VENV); the first time this takes some minutes."
	$(PIP) install --require-hashes -r requirements-dev.lock
	@touch $@
