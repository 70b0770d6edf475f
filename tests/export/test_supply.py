"""The table of supply: what a root or nerve would explain, and what it would not."""

from pipeline.export.supply import SUPPLY_CAUTION, Candidate, SideTable, supply, supply_text
from pipeline.lexicon import load
from pipeline.record.model import Row, Side

LEXICON = load()


def row(manoeuvre: str, value: str, side: str = "right", **more: object) -> Row:
    return Row.model_validate({"manoeuvre": manoeuvre, "side": side, "value": value, **more})


def only_side(rows: list[Row]) -> SideTable:
    (side,) = supply(rows, LEXICON).sides
    return side


def find(candidates: list[Candidate], name: str) -> Candidate:
    return next(one for one in candidates if one.name == name)


# Weak dorsiflexion and toe extension with weak inversion: the textbook distinction between root L5 and the common
# peroneal nerve, which does not supply tibialis posterior.
FOOT_DROP = [
    row("ankle_dorsiflexion", "4-"),
    row("great_toe_extension", "3"),
    row("ankle_eversion", "4"),
    row("ankle_inversion", "4+"),
    row("light_touch", "reduced", site="L5"),
    row("ankle_plantarflexion", "5"),
    row("ankle_jerk", "2+"),
]


def test_root_l5_supplies_all_and_the_common_peroneal_nerve_leaves_inversion() -> None:
    side = only_side(FOOT_DROP)
    first = side.roots[0]
    assert (first.name, first.supplies_all, len(first.main_for)) == ("L5", True, 5)
    nerve = find(side.nerves, "common peroneal nerve")
    assert [one.name for one in nerve.unexplained] == ["ankle inversion 4+"]
    assert [one.name for one in nerve.unrecorded] == ["light touch L5 reduced"]
    assert not nerve.supplies_all


def test_what_a_candidate_supplies_and_was_found_normal_is_told() -> None:
    side = only_side(FOOT_DROP)
    assert [one.name for one in find(side.roots, "S1").supplies_normal] == ["ankle plantarflexion 5", "ankle jerk 2+"]
    assert [one.name for one in find(side.nerves, "sciatic nerve").supplies_normal] == ["ankle plantarflexion 5"]


def test_a_trunk_stands_for_its_branches() -> None:
    side = only_side(FOOT_DROP[:3])
    assert [one.name for one in side.nerves if one.supplies_all] == ["common peroneal nerve", "sciatic nerve"]
    assert [one.name for one in find(side.nerves, "deep peroneal nerve").unexplained] == ["ankle eversion 4"]


def test_a_said_muscle_narrows_the_nerve() -> None:
    both = {one.name for one in only_side([row("elbow_flexion", "3")]).nerves}
    biceps = {one.name for one in only_side([row("elbow_flexion", "3", muscle="biceps")]).nerves}
    assert both == {"musculocutaneous nerve", "radial nerve"}
    assert biceps == {"musculocutaneous nerve"}


def test_sides_are_kept_apart_and_normal_sides_left_out() -> None:
    found = supply(
        [row("hip_flexion", "4", "left"), row("hip_flexion", "5", "right"), row("gait", "impaired", "midline")], LEXICON
    )
    assert [side.side for side in found.sides] == [Side.LEFT]


def test_brisk_reflexes_and_gait_are_set_apart() -> None:
    rows = [
        row("knee_jerk", "3+"),
        row("plantar_response", "extensor"),
        row("ankle_jerk", "0"),
        row("vibration", "absent", site="ankle"),
    ]
    found = supply(rows, LEXICON)
    assert [one.row.manoeuvre for one in found.sides[0].findings] == ["ankle_jerk"]
    assert [one.manoeuvre for one in found.apart] == ["knee_jerk", "plantar_response", "vibration"]


def test_perianal_sensation_is_supplied_by_two_levels() -> None:
    assert [one.name for one in only_side([row("pinprick", "absent", site="S4-5")]).roots] == ["S4", "S5"]


def test_the_text_carries_caution_doubt_and_sources() -> None:
    text = supply_text([row("ankle_dorsiflexion", "4-", confirm=True), *FOOT_DROP[1:]], LEXICON)
    assert text.index(SUPPLY_CAUTION) < text.index("| Root |")
    assert "ankle dorsiflexion 4-, unconfirmed" in text
    (root,) = [line for line in text.splitlines() if line.startswith("| L5 |")]
    cells = [cell.strip() for cell in root.strip("|").split("|")]
    assert cells[1].startswith("**all:** ankle dorsiflexion") and cells[2:] == ["–", "–", "–"]
    assert "- ISNCSCI key muscles" in text
    assert "diagnos" not in text.replace("not a diagnosis", "")


def test_nothing_changed_is_said_plainly() -> None:
    text = supply_text([row("hip_flexion", "5")], LEXICON)
    assert "No weak movement, changed sensation at a dermatome, or lost or reduced tendon reflex is recorded." in text
    assert "|" not in text


def test_a_change_without_a_side_is_listed_apart() -> None:
    row = Row(manoeuvre="pinprick", side=Side.MIDLINE, site="S4-5", value="reduced")
    assert supply([row], LEXICON).apart == [row]
