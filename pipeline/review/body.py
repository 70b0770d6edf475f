"""The body chart: a plain drawing of a person with power at the joints and sensation at the dermatomes' key points.

The points lie where the lexicon's dermatomes say (`key_point`, with their source), as well as a drawing of this kind
can show it. Seen from the front the patient's right is on the viewer's left.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from pipeline.record.model import Row, Side, Status
from pipeline.review import wording
from pipeline.review.vocabulary import Vocabulary

HEIGHT, CENTRE, BACK_CENTRE = 620, 320, 150
SENSES = ("light_touch", "pinprick", "temperature")

# Distances from the midline and from the top, clockwise from the neck round one half of the figure.
_HALF = (
    (13, 76), (16, 92), (42, 99), (64, 108), (76, 130), (86, 175), (99, 216), (113, 262), (124, 304), (138, 322),
    (139, 334), (131, 336), (131, 362), (121, 370), (110, 364), (106, 340), (106, 306), (92, 262), (77, 220),
    (64, 176), (52, 146), (48, 180), (44, 222), (52, 262), (58, 296), (58, 340), (50, 398), (47, 432), (48, 470),
    (38, 520), (35, 546), (46, 570), (44, 580), (18, 580), (14, 566), (16, 540), (15, 500), (12, 452), (12, 420),
    (8, 372), (2, 314),
)  # fmt: skip

_FRONT = {
    "C3": (24, 91), "C4": (56, 109), "C5": (94, 212), "C6": (141, 326), "C7": (124, 361), "C8": (106, 346),
    "T1": (77, 216), "T2": (56, 146), "T3": (25, 124), "T4": (25, 141), "T5": (25, 158), "T6": (25, 175),
    "T7": (25, 192), "T8": (25, 209), "T9": (25, 226), "T10": (25, 243), "T11": (25, 260), "T12": (25, 277),
    "L1": (31, 299), "L2": (33, 344), "L3": (19, 418), "L4": (17, 542), "L5": (27, 562), "S1": (48, 573),
}  # fmt: skip
_BACK = {"C2": (15, 44), "S2": (30, 424), "S3": (24, 312), "S4": (8, 292), "S5": (8, 308)}
_BACK["S4-5"] = (8, 300)

_JOINTS = {
    "shoulder": (66, 118), "elbow": (88, 214), "wrist": (116, 304), "hand": (128, 348),
    "hip": (50, 300), "knee": (48, 426), "ankle": (38, 536), "toes": (44, 576),
}  # fmt: skip
_PREFIXES = {"finger": "hand", "thumb": "hand", "grip": "hand", "great": "toes", "toe": "toes"}

_LETTERS = {"normal": "N", "reduced": "R", "absent": "A", "increased": "I", "altered": "X"}
_WORST_FIRST = ("absent", "reduced", "altered", "increased", "normal")
_LINE, _HEAD, _GAP = 15, 16, 9  # heights of a label's line and heading, and the gap between labels


@dataclass(frozen=True)
class Label:
    """The power at one joint of one side, with a line to the joint."""

    joint: str
    lines: list[tuple[str, str, bool]]  # movement, grade, whether it is normal
    x: float
    y: float
    anchor: str  # where the text starts: SVG's text-anchor
    joint_x: float
    joint_y: float


@dataclass(frozen=True)
class Point:
    """The sensation at a key point. `kind` is a value of sensation, or empty where nothing was examined."""

    site: str
    x: float
    y: float
    kind: str
    letter: str
    text: str


@dataclass(frozen=True)
class Chart:
    outline: str
    back_outline: str
    labels: list[Label]
    front: list[Point]
    back: list[Point]

    @property
    def empty(self) -> bool:
        return not self.labels and not self.seen_behind and not any(point.kind for point in self.front)

    @property
    def seen_behind(self) -> bool:
        """Whether anything is to be shown on the back."""
        return any(point.kind for point in self.back)


def chart(rows: Sequence[Row], vocabulary: Vocabulary) -> Chart:
    """What the rows say about power and sensation, placed on the drawing."""
    power = [row for row in rows if vocabulary.section(row.manoeuvre) == "power"]
    return Chart(
        outline=_outline(CENTRE),
        back_outline=_outline(BACK_CENTRE),
        labels=[*_labels(power, Side.RIGHT, vocabulary), *_labels(power, Side.LEFT, vocabulary)],
        front=_points(rows, _FRONT, CENTRE, right_is=-1),
        back=_points(rows, _BACK, BACK_CENTRE, right_is=1),
    )


def _outline(centre: float) -> str:
    """The figure's edge: a curve through the middles between neighbouring points."""
    points = [(centre + x, y) for x, y in _HALF] + [(centre - x, y) for x, y in reversed(_HALF)]
    middles = [((ax + bx) / 2, (ay + by) / 2) for (ax, ay), (bx, by) in pairwise(points)]
    curves = "".join(
        f"Q{x:.0f} {y:.0f} {mx:.1f} {my:.1f}" for (x, y), (mx, my) in zip(points[1:-1], middles[1:], strict=True)
    )
    (start_x, start_y), (first_x, first_y), (end_x, end_y) = points[0], middles[0], points[-1]
    return f"M{start_x:.0f} {start_y:.0f}L{first_x:.1f} {first_y:.1f}{curves}L{end_x:.0f} {end_y:.0f}"


def _labels(power: Iterable[Row], side: Side, vocabulary: Vocabulary) -> list[Label]:
    joints: dict[str, list[tuple[str, str, bool]]] = {}
    for row in sorted(power, key=vocabulary.place):
        first, _, rest = row.manoeuvre.partition("_")
        joint = _PREFIXES.get(first, first)
        if row.side is side and joint in _JOINTS:
            movement = rest if joint == first else row.manoeuvre
            shown = "not examined" if row.status is Status.NOT_EXAMINED else wording.grade(row.value or "")
            joints.setdefault(joint, []).append((movement.replace("_", " "), shown, vocabulary.normal(row)))
    present = [joint for joint in _JOINTS if joint in joints]
    heights = [_HEAD + _LINE * len(joints[joint]) + _GAP for joint in present]
    sign = -1 if side is Side.RIGHT else 1
    return [
        Label(
            joint,
            joints[joint],
            CENTRE + sign * 178,
            top,
            "end" if sign < 0 else "start",
            CENTRE + sign * _JOINTS[joint][0],
            _JOINTS[joint][1],
        )
        for joint, top in zip(present, _tops([_JOINTS[joint][1] - 10 for joint in present], heights), strict=True)
    ]


def _tops(wanted: list[int], heights: list[int]) -> list[float]:
    """Where labels of these heights go: as near as possible to where each is wanted, and none over another."""
    tops: list[float] = []
    free = 0.0
    for want, height in zip(wanted, heights, strict=True):
        tops.append(max(want, free))
        free = tops[-1] + height
    limit = float(HEIGHT)
    for at in reversed(range(len(tops))):
        tops[at] = min(tops[at], limit - heights[at])
        limit = tops[at]
    return tops


def _points(rows: Sequence[Row], places: dict[str, tuple[int, int]], centre: float, right_is: int) -> list[Point]:
    points = []
    for site, (distance, y) in places.items():
        for side, sign in ((Side.RIGHT, right_is), (Side.LEFT, -right_is)):
            found = [row for row in rows if row.site == site and row.side is side and row.manoeuvre in SENSES]
            values = {row.value for row in found if row.status is Status.EXAMINED}
            kind = next((value for value in _WORST_FIRST if value in values), "altered" if values else "")
            text = "; ".join(wording.whole(row) for row in found)
            points.append(Point(site, centre + sign * distance, y, kind, _LETTERS.get(kind, ""), text))
    return points
