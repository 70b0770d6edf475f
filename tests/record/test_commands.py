from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from pipeline.record.commands import record
from pipeline.record.store import Store
from tests.record.test_store import add, close_all, sign
from tests.record.test_tampering import attack


def run(*arguments: str) -> tuple[int, str]:
    result = CliRunner().invoke(record, arguments)
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.exit_code, result.output


def test_list_show_verify_delete(home: Path) -> None:
    assert run("list") == (0, f"No examination is kept in {home}.\n")
    with Store.open() as store:
        exam = add(store)
        close_all(store, exam)
        sign(store, exam, 5)
    assert "signed    Invented patient A (5 rows)" in run("list")[1]
    code, shown = run("show", exam, "--trail")
    assert code == 0
    for part in (
        "ankle dorsiflexion, right: 4-",
        "straight leg raise, right: pain",
        "Dr Ada, Neurologist",
        "Ada  cleared",
    ):
        assert part in shown
    assert len(json.loads(run("show", exam, "--json")[1])["rows"]) == 5
    assert run("verify") == (0, f"{exam}  whole\n")
    assert run("delete", exam, "--yes") == (0, f"Deleted {exam}.\n")
    code, said = run("show", exam)
    assert code == 1 and said == "Error: there is no such examination; list them to see what the store holds\n"


def test_verify_fails_for_a_tampered_record(home: Path) -> None:
    with Store.open() as store:
        exam = add(store)
    attack(home, "UPDATE entry SET who = 'Eve' WHERE exam_id = :exam", exam=exam)
    code, said = run("verify", exam)
    assert code == 1 and "entry 1 was altered" in said


def test_delete_asks_first(home: Path) -> None:
    with Store.open() as store:
        exam = add(store)
    assert CliRunner().invoke(record, ["delete", exam], input="n\n").exit_code == 1
    with Store.open() as store:
        assert len(store.list()) == 1


def test_the_passphrase_comes_from_the_environment(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with Store.open(passphrase="correct horse") as store:
        add(store)
    code, said = run("list")
    assert code == 1 and "give it, say as SPOKEN_EXAM_PASSPHRASE" in said and "Traceback" not in said
    monkeypatch.setenv("SPOKEN_EXAM_PASSPHRASE", "correct horse")
    assert "Invented patient A" in run("list")[1]
