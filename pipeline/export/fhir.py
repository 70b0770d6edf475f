"""The record as a FHIR document bundle (R4B or R5), and back again.

One Observation for each row; a Composition with the sections of the write-up; a Provenance that says what made them and
who signed. Sources: HL7 FHIR R4B (4.3.0) and R5 (5.0.0); side by the HL7 extension observation-structureLaterality.
What FHIR has no element for is kept in one extension of our own, so that a bundle reads back to the very same rows.
"""

from __future__ import annotations

import json
import re
import uuid
from collections.abc import Iterable
from datetime import UTC, datetime
from decimal import Decimal
from html import escape
from importlib.metadata import version as installed
from typing import Any, Literal

from fhir.resources.bundle import Bundle as BundleR5
from fhir.resources.R4B.bundle import Bundle as BundleR4B
from pydantic import ValidationError

from pipeline.export.codes import OWN, Codes
from pipeline.export.exam import Exam, ExportError
from pipeline.export.findings import Findings, Judgement, Section
from pipeline.export.wording import CAUTIONS, UNSIGNED, heading, place, plain, result, why
from pipeline.lexicon import Lexicon
from pipeline.record.model import Row, Status

Version = Literal["R4B", "R5"]

_MODELS: dict[Version, Any] = {"R4B": BundleR4B, "R5": BundleR5}
_LATERALITY = "http://hl7.org/fhir/StructureDefinition/observation-structureLaterality"
_HL7 = "http://terminology.hl7.org/CodeSystem/"
_ROW = OWN + "row"
_NAMESPACE = uuid.UUID("6f0d7a52-7c0e-5d0e-9a53-0f3c2f6f9d11")
# Units by UCUM (ucum.org).
_UNITS = {"degrees": "deg", "beats": "{beats}"}


def bundle(exam: Exam, lexicon: Lexicon, version: Version, codes: Codes, now: datetime | None = None) -> str:
    """The bundle as JSON, checked against the models of `fhir.resources`. `now`: when it is made (default: now)."""
    made = _Maker(exam, lexicon, version, codes, (now or datetime.now(UTC)).isoformat(timespec="seconds")).bundle()
    _MODELS[version].model_validate(made)
    return json.dumps(made, indent=1, ensure_ascii=False, default=_number)


def rows_of(text: str, version: Version) -> list[Row]:
    """The rows of a bundle that `bundle` made.

    Raises `ExportError` with one line where the text is no such bundle.
    """
    try:
        _MODELS[version].model_validate_json(text)
        entries = json.loads(text)["entry"]
        found = [entry["resource"] for entry in entries if entry["resource"]["resourceType"] == "Observation"]
        return [_row(observation) for observation in found]
    except ValidationError as error:
        first = error.errors()[0]
        raise ExportError(f"not a FHIR {version} bundle ({first['msg']}); name one that this program made") from None
    except (KeyError, StopIteration, TypeError):
        raise ExportError("the bundle lacks what makes a row; name one that this program made") from None


class _Maker:
    """The resources of one bundle, with identifiers that depend on nothing but the examination."""

    def __init__(self, exam: Exam, lexicon: Lexicon, version: Version, codes: Codes, now: str) -> None:
        self._exam, self._version, self._codes, self._now = exam, version, codes, now
        self._findings = Findings(exam.record.rows, lexicon)
        self._identity = exam.identifier or exam.record.model_dump_json()
        self._status = "final" if exam.signed else "preliminary"
        self._device = self._url("device")
        self._signer = self._url("signer") if exam.signature else None

    def bundle(self) -> dict[str, Any]:
        observations = [(self._url(f"row {at}"), row) for at, row in enumerate(self._exam.record.rows)]
        resources = [
            (self._url("composition"), self._composition(observations)),
            *((url, self._observation(row)) for url, row in observations),
            (self._device, self._software()),
            *([(self._signer, self._practitioner())] if self._signer else []),
            (self._url("provenance"), self._provenance([url for url, _ in observations])),
        ]
        return {
            "resourceType": "Bundle",
            "id": self._id("bundle"),
            "language": "en-GB",
            "identifier": {"system": "urn:ietf:rfc:3986", "value": self._url("bundle")},
            "type": "document",
            "timestamp": self._now,
            "entry": [{"fullUrl": url, "resource": resource} for url, resource in resources],
        }

    def _composition(self, observations: list[tuple[str, Row]]) -> dict[str, Any]:
        signed = self._exam.signature
        urls: dict[int, str] = {id(row): url for url, row in observations}
        sections = [self._section(section, urls) for section in self._findings.sections]
        sections += self._open_matters()
        made = {
            "resourceType": "Composition",
            "status": self._status,
            "type": self._codes.concept("document", "exam", "Neurological examination"),
            "date": signed.at if signed else self._exam.created or self._now,
            "author": [{"reference": self._signer or self._device}],
            "title": self._exam.title,
            "section": [*sections, {"title": "Cautions", "text": _narrative([*self._drafts(), *CAUTIONS])}],
        }
        if self._exam.identifier:
            identifier = {"system": OWN + "record", "value": self._exam.identifier}
            made["identifier"] = [identifier] if self._version == "R5" else identifier
        if signed:
            system = "http://hl7.org/fhir/composition-attestation-mode"
            mode = {"coding": [{"system": system, "code": "professional"}]} if self._version == "R5" else "professional"
            made["attester"] = [{"mode": mode, "time": signed.at, "party": {"reference": self._signer}}]
        return made

    def _section(self, section: Section, urls: dict[int, str]) -> dict[str, Any]:
        lines = [
            f"{line.name}: " + ", ".join(f"{row.side.value} {result(row)}" for row in line.rows)
            for line in section.lines
        ]
        return {
            "title": section.title,
            "code": self._codes.concept("section", section.id, section.title),
            "text": _narrative(lines),
            "entry": [{"reference": urls[id(row)]} for row in section.rows],
        }

    def _open_matters(self) -> list[dict[str, Any]]:
        record = self._exam.record
        lines = [f"{heading(place(row))}, {row.side.value}: {why(row)}" for row in record.open_rows]
        lines += [
            f"No words recognised, {gap.start:.1f} to {gap.end:.1f} s: {plain(gap.reason)}" for gap in record.unheard
        ]
        lines += [f'Not placed, at {gap.start:.1f} s: "{gap.text}" ({plain(gap.reason)})' for gap in record.unplaced]
        return [{"title": "To be confirmed or cleared", "text": _narrative(lines)}] if lines else []

    def _drafts(self) -> list[str]:
        return [] if self._exam.signed else [UNSIGNED]

    def _observation(self, row: Row) -> dict[str, Any]:
        entry = self._findings.manoeuvre(row)
        site = self._codes.concept("site", row.site, plain(row.site)) if row.site else {"text": row.side.value}
        side = self._codes.concept("side", row.side.value, row.side.value)
        made: dict[str, Any] = {
            "resourceType": "Observation",
            "extension": [_row_extension(row)],
            "status": "preliminary" if row.confirm else self._status,
            "category": [{"coding": [{"system": _HL7 + "observation-category", "code": "exam", "display": "Exam"}]}],
            "code": self._codes.concept("manoeuvre", row.manoeuvre, heading(row.manoeuvre)),
            "bodySite": {"extension": [{"url": _LATERALITY, "valueCodeableConcept": side}], **site},
        }
        if self._exam.created:
            made["effectiveDateTime"] = self._exam.created
        if self._signer:
            made["performer"] = [{"reference": self._signer}]
        if entry:
            made["method"] = {"text": entry.method}
        notes = [f"Roots said: {', '.join(row.roots)}"] * bool(row.roots) + [f"Unconfirmed: {why(row)}"] * row.confirm
        if notes:
            made["note"] = [{"text": note} for note in notes]
        if row.status is Status.NOT_EXAMINED:
            absent = {"system": _HL7 + "data-absent-reason", "code": "not-performed", "display": "Not Performed"}
            own = {"system": OWN + "reason", "code": row.reason, "display": plain(str(row.reason))}
            return made | {"dataAbsentReason": {"coding": [absent, own], "text": result(row)}}
        return made | self._value(row)

    def _value(self, row: Row) -> dict[str, Any]:
        value = str(row.value)
        if measured := re.fullmatch(r"(\d+) (degrees|beats)", value):
            unit = {"unit": measured[2], "system": "http://unitsofmeasure.org", "code": _UNITS[measured[2]]}
            return {"valueQuantity": {"value": int(measured[1]), **unit}}
        code, words = ("N", "Normal") if self._findings.judge(row) is Judgement.NORMAL else ("A", "Abnormal")
        meaning = {"system": _HL7 + "v3-ObservationInterpretation", "code": code, "display": words}
        return {
            "valueCodeableConcept": self._codes.concept("value", value, value),
            "interpretation": [{"coding": [meaning]}],
        }

    def _software(self) -> dict[str, Any]:
        called, name = ("name", "value") if self._version == "R5" else ("deviceName", "name")
        return {
            "resourceType": "Device",
            "version": [{"value": installed("spoken-exam")}],
            called: [{name: "spoken-exam", "type": "user-friendly-name"}],
        }

    def _practitioner(self) -> dict[str, Any]:
        assert self._exam.signature
        return {
            "resourceType": "Practitioner",
            "name": [{"text": self._exam.signature.name}],
            "qualification": [{"code": {"text": self._exam.signature.role}}],
        }

    def _provenance(self, targets: list[str]) -> dict[str, Any]:
        kinds = _HL7 + "provenance-participant-type"
        agents = [(self._device, "assembler")] + ([(self._signer, "verifier")] if self._signer else [])
        made: dict[str, Any] = {
            "resourceType": "Provenance",
            "target": [{"reference": url} for url in (self._url("composition"), *targets)],
            "recorded": self._exam.signature.at if self._exam.signature else self._now,
            "activity": {
                "text": "Structured from the examiner's speech; checked and signed by a clinician where one is named"
            },
            "agent": [
                {"type": {"coding": [{"system": kinds, "code": kind}]}, "who": {"reference": url}}
                for url, kind in agents
            ],
        }
        if self._exam.signature:
            made["extension"] = [{"url": OWN + "seal", "valueString": self._exam.signature.head}]
        return made

    def _id(self, part: str) -> str:
        return str(uuid.uuid5(_NAMESPACE, f"{self._identity}\n{part}"))

    def _url(self, part: str) -> str:
        return f"urn:uuid:{self._id(part)}"


def _narrative(lines: Iterable[str]) -> dict[str, str]:
    items = "".join(f"<li>{escape(line)}</li>" for line in lines)
    return {"status": "generated", "div": f'<div xmlns="http://www.w3.org/1999/xhtml"><ul>{items}</ul></div>'}


def _row_extension(row: Row) -> dict[str, Any]:
    """What an Observation has no element for. Empty texts are left out, as FHIR knows none."""
    parts: list[dict[str, Any]] = [
        {"url": "basis", "valueCode": row.basis.value},
        {"url": "confidence", "valueDecimal": _decimal(row.confidence)},
        {"url": "confirm", "valueBoolean": row.confirm},
    ]
    parts += [{"url": "root", "valueString": root} for root in row.roots]
    parts += [{"url": "expectedRoot", "valueString": root} for root in row.expected_roots]
    parts += [{"url": name, "valueCode": code} for name, code in (("muscle", row.muscle), ("nerve", row.nerve)) if code]
    parts += [{"url": "flag", "valueCode": flag} for flag in row.flags]
    for other in row.alternatives:
        inner = [
            {"url": "slot", "valueCode": other.slot},
            {"url": "value", "valueString": other.value},
            {"url": "probability", "valueDecimal": _decimal(other.probability)},
        ]
        parts.append({"url": "alternative", "extension": inner})
    for span in row.evidence:
        inner = [{"url": at, "valueDecimal": _decimal(getattr(span, at))} for at in ("start", "end")]
        inner += [{"url": at, "valueString": text} for at in ("heard", "mended") if (text := getattr(span, at)).strip()]
        parts.append({"url": "evidence", "extension": inner})
    return {"url": _ROW, "extension": parts}


def _row(observation: dict[str, Any]) -> Row:
    kept = next(one for one in observation["extension"] if one["url"] == _ROW)["extension"]
    site = observation["bodySite"]
    side = next(one for one in site["extension"] if one["url"] == _LATERALITY)["valueCodeableConcept"]
    reason = observation.get("dataAbsentReason")
    return Row.model_validate(
        {
            "manoeuvre": _own(observation["code"], "manoeuvre"),
            "side": _own(side, "side"),
            "site": _own(site, "site") if site.get("coding") else None,
            "value": None if reason else _value_of(observation),
            "status": Status.NOT_EXAMINED if reason else Status.EXAMINED,
            "reason": _own(reason, "reason") if reason else None,
            "roots": _all(kept, "root"),
            "expected_roots": _all(kept, "expectedRoot"),
            "flags": _all(kept, "flag"),
            "alternatives": _all(kept, "alternative"),
            "evidence": [{"heard": "", "mended": ""} | span for span in _all(kept, "evidence")],
            **{
                name: found[0]
                for name in ("basis", "confidence", "confirm", "muscle", "nerve")
                if (found := _all(kept, name))
            },
        }
    )


def _value_of(observation: dict[str, Any]) -> str:
    if measured := observation.get("valueQuantity"):
        return f"{int(Decimal(str(measured['value'])))} {measured['unit']}"
    return _own(observation["valueCodeableConcept"], "value")


def _own(concept: dict[str, Any], kind: str) -> str:
    return str(next(coding["code"] for coding in concept["coding"] if coding["system"] == OWN + kind))


def _all(extensions: list[dict[str, Any]], name: str) -> list[Any]:
    """Values of all extensions of this name; a nested one as a dictionary."""
    found = [one for one in extensions if one["url"] == name]
    return [
        {inner["url"]: _content(inner) for inner in one["extension"]} if "extension" in one else _content(one)
        for one in found
    ]


def _content(extension: dict[str, Any]) -> Any:
    (value,) = (content for key, content in extension.items() if key.startswith("value"))
    return float(value) if "valueDecimal" in extension else value


def _decimal(number: float) -> Decimal:
    return Decimal(repr(number))


def _number(value: Any) -> float:
    if isinstance(value, Decimal):
        return float(value)
    raise TypeError(f"{type(value).__name__} cannot be written as JSON")
