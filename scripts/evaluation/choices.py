"""How well the second listen tells phrases apart that a record depends on. `python -m scripts.evaluation.choices`

Each sentence is said by each voice, clean and in noise, and heard again with its choices, once as whole sentences and
once as the words alone that differ. Printed: the share told right, how often it is sure and wrong, and the sharpness
that would fit these answers best.
"""

from __future__ import annotations

import math
from collections import defaultdict

from pipeline.hear import choices as choices_of
from pipeline.hear.audio import Sound
from pipeline.hear.second_listen import SURE
from scripts.speech import sound as files
from scripts.speech.render import render

VOICES = ("hibari-gb", "hibari-us", "piper-joe", "flite-slt", "flite-awb", "flite-rms", "espeak-gb")
CONDITIONS = ("clean", "noise20", "noise10")

# Each pattern is said with each of the choices in turn.
PATTERNS: dict[str, tuple[str, tuple[str, ...]]] = {
    "left / right": ("The ankle jerk is reduced on the {}.", ("left", "right")),
    "four minus / four / four plus": ("Hip flexion is {} on both sides.", ("four minus", "four", "four plus")),
    "abduction / adduction": ("Hip {} is four plus.", ("abduction", "adduction")),
    "inversion / eversion": ("Ankle {} is weak.", ("inversion", "eversion")),
    "normal / abnormal": ("The tone is {} in both legs.", ("normal", "abnormal")),
    "absent / present": ("The knee jerk is {} today.", ("absent", "present")),
    "L four / L five / S one": ("Light touch is reduced over {} only.", ("L four", "L five", "S one")),
    "no / (nothing)": ("There is {} wasting in the leg.", ("no", "some")),
}


def main() -> None:
    told: dict[tuple[str, str, str], list[list[tuple[bool, float]]]] = defaultdict(list)
    for name, (pattern, choices) in PATTERNS.items():
        for condition in CONDITIONS:
            for voice in VOICES:
                for said in choices:
                    samples, _ = files.read(render(pattern.format(said), voice, condition).path)
                    heard = Sound(samples)
                    ways = {"sentence": [pattern.format(choice) for choice in choices], "words": list(choices)}
                    for way, phrases in ways.items():
                        right = pattern.format(said) if way == "sentence" else said
                        judged = choices_of.listen_again(heard, 0.0, heard.duration, phrases)
                        told[name, condition, way].append([(phrase == right, share) for phrase, share in judged])
    for way in ("sentence", "words"):
        print(f"{'choices, ' + way:32}" + "".join(f"{condition:>24}" for condition in CONDITIONS))
        for name in PATTERNS:
            cells = [_summary(told[name, condition, way]) for condition in CONDITIONS]
            print(f"{name:32}" + "".join(f"{cell:>24}" for cell in cells))
        print(f"best sharpness: {_sharpness([one for key, kept in told.items() if key[2] == way for one in kept]):.0f}")


def _summary(judged: list[list[tuple[bool, float]]]) -> str:
    first = [one[0] for one in judged]
    sure = [right for right, share in first if share >= SURE]
    return f"{sum(right for right, _ in first)}/{len(first)} sure {len(sure)} wrong {len(sure) - sum(sure)}"


def _sharpness(judged: list[list[tuple[bool, float]]]) -> float:
    """The sharpness with the least mean logarithmic loss; shares are those at the present one."""

    def loss(sharpness: float) -> float:
        total = 0.0
        for one in judged:
            powers = [max(share, 1e-12) ** (sharpness / choices_of.SHARPNESS) for _, share in one]
            total -= math.log(sum(p for p, (right, _) in zip(powers, one, strict=True) if right) / sum(powers))
        return total

    return min((float(sharpness) for sharpness in range(2, 121, 2)), key=loss)


if __name__ == "__main__":
    main()
