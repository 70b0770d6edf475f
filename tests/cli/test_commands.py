"""The commands: what they print, where they write, and how they fail."""

from __future__ import annotations

import json
import re
import resource
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from pipeline import cli
from pipeline.lexicon.load import default_folder
from pipeline.record.model import ExamRecord
from pipeline.record.transcript import Transcript
from tests.cli.running import COMMAND, DICTATION, ROOT, run, run_on_terminal, run_process

Capture = pytest.CaptureFixture[str]

TALK = "Right leg. Power is five throughout. The left ankle jerk is absent. Both knee jerks are two plus."


@pytest.fixture
def talk(tmp_path: Path) -> Path:
    path = tmp_path / "talk.txt"
    path.write_text(TALK, encoding="utf-8")
    return path


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No test touches the user's store."""
    monkeypatch.setenv("SPOKEN_EXAM_HOME", str(tmp_path / "home"))
    for name in ("SPOKEN_EXAM_DATABASE", "SPOKEN_EXAM_PASSPHRASE", "SPOKEN_EXAM_DEBUG"):
        monkeypatch.delenv(name, raising=False)


def test_rows_are_a_record_and_json_adds_the_transcript(talk: Path, capsys: Capture) -> None:
    rows = json.loads(run(capsys, "structure", talk, "--format", "rows").out)
    both = json.loads(run(capsys, "structure", talk, "--format", "json").out)
    assert both["record"] == rows
    record = ExamRecord.model_validate(rows)
    assert ("ankle_jerk", "left", None) in {row.key for row in record.rows}
    words = [word.text for block in Transcript.model_validate(both["transcript"]).blocks for word in block.words]
    assert " ".join(words) == TALK


def test_text_shows_each_row_beside_its_other_side(talk: Path, capsys: Capture) -> None:
    shown = run(capsys, "structure", talk).out
    assert re.search(r"Knee jerk +2\+ +2\+$", shown, re.MULTILINE)
    assert re.search(r"Ankle jerk +0 \*$", shown, re.MULTILINE)
    assert "not a diagnosis or a medical device" in shown


def test_a_file_holds_what_the_screen_would_show(talk: Path, tmp_path: Path, capsys: Capture) -> None:
    for form in ("text", "rows", "json"):
        target = tmp_path / f"out.{form}"
        ran = run(capsys, "structure", talk, "--format", form, "--output", target)
        assert (ran.code, ran.out) == (0, "")
        assert target.read_text(encoding="utf-8") == run(capsys, "structure", talk, "--format", form).out


def test_an_existing_file_survives_an_error(tmp_path: Path, capsys: Capture) -> None:
    target = tmp_path / "kept.json"
    target.write_text("precious")
    run(capsys, "structure", tmp_path / "none.txt", "--output", target).error()
    assert target.read_text() == "precious"


def test_an_existing_file_survives_a_full_disk(talk: Path, tmp_path: Path) -> None:
    """A limit on the size of files stands for the disk: the write itself fails, halfway."""
    target = tmp_path / "kept.json"
    target.write_text("precious")
    answer = subprocess.run(
        [COMMAND, "structure", talk, "--format", "rows", "--output", target],
        capture_output=True, text=True, preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (500, 500)),
    )  # fmt: skip
    assert answer.returncode == 1
    assert len(answer.stderr.splitlines()) == 1 and answer.stderr.startswith("Error: ")
    assert target.read_text() == "precious"
    assert sorted(file.name for file in tmp_path.iterdir()) == ["kept.json", "talk.txt"]


def test_the_input_is_never_overwritten(talk: Path, tmp_path: Path, capsys: Capture) -> None:
    link = tmp_path / "link.txt"
    link.symlink_to(talk)
    for target in (talk, link):
        assert "is the input itself" in run(capsys, "structure", talk, "--output", target).error()
    assert talk.read_text() == TALK


@pytest.mark.parametrize("target", ["nowhere/out.json", "."])
def test_a_place_that_cannot_be_written_is_found_before_the_work(
    target: str, tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cli, "_analyse", lambda *_: pytest.fail("the work was done first"))
    run(capsys, "structure", DICTATION, "--output", tmp_path / target).error()


def test_nothing_is_written_when_nothing_was_asked_for(talk: Path, tmp_path: Path) -> None:
    run_process("structure", talk)
    assert [file.name for file in tmp_path.iterdir()] == ["talk.txt"]


def test_a_talk_without_a_result_is_no_error(tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "talk.txt"
    path.write_text("Good morning, please have a seat, how was the journey?")
    ran = run(capsys, "structure", path)
    assert (ran.code, ran.err) == (0, "")
    assert "No result for the patient was heard." in ran.out


def test_colour_on_a_terminal_only_and_never_alone(talk: Path) -> None:
    plain = run_process("structure", talk)
    assert "\x1b" not in plain.out
    shown = run_on_terminal("structure", talk)
    assert "\x1b[" in shown
    bare = re.sub(r"\x1b\[[0-9;]*m", "", shown).replace("\r\n", "\n")
    assert [line.rstrip() for line in bare.splitlines()] == plain.out.splitlines()
    assert "\x1b" not in run_on_terminal("structure", talk, NO_COLOR="1")
    assert "\x1b" not in run_on_terminal("structure", talk, TERM="dumb")


def test_progress_is_shown_on_a_terminal_only(tmp_path: Path) -> None:
    path = tmp_path / "short.flac"
    subprocess.run(["ffmpeg", "-v", "error", "-ss", "19", "-t", "5", "-i", DICTATION, path], check=True)
    assert "Listening to short.flac" in run_on_terminal("structure", path, stream="stderr")
    assert run_process("structure", path).err == ""


def test_the_lexicon_commands(tmp_path: Path, capsys: Capture) -> None:
    assert run(capsys, "lexicon", "check").out.startswith("No problem: ")
    assert "root L5 (main)" in run(capsys, "lexicon", "show", "tibialis", "anterior").out
    assert "did you mean: tibialis" in run(capsys, "lexicon", "show", "tibialis anteriour").error()
    assert "no .yaml files" in run(capsys, "lexicon", "check", tmp_path).error()
    assert "no .yaml files" in run(capsys, "lexicon", "check", tmp_path / "none").error()


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("  scale: mrc", "  scale: nosuch", "unknown scale 'nosuch'"),
        ("  section: power", "  section: power\n  colour: red", "unknown field 'colour'"),
        ("manoeuvres:", "manoeuvres: [", "not valid YAML"),
    ],
)
def test_a_broken_lexicon_is_one_line_that_names_the_place(
    old: str, new: str, told: str, tmp_path: Path, capsys: Capture
) -> None:
    folder = tmp_path / "lexicons"
    shutil.copytree(default_folder(), folder)
    broken = folder / "lower_limb.yaml"
    broken.write_text(broken.read_text(encoding="utf-8").replace(old, new, 1), encoding="utf-8")
    line = run(capsys, "lexicon", "check", folder).error()
    assert told in line and "lower_limb.yaml" in line


def test_other_commands_take_files_and_kept_examinations(talk: Path, capsys: Capture) -> None:
    assert "Ankle jerk" in run(capsys, "note", talk).out
    assert "no such file, and no kept examination" in run(capsys, "note", "nosuch").error()


@pytest.mark.parametrize("name", cli.ELSEWHERE)
def test_each_listed_command_is_there(name: str, capsys: Capture) -> None:
    assert run(capsys, name, "--help").out.startswith(f"Usage: spoken-exam {name}")
    assert re.search(rf"^  {name} +{re.escape(cli.ELSEWHERE[name][1][:30])}", run(capsys, "--help").out, re.MULTILINE)


@pytest.mark.parametrize(
    "arguments", [["structur"], ["structure"], ["structure", "a", "--format", "xml"], ["structure", "a", "b"], ["--no"]]
)
def test_wrong_usage_is_one_line_and_code_2(arguments: list[str], capsys: Capture) -> None:
    assert "--help" in run(capsys, *arguments).error(code=2)


def test_a_defect_is_one_line_that_says_how_to_report(
    talk: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise KeyError("a word of the patient")

    monkeypatch.setattr(cli, "_analyse", fail)
    line = run(capsys, "structure", talk).error(code=70)
    assert "SPOKEN_EXAM_DEBUG=1" in line and "patient" not in line.replace("patient data", "")
    monkeypatch.setenv("SPOKEN_EXAM_DEBUG", "1")
    ran = run(capsys, "structure", talk)
    assert ran.code == 70 and "Traceback" in ran.err


def test_stopping_is_one_line(talk: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(cli, "_analyse", stop)
    ran = run(capsys, "structure", talk)
    # The empty line ends the line on which the terminal shows ^C.
    assert (ran.code, ran.err) == (130, "\nError: stopped\n")


def loaded(*arguments: str) -> set[str]:
    """Names of the modules that a command loaded."""
    program = (
        "import sys; from pipeline.cli import main; code = main(sys.argv[1:]); print('\\n' + ' '.join(sys.modules))"
    )
    answer = subprocess.run([sys.executable, "-c", program, *arguments], capture_output=True, text=True, check=True)
    return set(answer.stdout.splitlines()[-1].split())


def test_a_command_loads_only_what_it_needs(talk: Path) -> None:
    not_for_structure = {"docx", "fastapi", "faster_whisper", "fhir", "pocketsphinx", "sqlalchemy", "uvicorn"}
    assert not loaded("--help") & (not_for_structure | {"av", "numpy", "pydantic", "rich", "spacy", "yaml"})
    assert not loaded("structure", str(talk)) & not_for_structure


def test_the_demo_runs_from_a_wheel(tmp_path: Path) -> None:
    """Two recordings, heard and compared, without the checkout."""
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory", tmp_path], cwd=ROOT, check=True
    )
    installed = tmp_path / "installed"
    shutil.unpack_archive(next(tmp_path.glob("*.whl")), installed, "zip")
    program = "import sys; from pipeline import cli; print(cli.__file__); sys.exit(cli.main(['demo']))"
    answer = subprocess.run(
        [sys.executable, "-P", "-c", program], env={"PYTHONPATH": str(installed)}, cwd=tmp_path,
        capture_output=True, text=True,
    )  # fmt: skip
    assert answer.returncode == 0, answer.stderr
    shown = answer.stdout
    assert shown.startswith(str(installed))
    for name in ("dictation.opus: unsigned draft", "teaching.opus: unsigned draft"):
        assert name in shown
    counted = re.search(r"(\d+) of (\d+) rows agree", shown.splitlines()[-1])
    assert counted and int(counted[1]) >= 0.8 * int(counted[2]) > 60
    # Another processor may hear a word otherwise, so the example of the README need not be the same to the letter.
    example = (ROOT / "README.md").read_text(encoding="utf-8").split("```")[1].strip().splitlines()
    shared = sum(line in shown.splitlines() for line in example)
    assert len(example) > 40 and shared >= 0.8 * len(example), "put what `demo` prints into README.md"
