"""How well speech becomes rows. `python scripts/evaluate.py` (or `make evaluate`) prints a table.

Cases are said aloud by synthetic voices, in a quiet room and in noise, heard by the real listeners and scored.
Synthetic voices are clearer than a person in a ward: the figures compare, they do not promise. Sound and what was heard
are kept, so that the second run takes seconds.
"""

from __future__ import annotations

import itertools
import sys
from collections import defaultdict
from pathlib import Path

import click
from rich.console import Console
from rich.progress import Progress
from rich.table import Table

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from pipeline.engine import Engine  # noqa: E402
from pipeline.hear.agree import zipf  # noqa: E402
from pipeline.hear.prompt import RARE, lexicon_prompt  # noqa: E402
from pipeline.hear.words import Heard  # noqa: E402
from scripts.evaluation.lost import lost_rows, said_at  # noqa: E402
from scripts.evaluation.recognised import WAYS, KeptReplay, Recogniser, publish, rendered  # noqa: E402
from scripts.evaluation.sample import CONDITIONS, VOICES, Part, Recording, case_files, recordings  # noqa: E402
from scripts.evaluation.score import RowCount, score  # noqa: E402
from scripts.evaluation.words import WordCount, compare, plain_words, terms_of  # noqa: E402
from scripts.speech.sound import SpeechError  # noqa: E402

DEFAULT_SAMPLE = 12
COLUMNS = ("word errors", "terms", "row f1", "roots", "silent", "flagged", "missed", "lost", "calibration", "dropped",
           "untold", "bled")  # fmt: skip


@click.command(
    help="Evaluate hearing and rows on spoken cases. The first run takes about 20 minutes, later ones a minute."
)
@click.option(
    "--sample", default=DEFAULT_SAMPLE, show_default=True, type=click.IntRange(1), help="How many recordings."
)
@click.option(
    "--way", "ways", multiple=True, type=click.Choice(WAYS), help="Only this way of hearing; may be repeated."
)
@click.option(
    "--part", default="held out", show_default=True, type=click.Choice(list(VOICES)),
    help="Cases and voices that confidence was fitted on, or the others.",
)  # fmt: skip
@click.option(
    "--cases", "files", multiple=True, type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="A file of cases (JSON lines with id, clean and rows) in place of the repository's; may be repeated.",
)  # fmt: skip
@click.option("--latest", is_flag=True, help="Take what was heard before, though lexicon or code changed since.")
@click.option("--each", is_flag=True, help="Also print one line for each recording.")
def main(sample: int, ways: tuple[str, ...], part: Part, files: tuple[Path, ...], latest: bool, each: bool) -> None:
    chosen = list(itertools.islice(recordings(list(files) or case_files(), part), sample))
    engine = Engine()
    recogniser = Recogniser(engine.lexicon, latest)
    terms = terms_of(engine.lexicon)
    prompt = {word for word in plain_words(lexicon_prompt(engine.lexicon)) if zipf(word) < RARE}
    table = Table("heard by", "sound", "n", *COLUMNS)
    console = Console(width=None if sys.stdout.isatty() else 150)
    for way in ways or WAYS:
        words: dict[str, WordCount] = defaultdict(WordCount)
        rows: dict[str, RowCount] = defaultdict(RowCount)
        found: list[tuple[Recording, Heard]] = []
        with Progress(console=Console(stderr=True), transient=True) as progress:
            for one in progress.track(chosen, description=f"hearing: {way}"):
                heard = _heard(recogniser, one, way)
                found.append((one, heard))
                record = engine.structure(heard)
                if isinstance(heard.again, KeptReplay):
                    heard.again.keep()
                sentences = rendered(one).sentences
                wanted = one.case["rows"]
                count, missed, extra = score([row.model_dump(mode="json") for row in record.rows], wanted)
                count.lost = len(lost_rows(missed, extra, record, said_at(wanted, sentences, engine)))
                compared = compare(sentences, heard, terms, prompt)
                for name in (one.condition, "all"):
                    words[name] += compared
                    rows[name] += count
                if each:
                    label = f"{one.case['id']} {one.voice}"
                    console.print(*_line(way, f"{one.condition} {label}", 1, compared, count), sep="  ", soft_wrap=True)
        for name in (*CONDITIONS, "all"):
            if name in words:
                number = sum(name in (one.condition, "all") for one in chosen)
                table.add_row(*_line(way, name, number, words[name], rows[name]), end_section=name == "all")
        publish(found, way, part)
    console.print(table)


def _heard(recogniser: Recogniser, recording: Recording, way: str) -> Heard:
    try:
        return recogniser.hear(recording, way)
    except SpeechError as error:
        raise click.ClickException(str(error)) from error


def _line(way: str, name: str, number: int, words: WordCount, rows: RowCount) -> list[str]:
    shares = (
        words.errors / max(words.words, 1),
        words.recalled / max(words.terms, 1),
        rows.f1(),
        rows.roots_f1(),
        rows.silent_share(),
        rows.flagged_share(),
        rows.missed / max(rows.wanted, 1),
        rows.lost / max(rows.wanted, 1),
        rows.calibration_error(),
        words.dropped / max(words.words, 1),
        words.untold / max(words.words, 1),
        words.bled / max(words.words, 1),
    )
    return [way, name, str(number), *(f"{share:.3f}" for share in shares)]


if __name__ == "__main__":
    main()
