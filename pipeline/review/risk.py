"""In which order a reviewer meets the open items: what could hurt most comes first, inferred normals last."""

from __future__ import annotations

from pipeline.record.decide import inferred_normal, same_words
from pipeline.record.views import ExamView, Item

LOW_CONFIDENCE = 0.6


def ordered(exam: ExamView) -> list[Item]:
    """The open items, most risky first, without those that are confirmed as a group."""
    return sorted((item for item in exam.open_items if not in_group(item)), key=_rank)


def group(exam: ExamView) -> list[Item]:
    """The inferred normals without other doubts, in the order of the examination."""
    return [item for item in exam.open_items if in_group(item)]


def in_group(item: Item) -> bool:
    return item.kind == "row" and inferred_normal(item.row)


def of_same_words(exam: ExamView, item: Item) -> list[Item]:
    """The open rows that the same words made as this one, itself among them; empty where it is the only one."""
    if item.kind != "row" or in_group(item):
        return []
    found = [other for other in exam.rows if other.state.live and same_words(item.row, other.row)]
    return found if len(found) > 1 else []


def level(item: Item) -> int:
    """0: the side may be wrong. 1: a contradiction. 2: low confidence. 3: not in any row. 4: other doubts."""
    if item.kind != "row":
        return 3
    row = item.row
    if {"side_unsaid", "side_uncertain"} & set(row.flags):
        return 0
    if "contradiction" in row.flags:
        return 1
    if row.confidence < LOW_CONFIDENCE or {"low_confidence", "listeners_disagree"} & set(row.flags):
        return 2
    return 4


def _rank(item: Item) -> tuple[int, float]:
    return level(item), item.row.confidence if item.kind == "row" else item.gap.start
