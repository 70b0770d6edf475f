"""Identifiers in words, as a clinician writes them."""

from __future__ import annotations

import re

from pipeline.record.model import Basis, Row, Status

UNSIGNED = "UNSIGNED DRAFT: not a clinical record until a licensed clinician has checked and signed it"

CAUTIONS = (
    "This document was made from speech by a program that aids documentation. It is not a diagnosis, and the program "
    "is not a medical device.",
    "A licensed clinician checks every entry and signs.",
    "Local rules on consent, recording and data protection apply.",
)

SECTION_TITLES = {
    "inspection": "Inspection",
    "tone": "Tone",
    "power": "Power",
    "reflexes": "Reflexes",
    "sensation": "Sensation",
    "perianal": "Perianal region",
    "nerve_tension": "Nerve tension",
    "coordination": "Coordination",
    "gait": "Gait",
}
"""The sections in the order in which an examination is written up."""

REGION_TITLES = {"lower_limb": "lower limbs", "upper_limb": "upper limbs", "trunk": "trunk", "whole": ""}

REASONS = {
    "declined": "the patient declined",
    "pain": "because of pain",
    "unable": "the patient was unable",
    "deferred": "deferred",
    "not_done": "not done, no reason given",
}

FLAGS = {
    "misheard_term": "a term was misheard and mended",
    "side_unsaid": "no side was said",
    "side_uncertain": "the side is uncertain",
    "site_uncertain": "the site is uncertain",
    "manoeuvre_uncertain": "the manoeuvre is uncertain",
    "value_uncertain": "the result is uncertain",
    "grade_unsaid": "no grade was said",
    "site_unsaid": "the place was not said",
    "limb_unexpected": "the test is not one of the limb that was named",
    "unknown_words": "a word just before it was not understood",
    "grade_uncertain": "the grade may be another word",
    "modality_unsaid": "the kind of sensation was not said",
    "manoeuvre_unsaid": "the test was not named",
    "may_be_taken_back": "the words after it may take it back",
    "inferred_normal": "no result was stated; normal is inferred from the reaction",
    "root_unexpected": "the root said is not one that the lexicon expects",
    "contradiction": "two results contradict each other",
    "listeners_disagree": "the two listeners heard different words",
    "low_audio": "the sound was poor",
}


_NAMES_OF_PEOPLE = ("hoffmann", "romberg")


def plain(identifier: str) -> str:
    """`great_toe_extension` as "great toe extension", `hoffmann_sign` as "Hoffmann sign"."""
    return " ".join(word.capitalize() if word in _NAMES_OF_PEOPLE else word for word in identifier.split("_"))


def heading(identifier: str) -> str:
    """The same with a capital, for the start of a line."""
    words = plain(identifier)
    return words[:1].upper() + words[1:]


def place(row: Row) -> str:
    """Manoeuvre and site: "light touch L5", "vibration at the great toe", "tone of the leg"."""
    if row.site is None:
        return plain(row.manoeuvre)
    if re.fullmatch(r"[CTLS]\d.*", row.site):
        return f"{plain(row.manoeuvre)} {row.site}"
    link = "of" if row.site in ("arm", "leg") else "at"
    return f"{plain(row.manoeuvre)} {link} the {plain(row.site)}"


def result(row: Row) -> str:
    """The result in words, with said roots and, where a person must still confirm, the word "unconfirmed"."""
    if row.status is Status.NOT_EXAMINED:
        words = f"not examined ({REASONS[row.reason]})" if row.reason else "not examined"
    else:
        words = row.value or ""
        if row.roots:
            words += f" ({', '.join(row.roots)})"
    if row.basis is Basis.INFERRED:
        words += ", inferred"
    return words + (", unconfirmed" if row.confirm else "")


def why(row: Row) -> str:
    """Why a person must confirm the row."""
    return "; ".join(FLAGS.get(flag, plain(flag)) for flag in row.flags) or "low confidence"


def clock(seconds: float) -> str:
    """`75.2` as "1:15", `3675` as "1:01:15"."""
    whole = int(seconds)
    hours, minutes = divmod(whole // 60, 60)
    return f"{hours}:{minutes:02}:{whole % 60:02}" if hours else f"{minutes}:{whole % 60:02}"
