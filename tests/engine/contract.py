"""What a row may hold, as the record contract says it, independent of the lexicon that the engine reads."""

from __future__ import annotations

import re

from pipeline.record.model import Row, Status

_POWER = {"0", "1", "2-", "2", "2+", "3-", "3", "3+", "4-", "4", "4+", "5-", "5", "normal", "reduced"}
_REFLEX = {"0", "1+", "2+", "3+", "4+", "reduced", "normal", "brisk"}
_SENSATION = {"normal", "reduced", "absent", "increased", "altered"}
_PRESENCE = {"absent", "present"}
_CLONUS = {"absent", "sustained", "present"}
_IMPAIRMENT = {"normal", "impaired"}
_SIGN = {"negative", "positive"}

_DERMATOMES = (
    {f"C{level}" for level in range(2, 9)}
    | {f"T{level}" for level in range(1, 13)}
    | {f"{region}{level}" for region in "LS" for level in range(1, 6)}
    | {"S4-5"}
)
_JOINTS = {"great_toe", "ankle", "knee", "finger", "wrist", "elbow"}
_LIMBS = {"leg", "arm"}

_POWER_NAMES = """hip_flexion hip_extension hip_abduction hip_adduction knee_extension knee_flexion ankle_dorsiflexion
    ankle_plantarflexion ankle_inversion ankle_eversion great_toe_extension toe_flexion toe_extension shoulder_abduction
    shoulder_adduction shoulder_external_rotation elbow_flexion elbow_extension wrist_extension wrist_flexion
    finger_extension finger_flexion finger_abduction thumb_abduction grip""".split()
_REFLEX_NAMES = (
    """knee_jerk ankle_jerk adductor_jerk biceps_jerk brachioradialis_jerk triceps_jerk finger_jerk""".split()
)

VALUES: dict[str, set[str]] = (
    dict.fromkeys(_POWER_NAMES, _POWER)
    | dict.fromkeys(_REFLEX_NAMES, _REFLEX)
    | {"plantar_response": {"flexor", "extensor", "equivocal", "mute"}, "hoffmann_sign": _PRESENCE}
    | dict.fromkeys(("ankle_clonus", "patellar_clonus"), _CLONUS)
    | dict.fromkeys(("wasting", "fasciculation", "abnormal_posture", "involuntary_movement"), _PRESENCE)
    | {"tone": {"normal", "increased", "reduced"}, "pendular_swing": {"normal", "increased"}}
    | dict.fromkeys(("light_touch", "pinprick", "temperature", "vibration", "joint_position"), _SENSATION)
    | dict.fromkeys(("heel_shin", "finger_nose", "rapid_alternating"), _IMPAIRMENT)
    | dict.fromkeys(("gait", "tandem_gait", "heel_walk", "toe_walk"), _IMPAIRMENT)
    | dict.fromkeys(("romberg", "straight_leg_raise", "femoral_stretch"), _SIGN)
    | {"anal_tone": {"normal", "reduced", "absent"}}
)
_MIDLINE = {"gait", "tandem_gait", "romberg", "anal_tone"}
_EITHER = {"heel_walk", "toe_walk"}
_COUNTED = {
    "ankle_clonus": r"\d+ beats",
    "patellar_clonus": r"\d+ beats",
    "straight_leg_raise": r"\d+ degrees",
    "femoral_stretch": r"\d+ degrees",
    "tone": r"MAS [0-4]\+?",
}
_PLACES = {
    ("light_touch", "pinprick", "temperature"): _DERMATOMES,
    ("vibration", "joint_position"): _JOINTS,
    ("tone", "wasting", "fasciculation", "abnormal_posture", "involuntary_movement"): _LIMBS,
}
_SITES = {name: sites for names, sites in _PLACES.items() for name in names}


def breaches(row: Row) -> list[str]:
    """What in the row is against the contract; its model checks status, value and reason."""
    found = []
    if row.manoeuvre not in VALUES:
        return [f"unknown manoeuvre {row.manoeuvre}"]
    counted = re.fullmatch(_COUNTED.get(row.manoeuvre, "(?!)"), row.value or "")
    if row.status is Status.EXAMINED and row.value not in VALUES[row.manoeuvre] and not counted:
        found.append(f"value {row.value}")
    if row.site is not None and row.site not in _SITES.get(row.manoeuvre, ()):
        found.append(f"site {row.site}")
    if (row.side.value == "midline") != (row.manoeuvre in _MIDLINE) and row.manoeuvre not in _EITHER:
        found.append(f"side {row.side}")
    found += [f"root {root}" for root in [*row.roots, *row.expected_roots] if root not in _DERMATOMES | {"C1"}]
    if row.basis.value == "inferred" and not (row.confirm and row.value == "normal" and "inferred_normal" in row.flags):
        found.append("inferred, but not a normal to be confirmed")
    if row.confirm != bool(row.flags):
        found.append(f"confirm {row.confirm} with flags {row.flags}")
    if not row.evidence or any(span.end < span.start or not span.heard for span in row.evidence):
        found.append("no evidence, or evidence that ends before it starts")
    return [f"{row.manoeuvre}: {what}" for what in found]
