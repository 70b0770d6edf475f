"""The lock files hold what pyproject.toml asks for, with hashes, and nothing that ties them to a machine."""

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.house.project import ROOT, Pin, extra_requirements, group_requirements, read_lock, runtime_requirements

RUNTIME = read_lock(ROOT / "requirements.lock")
DEV = read_lock(ROOT / "requirements-dev.lock")


def unmet(requirements: list[Requirement], lock: dict[str, Pin]) -> list[str]:
    pins = [(requirement, lock.get(canonicalize_name(requirement.name))) for requirement in requirements]
    return [str(requirement) for requirement, pin in pins if pin is None or pin.version not in requirement.specifier]


def test_the_runtime_lock_meets_every_requirement() -> None:
    assert unmet(runtime_requirements() + group_requirements("build"), RUNTIME) == []


def test_the_dev_lock_meets_every_requirement() -> None:
    assert unmet(runtime_requirements() + extra_requirements() + group_requirements("dev"), DEV) == []


def test_a_requirement_that_the_lock_misses_is_seen() -> None:
    assert unmet([Requirement("click>=99"), Requirement("absent")], RUNTIME) == ["click>=99", "absent"]


def test_both_locks_agree() -> None:
    assert {name: (pin.version, pin.hashes) for name, pin in RUNTIME.items()} == {
        name: (DEV[name].version, DEV[name].hashes) for name in RUNTIME
    }


def test_every_pin_has_a_hash() -> None:
    assert [name for name, pin in (RUNTIME | DEV).items() if not pin.hashes] == []


def test_no_deep_learning_framework_is_pulled_in() -> None:
    heavy = ("torch", "tensorflow", "jax", "nvidia-")
    assert [name for name in RUNTIME | DEV if name.startswith(heavy)] == []


@pytest.mark.parametrize(
    "line",
    [
        "--index-url https://registry.example/simple",
        "--find-links ./wheels",
        "-e .",
        "six @ https://registry.example/six.whl",
    ],
)
def test_other_lines_in_a_lock_are_refused(tmp_path, line: str) -> None:
    lock = tmp_path / "some.lock"
    lock.write_text(f"six==1.17.0 \\\n    --hash=sha256:{'0' * 64}\n{line}\n")
    with pytest.raises(ValueError, match=r"some\.lock:3"):
        read_lock(lock)
