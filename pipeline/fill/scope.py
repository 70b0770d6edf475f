"""What is under examination while a talk is read: section, limb, side, and the results so far."""

from __future__ import annotations

from dataclasses import dataclass, field

from pipeline.fill.drafts import Draft, Loose
from pipeline.fill.frame import Frame
from pipeline.fill.values import GROUPS, Values
from pipeline.lexicon.model import Lexicon, Manoeuvre
from pipeline.mend.tokens import Token, in_one_sentence
from pipeline.mend.words import ANNOUNCING
from pipeline.understand.items import OPPOSITE, Item, ItemKind

_JOINED_WITHIN = 5
"""Most tokens from the first limb to the second in "the left arm and the left leg"."""


@dataclass(frozen=True, slots=True)
class Known:
    """What the lexicon tells of tests and muscles."""

    values: Values
    moved: dict[str, str]
    """Muscle to the movement that tests it."""
    roots: dict[str, set[str]]
    """Test or muscle to the roots that supply it."""
    core: dict[str, list[Manoeuvre]]
    """Section to the tests that "throughout" stands for."""

    @classmethod
    def of(cls, lexicon: Lexicon) -> Known:
        roots = {one.id: {supply.root for supply in one.roots} for one in lexicon.manoeuvres}
        roots |= {one.id: {supply.root for supply in one.roots} for one in lexicon.muscles}
        core = {
            section: [one for one in lexicon.manoeuvres if one.core and one.section == section]
            for section in ("power", "reflexes")
        }
        moved = {muscle.id: muscle.manoeuvre for muscle in lexicon.muscles}
        return cls(Values(lexicon), moved, roots, core)


@dataclass(slots=True)
class _State:
    side: str | None = None  # left, right, both
    side_source: str = "unsaid"
    side_mention: int = -1
    side_section: str | None = None
    side_limbs: tuple[str, ...] = ()  # the limbs that the side was said with
    limb: str | None = None  # the side that a heading announced ("left leg.")
    apart: str | None = None  # a result on the other side since then: "aside", or "doubt" where it may have changed
    doubtful: bool = False
    section: str | None = None
    modality: str | None = None
    subjects: list[str] = field(default_factory=list)
    grouped: bool = False
    regions: tuple[str, ...] = ()
    limb_at: int | None = None  # where a limb was named last


class Scope:
    """The state of one talk, and what an item changes in it for all that follows."""

    def __init__(self, known: Known, tokens: list[Token]) -> None:
        self._known = known
        self._values = known.values
        self._manoeuvres = known.values.manoeuvres
        self._tokens = tokens
        self._state = _State()
        self._drafts: dict[tuple[str, str, str | None], Draft] = {}
        self._loose: list[Loose] = []
        self._history: list[tuple[int, list[Draft], list[Draft | None]]] = []
        self._frame_no = 0
        self._trail: list[tuple[int, int, list[Draft]]] = []  # (frame number, side mention, drafts)
        self._command: Item | None = None
        self._named: dict[str, Item] = {}
        self._side_frame = 0
        self._carried: tuple[str | None, str] = (None, "unsaid")
        self._ended = 0
        self._headed_at = len(tokens)  # where the last heading was said
        self._contrasted = False
        self._turned: int | None = None  # where "right", alone, was said while the left was examined: or "well then"
        self._adrift = False  # the last result had no side before it, and may have the one behind it
        self._sided = 0  # how many results in a row have had their side behind them
        self._joints: list[str | None] = []  # named before what was felt there
        self._pin_at = next(
            (i for i, t in enumerate(tokens) if t.text in ("pin", "needle", "pinprick", "neurotip", "sharp")), None
        )
        self._touch_at = next(
            (
                i
                for i, t in enumerate(tokens)
                if t.text in ("touch", "cotton", "fingertip", "brush", "wisp") and tokens[i - 1].text != "a"
            ),
            None,
        )

    @property
    def _last(self) -> list[Draft]:
        """The rows of the last result; none before the first."""
        return self._trail[-1][2] if self._trail else []

    def _note(self, item: Item, *, quiet: bool = False) -> None:
        """What an item changes for all that follows."""
        state = self._state
        if item.kind is ItemKind.HEADING:
            self._headed_at = item.start
            if state.side_mention == item.start - 1 and state.side_section == state.section:
                state.side_section = item.ids[0]  # "left power"
            state.section = item.ids[0]
            if state.section != "sensation":
                state.modality = None
        elif item.kind is ItemKind.REGION:
            self._turn_to(item)
            if self._tokens[item.end - 1].text.endswith("s") and not quiet:
                if state.side_source == "unsaid":
                    state.side, state.side_source = "both", "heading"
                elif state.side_limbs and set(state.side_limbs).isdisjoint(
                    item.limbs
                ):  # "left leg ... arms, no wasting"
                    state.side, state.side_source, state.side_limbs, state.limb = "both", "region", (), None
        elif item.kind is ItemKind.SIDE:
            side = item.ids[0]
            if side == "other":
                return
            if item.sites:
                self._turn_to(item)
            alone = self._tokens[item.start].text == "right" and item.end == item.start + 1 and self._stands_alone(item)
            turns = state.side == OPPOSITE.get(side) and state.side_source == "said"
            self._turned = item.start if alone and (turns or self._turned is not None) else None
            state.side, state.side_source, state.side_mention = side, "said", item.start
            state.side_limbs = item.sites
            # "The right leg" is under examination whatever is tested of it
            state.side_section = None if item.sites and side in OPPOSITE else state.section
            state.doubtful = "side_uncertain" in item.flags and not item.sites
            if self._stands_alone(item):
                state.limb, state.apart = side if side in OPPOSITE else None, None
        elif item.kind in (ItemKind.SUBJECT, ItemKind.COMMAND) and not item.section_only:
            here = (
                one for one in item.ids if one in self._manoeuvres and self._manoeuvres[one].region in state.regions
            )
            first = next(here, item.ids[0])
            state.section = GROUPS.get(first) or self._manoeuvres[first].section
            if state.section == "sensation" and first in self._manoeuvres:
                state.modality = first
            if item.kind is ItemKind.SUBJECT:
                state.subjects = [one for one in item.ids[:1] if one in self._manoeuvres]
                state.grouped = False
            if (
                first in self._manoeuvres
                and self._manoeuvres[first].region in ("lower_limb", "upper_limb")
                and state.regions != ("lower_limb", "upper_limb")
            ):
                state.regions = (self._manoeuvres[first].region,)

    def _turn_to(self, limb: Item) -> None:
        """The limb that was named is under examination, and the one it is joined to ("in the arm and the leg")."""
        state = self._state
        near = state.limb_at is not None and 0 < limb.start - state.limb_at <= _JOINED_WITHIN
        joined = near and self._is_joined(limb) and in_one_sentence(self._tokens, state.limb_at or 0, limb.end)
        state.regions = tuple(dict.fromkeys((*state.regions, *limb.limbs))) if joined else limb.limbs
        state.limb_at = limb.start

    def _stands_alone(self, side: Item) -> bool:
        """A side that is a sentence of its own announces the limb that is examined."""
        before = side.start - (side.start > 0 and self._tokens[side.start - 1].text in ("the", "his", "her", "now"))
        after = self._past_announcing(side)
        opens = self._tokens[before].boundary >= 1.5
        return opens and (after >= len(self._tokens) or self._tokens[after].boundary >= 1)

    def _past_announcing(self, side: Item) -> int:
        """The token after "left leg then", "right leg now"."""
        return side.end + (side.end < len(self._tokens) and self._tokens[side.end].text in ANNOUNCING)

    def _open_limb(self, side: Item, named: Item) -> None:
        """ "Left leg tone increased", "left leg then, tone": a limb right before a test is announced as by a sentence
        of its own.
        """
        opens = side.kind is ItemKind.SIDE and bool(side.sites) and not side.linked and side.ids[0] in OPPOSITE
        if (
            opens
            and named.kind in (ItemKind.SUBJECT, ItemKind.HEADING)
            and named.start in (side.end, self._past_announcing(side))
        ):
            self._state.limb, self._state.apart = side.ids[0], None

    def _back_to_limb(self, frame: Frame) -> None:
        """After "left leg ... none on the right either" a new test without a side is on the left again."""
        state = self._state
        if any(item.kind is ItemKind.COMMAND for item in frame.subjects):
            state.apart = None
        if frame.excepted:
            return  # "the same on the left, except the peronei, four"
        if state.apart and state.limb and frame.subjects and not frame.of(ItemKind.SIDE):
            state.side, state.doubtful, state.apart = state.limb, state.apart == "doubt", None

    def _is_joined(self, item: Item) -> bool:
        """ "In the right arm and leg", "in the arms or the legs": the second limb."""
        at = item.start
        while at > 0 and self._tokens[at - 1].text in ("the", "in", "his", "her"):
            at -= 1
        return at > 0 and self._tokens[at - 1].text in ("and", "or", "nor")
