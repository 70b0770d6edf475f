"""What `docs/adding.md` promises: an entry in YAML is enough, no Python is changed."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import yaml

from pipeline.lexicon.load import default_folder
from pipeline.lexicon.pronounce import phones
from pipeline.lexicon.show import check
from pipeline.record.model import ExamRecord, Row
from tests.understand.talks import heard, told, written

ROOT = Path(__file__).parents[2]
DOCUMENT = (ROOT / "docs" / "adding.md").read_text(encoding="utf-8")
"""Its examples are an invented manoeuvre, muscle, scale and pronunciation; together they are one lexicon file."""


def examples() -> str:
    """All YAML examples of the document, merged into one file as a reader would do."""
    merged: dict[str, object] = {}
    for block in DOCUMENT.split("```yaml\n")[1:]:
        merged |= yaml.safe_load(block.split("```")[0])
    return yaml.safe_dump(merged)


def with_examples(folder: Path) -> Path:
    shutil.copytree(default_folder(), folder)
    (folder / "face.yaml").write_text(examples(), encoding="utf-8")
    return folder


TALKS = [
    ("left jaw closure four plus", "left jaw_closure 4+"),
    ("right masseter five out of five", "right jaw_closure 5"),
    ("right jaw closer four minus", "right jaw_closure 4-"),
    ("left jaw closure not tested because of pain", "left jaw_closure !pain"),
    ("on the left clench your teeth. good", "left jaw_closure normal ~"),
    ("left xhoster reflex three plus", "left xhoster_reflex 3+"),
    ("left coaster reflex three plus", "left xhoster_reflex 3+"),
    ("left brow sign full", "left brow_sign complete"),
    ("right brow sign halfway", "right brow_sign partial"),
]
UNCHANGED = ["right tibia alice anterior four minus", "gait normal", "lower limbs. reflexes are two plus"]


@pytest.fixture(scope="module")
def enlarged(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[Row]]:
    """The rows of each talk, from a copy of the project: the same Python, the lexicons with the examples."""
    copy = tmp_path_factory.mktemp("checkout")
    shutil.copytree(ROOT / "pipeline", copy / "pipeline", ignore=shutil.ignore_patterns("__pycache__"))
    with_examples(copy / "lexicons")
    script = (
        "import json, sys\n"
        "from pipeline.engine import Engine\n"
        "from pipeline.hear import Heard\n"
        "engine = Engine()\n"
        "talks = {talk: Heard.model_validate(said) for talk, said in json.load(sys.stdin).items()}\n"
        "records = {talk: engine.structure(said).model_dump(mode='json') for talk, said in talks.items()}\n"
        "json.dump(records, sys.stdout)\n"
    )
    talks = {talk: heard(talk).model_dump() for talk in [*UNCHANGED, *(talk for talk, _ in TALKS)]}
    answer = subprocess.run(
        [sys.executable, "-c", script], cwd=copy, input=json.dumps(talks), capture_output=True, text=True
    )
    assert answer.returncode == 0, answer.stderr
    return {talk: ExamRecord.model_validate(record).rows for talk, record in json.loads(answer.stdout).items()}


def test_the_enlarged_folder_has_no_problems(tmp_path: Path) -> None:
    assert check(with_examples(tmp_path / "lexicons")) == []


@pytest.mark.parametrize(("talk", "wanted"), TALKS)
def test_it_is_understood_like_any_other(enlarged: dict[str, list[Row]], talk: str, wanted: str) -> None:
    assert {written(row) for row in enlarged[talk]} == {wanted}
    assert wanted not in told(talk)


@pytest.mark.parametrize("talk", UNCHANGED)
def test_what_was_known_before_is_unchanged(enlarged: dict[str, list[Row]], talk: str) -> None:
    assert {written(row) for row in enlarged[talk]} == told(talk) != set()


def test_muscle_and_roots_come_with_it(enlarged: dict[str, list[Row]]) -> None:
    (row,) = enlarged["right masseter five out of five"]
    assert (row.muscle, row.expected_roots) == ("masseter", ["C1"])


def test_without_its_pronunciation_the_word_would_be_sounded_out_otherwise() -> None:
    assert ("K", "OW", "S", "T", "ER") not in phones("xhoster")


@pytest.mark.parametrize(
    ("wrong", "part"),
    [
        ("manoeuvres: [{id: ear_wiggle, region: whole, section: power, scale: mrc, names: [ear wiggle]}]", "method"),
        (
            "manoeuvres: [{id: ear_wiggle, region: whole, section: power, scale: nothing, names: [ear wiggle],"
            " method: look, source: invented}]",
            "unknown scale 'nothing'",
        ),
        ("muscles: [{id: gait, names: []}]", "names"),
        ("manoeuvre: []", "unknown field 'manoeuvre'"),
    ],
)
def test_a_slip_is_told_in_one_line(tmp_path: Path, wrong: str, part: str) -> None:
    folder = with_examples(tmp_path / "lexicons")
    (folder / "a_new_one.yaml").write_text(wrong, encoding="utf-8")
    (problem,) = check(folder)
    assert "a_new_one.yaml" in problem and part in problem and "\n" not in problem
