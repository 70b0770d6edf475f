"""The page's words: what each flag means, names of manoeuvres and values, times."""

from __future__ import annotations

from pipeline.record.model import Alternative, Row, Status

FLAGS = {
    "side_unsaid": "No side was said; this side is a guess.",
    "side_uncertain": "The side is not certain.",
    "contradiction": "Two different results were said for this; the later one stands here.",
    "listeners_disagree": "The two recognisers heard different words.",
    "misheard_term": "The heard words are no known term; the nearest known term was taken.",
    "grade_unsaid": "Weakness was said, but no grade.",
    "site_unsaid": "No place was said for this sensation.",
    "limb_unexpected": "The test is not one of the limb that was named; a word may be misheard.",
    "unknown_words": "A word just before the result was not understood; it may name another test.",
    "grade_uncertain": "The grade is not certain.",
    "root_unexpected": "The roots that were said are not those that usually supply this.",
    "low_audio": "The sound is poor here.",
    "modality_unsaid": "The kind of sensation was not said; light touch was assumed.",
    "value_uncertain": "The word for the result was misheard; it is taken for the one that fits here.",
    "manoeuvre_unsaid": "The test was not named, or only by a muscle; the result says which was meant.",
    "may_be_taken_back": "The words after it may take it back, or put another test in its place.",
    "low_confidence": "The program is not sure of this row as a whole.",
    "inferred_normal": "An instruction and a reaction were heard, but no result; normal was inferred.",
}

KINDS_OF_TALK = {
    "result": "Result",
    "instruction": "Instruction",
    "teaching": "Teaching",
    "aside": "Aside",
    "correction": "Correction",
    "control": "Spoken control",
}

DECISIONS = {
    "confirmed": "Confirmed",
    "chosen": "Alternative chosen",
    "edited": "Edited",
    "rejected": "Rejected",
    "added": "Added",
    "cleared": "Cleared",
    "confirm_group": "Confirmed as a group",
    "add_row": "Added",
    "undo": "Taken back",
}

SLOTS = {"manoeuvre": "Manoeuvre", "side": "Side", "site": "Site", "value": "Result", "status": "Examined"}


def by_weight(flags: list[str]) -> list[str]:
    """The flags, the gravest first."""
    order = list(FLAGS)
    return sorted(flags, key=lambda flag: order.index(flag) if flag in order else len(order))


def reason(flag: str) -> str:
    """The flag as a sentence; a flag that is new here is at least readable."""
    return FLAGS.get(flag, f"{flag.replace('_', ' ').strip().capitalize()}.")


def title(identifier: str) -> str:
    """A manoeuvre, muscle, nerve or site as a person writes it."""
    return identifier.replace("_", " ").strip().capitalize() if identifier.islower() else identifier.replace("_", " ")


def subject(row: Row) -> str:
    """What was examined: "Light touch L5", "Tone, leg"."""
    if row.site is None:
        return title(row.manoeuvre)
    joint = ", " if row.site.islower() else " "
    return f"{title(row.manoeuvre)}{joint}{row.site.replace('_', ' ')}"


def grade(value: str) -> str:
    """A value with a real minus sign: 4- is easily read as 4."""
    return f"{value[:-1]}−" if value[:-1].isdigit() and value.endswith("-") else value


def finding(row: Row) -> str:
    """The result, or why there is none."""
    if row.status is Status.NOT_EXAMINED:
        return f"not examined ({row.reason.replace('_', ' ') if row.reason else 'no reason'})"
    return grade(row.value or "")


def whole(row: Row) -> str:
    """The row in one line, for messages and screen readers."""
    return f"{subject(row)}, {row.side.value}: {finding(row)}"


def alternative(one: Alternative) -> str:
    value = grade(one.value).replace("_", " ")
    return f"{SLOTS[one.slot]} {value}"


def clock(seconds: float) -> str:
    """12.3 seconds as 0:12."""
    whole_seconds = int(seconds)
    return f"{whole_seconds // 60}:{whole_seconds % 60:02d}"


def percent(share: float) -> str:
    """Never 0 % or 100 %: nothing here is certain."""
    return f"{min(99, max(1, round(100 * share)))}\u202f%"


def day(stamp: str) -> str:
    """An ISO time in UTC as a person reads it."""
    return f"{stamp[:10]} {stamp[11:16]} UTC"


def short_reason(row: Row) -> str:
    """The first doubt about a row, for a line of the list."""
    return by_weight(row.flags)[0].replace("_", " ") if row.flags else "to confirm"
