"""Which value of its scale a spoken result is, for one manoeuvre."""

from __future__ import annotations

from pipeline.lexicon.model import Lexicon, Manoeuvre
from pipeline.understand.items import Item, ItemKind

GROUPS = {"group:power": "power", "group:reflexes": "reflexes", "group:sensation": "sensation"}
_PRESENCE = {"absent": "present", "present": "absent", "negative": "positive", "positive": "negative"}


class Values:
    """Reads items as values of a manoeuvre's scale."""

    def __init__(self, lexicon: Lexicon) -> None:
        self.manoeuvres: dict[str, Manoeuvre] = {m.id: m for m in lexicon.manoeuvres}
        self._grades = {s.id: s.grades for s in lexicon.scales}
        self._legal = {s.id: {v.value for v in s.values} for s in lexicon.scales}
        self._normal = {
            s.id: next(
                (v.value for v in s.values if v.normal and v.value == "normal"),
                next((v.value for v in s.values if v.normal), None),
            )
            for s in lexicon.scales
        }

    def scale(self, subject: str) -> str:
        if subject in GROUPS:
            return {"power": "mrc", "reflexes": "reflex", "sensation": "sensation"}[GROUPS[subject]]
        return self.manoeuvres[subject].scale

    def normal(self, manoeuvre: str) -> str | None:
        """The value of a healthy examination."""
        return self._normal[self.scale(manoeuvre)]

    def read(self, subject: str, item: Item) -> tuple[str | None, tuple[str, ...]]:
        """(value, flags) of `item` for the manoeuvre or group `subject`; value None: it cannot belong to it."""
        scale = self.scale(subject)
        if item.kind is ItemKind.NEGATION:
            return self._denied(scale)
        if item.grade is not None:
            return self._graded(scale, item.grade, item.unit or "grade")
        value = item.values.get(scale)
        if value is None:
            return None, ()
        if item.negated:
            legal = self._legal[scale]
            others = legal - {value}
            flipped = next(iter(others)) if len(others) == 1 else _PRESENCE.get(value)
            return (flipped, ()) if flipped in legal else (None, ())
        return value, ()

    def _denied(self, scale: str) -> tuple[str | None, tuple[str, ...]]:
        legal = self._legal[scale]
        if scale == "reflex":
            return "0", ()
        if scale in ("presence", "clonus", "sensation", "anal_tone"):
            return "absent", ()
        if scale == "plantar":
            return "flexor", ("value_uncertain",)  # "no plantars", "no Romberg today": perhaps it was not done
        if "negative" in legal:
            return "negative", ("value_uncertain",)
        return "normal" if scale in ("pendular", "tone") else None, ()

    def _graded(self, scale: str, grade: str, unit: str) -> tuple[str | None, tuple[str, ...]]:
        system = self._grades[scale]
        number, sign = (grade[:-1], grade[-1]) if grade[-1] in "+-" else (grade, "")
        if system == "degrees":
            if unit == "degrees" or (unit == "count" and 10 <= int(number) <= 120):
                return f"{int(number)} degrees", ()
            return None, ()
        if unit in ("degrees", "count"):
            return None, ()
        if system == "beats":
            if number == "0":
                return "absent", ()
            return (
                (f"{number} beats", ())
                if unit == "beats"
                else (None, ())
                if sign
                else (f"{number} beats", ("grade_uncertain",))
            )
        if unit == "beats":
            return None, ()
        if system == "mrc":
            if grade in self._legal[scale]:
                return grade, ()
            return (number, ("grade_uncertain",)) if number in self._legal[scale] else (None, ())
        if system == "reflex":
            if number == "0":
                return "0", ()
            if f"{number}+" in self._legal[scale]:
                return f"{number}+", ("grade_uncertain",) if sign == "-" else ()
            return None, ()
        if system == "ashworth":
            return (f"MAS {grade}", ()) if f"MAS {grade}" in self._legal[scale] else (None, ())
        if scale == "presence" and grade == "0":
            return "absent", ()  # "wasting nil"
        return None, ()
