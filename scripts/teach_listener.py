"""Teaches the open listener how examiners talk: `python scripts/teach_listener.py` writes `pipeline/hear/taught.npz`.

Needs `pip install torch transformers`, about 3 GB of disk for a while, and two hours on two cores. Evaluate before and
after (`make evaluate`): confidence may have to be fitted again.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

import click
import numpy as np
from rich.progress import Progress

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from pipeline.hear.open_listener import model_folder  # noqa: E402
from pipeline.hear.prompt import lexicon_prompt  # noqa: E402
from pipeline.hear.taught import LESSONS  # noqa: E402
from pipeline.lexicon import load  # noqa: E402
from scripts.teaching.utterances import sounds, utterances  # noqa: E402

_AUTHORS = range(1, 13)
"""Whose cases are learned; those of later authors stay unheard, for evaluation."""
_SEED = 11
_HELD = 160
"""Utterances that are not learned; how surprising they are tells how the learning goes."""


@click.command(help="Teach the open listener; see DEVELOPERS.md.")
@click.option("--epochs", default=2, show_default=True, help="How often each utterance is learned.")
@click.option("--cases", "of_cases", default=5200, show_default=True, help="Utterances of development cases.")
@click.option("--lines", "of_lines", default=3600, show_default=True, help="Utterances of talk at examinations.")
@click.option("--phrases", "of_phrases", default=700, show_default=True, help="Utterances made from the lexicon.")
@click.option("--talk", "of_talk", default=800, show_default=True, help="Utterances of ordinary talk.")
@click.option("--out", default=LESSONS, show_default=True, type=click.Path(dir_okay=False, path_type=Path))
def main(epochs: int, of_cases: int, of_lines: int, of_phrases: int, of_talk: int, out: Path) -> None:
    try:
        from scripts.teaching.pupil import Lesson, Pupil
    except ImportError as error:
        raise click.ClickException(f"{error.name} is missing: pip install torch transformers") from None
    files = [ROOT / "tests" / "cases" / f"author{number}.jsonl" for number in _AUTHORS]
    chosen = utterances(files, of_cases, of_lines, of_phrases, of_talk, _SEED)
    with tempfile.TemporaryDirectory() as folder, Progress() as progress:
        path = Path(folder) / "spectra.npy"
        said = progress.add_task("saying", total=len(chosen))
        kept = []
        for place, frames in sounds(chosen, path):
            kept.append((place, frames))
            progress.update(said, completed=place + 1)
        spectra = np.load(path, mmap_mode="r")
        lessons = [Lesson(spectra[place], frames, chosen[place].words) for place, frames in kept]
        every = max(2, len(lessons) // _HELD)
        held = lessons[::every]
        learned = [lesson for at, lesson in enumerate(lessons) if at % every]
        pupil = Pupil(model_folder(), lexicon_prompt(load()))
        click.echo(f"surprise before: {pupil.surprise(held):.3f} a token")
        task = progress.add_task("learning", total=None)
        pupil.learn(learned, epochs, lambda done, steps: progress.update(task, completed=done, total=steps))
        click.echo(f"surprise after: {pupil.surprise(held):.3f} a token")
    np.savez_compressed(out, **pupil.changes())
    click.echo(f"written: {out}")


if __name__ == "__main__":
    main()
