"""Bundles are valid FHIR in both versions, and read back to the very same rows."""

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.export.codes import BUILT_IN, Codes, read_codes
from pipeline.export.exam import Exam, ExportError
from pipeline.export.fhir import Version, bundle, rows_of
from pipeline.lexicon import load
from pipeline.record.model import Evidence, ExamRecord, Reason, Row, Side, Status, Unheard
from pipeline.record.views import Signed
from tests.export.cases import cases, exam

LEXICON = load()
CASES = {case["id"]: case for case in cases()}
SIGNED = Signed("2026-03-04T11:00:00+00:00", "Dr A. Example", "neurologist", "Checked.", "ab12")
VERSIONS: list[Version] = ["R4B", "R5"]


def resources(text: str, kind: str) -> list[dict[str, Any]]:
    entries = [entry["resource"] for entry in json.loads(text)["entry"]]
    return [resource for resource in entries if resource["resourceType"] == kind]


def confirmed(case_id: str) -> Exam:
    rows = [row.model_copy(update={"confirm": False}) for row in exam(CASES[case_id]).record.rows]
    return Exam(ExamRecord(rows=rows), signature=SIGNED, created="2026-03-04T10:20:00+00:00", identifier="x1")


# `rows_of` checks the text against the models of `fhir.resources` before it reads a row.
@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize("case_id", CASES)
def test_a_case_validates_and_comes_back(case_id: str, version: Version) -> None:
    shown = exam(CASES[case_id])
    text = bundle(shown, LEXICON, version, Codes())
    assert rows_of(text, version) == shown.record.rows


WORDS = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]), max_size=12)
SECONDS = st.floats(0, 5000, allow_nan=False)
ROWS = st.builds(
    Row,
    manoeuvre=st.sampled_from([entry.id for entry in LEXICON.manoeuvres]),
    side=st.sampled_from(Side),
    site=st.sampled_from([None, "L5", "S4-5", "great_toe"]),
    value=st.sampled_from(["4-", "MAS 1+", "40 degrees", "3 beats", "reduced", "0"]),
    roots=st.lists(st.sampled_from(["L4", "L5"]), max_size=2),
    muscle=st.sampled_from([None, "peronei"]),
    confidence=st.floats(0, 1),
    confirm=st.booleans(),
    flags=st.lists(st.sampled_from(["side_unsaid", "low_audio"]), max_size=2),
    evidence=st.lists(st.builds(Evidence, start=SECONDS, end=SECONDS, heard=WORDS, mended=WORDS), max_size=2),
)


@settings(max_examples=25)
@given(rows=st.lists(ROWS, max_size=3), version=st.sampled_from(VERSIONS))
def test_any_row_comes_back(rows: list[Row], version: Version) -> None:
    # FHIR holds no text of nothing but space: it comes back empty.
    spoken = [
        row.model_copy(
            update={
                "evidence": [
                    span.model_copy(
                        update={
                            at: text if text.strip() else ""
                            for at, text in (("heard", span.heard), ("mended", span.mended))
                        }
                    )
                    for span in row.evidence
                ]
            }
        )
        for row in rows
    ]
    assert rows_of(bundle(Exam(ExamRecord(rows=rows)), LEXICON, version, Codes()), version) == spoken


@pytest.mark.parametrize("version", VERSIONS)
def test_status_is_preliminary_until_signed_then_final(version: Version) -> None:
    draft = bundle(exam(CASES["a1-01"]), LEXICON, version, Codes())
    final = bundle(confirmed("a1-01"), LEXICON, version, Codes())
    for text, status in ((draft, "preliminary"), (final, "final")):
        assert {one["status"] for one in resources(text, "Observation")} == {status}
        assert resources(text, "Composition")[0]["status"] == status
    assert "UNSIGNED DRAFT" in resources(draft, "Composition")[0]["section"][-1]["text"]["div"]
    assert resources(draft, "Practitioner") == []
    assert resources(final, "Practitioner")[0]["name"] == [{"text": "Dr A. Example"}]
    (provenance,) = resources(final, "Provenance")
    assert [agent["type"]["coding"][0]["code"] for agent in provenance["agent"]] == ["assembler", "verifier"]
    assert len(provenance["target"]) == len(resources(final, "Observation")) + 1


def test_an_observation_says_what_where_how_and_with_what_result() -> None:
    row = Row(
        manoeuvre="light_touch", side=Side.LEFT, site="L5", value="reduced", confirm=True, flags=["modality_unsaid"]
    )
    (one,) = resources(bundle(Exam(ExamRecord(rows=[row])), LEXICON, "R5", Codes()), "Observation")
    assert one["code"]["coding"] == [
        {"system": "urn:spoken-exam:manoeuvre", "code": "light_touch", "display": "Light touch"}
    ]
    assert one["bodySite"]["text"] == "L5"
    (side,) = one["bodySite"]["extension"]
    assert side["url"] == "http://hl7.org/fhir/StructureDefinition/observation-structureLaterality"
    assert side["valueCodeableConcept"]["text"] == "left"
    assert one["method"]["text"] == "Touch with cotton wool, eyes closed."
    assert one["valueCodeableConcept"]["text"] == "reduced"
    assert one["interpretation"][0]["coding"][0]["code"] == "A"
    assert one["note"] == [{"text": "Unconfirmed: the kind of sensation was not said"}]


def test_an_angle_is_a_quantity_and_an_omission_has_its_reason() -> None:
    raised = Row(manoeuvre="straight_leg_raise", side=Side.LEFT, value="40 degrees")
    left_out = Row(manoeuvre="romberg", side=Side.MIDLINE, status=Status.NOT_EXAMINED, reason=Reason.PAIN)
    text = bundle(Exam(ExamRecord(rows=[raised, left_out])), LEXICON, "R4B", Codes())
    angle, absent = resources(text, "Observation")
    assert angle["valueQuantity"] == {
        "value": 40,
        "unit": "degrees",
        "system": "http://unitsofmeasure.org",
        "code": "deg",
    }
    assert [coding["code"] for coding in absent["dataAbsentReason"]["coding"]] == ["not-performed", "pain"]
    assert absent["dataAbsentReason"]["text"] == "not examined (because of pain)"


def test_sections_refer_to_all_rows_and_open_matters_are_told() -> None:
    shown = Exam(
        ExamRecord(rows=exam(CASES["a1-01"]).record.rows, unheard=[Unheard(start=3, end=5, reason="no_words")])
    )
    text = bundle(shown, LEXICON, "R5", Codes())
    (composition,) = resources(text, "Composition")
    referred = [entry["reference"] for section in composition["section"] for entry in section.get("entry", [])]
    urls = [one["fullUrl"] for one in json.loads(text)["entry"] if one["resource"]["resourceType"] == "Observation"]
    assert sorted(referred) == sorted(urls)
    divs = {section["title"]: section["text"]["div"] for section in composition["section"]}
    assert "No words recognised, 3.0 to 5.0 s: no words" in divs["To be confirmed or cleared"]
    assert "not a medical device" in divs["Cautions"]


def test_the_same_examination_gives_the_same_bundle() -> None:
    now = datetime(2026, 3, 4, tzinfo=UTC)
    texts = {bundle(exam(CASES["a2-01"]), LEXICON, "R5", Codes(), now) for _ in range(2)}
    assert len(texts) == 1


def test_a_site_adds_codes_of_its_own(tmp_path: Path) -> None:
    file = tmp_path / "ours.yaml"
    file.write_text('manoeuvre:\n  knee_jerk:\n    - {system: "urn:example", code: "kj", display: "Knee"}\n')
    row = Row(manoeuvre="knee_jerk", side=Side.LEFT, value="2+")
    text = bundle(Exam(ExamRecord(rows=[row])), LEXICON, "R5", read_codes(file))
    (one,) = resources(text, "Observation")
    assert one["code"]["coding"][1] == {"system": "urn:example", "code": "kj", "display": "Knee"}
    assert rows_of(text, "R5") == [row]


def test_the_file_that_a_site_copies_can_be_read() -> None:
    assert read_codes() == read_codes(BUILT_IN) == Codes()


@pytest.mark.parametrize(
    ("content", "complaint"),
    [
        ("manoeuvre: [", r"^c\.yaml: not valid YAML \(.*\); mend the file$"),
        ("muscles: {}", r"^c\.yaml: muscles: Extra inputs are not permitted; see the comments in codes\.yaml$"),
        ("site: {L5: [{code: x}]}", r"^c\.yaml: site\.L5\.0\.system: Field required; see the comments"),
    ],
)
def test_a_mistake_in_the_codes_is_named(tmp_path: Path, content: str, complaint: str) -> None:
    (tmp_path / "c.yaml").write_text(content)
    with pytest.raises(ExportError, match=complaint):
        read_codes(tmp_path / "c.yaml")


@pytest.mark.parametrize("version", VERSIONS)
def test_an_invalid_bundle_is_refused(version: Version) -> None:
    content = json.loads(bundle(exam(CASES["a1-01"]), LEXICON, version, Codes()))
    del content["entry"][0]["resource"]["author"]
    with pytest.raises(ExportError, match=f"not a FHIR {version} bundle"):
        rows_of(json.dumps(content), version)


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("{", "not a FHIR R5 bundle"),
        ('{"resourceType": "Bundle", "type": "nonsense", "entry": 3}', "not a FHIR R5 bundle"),
        ('{"resourceType": "Bundle", "type": "collection"}', "lacks what makes a row"),
    ],
)
def test_another_bundle_is_refused_in_one_line(text: str, complaint: str) -> None:
    with pytest.raises(ExportError, match=complaint) as refusal:
        rows_of(text, "R5")
    assert "\n" not in str(refusal.value)
