"""The commands, as the program mounts them: files, screen, and one clear line for what goes wrong."""

import csv
import io
import json
from collections.abc import Callable
from pathlib import Path

import click
import pyarrow.parquet
import pytest
from click.testing import CliRunner, Result

from pipeline.export import commands
from pipeline.export.exam import Exam, stored
from pipeline.export.fhir import rows_of
from pipeline.record.model import ExamRecord, Row
from pipeline.record.scores import LOWER_EXTREMITY
from pipeline.record.store import Store
from tests.export.cases import cases, exam
from tests.export.readers import pdf_pages
from tests.export.sessions import bedside
from tests.export.test_session import FILES, film

CASES = {case["id"]: case for case in cases()}
Run = Callable[..., Result]
NAMES = ("note", "bundle", "table", "teach", "compare", "scores", "supply")
GROUP = click.Group(commands={name: getattr(commands, name) for name in NAMES})


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Runs a command in a folder of its own. Sources: a case's id, `session`, or a film."""
    monkeypatch.chdir(tmp_path)

    def resolve(source: str) -> Exam:
        if source.startswith("session") or Path(source).is_file():
            shown = bedside()
            return Exam(shown.record, shown.transcript, media=Path(source) if Path(source).is_file() else None)
        if source not in CASES:
            raise click.ClickException(f"{source}: no such examination")
        return exam(CASES[source])

    def invoke(*arguments: str) -> Result:
        return CliRunner().invoke(GROUP, arguments, obj=resolve)

    return invoke


def lines(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_note_goes_to_screen_or_file(run: Run) -> None:
    shown = run("note", "a1-01")
    assert shown.exit_code == 0 and shown.stdout.startswith("# Neurological examination")
    written = run("note", "a1-01", "--format", "pdf", "-o", "n.pdf")
    assert (written.exit_code, written.stdout, written.stderr) == (0, "", "Wrote n.pdf\n")
    assert "Neurological examination" in pdf_pages(Path("n.pdf"))[0]
    assert run("note", "a1-01", "--format", "docx", "-o", "n.docx").exit_code == 0
    assert Path("n.docx").read_bytes()[:2] == b"PK"


@pytest.mark.parametrize("version", ["R4B", "R5"])
def test_bundle(run: Run, version: str) -> None:
    result = run("bundle", "a1-01", "--version", version)
    assert result.exit_code == 0
    assert rows_of(result.stdout, version) == exam(CASES["a1-01"]).record.rows  # type: ignore[arg-type]


def test_bundle_takes_the_codes_of_a_site(run: Run) -> None:
    Path("c.yaml").write_text("side: {left: [{system: urn:example, code: l}]}")
    result = run("bundle", "a1-01", "--codes", "c.yaml", "-o", "b.json")
    assert result.exit_code == 0
    assert '"urn:example"' in Path("b.json").read_text()
    assert json.loads(Path("b.json").read_text())["type"] == "document"


def test_table_in_both_forms_with_its_dictionary(run: Run) -> None:
    assert run("table", "a1-01", "-o", "t.csv").exit_code == 0
    assert run("table", "a1-01", "--format", "parquet", "--deidentify", "-o", "t.parquet").exit_code == 0
    named = lines(Path("t.csv").read_text())
    bare = pyarrow.parquet.read_table("t.parquet")
    assert len(named) == bare.num_rows == len(CASES["a1-01"]["rows"])
    assert "heard" in named[0] and "heard" not in bare.column_names
    assert [line["column"] for line in lines(Path("t.dictionary.csv").read_text())] == bare.column_names
    screen = run("table", "a1-01")
    assert lines(screen.stdout) == named


def test_teach_writes_a_folder(run: Run) -> None:
    result = run("teach", "session", "-o", "out")
    assert result.exit_code == 0
    assert sorted(file.name for file in Path("out").iterdir()) == FILES
    assert result.stderr.count("Wrote out/") == len(FILES)


def test_teach_captions_a_film(run: Run, tmp_path: Path) -> None:
    film(tmp_path / "round.mkv")
    assert run("teach", "round.mkv", "-o", "out").exit_code == 0
    assert Path("out/round-captioned.mkv").is_file()


def test_compare_on_screen_and_in_a_folder(run: Run) -> None:
    shown = run("compare", "a1-01", "a1-02")
    assert shown.exit_code == 0 and "## From a1-01 to a1-02" in shown.stdout
    written = run("compare", "a1-01", "a1-02", "--label", "May", "--label", "June", "-o", "out")
    assert written.exit_code == 0
    assert {"comparison.md", "comparison.docx", "comparison.pdf"} <= {file.name for file in Path("out").iterdir()}
    assert "## From May to June" in Path("out/comparison.md").read_text()


def test_scores_say_what_is_missing(run: Run) -> None:
    result = run("scores", "a3-05")
    assert result.exit_code == 0
    assert "Not computed. Missing:" in result.stdout
    assert "- L5 long toe extensors, left: not recorded" in result.stdout
    assert "Common practice, no source." in result.stdout


def test_scores_of_a_complete_examination() -> None:
    grades = {"right": ["5", "5", "4-", "3", "5"], "left": ["5"] * 5}
    rows = [
        Row.model_validate({"manoeuvre": part.manoeuvre, "side": side, "value": grade})
        for side, given in grades.items()
        for part, grade in zip(LOWER_EXTREMITY.parts, given, strict=True)
    ]
    text = CliRunner().invoke(GROUP, ["scores", "x"], obj=lambda _: Exam(ExamRecord(rows=rows))).stdout
    assert "**47 of 50**, right 22, left 25" in text
    assert "| L4 ankle dorsiflexors | 4 (recorded 4-) | 5 | " in text


def test_supply(run: Run) -> None:
    result = run("supply", "a1-01")
    assert result.exit_code == 0 and "not a diagnosis" in result.stdout and "| Root |" in result.stdout


def test_a_kept_examination_is_told_as_it_stands(tmp_path: Path) -> None:
    row = Row.model_validate({"manoeuvre": "gait", "side": "midline", "value": "impaired", "confirm": True})
    with Store.open(tmp_path / "store") as store:
        kept = store.add(
            ExamRecord(rows=[row]), title="Gait only", transcript=bedside().transcript, speaker="Dr Example"
        )
        view = store.exam(kept)
        draft = stored(store, kept)
        store.confirm(kept, view.items[0].id, who="Dr Example", seen=view.revision)
        seen = store.exam(kept).revision
        store.sign(kept, name="Dr Example", role="neurologist", statement="Checked.", seen=seen)
        final = stored(store, kept)
    assert (draft.title, draft.signed, draft.record.rows[0].confirm) == ("Gait only", False, True)
    assert (final.signed, final.record.rows[0].confirm, final.identifier) == (True, False, kept)
    assert final.transcript == bedside().transcript and final.examiner == "Dr Example"


@pytest.mark.parametrize(
    ("arguments", "complaint"),
    [
        (("note", "absent"), "absent: no such examination"),
        (("note", "a1-01", "--format", "pdf"), "a pdf needs a file; name one with -o"),
        (("note", "a1-01", "-o", "absent/n.md"), "absent/n.md: no file can be made in that folder; check the name"),
        (("table", "a1-01", "-o", "."), "File '.' is a directory"),
        (("note", "a1-01", "--templates", "absent"), "absent: no such folder; name one that holds templates"),
        (("table", "a1-01", "--format", "parquet"), "a Parquet table needs a file; name one with -o"),
        (("bundle", "a1-01", "--codes", "absent.yaml"), "absent.yaml: cannot be read"),
        (("compare", "a1-01"), "a comparison needs two sources or more"),
        (("compare", "a1-01", "a1-02", "--label", "May"), "2 sources need 2 labels, or none; 1 given"),
        (("teach", "session"), "Missing option '-o'"),
    ],
)
def test_a_problem_is_one_line(run: Run, arguments: tuple[str, ...], complaint: str) -> None:
    result = run(*arguments)
    assert result.exit_code != 0
    assert complaint in result.stderr
    assert result.stderr.splitlines()[-1].startswith("Error: ")
    assert result.exception is None or isinstance(result.exception, SystemExit)


def test_what_stands_in_the_way_is_named_and_kept(run: Run) -> None:
    Path("out").write_text("a file")
    result = run("teach", "session", "-o", "out/inner")
    assert result.exit_code != 0
    assert result.stderr == "Error: out/inner: cannot be made a folder (Not a directory); name another with -o\n"
    Path("session.txt").write_text("hip flexion five")
    result = run("note", "session.txt", "-o", "session.txt")
    assert result.stderr == "Error: session.txt is the input itself; give -o another name\n"
    assert (Path("out").read_text(), Path("session.txt").read_text()) == ("a file", "hip flexion five")


def test_outputs_are_readable_by_their_owner_only(run: Run) -> None:
    run("note", "a1-01", "-o", "n.md")
    run("teach", "session", "-o", "out")
    assert {file.stat().st_mode & 0o777 for file in (Path("n.md"), *Path("out").iterdir())} == {0o600}
    assert Path("out").stat().st_mode & 0o777 == 0o700
