"""A teaching session's folder: handout, transcript, changes, index, and a film with captions in it."""

import csv
from pathlib import Path

import av
import numpy as np
import pytest
from docx import Document

from pipeline.export.captions import cues
from pipeline.export.chapters import chapters
from pipeline.export.exam import Exam, ExportError
from pipeline.export.session import HANDOUT_BANNER, handout, write_session
from pipeline.export.spoken import shown_words
from pipeline.export.teaching import index, points, said_roots, taught
from pipeline.export.video import CODECS, is_film, write_film
from pipeline.lexicon import load
from pipeline.record.model import ExamRecord
from tests.export.readers import pdf_info, pdf_pages
from tests.export.sessions import BEDSIDE, bedside, transcript

LEXICON = load()
FILES = sorted(
    ["captions.vtt", "captions.srt", "chapters.vtt", "transcript.md", "changes.csv"]
    + [f"handout.{ending}" for ending in ("md", "docx", "pdf")]
)


def film(file: Path) -> Path:
    """Six seconds of grey, with a tone."""
    with av.open(str(file), "w") as made:
        picture = made.add_stream("libvpx" if file.suffix == ".webm" else "mpeg4", rate=10)
        picture.width, picture.height, picture.pix_fmt = 64, 48, "yuv420p"
        for at in range(60):
            frame = av.VideoFrame.from_ndarray(np.full((48, 64, 3), at * 4, dtype=np.uint8), format="rgb24")
            made.mux(picture.encode(frame))
        made.mux(picture.encode())
    return file


def test_a_session_gives_all_its_files(tmp_path: Path) -> None:
    written = write_session(bedside(), LEXICON, tmp_path / "out")
    assert sorted(file.name for file in written) == FILES
    assert sorted(file.name for file in (tmp_path / "out").iterdir()) == FILES
    assert all(file.stat().st_size for file in written)


def test_the_handout_is_complete_in_all_three_forms(tmp_path: Path) -> None:
    shown = bedside()
    write_session(shown, LEXICON, tmp_path)
    pages = pdf_pages(tmp_path / "handout.pdf")
    assert all(HANDOUT_BANNER in page for page in pages)
    assert pdf_info(tmp_path / "handout.pdf")["Title"] == "Handout: Bedside teaching"
    word = Document(str(tmp_path / "handout.docx"))
    cells = [cell.text for table in word.tables for row in table.rows for cell in row.cells]
    plain = (tmp_path / "handout.md").read_text().replace("\\", "").replace("*", "")
    for text in (
        "Before you touch anybody, stand at the end of the bed and look.",
        "Patient supine; lifts the thigh against the examiner's hand.",
        "right: 5 (L2, L3); left: 4",
        "differs: the lexicon does not name S1; the lexicon names the deep peroneal nerve",
    ):
        assert text in plain
        assert text in " ".join(pages)
        assert text in cells or text in " ".join(paragraph.text for paragraph in word.paragraphs)


def test_teaching_points_have_their_times() -> None:
    shown = bedside()
    found = points(shown.transcript)
    assert [point.text for point in found] == [
        text.replace("{ilia so as=>Iliopsoas}", "Iliopsoas") for kind, text in BEDSIDE if kind == "teaching"
    ]
    assert found[1].start == shown.transcript.blocks[4].start


def test_supply_as_said_stands_beside_the_lexicon() -> None:
    found = {(one.subject, one.said_nerve, one.said_roots): one for one in taught(bedside(), LEXICON)}
    agreed = found["iliopsoas", "femoral nerve", ("L2", "L3")]
    assert agreed.disagreements == () and agreed.nerve == "femoral nerve"
    assert "ISNCSCI key muscles" in agreed.sources
    wrong = found["tibialis anterior", "superficial peroneal nerve", ("S1",)]
    assert wrong.disagreements == ("the lexicon does not name S1", "the lexicon names the deep peroneal nerve")
    assert found["tibialis anterior", None, ("L4", "L5")].disagreements == ()
    assert len(found) == 4


@pytest.mark.parametrize(
    ("said", "found"),
    [
        (
            "Quadriceps is femoral, L3 L4, and hamstrings are sciatic nerve, mainly S1.",
            [("quadriceps", "femoral nerve", ("L3", "L4")), ("hamstrings", "sciatic nerve", ("S1",))],
        ),
        (
            "The sciatic nerve supplies the hamstrings, while quadriceps is L3.",
            [("hamstrings", "sciatic nerve", ()), ("quadriceps", None, ("L3",))],
        ),
        ("The femoral nerve is long.", []),
    ],
)
def test_each_muscle_keeps_its_own_nerve(said: str, found: list[tuple[str, str | None, tuple[str, ...]]]) -> None:
    talk = transcript([("teaching", said)])
    lines = taught(Exam(ExamRecord(), talk), LEXICON)
    assert [(one.subject, one.said_nerve, one.said_roots) for one in lines] == found
    assert not any(one.disagreements for one in lines)


@pytest.mark.parametrize(
    ("text", "roots"),
    [
        ("L4, L5", ["L4", "L5"]),
        ("L four five and S 1", ["L4", "L5", "S1"]),
        ("L45", ["L4", "L5"]),
        ("S one and two", ["S1", "S2"]),
        ("T 12", ["T12"]),
        ("grade four, C five", ["C5"]),
        ("L nine", []),
        ("it's five", []),
    ],
)
def test_roots_in_words(text: str, roots: list[str]) -> None:
    assert said_roots(text) == roots


def test_the_index_names_every_time() -> None:
    shown = bedside()
    found = {term.name: term for term in index(shown.transcript, LEXICON)}
    blocks = shown.transcript.blocks
    assert set(found) == {
        "hip flexion", "iliopsoas", "femoral nerve", "tibialis anterior", "superficial peroneal nerve", "knee jerk",
    }  # fmt: skip
    assert found["tibialis anterior"].times == (blocks[6].start, blocks[7].start)
    assert found["tibialis anterior"].kind == "muscle"


def test_every_change_is_listed(tmp_path: Path) -> None:
    write_session(bedside(), LEXICON, tmp_path)
    with (tmp_path / "changes.csv").open(newline="") as file:
        lines = list(csv.DictReader(file))
    assert [(line["heard"], line["mended"]) for line in lines] == [
        ("ilia so as", "iliopsoas"),
        ("ilia so as", "Iliopsoas"),
        ("tibby alice interior.", "tibialis anterior."),
    ]
    text = (tmp_path / "handout.md").read_text()
    assert "3 misheard spans were mended" in text and "| tibby alice interior. | tibialis anterior. |" in text


def test_the_transcript_is_clean_and_in_chapters(tmp_path: Path) -> None:
    write_session(bedside(), LEXICON, tmp_path)
    text = (tmp_path / "transcript.md").read_text()
    assert text.count("\n## ") == 3
    assert "*teaching:* Iliopsoas is supplied by the femoral nerve, L2 and L3." in text
    assert (
        text.index("## Power") < text.index("Lift your knee up") < text.index("## Reflexes") < text.index("I am going")
    )
    assert text.count("\n**") == len(BEDSIDE)


@pytest.mark.parametrize("ending", sorted(CODECS))
def test_a_film_gets_captions_and_chapters(tmp_path: Path, ending: str) -> None:
    shown = bedside()
    source, target = film(tmp_path / f"in{ending}"), tmp_path / f"out{ending}"
    captions, steps = cues(shown_words(shown.transcript)), chapters(shown, LEXICON)
    write_film(source, target, captions, steps)
    with av.open(str(target)) as media:
        got = [(round(float(c["start"] * c["time_base"]), 3), c["metadata"]["title"]) for c in media.chapters()]
        stream = media.streams.subtitles[0]
        said = [
            (float(packet.pts * packet.time_base), subtitle.dialogue.decode())
            for packet in media.demux(stream)
            if packet.size
            for subtitle in packet.decode()
        ]
        assert stream.language == "eng"
    assert got == [(round(step.start, 3), step.title) for step in steps]
    assert [text.split() for _, text in said] == [cue.text.split() for cue in captions]
    assert [start for start, _ in said] == pytest.approx([cue.start for cue in captions], abs=0.002)
    with av.open(str(source)) as before, av.open(str(target)) as after:
        pictures = [[bytes(packet) for packet in media.demux(video=0) if packet.size] for media in (before, after)]
    assert pictures[0] == pictures[1]
    assert not list(tmp_path.glob("*.part*"))


def test_a_session_from_a_film_has_the_film_in_its_folder(tmp_path: Path) -> None:
    shown = bedside()
    source = film(tmp_path / "round.mp4")
    written = write_session(Exam(shown.record, shown.transcript, media=source), LEXICON, tmp_path / "out")
    assert written[-1] == tmp_path / "out" / "round-captioned.mp4"
    assert is_film(written[-1])


def test_a_damaged_film_is_refused_and_leaves_nothing(tmp_path: Path) -> None:
    source = tmp_path / "in.mp4"
    source.write_bytes(b"no film")
    assert not is_film(source)
    with pytest.raises(
        ExportError, match=r"^in\.mp4: captions cannot be written into it \(.*\); use the files beside it$"
    ):
        write_film(source, tmp_path / "out.mp4", [], [])
    assert [file.name for file in tmp_path.iterdir()] == ["in.mp4"]


def test_silence_makes_a_valid_handout() -> None:
    text = handout(Exam(ExamRecord()), LEXICON, [])
    for words in ("No teaching was recognised.", "No term of the lexicon was recognised.", "Nothing was changed."):
        assert words in text
