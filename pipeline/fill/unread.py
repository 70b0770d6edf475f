"""Words around a result that nothing accounts for: perhaps a misheard name, or another result."""

from __future__ import annotations

from itertools import pairwise

from pipeline.fill.drafts import ROOT
from pipeline.fill.frame import Frame
from pipeline.fill.sections import SMALL_TALK
from pipeline.mend.tokens import COMMA, Token
from pipeline.mend.words import BE, REACHING, WHERETO, frequency
from pipeline.understand.clauses import is_pondering
from pipeline.understand.grades import COPULAS
from pipeline.understand.items import OPPOSITE, Item, ItemKind, held
from pipeline.understand.verdicts import verdict
from pipeline.understand.words import IMPERATIVES

_RARE = 4.0
_BODY = frozenset(
    """toe toes foot feet heel heels ankle ankles knee knees hip hips thigh thighs finger fingers thumb thumbs wrist
        wrists elbow elbows shoulder shoulders""".split()
)
_MOVES = IMPERATIVES | WHERETO
_POINTED = 6.2
_POINTING = frozenset("it this that these those he she they there which what both one ones rest others other".split())
_AMONG_PLACES = frozenset(
    """a also and are as at both but down exactly from her here his in is it's just like likewise of on only or over
        side sides that the then there to too up well with""".split()
)
"""Words that join the places of one finding."""
_BEFORE_AN_ORDER = frozenset("and now then okay ok good great lovely please".split())
_ONCE_MORE = frozenset(
    "again harder more better try attempt time second third ditto same say put give make call come go no or".split()
)
"""Words that speak on of the test before, also where an order stands."""
_OF_THE_SAME = _ONCE_MORE | frozenset(
    """he he's she she's it it's they that that's this which i i'd i'll with against at to as than on maybe perhaps
        possibly probably actually rather nearly almost really correct correction sorry wait let see""".split()
)
"""Words that no name of a test has, and that speak on of the test before."""
_NO_NAMES = REACHING | {"opposed", "versus", "compared"}
_STILL = frozenset("still stays stayed remains remained".split())
"""Words that tell that a result is the same as before: "absent, reinforced still absent"."""
_NEAR = 8
"""Most tokens between two places of one finding, or in an order that may not have been read."""
_NOUN = 4.5
_LEADING = frozenset(
    """power strength otherwise again still also is are all the rest about just good it's that's so and then now of
        movements muscles groups everything legs arms limb limbs""".split()
)
"""Words that lead to a result for a whole limb and name no side."""


class Unread:
    """Asks about the words around frames; `ended`: the token after the last result."""

    def __init__(self, tokens: list[Token], ended: int) -> None:
        self._tokens = tokens
        self._ended = ended

    def around(self, frame: Frame) -> bool:
        """Whether words that were not read may change what a result is of."""
        sure = any(item.match is not None and not item.match.mended for item in frame.subjects)
        asked = any(item.kind is ItemKind.COMMAND for item in frame.subjects)
        before = self._cut_off if sure or asked else self.name_before
        return (
            (frame.value.grade is not None and before(frame))
            or self._other_name(frame)
            or self._lost_result(frame)
            or self._unread_among_places(frame)
            or self._asked_in_vain(frame)
            or self._led_by_unread(frame)
            or self._goes_on(frame)
        )

    def order_before(self, frame: Frame) -> int | None:
        """ "Push it straight. Lovely": where words begin that ask for a movement before a reaction, if any do."""
        start = max(self._ended, frame.value.start - _NEAR)
        asks = any(self._tokens[at].text in _MOVES for at in range(start, frame.value.start))
        return start if asks else None

    def test_before(self, frame: Frame) -> bool:
        """ "Four. Press. Four plus", "four. Hand slings three": another test, by a name or an order that was not read,
        stands between two grades; not "he cannot resist me, three", "push harder, four".
        """
        between = [token.text for token in self._tokens[self._ended : frame.value.start]]
        if self._is_decided(frame):
            return False
        first = next((word for word in between if word not in _BEFORE_AN_ORDER), "")
        holds_on = between[:2] == ["hold", "on"] and "to" not in between[2:3]
        if first in IMPERATIVES and not holds_on and _ONCE_MORE.isdisjoint(between):
            return True
        return not holds_on and _OF_THE_SAME.isdisjoint(between) and self.name_before(frame)

    def part_before(self, frame: Frame) -> bool:
        """ "No fasciculation. Hip movements on the right I'm leaving alone": left out of a part that names no test."""
        between = range(max(self._ended, frame.value.start - _NEAR), frame.value.start)
        return any(self._tokens[at].text in _BODY for at in between)

    def noun_of(self, frame: Frame) -> bool:
        """ "B12, which was normal": the result is told of something that was not read."""
        return self._tells_of_a_noun(frame) and self._has_unread_subject(frame)

    def _cut_off(self, frame: Frame) -> bool:
        """One word stands alone between the test and its grade ("knee flex tension four"): the name may go on."""
        at = frame.value.start - 1
        word = self._tokens[at].text
        taken = held(frame.items)
        named = [item for item in frame.subjects if item.kind is ItemKind.SUBJECT]
        return (
            (not named or any(item.end == at for item in named))
            and (not named or at not in taken)
            and self._tokens[at + 1].boundary < 0.5
            and word.isalpha()
            and not word.endswith("ly")
            and word not in _NO_NAMES
            and word not in (_MOVES if named or self._tokens[at - 1].text in _BODY else WHERETO)
            and frequency(word) < _NOUN
        )

    def name_before(self, frame: Frame) -> bool:
        """A word that nothing accounts for, right before a grade without a test of its own: perhaps a misheard name."""
        taken = held([*frame.items, frame.value.instead_of or frame.value])  # "three plus, sorry, four"
        names = {item.end for item in frame.subjects}
        at = frame.value.start - 1
        if self._is_decided(frame):
            return False
        while at >= 0 and frame.value.start - at <= 4 and self._tokens[at + 1].boundary < 0.6:
            word = self._tokens[at].text
            if at + 1 in names or word in _STILL:
                break
            if at not in taken:
                if self._ended == at + 1 or is_pondering(self._tokens, max(0, at - 2)):
                    break
                if len(word) > 2 and word.isalpha() and frequency(word) < SMALL_TALK and word not in _NO_NAMES:
                    return True
            at -= 1
        return False

    def _is_decided(self, frame: Frame) -> bool:
        """ "I'll settle for | three": the words before the grade name nothing."""
        said = [token.text for token in self._tokens[self._ended : frame.value.start]]
        return verdict(said, len(said)) is not None

    def _other_name(self, frame: Frame) -> bool:
        """A rare word opens a finding in words that goes on with an earlier test ("vibrating absent at the ankle"), or
        stands between two places of one finding ("L5 halted, S1 reduced"): perhaps another name, another result.
        """
        said = frame.value
        if frame.subjects or said.grade is not None or said.kind is not ItemKind.VALUE or not said.values:
            return False
        if self._has_unread_subject(frame):
            return True
        taken = held(frame.items)
        places = [item for item in frame.pre if item.kind is ItemKind.PLACE]
        between = [at for one, other in pairwise(places) for at in range(one.end, other.start)]
        if any(at not in taken and self._is_rare(at, _NOUN) for at in between):
            return True
        first = min([item.start for item in frame.pre if item.kind in (ItemKind.SIDE, ItemKind.PLACE)] + [said.start])
        if frame.excepted:
            return False  # "correction, left C6 is reduced"
        return first > self._ended and self._tokens[first].boundary < 0.6 and self._is_rare(first - 1, _RARE)

    def _lost_result(self, frame: Frame) -> bool:
        """ "Joint position at the toe we deuced right, normal left": an unread word stands where a result was due,
        so that the side after it may be that of another result.
        """
        said = frame.value
        sides = [item for item in frame.pre if item.kind is ItemKind.SIDE and not item.linked]
        if not (frame.subjects and sides) or said.kind is not ItemKind.VALUE or sides[-1].end != said.start:
            return False
        at = sides[-1].start - 1
        after = max(item.end for item in frame.subjects)
        return after <= at and at not in held(frame.items) and self._is_rare(at, _NOUN)

    def _unread_among_places(self, frame: Frame) -> bool:
        """ "Normal at C6 and old third at C8": what stands between two places, or two sides, of one finding and is no
        small word may be another finding.
        """
        if frame.value.kind is not ItemKind.VALUE:
            return False
        taken = held(frame.items)
        sides = [item for item in frame.post if item.kind is ItemKind.SIDE and item.ids[0] in OPPOSITE]
        roots = [
            [item for item in items if item.kind is ItemKind.PLACE and item.ids and ROOT.match(item.ids[0])]
            for items in (frame.pre, frame.post)
        ]
        return any(
            at not in taken and self._tokens[at].text.isalpha() and self._tokens[at].text not in _AMONG_PLACES
            for one, other in (pair for items in (*roots, sides) for pair in pairwise(items))
            if other.start - one.end <= _NEAR
            and one.ids != other.ids
            and all(token.boundary < COMMA for token in self._tokens[one.end : other.start])
            for at in range(one.end, other.start)
        )

    def _goes_on(self, frame: Frame) -> bool:
        """A part of the body stands for its test, and a word that was not read follows ("no ankle coal no us")."""
        if frame.value.start == frame.value.end:
            return False  # tests are listed: after one comes the next
        taken = held(frame.items)
        return any(
            _stands_for_test(item)
            and item.end < min(frame.end + 1, len(self._tokens))
            and item.end not in taken
            and self._tokens[item.end].boundary < 0.5
            and self._tokens[item.end].text not in COPULAS
            and len(self._tokens[item.end].text) > 2
            and frequency(self._tokens[item.end].text) < SMALL_TALK
            for item in frame.subjects
        )

    def _asked_in_vain(self, frame: Frame) -> bool:
        """An instruction that was not read ("toes up to the ceiling") stands before a result that names no test."""
        if any(not item.section_only for item in frame.subjects) or frame.value.same:
            return False
        taken = held(frame.items)
        between = [self._tokens[at].text for at in range(self._ended, frame.start) if at not in taken]
        return not _BODY.isdisjoint(between) and not _MOVES.isdisjoint(between)

    def _led_by_unread(self, frame: Frame) -> bool:
        """ "Rate five throughout": the word before a result for a whole limb may be the side, or another test."""
        at = frame.value.start - 1
        led = any(item.kind is ItemKind.SIDE for item in frame.pre)
        if frame.subjects or led or not frame.of(ItemKind.THROUGHOUT) or at < self._ended:
            return False
        word = self._tokens[at].text
        named = at in held(frame.items) or word in _LEADING or not word.isalpha()
        return not named and self._tokens[at + 1].boundary < 0.5

    def _has_unread_subject(self, frame: Frame) -> bool:
        """ "Half man's is present", "his thyroid, which was normal": before the finding a copula, before that a noun
        that nothing accounts for.
        """
        at = frame.value.start - 1
        if at < 1 or self._tokens[at].text not in BE or at - 1 < self._ended:
            return False
        at -= self._tells_of_a_noun(frame)
        word = self._tokens[at - 1].text
        named = (at - 1) in held(frame.items)
        return not named and word not in _POINTING and word.removesuffix("'s").isalnum() and frequency(word) < _POINTED

    def _tells_of_a_noun(self, frame: Frame) -> bool:
        return frame.value.start > 2 and self._tokens[frame.value.start - 2].text == "which"

    def _is_rare(self, at: int, below: float) -> bool:
        word = self._tokens[at].text
        return word.isalpha() and len(word) > 4 and frequency(word) < below


def _stands_for_test(item: Item) -> bool:
    """A part of the body that names a test only in its section ("the knees" among the reflexes)."""
    return item.match is not None and any(meaning.section is not None for meaning in item.match.term.meanings)
