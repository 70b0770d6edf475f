"""What a way to cut talk into results costs: what may belong to a result before and after its value."""

from __future__ import annotations

import itertools
import math
from bisect import bisect_left
from collections.abc import Callable, Iterable

from pipeline.fill.drafts import ROOT
from pipeline.fill.frame import SUBJECTS, VALUES, Frame, places_by_side
from pipeline.fill.turns import hides_a_name, turns_from
from pipeline.mend.tokens import BLOCK_END, COMMA, SENTENCE_END, Token, strongest_break
from pipeline.mend.words import ANNOUNCING, BE
from pipeline.understand.clauses import CLAUSE
from pipeline.understand.items import Item, ItemKind, held

_TAKEN = frozenset("roll rolling lift lifting rock rocking shake shaking swing swinging".split())
"""What is done with a limb to see how it hangs."""
_LEADS = frozenset("on in the and so now then to over for his her this that but back okay ok here well next".split())
CONNECTORS = frozenset("and or nor any no & also the his her s plus as well both for".split())
POWER_WORDS = frozenset({"power", "strength", "weakness"})
_NEVER = 20.0
"""Cost of a reading that nobody can mean."""
Fits = Callable[[Item, Item], bool]
"""Whether a value can belong to a subject."""
Supplies = Callable[[Item, Item], bool]
"""Whether a place can be the roots that supply a subject."""
_PLACED = Item(ItemKind.PLACE, 0, 0)
_STRONG = Item(ItemKind.VALUE, 0, 0, grade="5")
"""A grade of strength, and of nothing else."""
_BEFORE_LIMBS = frozenset("and or nor as the in both his her all of".split())
_LED = (["in"], ["for"], ["at"], ["to"])
_OF_BOTH = frozenset("both either each".split())
_ATTRIBUTIVE = _OF_BOTH | {"left", "right"}
_DESCRIBING = frozenset("a an has have had shows with summary summarise summarize recap short conclusion".split())
"""What joins a finding to the test after it: "he has weak inversion", "in summary reduced grip"."""
_LED_BY = frozenset("in for at".split())
_SEEKING = frozenset("look looking looked check checking checked search searching inspect inspecting testing".split())
_STATING = frozenset("is are was were it's that's as it".split())
_I = frozenset("i i'm i'd i'll i've we we're we'd we'll we've".split())
_SAID_OF = ("has", "had", "shows", "is", "was")
_GOING = (["over"], ["on"], ["across"], ["moving"], ["going"], ["turning"], ["back"])
_TESTED = frozenset("did tested checked tried only just the".split())
_TESTED_WITHIN = 5
"""Most words of "I only just tested the", in front of what was tested."""
_IT = frozenset("it's it he's she's they're they".split())
_THERE = ("there's", "there", "yes")
"""What stands behind a side in "in the left arm there is wasting"."""
_JOINING = frozenset("is are was were 's at on in the a about only just".split())
_SAME = frozenset("same goes ditto again identical likewise".split())
_NAMED = (["of"], ["one"], ["single"])
_LEAVING = frozenset("skip skipping omit omitting".split())
_OF_LIMBS = frozenset("tone group:power group:reflexes".split())
"""What a limb behind its grade may be that of."""
_LIMB_OF = {"arm": "upper_limb", "upper": "upper_limb", "leg": "lower_limb", "lower": "lower_limb"}
_DETERMINERS = frozenset("the his her a both all each".split())
_BEFORE_LEADING = frozenset("and but though only also just then with gives give scores or so yet while whereas".split())
_MOST_LINKING = 8
_LINKING = frozenset(
    """what i make give gave get got the a best he she they gives me in for of at on it grade score scored my his her
        most more i'm i've given manages managed gets musters achieves scores how would describe be call i'd as also
        too likewise all can do reading result found""".split()
)
_MOST_ROOTS = 3
"""Of one muscle, in the tables of innervation."""


class Weigher:
    def __init__(
        self,
        items: list[Item],
        tokens: list[Token],
        fits: Fits,
        supplies: Supplies,
        continued: bool,
        other_side: str | None = None,
    ) -> None:
        """`other_side`: that of which the result was not said from which the first of these is an exception."""
        self.items = items
        self.tokens = tokens
        self.continued = continued
        self._other_side = other_side
        self._fits, self._supplies = _once_each(fits), supplies
        self._costs: dict[tuple[int, int, int], tuple[float, list[Item], list[Item], bool]] = {}
        self._before: dict[tuple[int, int], list[Item]] = {}
        self._place_of = {id(item): at for at, item in enumerate(items)}
        self._subject_at = {item.start: item for item in reversed(items) if item.kind is ItemKind.SUBJECT}
        self._opened = {item.start for item in items if item.kind in (ItemKind.SUBJECT, ItemKind.HEADING)}
        self._headings = {item.start for item in items if item.kind is ItemKind.HEADING}
        self._understood = held(items)
        # "Light touch in the arms": of a test of roots or joints that is no place
        self._regions = {item.start for item in items if item.kind is ItemKind.REGION}
        self._value_starts = {item.start for item in items if item.kind is ItemKind.VALUE}
        self._same_starts = {item.start for item in items if item.same}  # "present, left arm the same"
        self._in_order = sorted(items, key=lambda item: item.start)
        self._item_starts = [item.start for item in self._in_order]
        self._order = self._alternation()
        self._claimed: set[int] = set()  # names that the value before and the value after them may both belong to
        self._led_by_value = self._values_first()
        self._fronted = self._adjectives()
        self._place_order = self._placing()
        self._held: dict[tuple[int, float], bool] = {}
        self._roots_first = self._habit()

    def _owner_before(self, at: int) -> Item | None:
        """The last full subject before the item at a place."""
        for back in range(at - 1, -1, -1):
            item = self.items[back]
            if item.kind is ItemKind.SUBJECT and not item.section_only:
                return item
        return None

    def _habit(self) -> bool:
        """Whether the examiner names the root before the movement ("L2, hip flexion five")."""
        first = after = 0
        begun = False  # a list that begins "L2 hip flexion" goes on so
        for item, nxt in zip(self.items, self.items[1:], strict=False):
            if item.kind is ItemKind.PLACE and nxt.kind is ItemKind.SUBJECT and nxt.start == item.end:
                owner = self._owner_before(self._place_of[id(item)])
                sensory = self._fits(nxt, _PLACED) or (owner is not None and self._fits(owner, _PLACED))
                # "Deltoid five bilaterally C5, biceps five bilaterally C6" begins with no root.
                ends = self._ends_a_result(item)
                after += ends and not sensory
                begun = begun or (not after and not sensory and item.is_level)
                first += (begun and not sensory) or self.tokens[item.start].boundary >= 1
            elif item.kind is ItemKind.VALUE and item.grade and nxt.kind is ItemKind.PLACE and nxt.start == item.end:
                after += 1
        return first > after

    def _side_before(self, place: Item) -> Item | None:
        """The side that stands right before a place."""
        at = self._place_of[id(place)]
        last = self.items[at - 1] if at else None
        return last if last is not None and last.kind is ItemKind.SIDE and last.end == place.start else None

    def _ends_a_result(self, place: Item) -> bool:
        """ "Five bilaterally C5": a side, and a grade before it, stand right before a root; but "eighty degrees on the
        right, on the left L2" is a new side.
        """
        at = self._place_of[id(place)]
        before = self.items[max(0, at - 3) : at - 1]
        return (
            self._side_before(place) is not None
            and self.tokens[place.start].boundary < 0.5
            and not (before and before[-1].kind is ItemKind.SIDE)
            and any(item.kind is ItemKind.VALUE and item.grade is not None for item in before)
        )

    def _alternation(self) -> dict[int, str]:
        """For a side of a list of sides and values on one subject: whether it goes with the value `before` or `after`.

        "Five left and four right" begins with a value and ends with a side; "left five, right four" the other way.
        """
        found: dict[int, str] = {}
        stretch: list[Item] = []

        def add(item: Item) -> None:
            if stretch or item.ids != ("both",):  # "both, left four, right five": an announcement, no part of the list
                stretch.append(item)

        def close() -> None:
            sides = [item for item in stretch if item.kind is ItemKind.SIDE]
            if len({(item.ids, item.sites) for item in sides}) > 1 and all(item.ids != ("both",) for item in sides):
                first, last = stretch[0].kind, stretch[-1].kind
                if (first, last) == (ItemKind.VALUE, ItemKind.SIDE):
                    found.update({id(item): "before" for item in sides})
                elif (first, last) == (ItemKind.SIDE, ItemKind.VALUE):
                    found.update({id(item): "after" for item in sides})
            stretch.clear()

        previous: Item | None = None
        for item in self.items:
            if item.kind in (ItemKind.SUBJECT, ItemKind.COMMAND, ItemKind.HEADING) and not item.section_only:
                led = stretch.pop() if self._leads(stretch, item) else None
                close()
                if led is not None:
                    add(led)
                # "Fasciculations in the right leg, none in the left", "four beats of clonus right, none left"
                if previous is not None and (previous.forward or self._is_amount_of(previous, item)):
                    add(previous)
            elif item.forward:
                close()
            elif item.kind in (ItemKind.SIDE, ItemKind.VALUE):
                if previous is not None and self._between(previous.end, item.start) >= 1.5:
                    close()
                if stretch and item.ids == ("both",):  # a result of both sides ends the list
                    if stretch[-1].kind is ItemKind.VALUE:
                        stretch.pop()
                    close()
                    previous = item
                    continue
                if not (item.kind is ItemKind.VALUE and item.reaction and not item.values):
                    add(item)
            previous = item
        close()
        return self._runs() | found

    def _runs(self) -> dict[int, str]:
        """ "Grip four right wrist flexion five left": sides of a run whose first test has none before it.

        The last one leads nothing, or a result that has its own, so each belongs to the result before it.
        """
        found: dict[int, str] = {}
        sides: list[Item] = []
        opened = False  # the run began with a test and no side before it
        for at, item in enumerate(self.items):
            last = self.items[at - 1] if at else None
            joined = last is not None and last.end == item.start and self._between(last.end, item.start) < 0.5
            if item.kind is ItemKind.SUBJECT and not item.section_only:
                if not (sides and joined and last is sides[-1]):
                    sides, opened = [], not (last is not None and last.kind is ItemKind.SIDE)
            elif item.kind is ItemKind.SIDE:
                ends = item.end == len(self.tokens) or self.tokens[item.end].boundary >= 0.5
                after = last is not None and joined and last.kind in (ItemKind.VALUE, ItemKind.PLACE)
                own = item.of is not None or (ends and item.ids == ("both",))
                if opened and after and not (own or item.linked) and item.ids[0] in ("left", "right"):
                    sides.append(item)
                if opened and after and (own or (ends and len(sides) > 1)):
                    found.update((id(side), "before") for side in sides)
                if ends or not (sides and item is sides[-1]):
                    sides, opened = [], False
            elif item.kind not in (ItemKind.VALUE, ItemKind.PLACE):
                sides, opened = [], False
        return found

    def _is_amount_of(self, value: Item, subject: Item) -> bool:
        """ "Four beats of clonus", "a trace of clonus"."""
        counted = value.kind is ItemKind.VALUE and self._text_between(value, subject) == ["of"]
        return (value.unit == "beats" and subject.kind in SUBJECTS and self._fits(subject, value)) or counted

    def _values_first(self) -> set[int]:
        """The values that tell of the subject after them, and these: "four for the hip flexors", "three is eversion".

        Where a list has begun so, it goes on so without the small word: "four is hip flexion, and five knee extension".
        """
        linked: dict[int, Item] = {}
        for at in reversed(range(len(self.items))):
            said = self.items[at]
            if said.kind is ItemKind.VALUE and not (said.reaction or said.same):
                named = self._linked_name(at)
                word = self._link(at, named) if named is not None else ""
                if named is None or not word:
                    continue
                if word == "for" or not self._has_own(named, linked):
                    linked[at] = named
                else:
                    self._claimed.add(id(named))
        linked |= self._in_turn()
        found: set[int] = set()
        first: bool | None = None  # whether the list under way has its values first
        fronted = False  # "for the deltoid five, for the biceps four"
        previous: Item | None = None
        for at, item in enumerate(self.items):
            if previous is not None and self._between(previous.end, item.start) >= 1.5:
                first, fronted = None, False
            if item.kind in (ItemKind.SIDE, ItemKind.REGION, ItemKind.PLACE):
                continue
            if item.kind is ItemKind.VALUE and not item.reaction:
                named = None if fronted else linked.get(at)
                if named is None and first and item.grade is not None:
                    named = self._linked_name(at)
                    if named is not None and (self._is_sided(item, named) or self._has_own(named, linked)):
                        named = None
                owner = previous if previous is not None and self._is_name(previous) else None
                owned = owner is not None and id(owner) not in found and self._follows(owner, item)
                if named is not None and not owned:
                    first = True
                    found |= {id(item), id(named)}
                elif first is None and item.grade is not None:
                    first = False
            elif first and previous is not None and id(previous) in found and self._is_added(previous, item, linked):
                found.add(id(item))
            elif first is None and self._is_name(item):
                first, fronted = False, self._is_fronted(item)
            previous = item
        return found

    def _in_turn(self) -> dict[int, Item]:
        """The name after each grade of a list whose grades stand first; what may as well be otherwise is asked."""
        found: dict[int, Item] = {}
        for at in range(len(self.items)):
            pairs = [] if at in found else turns_from(self.items, at, self.tokens, continued=self.continued)
            fitting = sum(self._fits(self.items[name], self.items[value]) for value, name in pairs)
            if 3 * fitting > 2 * len(pairs):  # one name may have been mended to another test
                found |= {value: self.items[name] for value, name in pairs}
                if pairs and hides_a_name(self.items, at, self.tokens):
                    self._claimed.update(id(self.items[name]) for _, name in pairs)
        return found

    def _is_added(self, last: Item, named: Item, linked: dict[int, Item]) -> bool:
        """ "One plus at the left biceps and the left triceps, two plus at": a name that has the value of the last."""
        if not (self._is_name(last) and self._is_name(named)):
            return False
        after = self.items[self._place_of[id(named)] + 1 :]
        turned = bool(after) and after[0].kind is ItemKind.SIDE and after[0].linked
        if not turned and self._has_own(named, linked):
            return False  # but "at the knee and ankle, on the right two"
        between = self._text_between(last, named, self.items[self._place_of[id(last)] + 1 : self._place_of[id(named)]])
        if not between and self._between(last.end, named.start) < COMMA:  # "at the biceps, triceps and knee"
            return self._is_joined(named, after)
        return between[:1] == ["and"] and CONNECTORS.union(_LED_BY).issuperset(between)

    @staticmethod
    def _is_name(item: Item) -> bool:
        return item.kind in SUBJECTS and not item.section_only and not item.ids[0].startswith("group:")

    def _follows(self, name: Item, value: Item) -> bool:
        """Nothing but sides, places and a copula between a name and a value."""
        inner = self.items[self._place_of[id(name)] + 1 : self._place_of[id(value)]]
        aside = held(other for other in inner if other.start >= name.end)
        between = [self.tokens[at].text for at in range(name.end, value.start) if at not in aside]
        return all(word in _JOINING for word in between) and self._between(name.end, value.start) < 1

    def _linked_name(self, at: int) -> Item | None:
        """The next subject after the value at a place, if no other value stands between."""
        for item in self.items[at + 1 :]:
            if item.kind in VALUES:
                break
            if item.kind is ItemKind.SUBJECT and not item.section_only:
                return item if self._fits(item, self.items[at]) else None
        return None

    def _has_own(self, named: Item, linked: dict[int, Item]) -> bool:
        """A value that is not joined to a further name follows the name: "normal in the right, ankle clonus absent"."""
        for at in range(self._place_of[id(named)] + 1, len(self.items)):
            item = self.items[at]
            if item.kind in SUBJECTS:
                return False
            if item.kind in VALUES:
                near = self._between(named.end, item.start) < 0.5
                return at not in linked and near and self._follows(named, item)
        return False

    def _is_sided(self, value: Item, named: Item) -> bool:
        """A side that was said with "on" or "in" stands between: it ends what the value tells of."""
        sides = self.items[self._place_of[id(value)] + 1 : self._place_of[id(named)]]
        return any(item.kind is ItemKind.SIDE and item.linked for item in sides)

    def _is_fronted(self, named: Item) -> bool:
        """ "For the deltoid": the name that opens a list has the small word itself; but "looking for wasting"."""
        at = named.start
        while (
            at > 0 and self.tokens[at].boundary < 0.5 and self.tokens[at - 1].text in (*_DETERMINERS, "left", "right")
        ):
            at -= 1
        led = [token.text for token in self.tokens[max(0, at - 2) : at]]
        sought = led[-1:] == ["for"] and led[0] in _SEEKING
        return self.tokens[at].boundary < 0.5 and led[-1:] in (["for"], ["in"]) and not sought

    def _link(self, at: int, named: Item) -> str:
        """The small word that joins the value at a place to the subject after it ("for", "in", or a copula), or ""."""
        said = self.items[at]
        if self._between(said.end, named.start) >= 1.2:
            return ""
        inner = self.items[at + 1 : self._place_of[id(named)]]
        aside = held(inner)
        between = [k for k in range(said.end, named.start) if k not in aside]
        words = [self.tokens[k].text for k in between]
        while words and words[-1] in _DETERMINERS:
            words.pop()
        if self.tokens[said.start].text in ("so", "as") and said.end - said.start == 2 and not words:
            return "so"  # "and so are the ankle jerks", "as was vibration"
        at_jerk = words == ["at"] and not any(item.kind is ItemKind.PLACE for item in (*inner, named))
        at_jerk = at_jerk and not self._fits(named, _PLACED)  # "reduced at the knees, vibration"
        if (words in (["for"], ["in"]) or at_jerk) and (aside or self._between(said.end, named.start) < 0.5):
            limb = any(item.kind in (ItemKind.REGION, ItemKind.PLACE) or item.sites for item in inner)
            return "" if limb and words == ["in"] else words[0]  # "normal in the right leg ankle clonus"
        if words in (["likewise"], ["also"], ["again"], ["as", "well"]) and self._between(said.end, named.start) < 0.5:
            return words[0]  # "two plus likewise the supinator"
        before = self.items[at - 1] if at else None
        closed = before is not None and before.end == said.start and before.kind not in (*SUBJECTS, ItemKind.HEADING)
        opens = closed or self.tokens[said.start].boundary >= 1.2 or self._leads_sentence(said)
        copula = next((k for k in reversed(range(len(words))) if words[k] in ("is", "are")), None)
        if copula is None or not (opens or len(words) - copula > 3):
            return ""
        rest = words[copula + 1 :]
        return words[copula] if len(rest) <= _MOST_LINKING and _LINKING.issuperset(rest) else ""

    def _leads_sentence(self, said: Item) -> bool:
        """Nothing but a small word stands between the value and the beginning of its statement ("and four is")."""
        start = said.start
        while start > 0 and self.tokens[start].boundary < 0.5 and self.tokens[start - 1].text in _BEFORE_LEADING:
            start -= 1
        return self.tokens[start].boundary >= 0.5

    def _placing(self) -> dict[int, str]:
        """For a place of a list on one subject: whether it goes with the value `before` or `after` it.

        "Reduced from L2 to L4, absent at L5" begins with a value and goes on so; "L2 reduced, L3 absent" the other way.
        """
        found: dict[int, str] = {}
        order: str | None = None
        sides = (ItemKind.SIDE, ItemKind.REGION)
        side_ends = {
            item.end
            for item in self.items
            if item.kind is ItemKind.SIDE and (item.linked or (item.ids == ("both",) and item.end - item.start > 1))
        }
        led = {
            id(subject)
            for value, subject in itertools.pairwise(self.items)
            if value.kind is ItemKind.VALUE
            and subject.kind is ItemKind.SUBJECT
            and subject.start == value.end
            and self.tokens[value.start].boundary >= 0.5
        }  # "reduced pinprick left L5"
        said: list[Item] = []
        placed = False
        for item in self.items:
            placed = self._fits(item, _PLACED) if item.kind is ItemKind.SUBJECT else placed
            if not (item.kind in sides or (placed and item.start in self._regions)):
                said.append(item)
        for item, following in itertools.pairwise(said):
            if item.kind is ItemKind.SUBJECT and not item.section_only:
                order = "before" if id(item) in led else None
            near = following.start - item.end <= 4 and self._between(item.end, following.start) < 1
            if order is None and near and item.kind is ItemKind.VALUE and following.is_place:
                order = "before"
            elif near and item.is_place and following.kind is ItemKind.VALUE:
                # "Intact C5 to C7 on both sides C8 reduced": the list goes on the other way
                turns = item.start in side_ends and not item.linked and item.end == following.start
                turns = turns or self._text_between(item, following) == ["is"]  # "reduced at L4, L5 is absent"
                order = "after" if order is None or turns else order
            if order and following.kind is ItemKind.PLACE:
                found[id(following)] = order
                if item.kind is ItemKind.VALUE and self._text_between(item, following) == ["from"]:
                    found[id(following)] = "before"  # "C8 normal, and on the right intact from C5 to T1"
            if item.is_level and following.is_level and following.start == item.end:
                order = found[id(following)] = "after"  # "reduced T10 to L2 | L3 to S1 altered"
            if item.is_place and following.kind is ItemKind.PLACE and following.ids and following.linked:
                between = [self.tokens[at].text for at in range(item.end, following.start)]
                if not {"and", "or"}.intersection(between):  # "normal at the ankles at the great toes reduced"
                    order = found[id(following)] = "after"
        return found

    def _leads(self, stretch: list[Item], subject: Item) -> bool:
        """Whether the last side of a stretch is that of the subject right after it."""
        if (
            not stretch
            or stretch[-1].kind is not ItemKind.SIDE
            or stretch[-1].end != subject.start
            or self.tokens[subject.start].boundary >= 1
            or self._goes_with_last(stretch[-1])
        ):
            return False
        sides = sum(item.kind is ItemKind.SIDE for item in stretch)
        if self.items[self._place_of[id(stretch[-1])] - 1].kind is ItemKind.THROUGHOUT:
            return True  # "five throughout, right knee jerk"
        return stretch[0].kind is ItemKind.SIDE or 2 * sides != len(stretch)

    def is_denial(self, at: int) -> bool:
        """A negation that stands before a subject is a value of its own ("no wasting")."""
        item = self.items[at]
        if item.kind is not ItemKind.NEGATION:
            return False
        following = self.items[at + 1 : at + 5]
        if following and following[0].kind is ItemKind.NEGATION:
            return False
        for nxt in following:
            if (
                nxt.kind is ItemKind.SUBJECT
                and not nxt.section_only
                and nxt.start - item.end <= (4 if nxt is following[0] else 7)
                and self._between(item.end, nxt.start) < 1
            ):
                # "no wasting, no fasciculation": one denial each; "no wasting or fasciculation": one for the list
                return self._fits(nxt, item)
            if nxt.kind not in (ItemKind.SIDE, ItemKind.PLACE, ItemKind.REGION):
                return False
        return False

    def _between(self, start: int, end: int) -> float:
        """The strongest break between two tokens."""
        return strongest_break(self.tokens, start, end)

    def _crossing(self, first: Item, second: Item) -> float:
        strongest = self._between(first.end, second.start)
        if strongest < 0.5:
            return 0.0
        return 0.35 * strongest if strongest < 1 else 0.6 * strongest

    def cost(self, first: int, value: int, stop: int, most: float = math.inf) -> float:
        """Infinite where it comes to `most` before all is weighed."""
        return self._read(first, value, stop, most)[0]

    def loose(self, start: int, stop: int) -> float:
        """Cost of items that belong to no value."""
        cost = 0.0
        for item in self.items[start:stop]:
            if item.of is not None:
                cost += _NEVER
            elif item.kind in (ItemKind.SUBJECT,) and not item.section_only:
                cost += 0.3
            elif item.kind is ItemKind.SIDE or item.kind is ItemKind.PLACE:
                cost += 1.2 if item.is_level else 0.7
            elif item.kind in (ItemKind.THROUGHOUT, ItemKind.REST):
                cost += 0.5
            elif item.kind is ItemKind.REGION:
                cost += 0.05
        return cost

    def frame(self, first: int, value: int, stop: int) -> Frame:
        _, subjects, orphans, negated = self._read(first, value, stop)
        pre = self.items[first:value]
        post = self.items[value + 1 : stop]
        if any(item.kind is ItemKind.SIDE for item in post):
            pre = [item for item in pre if not self._is_spent(item)]
        led = id(self.items[value]) in self._led_by_value and any(id(one) in self._led_by_value for one in subjects)
        claimed = any(id(one) in self._claimed for one in subjects)
        return Frame(self.items[value], pre, post, subjects, negated, led=led, claimed=claimed, orphans=orphans)

    def _read(
        self, first: int, value: int, stop: int, most: float = math.inf
    ) -> tuple[float, list[Item], list[Item], bool]:
        key = (first, value, stop)
        found = self._costs.get(key)
        if found is None:
            found = self._weigh(first, value, stop, most)
            if found[0] < math.inf:
                self._costs[key] = found
        return found

    def _weigh(self, first: int, value: int, stop: int, most: float) -> tuple[float, list[Item], list[Item], bool]:
        said = self.items[value]
        pre, post = self.items[first:value], self.items[value + 1 : stop]
        denial = said.kind is ItemKind.NEGATION or said.forward
        before = self._named_before(first, value)
        after = self._list_after(post, said)
        if not (before or denial) and after and self._is_of_next_clause(after, said):
            after = []
        cost = 0.0
        subjects: list[Item] = []
        if before:
            nearest = before[-1]
            crossing = self._crossing(nearest, said)
            if crossing > 0.3 and nearest.kind is ItemKind.SUBJECT and self._stands_alone(nearest):
                crossing = 0.3
            if self._is_told_of(nearest, said):
                crossing = min(crossing, 0.1)
            if nearest.kind is ItemKind.COMMAND:
                crossing = min(crossing, 0.3) + 0.02 * max(0, said.start - nearest.end)
                if said.reaction and not said.values:
                    crossing = 0.0
            elif said.reaction and not said.values:
                crossing += 3.0
            cost_before = crossing + 0.02 * max(0, said.start - nearest.end - 2)
            if said.weak and said.grade is None and nearest.kind is not ItemKind.COMMAND:
                cost_before += 0.15 * max(0, said.start - nearest.end - 2)
            if not any(self._fits(subject, said) for subject in before):
                cost_before += 4.0
            if id(said) in self._led_by_value or self._has_its_object(said):
                cost_before += 2.5
            if id(nearest) in self._led_by_value and id(said) not in self._led_by_value:
                cost_before += 2.0
            if denial:
                cost_before += 2.5
            if self._is_attributive(said):
                cost_before += 2.0
        if after:
            nearest = after[0]
            gap = nearest.start - said.end
            intervening = [
                item
                for item in post
                if item.start < nearest.start
                and item.kind not in (ItemKind.SIDE, ItemKind.REGION, ItemKind.HEADING, ItemKind.NEGATION)
            ]
            words = [self.tokens[at].text for at in range(said.end, nearest.start)]
            unsaid = said.start == said.end == nearest.start
            cost_after = (0.0 if unsaid else self._crossing(said, nearest)) + 0.25 * max(0, gap - 2)
            if intervening:
                cost_after += 1.0
            if not before and any(
                item.kind is ItemKind.SIDE and item.start < nearest.start and self._order.get(id(item)) == "before"
                for item in post
            ):
                cost_after += 0.6  # "positive on the right, negative on the left | straight leg raise"
            if not before and any(self._place_order.get(id(item)) == "after" for item in pre):
                cost_after += 0.5  # "reduced at the right toe, at the left normal | temperature not done"
            if (
                words
                and words[0] not in ("to", "of")
                and self._copula_before(said)
                and id(said) not in self._led_by_value
            ):
                cost_after += 1.5  # "tone is normal | any strength lost"
            if denial:
                pass
            elif id(said) in self._led_by_value and id(nearest) in self._led_by_value:
                cost_after = 0.1
            elif not BE.isdisjoint(words):
                cost_after += 3.0
            elif self._is_told_of_it(said):
                cost_after += 2.0
            elif words[:1] == ["for"] and self.tokens[said.end - 1].text in _SAME:
                cost_after += 0.1  # "same for the big toe", "the same goes for the left"
            elif said.kind is ItemKind.OMISSION:  # "the left knee is in a brace | tone normal in the right leg"
                bound = any(item.is_place and item.end == said.start - 1 for item in pre)
                cost_after += 2.0 if bound and self._has_own(nearest, {}) else 0.5
            elif self._is_attributive(said):
                cost_after += 0.35
            elif said.grade is not None:
                cost_after += (
                    0.2
                    if words[:1] == ["for"]
                    else 0.6
                    if any(word in ("for", "in", "at", "of", "with") for word in words)
                    else 1.1
                )
            elif said.same or (said.reaction and not said.values):
                cost_after += 3.0 + 2.0 * (
                    said.same and self._copula_before(said)
                )  # "the right is the same | heel shin"
            else:
                cost_after += 0.35 if gap <= 1 else 0.45
            if id(said) not in self._led_by_value and not any(self._fits(subject, said) for subject in after):
                cost_after += 4.0
            cost_after += 1.5 * self._is_left_out_next(nearest, said) + 2.5 * self._is_denied_next(nearest)
        if before and after and self._narrows(before, after) and self._is_narrowed(value):
            cost += 0.2 + self._crossing(said, after[0])
            subjects = after
        elif before and after:
            same = set(before[-1].ids) & set(after[0].ids)
            apart = self._between(said.end, after[0].start) >= BLOCK_END
            if same and not (denial or apart) and after[0].kind is ItemKind.SUBJECT and len(before) == 1:
                cost += cost_before + 0.3 * self._crossing(said, after[0]) + 0.2 * max(0, after[0].start - said.end - 1)
                subjects = [*before, after[0]]
            elif cost_before <= cost_after:
                cost += cost_before + 2.2
                subjects = before
            else:
                cost += cost_after + 0.9
                subjects = after
        elif before:
            cost += cost_before
            subjects = before
            if _are_groups(before) and self._is_narrowed(value):
                cost += 1.5
        elif after:
            cost += cost_after
            subjects = after
        else:
            cost += self._carried(first, said, pre, post)
            if said.kind is ItemKind.NEGATION and said.end in self._subject_at:
                cost += 3.0  # "knee jerk two plus, no pendular swing here, it is normal"
            if said.forward and said.start == said.end:
                cost += _NEVER  # it was put there because of the test after it
        if (
            not before
            and not denial
            and said.start
            and self.tokens[said.start - 1].text in ("is", "are", "was", "were", "'s")
            and not any(item.kind in (ItemKind.SIDE, ItemKind.PLACE, ItemKind.HEADING) for item in pre)
        ):
            cost += 0.7
        orphans = [
            item
            for item in pre
            if item.kind is ItemKind.SUBJECT
            and item not in subjects
            and not item.section_only
            and not (subjects is after and item in before and self._narrows([item], after))
            and not any(set(item.ids) & set(s.ids) for s in subjects)
        ]
        cost += 0.8 * sum(1 for item in orphans if not item.values)
        if before and self._cuts_a_list(first):
            cost += 1.5
        for more in (self._sides, self._places, self._others):
            if cost >= most:  # nothing that follows makes it less
                return math.inf, subjects, orphans, denial
            cost += more(pre, said, post, subjects)
        cost += sum(1.2 * self._crossing(item, said) for item in pre if item.kind is ItemKind.THROUGHOUT)
        if any(item.kind is ItemKind.SUBJECT and not item.section_only for item in subjects):
            # "Absent throughout, arms and legs; plantars mute": of one test nobody says that.
            cost += 1.2 * sum(item.kind is ItemKind.THROUGHOUT or item.ids == ("all",) for item in pre)
        return cost, subjects, orphans, denial

    def _others(self, pre: list[Item], said: Item, post: list[Item], subjects: list[Item]) -> float:
        """Cost of what else stands after the value: other tests, orders, headings, limbs, "throughout"."""
        if not post:
            return 0.0
        others = [item for item in post if item.kind not in (ItemKind.SIDE, ItemKind.PLACE)]
        led = next((item for item in reversed(pre) if item.limbs), None)
        # "In the left arm it's normal, and in the legs it is increased", "tone, arms normal, both legs"
        elsewhere = sum(
            led is not None
            and not set(item.limbs) <= set(led.limbs)
            and (item.kind is ItemKind.REGION or (led.end == said.start and not said.forward))
            for item in post
        )
        if not others:
            return elsewhere
        named = [item for item in others if item.kind is ItemKind.SUBJECT and item not in subjects]
        cost = sum(0.15 if item.section_only else 0.7 for item in named)
        cost += 1.2 * sum(item.kind is ItemKind.COMMAND for item in others)
        headings = (item for item in others if item.kind is ItemKind.HEADING and item not in subjects)
        cost += sum(0.5 + self._crossing(said, item) for item in headings)
        wide = (item for item in others if item.kind in (ItemKind.THROUGHOUT, ItemKind.REST))
        unsaid = said.start == said.end  # "wasting throughout, no fasciculation"
        cost += sum(self._crossing(subjects[-1] if unsaid and subjects else said, item) for item in wide)
        cost += sum(self._of_the_rest(said, item) for item in others if item.kind is ItemKind.REST)
        regions = [item for item in others if item.kind is ItemKind.REGION]
        cost += 0.5 * sum(self._between(said.end, item.start) >= SENTENCE_END for item in regions)  # "Toe two. Arms."
        if said.grade is not None and any(item.ids[0] not in _OF_LIMBS for item in subjects):
            cost += 2.0 * sum(item.start == said.end for item in regions)  # "grip four | legs, tone increased"
        limbs = (item for item in post if item.kind is ItemKind.REGION or item.start in self._regions)
        cost += sum(self._names_again(item, said, subjects) for item in limbs)
        if not regions:
            return cost + elsewhere
        cost += 0.8 * sum(item.end in self._headings for item in regions)  # "increased. Upper limb power."
        cost += 0.8 * sum(map(self._leads_its_test, regions))
        sided = {item.end for item in post if item.kind is ItemKind.SIDE and item.sites}
        cost += 1.8 * sum(item.start in sided and item.end in self._value_starts for item in regions)  # "| legs normal"
        cost += 1.8 * sum(self._leads_in_turn(item) or self._leads_to_denial(item) for item in regions)
        placed = led is not None or any(item.is_place and item.start not in self._regions for item in post)
        cost += 3.0 * (placed and any(map(self._is_moved, regions)))
        cost += sum(item.end in self._same_starts for item in regions)  # "no tremor either | legs likewise"
        return cost + elsewhere

    def _leads_its_test(self, limb: Item) -> bool:
        """ "Normal on the left | arm power is five", "both sides | legs, tone": a limb before its test that nothing
        joins to what stands in front of it.
        """
        bare = limb.end in self._opened and limb.start in self._regions
        return bare and self.tokens[limb.start - 1].text not in _BEFORE_LIMBS

    def _is_done_there(self, side: Item) -> bool:
        """ "C7 normal | on the right I did light touch only": what was tested on that side."""
        at, words = side.end + 1, [token.text for token in self.tokens[side.end : side.end + _TESTED_WITHIN]]
        while words[at - side.end : at - side.end + 1] and words[at - side.end] in _TESTED:
            at += 1
        return words[:1] in (["i"], ["we"]) and at > side.end + 1 and at in self._opened

    def _of_the_rest(self, said: Item, rest: Item) -> float:
        """ "Reduced at L5, normal everywhere else": cost of a rest behind a value, little where nothing follows it."""
        after = self.items[self._place_of[id(rest)] + 1 :][:1]
        end = next((one.end for one in after if one.kind is ItemKind.SIDE and one.start == rest.end), rest.end)
        ends = end == len(self.tokens) or self.tokens[end].boundary >= BLOCK_END
        return (0.1 if ends and rest.start == said.end else 0.9) + self._crossing(said, rest)

    def _leads_in_turn(self, limb: Item) -> bool:
        """ "Tone, arms increased on the left, normal on the right | legs normal": each limb before its results."""
        if limb.end not in self._value_starts or self.tokens[limb.start - 1].text in _LEADS:
            return False
        for at in range(self._place_of[id(limb)] - 1, -1, -1):
            item = self.items[at]
            if item.kind is ItemKind.REGION:
                return any(other.kind is ItemKind.VALUE for other in self.items[at + 1 : at + 3])
            if item.kind is ItemKind.SUBJECT and not item.section_only:
                break
        return False

    def _leads_to_denial(self, limb: Item) -> bool:
        """ "Right arm no wasting, fasciculation present | in the legs no wasting": it leads as the last limb did."""
        at = self._place_of[id(limb)]
        if not any(item.kind is ItemKind.NEGATION and item.start == limb.end for item in self.items[at + 1 : at + 3]):
            return False
        last = next((k for k in range(at - 1, -1, -1) if self.items[k].limbs), at)
        return not (last == at or self.items[last].linked) and self.items[last + 1].kind is ItemKind.NEGATION

    def _is_moved(self, limb: Item) -> bool:
        """ "Wasting above the knee, roll the legs": what the examiner takes, and not where something was found."""
        verb, *after = [token.text for token in self.tokens[max(0, limb.start - 2) : limb.start]] or [""]
        return after == ["the"] and verb in _TAKEN

    def _cuts_a_list(self, first: int) -> bool:
        """ "No wasting | or fasciculation in the right leg": what is denied together stays together."""
        last, item = self.items[first - 1], self.items[first]
        named = first > 0 and last.kind is item.kind is ItemKind.SUBJECT
        return named and [token.text for token in self.tokens[last.end : item.start]] in (["or"], ["nor"])

    def _names_again(self, limb: Item, said: Item, subjects: list[Item]) -> bool:
        """ "Tone is increased on the left too | in the legs tone is normal": a limb right before the same test."""
        named = self._subject_at.get(limb.end)
        owner = subjects[-1] if subjects else self._owner_before(self._place_of[id(said)])
        return named is not None and owner is not None and named is not owner and named.ids == owner.ids

    def _is_of_next_clause(self, subjects: list[Item], said: Item) -> bool:
        """ "And brisk on the left, now show me the soles": the finding goes on with the last test."""
        finding = said.kind is ItemKind.VALUE and bool(said.values) and not said.reaction
        fits = any(subject.kind is not ItemKind.SUBJECT or self._fits(subject, said) for subject in subjects)
        return finding and not fits and self._between(said.end, subjects[0].start) >= CLAUSE

    def _carried(self, first: int, said: Item, pre: list[Item], post: list[Item]) -> float:
        if said.reaction and not said.values:
            return 0.2  # a reaction to nothing in particular is dropped
        if any(item.kind is ItemKind.HEADING for item in pre) or any(
            item.kind in (ItemKind.THROUGHOUT, ItemKind.REST) for item in pre + post
        ):
            return 0.3
        limb = any(item.kind is ItemKind.REGION or (item.kind is ItemKind.SIDE and item.sites) for item in pre + post)
        if limb and said.match is not None and said.values and not POWER_WORDS.isdisjoint(said.match.term.words):
            return 0.3  # "no weakness in the right arm"
        for at in range(first - 1, -1, -1):
            item = self.items[at]
            if item.kind in SUBJECTS or item.kind is ItemKind.HEADING:
                base = 0.6 if any(p.kind in (ItemKind.SIDE, ItemKind.PLACE) for p in pre + post) else 1.0
                if item.kind is ItemKind.HEADING or self._fits(item, said):
                    return base
                if item.kind is not ItemKind.COMMAND:
                    break
        else:
            if self.continued:  # what came before a correction or an exception named the test
                return 0.6 if any(p.kind in (ItemKind.SIDE, ItemKind.PLACE) for p in pre + post) else 1.0
        where = sum(p.kind in (ItemKind.SIDE, ItemKind.PLACE) for p in pre + post)
        # "C7 reduced on the left": a statement of its own, whatever was touched with
        alone = "sensation" in said.values and any(item.is_level for item in pre + post)
        return 1.8 + (0.6 if alone else 0.8) * where

    def _named_before(self, first: int, value: int) -> list[Item]:
        """The subjects that a value can have before it, from the item `first` on."""
        if (first, value) not in self._before:
            pre, said = self.items[first:value], self.items[value]
            found = self._list_before(pre, said)
            self._before[first, value] = [] if found and self._is_of_a_whole_limb(found[-1], pre, said) else found
        return list(self._before[first, value])

    def _list_before(self, pre: list[Item], said: Item) -> list[Item]:
        """The last subject before the value, with the subjects coordinated with it."""
        found: list[Item] = []
        coordinated = self._is_for_all(said)
        for item in reversed(pre):
            if item.kind in SUBJECTS:
                if item.section_only and not self._fits(item, said):
                    continue
                if not found:
                    found = [item]
                    led = self._text_between(item, said)  # "all five", "all of these five"
                    coordinated = coordinated or led[-1:] == ["all"] or led[-3:-1] == ["all", "of"]
                    continue
                if said.reaction and item.kind is ItemKind.COMMAND and set(item.ids) & set(found[0].ids):
                    return [item]
                if item.kind is not ItemKind.SUBJECT or found[0].kind is not ItemKind.SUBJECT:
                    if set(item.ids) & set(found[0].ids) and item.kind is ItemKind.COMMAND:
                        continue
                    break
                between = self._words_between(item, found[0], pre, said)
                if any(word not in CONNECTORS for word in between) or self._between(item.end, found[0].start) > 1.2:
                    break
                if self._is_fronted(item) and not self._is_fronted(found[0]):
                    break  # "five for the deltoid and for the biceps, triceps was four"
                joined = (
                    any(word in ("and", "or", "nor", "&", "plus") for word in between)
                    or 0.5 <= self._between(item.end, found[0].start) < 1
                )
                coordinated = coordinated or joined
                if (
                    not coordinated
                    and self.tokens[found[0].start].boundary < 0.5
                    and not (set(item.ids) & set(found[0].ids))
                ):
                    break
                if (
                    not coordinated
                    and not (set(item.ids) & set(found[0].ids))
                    and not self._plural_copula(found[-1], said)
                ):
                    break
                found.insert(0, item)
            elif item.kind in (ItemKind.HEADING, ItemKind.EXCEPT):
                break
        if found and found[-1].section_only and any(not item.section_only for item in found):
            found = [item for item in found if not item.section_only] or found
        return found

    def _words_between(self, first: Item, second: Item, pre: list[Item], said: Item) -> list[str]:
        """The words between two names but for sides ("right hip flexion and right hip extension").

        Nor for the places of what is left out ("light touch at S2 and gait I'll defer").
        """
        own = any(item.kind is ItemKind.PLACE and item.start > second.start for item in pre)
        placed = said.kind is ItemKind.OMISSION and not own
        where = [item for item in pre if item.kind is ItemKind.SIDE or (placed and item.kind is ItemKind.PLACE)]
        skipped = held(where) | {item.start - 1 for item in where if item.kind is ItemKind.PLACE}
        return [self.tokens[at].text for at in range(first.end, second.start) if at not in skipped]

    def _is_for_all(self, said: Item) -> bool:
        """ "Hip flexors, knee extensors, two for each of them"."""
        if said.end >= len(self.tokens) or self.tokens[said.end].text not in ("for", "in"):
            return False
        after = [token.text for token in self.tokens[said.end : said.end + 4]]
        return after[1:2] in (["all"], ["each"], ["every"]) and after[2:3] in _NAMED

    def _plural_copula(self, last: Item, said: Item) -> bool:
        return not {"are", "were", "all", "both"}.isdisjoint(self._text_between(last, said))

    def _text_between(self, first: Item, second: Item, without: Iterable[Item] = ()) -> list[str]:
        """The words between two items but for those of some others."""
        skipped = held(without)
        return [self.tokens[at].text for at in range(first.end, second.start) if at not in skipped]

    def _list_after(self, post: list[Item], said: Item) -> list[Item]:
        """The first subject after the value ("no wasting or fasciculation"), with those coordinated with it."""
        found: list[Item] = []
        for item in post:
            if item.kind is ItemKind.SUBJECT:
                if not found:
                    if item.section_only and not self._fits(item, said):
                        continue
                    found = [item]
                    continue
                aside = held(other for other in post if other.kind in (ItemKind.SIDE, ItemKind.REGION))
                between = [self.tokens[at].text for at in range(found[-1].end, item.start) if at not in aside]
                apart = any(at in aside for at in range(found[-1].end, item.start))
                if apart and not any(word in ("and", "or", "nor") for word in between):
                    break
                if not between and self._is_stated(item):
                    break
                if (
                    any(word not in CONNECTORS and not (aside and word in ("in", "on")) for word in between)
                    or self._between(found[-1].end, item.start) > 1.2
                ):
                    break
                if (
                    not between
                    and self.tokens[item.start].boundary < 0.5
                    and said.kind is not ItemKind.NEGATION
                    and not self._is_joined(item, post)
                ):
                    break
                found.append(item)
            elif item.kind in (ItemKind.SIDE, ItemKind.REGION, ItemKind.NEGATION, ItemKind.HEADING) or (
                item.kind is ItemKind.PLACE and not found
            ):
                continue
            else:
                break
        return found

    def _is_stated(self, named: Item) -> bool:
        """ "Two plus at both knees, ankle jerks are ...": of the name something else is said."""
        return not BE.isdisjoint(token.text for token in self.tokens[named.end : named.end + 1])

    def _is_narrowed(self, value: int) -> bool:
        """Whether a name follows the value with nothing but "in the left" between; without "in" it must end there."""
        said, at = self.items[value], value + 1
        while at < len(self.items) and self.items[at].kind in (ItemKind.SIDE, ItemKind.REGION):
            at += 1
        if at == len(self.items) or self.items[at].kind is not ItemKind.SUBJECT or self.items[at].section_only:
            return False
        named = self.items[at]
        sides = held(self.items[value + 1 : at])
        between = [self.tokens[k].text for k in range(said.end, named.start) if k not in sides]
        after_side = [self.tokens[k].text for k in range(max(sides, default=said.end - 1) + 1, named.start)]
        led = any([word for word in words if word != "and"][:1] in _LED for words in (between, after_side))
        closed = named.end == len(self.tokens) or self.tokens[named.end].boundary >= 0.5
        return (
            not named.ids[0].startswith("group:")
            and all(word in ("in", "for", "at", "to", "the", "and", "on") for word in between)
            and self._between(said.end, named.start) < (1 if led else 0.5)
            and (led or (closed and said.grade is not None))
        )

    @staticmethod
    def _narrows(before: list[Item], after: list[Item]) -> bool:
        """ "Strength is five in the quadriceps": the group before the value is that of the names after it."""
        return _are_groups(before) and not any(_are_groups([item]) for item in after)

    def _is_joined(self, item: Item, post: list[Item]) -> bool:
        """Whether names follow one another from this one to an "and": "in the quadriceps hamstrings and calves"."""
        at = item.end
        for other in post:
            if other.kind is ItemKind.SUBJECT and other.start >= item.end:
                between = [self.tokens[k].text for k in range(at, other.start)]
                if between:
                    return between == ["and"] and self._between(at, other.start) < 1
                at = other.end
        return False

    def _sides(self, pre: list[Item], said: Item, post: list[Item], subjects: list[Item]) -> float:
        cost = 0.0
        before = [item for item in pre if item.kind is ItemKind.SIDE]
        after = [item for item in post if item.kind is ItemKind.SIDE]
        if not (before or after):
            return cost
        if len(before) > 1:
            cost += 0.6 * (len({item.ids for item in before}) - 1)
        if len(after) > 1 and len({item.ids for item in after}) > 1:
            cost += 0.2 if places_by_side(post) else 1.6
        if any(item.of is not None and item.of is not said for item in before + after):
            return _NEVER
        if any(item.of is said for item in after):
            # "Normal on both sides, L5 reduced and normal": one with a side of its own takes no other
            return 0.7 * len(before) + 1.5 * sum(item.of is None for item in after)
        if before and self._goes_with_last(before[0]):
            cost += 1.0
        where = [*pre[1:], *post] if said.kind is ItemKind.OMISSION else post
        cost += sum(self._turns_elsewhere(item) for item in where)
        leads = bool(before) and self._leads_to_there(before[0])
        if before and (said.forward or self._is_denied_on(before[0])) and self._is_of_last_name(before[0]):
            cost += 0.0 if leads else 1.0
        cost += 0.6 * sum(self._order.get(id(item)) == "before" for item in before)
        cost += 0.6 * sum(self._order.get(id(item)) == "after" for item in after)
        for item in before:
            start = self.tokens[item.start].boundary
            opening = item.start
            while (
                opening > 0
                and self.tokens[opening].boundary < 1
                and self.tokens[opening - 1].text in _LEADS
                and opening - 1 not in self._value_starts  # "okay on both"
                and item.start - opening < 4
            ):
                opening -= 1
            if (
                self.tokens[opening].boundary < 1
                and not (item is pre[0] and opening == 0)
                and not self._is_heading(item)
            ):
                following = next(
                    (other for other in [*pre, said] if other.start >= item.end and other.kind is not ItemKind.REGION),
                    said,
                )
                strongest = self._between(item.end, following.start)
                cost += 0.6 * strongest if strongest >= 0.5 and not (leads and strongest < BLOCK_END) else 0.0
            if item.linked and start < 0.5 and item is not pre[0]:
                cost += 0.15
            elif item.linked and start < 0.5:
                at = max(0, item.start - 2)
                cost += 0.3 if self.tokens[at].boundary < 0.5 or at in self._value_starts else 0.0
            if item.ids == ("both",) and start < 0.5 and not item.linked and item is pre[0]:
                cost += 0.25
                cost += 0.6 * (self.tokens[item.end].text == "and")  # "brisk bilaterally and there was clonus"
        subject_end = max([said.end] + [s.end for s in subjects])
        for item in after:
            anchor = said if item.start < subject_end else max([said, *subjects], key=lambda s: s.end)
            crossing = self._crossing(anchor, item)
            if item.ids == ("both",) and not item.sites and item.start == anchor.end and self._is_heading(item):
                crossing = min(crossing, 0.3)  # "Straight leg raise negative. Left and right."
            cost += crossing
            listing = said.kind is ItemKind.OMISSION or id(said) in self._led_by_value
            if listing and self._subject_at.get(item.end) in subjects:
                cost += 0.1  # "nor could the left knee jerk or the left ankle jerk"
            elif self._goes_with_last(item):
                cost += 0.05
            elif item.linked or item.ids == ("both",):
                announces = item.linked and item.ids != ("both",) and self._announces(item, said)
                surely = announces and (
                    self.tokens[item.end].text == "no" or self._leads_to_there(item) or self._is_done_there(item)
                )
                cost += 0.05 + 0.6 * announces + 0.4 * surely
            elif self._opens_statement(item) or self._turns_to(item):
                cost += 1.5
            elif (
                self._order.get(id(item)) == "before"
                or item.end == len(self.tokens)  # nothing follows that it could lead
                or (item.start == said.end and self.tokens[item.end].boundary >= 0.5)
            ):
                cost += 0.12
            else:
                cost += 0.55
                if item.end - item.start > 1 or item.end in self._opened:
                    cost += 0.45
            if item is post[-1] and "sensation" in said.values and self._is_of_next_place(item):
                cost += 1.8
            same = item.end in self._same_starts and not said.same
            if (
                same
                or self._heads_again(item, said, subjects)
                or self._leads_anew(item, said)
                or self._is_of_all_next(item, said, subjects)
                or self._comes_now(said, item)
                or self._is_gone_to(item)
            ):
                cost += 1.0
            if self._goes_on_elsewhere(pre, item):
                cost += 1.8
            if any(item.start in range(other.start, other.end) for other in post if other.kind is ItemKind.COMMAND):
                cost += 1.5  # "both big toes up": the side is that of the instruction
            cost += 0.03 * max(0, item.start - subject_end - 3)
            owner = self._subject_at.get(item.end)
            attributive = self.tokens[item.start].text in _ATTRIBUTIVE and item.end - item.start == 1
            if attributive and owner is not None and owner not in subjects and id(said) in self._led_by_value:
                cost += 1.2  # "for the right quadriceps" is not cut in two
        if before and after and _same_side(before[-1], after[0]):
            # "No clonus on the left | heel shin is normal on the left", "not done either side | arms tone reduced both"
            apart = before[-1].ids == ("both",) and not before[-1].sites
            cost += 0.4 * (before[-1].linked or apart or self._is_behind_a_result(before[-1]))
        if (
            before
            and after
            and not _same_side(before[-1], after[0])
            and not self._is_spent(before[-1])
            and self._between(before[-1].end, said.start) < 1
            and not (
                before[-1].ids == ("both",)
                and self._order.get(id(after[0])) == "before"
                and not self._is_behind_a_result(before[-1])
            )
            and not (after[0].ids == ("both",) and before[-1].end in self._headings)  # "right, reflexes"
            and not ("presence" in said.values and self.tokens[after[0].start].text == "either")  # "none in either leg"
            and (self._is_of_last_name(before[-1]) or not self._is_denied_on(after[0]))
            and not (
                said.kind is ItemKind.NEGATION and self._is_begun_with(before[-1]) and self._is_of_last_name(after[0])
            )
            and not (
                after[0].linked and subjects and before[-1].end <= subjects[0].start - 1 and self._copula_before(said)
            )
        ):
            cost += 1.8
        return cost

    def _turns_elsewhere(self, limb: Item) -> bool:
        """ "Normal in both legs | the arms can wait": another limb is what the next statement is of."""
        of = _LIMB_OF.get(limb.ids[0]) if limb.ids else None
        if of is None or self.tokens[limb.start - 1].text != "the":
            return False
        side = self.items[self._place_of[id(limb)] - 1]
        return side.kind is ItemKind.SIDE and side.end == limb.start - 1 and bool(side.sites) and of not in side.sites

    def _is_attributive(self, said: Item) -> bool:
        """ "A three plus left biceps jerk", "he has weak right inversion": an article or a verb joins the result to the
        test after it.
        """
        if said.grade is None:
            return id(said) in self._fronted
        if said.start < 2 or self.tokens[said.start - 1].text not in ("a", "an"):
            return False
        return self.tokens[said.start - 2].text not in _STATING and self._named_right_after(said) is not None

    def _is_told_of_it(self, said: Item) -> bool:
        """ "It's normal", "it is normal", "he's antalgic": of what was spoken of before."""
        led = [token.text for token in self.tokens[max(0, said.start - 2) : said.start]]
        if led[-1:] in (["he's"], ["she's"]):
            return "gait" in said.values and "mrc" not in said.values  # but "he's weak, hip flexion on the left"
        return led[-1:] in (["it's"], ["that's"]) or led in (["it", "is"], ["that", "is"])

    def _named_right_after(self, said: Item) -> Item | None:
        """The test right after a value, or after its side: "weak left inversion"."""
        side = self.items[self._place_of[id(said)] + 1 :][:1]
        ends = [said.end, *(item.end for item in side if item.kind is ItemKind.SIDE and item.start == said.end)]
        return next((self._subject_at[at] for at in ends if at in self._subject_at), None)

    def _adjectives(self) -> set[int]:
        """Findings that stand before their tests: "has weak right inversion and normal eversion with brisk jerks"."""
        found: set[int] = set()
        led = False  # the list under way has its findings first
        ended = 0
        for item in self.items:
            if item.kind is ItemKind.VALUE:
                before = self.tokens[item.start - 1].text if item.start else ""
                led = led and (item.start == ended or before in ("and", "but"))
                led = led and self._between(ended, item.start) < SENTENCE_END
                found_first = bool(item.values) and not (item.grade or item.reaction or item.same)
                named = self._named_right_after(item) if found_first and (led or before in _DESCRIBING) else None
                led = named is not None and self._fits(named, item)
                found |= {id(item)} if led else set()
            elif item.kind not in (ItemKind.SUBJECT, ItemKind.SIDE, ItemKind.PLACE, ItemKind.REGION):
                led = False
            ended = item.end
        return found

    def _is_behind_a_result(self, side: Item) -> bool:
        """ "Ankle absent both sides | knee reduced on the right"."""
        last = self.items[self._place_of[id(side)] - 1]
        return last.kind is ItemKind.VALUE and last.end == side.start

    def _is_begun_with(self, side: Item) -> bool:
        """ "Right leg wasting, no wasting in the left leg": the side opens its sentence and is of nothing before."""
        return not side.linked and self.tokens[side.start].boundary >= SENTENCE_END

    def _comes_now(self, said: Item, side: Item) -> bool:
        """ "Fine, and now the right": the side that is tested next."""
        led = [token.text for token in self.tokens[said.end : side.start]]
        return side.ids != ("both",) and (led[:1] == ["now"] or led[:2] == ["and", "now"])

    def _is_gone_to(self, side: Item) -> bool:
        """ "Five | over to the right leg", "four | on to the left"."""
        led = [token.text for token in self.tokens[max(0, side.start - 3) : side.start] if token.text != "the"]
        return led[-1:] == ["onto"] or (led[-1:] == ["to"] and led[-2:-1] in _GOING)

    def _heads_again(self, side: Item, said: Item, subjects: list[Item]) -> bool:
        """ "In the left arm grip is four ..., in the right arm grip is three", "left leg quads five, hamstrings five,
        right leg", "left leg tone normal, full power, right leg no wasting", "on the left C5 normal, C6 reduced
        on the right, C5": it leads as the first side did.
        """
        at = self._place_of[id(side)]
        first = next((k for k in range(at - 1, -1, -1) if self.items[k].kind is ItemKind.SIDE), None)
        if first is None:
            return False
        last, before = self.items[first], self.items[max(0, first - 1)]
        if before.kind in VALUES and self._between(before.end, last.start) < BLOCK_END:
            return False
        turned = {last.ids, side.ids} == {("left",), ("right",)}
        if not (last.linked or side.linked):
            ends = side.end == len(self.tokens) or self.tokens[side.end].boundary >= BLOCK_END
            following = [item.kind for item in self.items[at + 1 : at + 3] if item.start >= side.end]
            denied = following == [ItemKind.NEGATION, ItemKind.SUBJECT] and not said.forward
            leads = (ends and bool(subjects)) or (denied and said.kind is ItemKind.VALUE)
            return turned and leads and bool(last.sites) and last.sites == side.sites
        led = self.items[first + 1].kind is ItemKind.PLACE and self.items[first + 1].start == last.end
        if led and turned and side.end < len(self.tokens) and self.tokens[side.end].boundary >= COMMA:
            return any(item.kind is ItemKind.PLACE and item.start == side.end for item in self.items[at + 1 : at + 2])
        return turned and all(one.linked and one.end in self._subject_at for one in (last, side))

    def _goes_on_elsewhere(self, pre: list[Item], side: Item) -> bool:
        """ "Right arm five throughout except grip, which is four | in the left arm deltoid five"."""
        first = bool(pre) and pre[0] is self.items[0]
        return first and self._other_side in side.ids and side is not self.items[-1]

    def _is_of_all_next(self, limb: Item, said: Item, subjects: list[Item]) -> bool:
        """ "Triceps three | left arm five throughout", "one | on the left five throughout", "one | on the left power is
        full throughout": a limb, or a side that no other follows, right before the result that is said of all of it.
        "Right arm and leg" are two.
        """
        following = self.items[self._place_of[id(limb)] + 1 :][:6]
        end = limb.end
        joined = limb.sites and following and [token.text for token in self.tokens[end : end + 1]] == ["and"]
        while joined and following and following[0].kind in (ItemKind.REGION, ItemKind.PLACE):
            end = following.pop(0).end
        opens = bool(following) and following[0].start == end
        headed = opens and "group:power" in following[0].ids
        following = following[headed:]
        if not opens or [item.kind for item in following[:2]] != [ItemKind.VALUE, ItemKind.THROUGHOUT]:
            return False
        own = any(item.kind is ItemKind.SIDE and item.linked for item in following[2:3])
        if headed and not (said.grade and all(self._fits(one, following[0]) for one in subjects)):
            return False  # "tone increased in both legs | power five throughout"
        return (bool(limb.sites) and not headed) or (limb.linked and not own)

    def _is_of_last_name(self, side: Item) -> bool:
        """ "Wasting in both legs, fasciculation in the right": a side joined to the name right before it."""
        at = self._place_of[id(side)]
        last = self.items[at - 1] if at else None
        if last is None or last.kind is not ItemKind.SUBJECT or not side.linked:
            return False
        between = [self.tokens[k].text for k in range(last.end, side.start)]
        return between in (["in"], ["on"], ["in", "the"], ["on", "the"]) and self._between(last.end, side.start) < 0.5

    def _is_denied_on(self, side: Item) -> bool:
        """ "No tremor in either arm | tone normal in both": who says "either" has denied what is named before it."""
        at = self._place_of[id(side)] - 1
        while at > 0 and self.items[at].kind is ItemKind.SUBJECT:
            at -= 1
        return self.tokens[side.start].text == "either" and at >= 0 and self.items[at].kind is ItemKind.NEGATION

    def _goes_with_last(self, side: Item) -> bool:
        """ "In the right arm and the right leg": a limb that is joined to another of the same side."""
        last = self.items[self._place_of[id(side)] - 1] if self._place_of[id(side)] else None
        return (
            last is not None
            and last.kind is ItemKind.SIDE
            and last.ids == side.ids
            and not self._is_said_of(side)
            and bool(last.sites and side.sites)
            and last.sites != side.sites
            and (joined := self._text_between(last, side)) in (["and"], ["and", "the"], ["and", "in", "the"])
            and not (len(joined) > 2 and self._leads_test(side))
            and self._between(last.end, side.start) < 0.5
        )

    def _leads_test(self, side: Item) -> bool:
        """ "Five in the left leg, and in the left arm grip is four": a test with its own result follows the side."""
        named = self._subject_at.get(side.end)
        return named is not None and self._has_own(named, {})

    def _is_said_of(self, side: Item) -> bool:
        """ "The left leg is normal", "the left leg normal": a result of its own follows the side."""
        return side.end in self._value_starts or (
            side.end < len(self.tokens) and self.tokens[side.end].text in _SAID_OF
        )

    def _is_of_next_place(self, side: Item) -> bool:
        """ "Reduced at the great toe, at the left | ankle normal": a place is not parted from its side."""
        led = [token.text for token in self.tokens[max(0, side.start - 2) : side.start]]
        following = self.items[self._place_of[id(side)] + 1 :][:1]
        placed = any(
            item.kind is ItemKind.PLACE
            and item.start == side.end
            and not (item.is_level and item.end in self._subject_at)  # "normal at the right | perianal pinprick"
            for item in following
        )
        return placed and (led[-1:] == ["at"] or led == ["at", "the"])

    def _is_spent(self, item: Item) -> bool:
        """ "Waiting in the right arm, no wasting in the left": the side of something that was not understood."""
        at = item.start
        while at > 0 and self.tokens[at - 1].text in ("in", "on", "of", "the"):
            at -= 1
        if item.kind is not ItemKind.SIDE or not item.linked or at == 0 or at == item.start:
            return False
        if self.tokens[min(item.end, len(self.tokens) - 1)].text in ("that's", "it's"):
            return False  # "hold them apart on the right that's three"
        word = self.tokens[at - 1].text
        understood = at - 1 in self._understood or word in _LEADS or len(word) < 4 or not word.isalpha()
        return not understood and self._between(at, item.start) < 0.5

    def _opens_statement(self, side: Item) -> bool:
        """ "The right leg has full strength", "left leg, power five", "left arm and left leg, tone normal", "left hand,
        cock your wrist back": a limb that something is said of, or asked.
        """
        if side.end >= len(self.tokens):
            return False
        if self.tokens[side.end].text in _SAID_OF:
            return True
        following = self.items[self._place_of[id(side)] + 1 :][:1]
        if self.tokens[side.end].text in (ANNOUNCING if side.sites else ("now", "next")) and not side.linked:
            # "Great toe five, the right now, hip flexion four", "eversion five, left leg now, push down"
            asked = any(item.start == side.end + 1 and item.kind is ItemKind.COMMAND for item in following)
            ends = side.end + 1 == len(self.tokens) or self.tokens[side.end + 1].boundary >= BLOCK_END
            return side.end + 1 in self._subject_at or (bool(side.sites) and (asked or ends))
        if following and self._goes_with_last(following[0]):
            return self._opens_statement(following[0])
        named = (ItemKind.SUBJECT, ItemKind.HEADING, ItemKind.COMMAND)
        return bool(side.sites) and any(item.start == side.end and item.kind in named for item in following)

    def _turns_to(self, side: Item) -> bool:
        """ "Right hip flexion two, ..., big toe two. Left side, hip flexion three", "left then, hip flexion three": the
        list begins again on the other side, and the first side did not follow a result.
        """
        at = self._place_of[id(side)]
        first = next((k for k in range(at - 1, -1, -1) if self.items[k].kind is ItemKind.SIDE), None)
        announced = side.end + (side.end < len(self.tokens) and self.tokens[side.end].text in ANNOUNCING)
        return (
            first is not None
            and (self.tokens[side.end - 1].text == "side" or announced > side.end)
            and announced in self._subject_at
            and {self.items[first].ids, side.ids} == {("left",), ("right",)}
            and not (first and self.items[first - 1].kind in VALUES)
        )

    def _announces(self, side: Item, said: Item) -> bool:
        """The next subject follows the side directly, with a copula ("on the right pinprick is intact") or named anew
        ("pinprick on the left normal, on the right pinprick reduced"), and no contrast is under way.
        """
        after = self.tokens[side.end].text if side.end < len(self.tokens) else ""
        if after in _IT or (said.grade is None and self._leads_to_there(side)) or self._is_done_there(side):
            return True
        denied = side.end < len(self.tokens) and self.tokens[side.end].text == "no"  # "and in the left arm no wasting"
        subject = self._subject_at.get(side.end + denied)
        if subject is None or (subject.end >= len(self.tokens) and not denied):
            return False
        last = self._last_of_list(subject)
        if [token.text for token in self.tokens[side.start - 3 : side.start - 1]] in (["and", "in"], ["and", "on"]):
            return True
        at = self._place_of[id(said)]
        owner = self._owner_before(at)
        anew = owner is not None and owner is not subject and owner.ids == subject.ids and self._has_side(owner, at)
        if not anew and self.tokens[min(last.end, len(self.tokens) - 1)].text not in ("is", "are"):
            return False
        previous = next((k for k in range(at - 1, -1, -1) if self.items[k].kind in VALUES), None)
        return previous is None or not any(
            item.kind is ItemKind.SIDE and item.linked for item in self.items[previous + 1 : at]
        )

    def _leads_anew(self, side: Item, said: Item) -> bool:
        """ "Light touch absent at L5 on the left, normal at S1 | on the right light touch is intact": the same test of
        places, named again behind the side and with no other.
        """
        named = self._subject_at.get(side.end) if side.linked else None
        if named is None or not self._fits(named, _PLACED):
            return False
        at = self._place_of[id(said)]
        owner = self._owner_before(at)
        if owner is None or owner.ids != named.ids or not self._has_side(owner, at):
            return False
        following = itertools.islice(self.items, self._place_of[id(named)] + 1, None)
        own = itertools.takewhile(lambda item: item.kind is not ItemKind.SUBJECT, following)
        return not any(item.kind is ItemKind.SIDE for item in own)

    def _leads_to_there(self, side: Item) -> bool:
        """ "Wasting in the left arm, no tremor | in the right arm there's wasting": the other side was told of."""
        if side.end >= len(self.tokens) or self.tokens[side.end].text not in _THERE:
            return False
        at = self._place_of[id(side)]
        if any(item.kind is ItemKind.SIDE for item in self.items[at + 1 : at + 4]):
            return False  # "no tremor in the right arm, there's one in the left"
        before = reversed(self.items[:at])
        last = next((item for item in before if item.kind is ItemKind.SIDE), None)
        return last is not None and {last.ids, side.ids} == {("left",), ("right",)}

    def _last_of_list(self, subject: Item) -> Item:
        """ "On the right biceps and triceps are": the last of the names that follow one another."""
        last = subject
        for item in self.items[self._place_of[id(subject)] + 1 :]:
            between = [self.tokens[at].text for at in range(last.end, item.start)]
            if item.kind is not ItemKind.SUBJECT or between not in ([], ["and"]):
                break
            last = item
        return last

    def _has_side(self, owner: Item, at: int) -> bool:
        """Whether a side was said with a subject, up to the item at a place."""
        first = max(0, self._place_of[id(owner)] - 1)
        return any(item.kind is ItemKind.SIDE for item in self.items[first:at])

    def _stands_alone(self, item: Item) -> bool:
        """A subject whose sentence holds no value announces what comes."""
        return not self._holds(item, 1.2, (*VALUES, ItemKind.NEGATION))

    def _is_heading(self, item: Item) -> bool:
        """A side whose clause holds no subject and no value announces what comes."""
        return not self._holds(item, 1, (*VALUES, ItemKind.SUBJECT))

    def _holds(self, item: Item, break_: float, kinds: tuple[ItemKind, ...]) -> bool:
        """Whether an item of these kinds stands in the same stretch between breaks as `item`."""
        key = (id(item), break_)
        if key not in self._held:
            start, end = item.start, item.end
            while start > 0 and self.tokens[start].boundary < break_:
                start -= 1
            while end < len(self.tokens) and self.tokens[end].boundary < break_:
                end += 1
            low, high = bisect_left(self._item_starts, start), bisect_left(self._item_starts, end)
            self._held[key] = any(other.kind in kinds for other in self._in_order[low:high])
        return self._held[key]

    def _places(self, pre: list[Item], said: Item, post: list[Item], subjects: list[Item]) -> float:
        cost = 0.0
        before = [item for item in pre if item.kind is ItemKind.PLACE and item.ids]
        after = [item for item in post if item.kind is ItemKind.PLACE and item.ids]
        if not (before or after or subjects):
            return cost
        if not subjects:
            owner = self._owner_before(self._place_of[id(said)])
            carried = owner is None or self._fits(owner, _PLACED) or self._begins_senses(owner, said)
        sensory = (not subjects and carried) or any(s.probability and self._fits(s, _PLACED) for s in subjects)
        if not (before or after):
            return 0.45 if sensory and subjects and said.kind is ItemKind.VALUE else 0.0
        if subjects and not sensory:  # "knee jerks two, L3 4, ankle jerks absent"
            strange = (item for item in (*before, *after) if not any(self._supplies(s, item) for s in subjects))
            cost += 0.7 * sum(not self._leads_its_test(item) for item in strange)
        elif subjects:  # "normal at S1, vibration reduced at the toe"
            cost += 1.5 * sum(
                item.is_level and not any(self._fits(s, item) for s in subjects) for item in (*before, *after)
            )
        elif owner is not None and self._fits(
            owner, _PLACED
        ):  # "normal at the right | perianal pinprick", of a test of joints
            cost += 1.5 * sum(
                item.is_level and item.end in self._subject_at and not self._fits(owner, item) for item in after
            )
        if sensory and (subjects or owner is not None):
            before = [item for item in before if item.start not in self._regions]
        for item in after:
            anchor = max([said, *(s for s in subjects if s.start < item.start)], key=lambda s: s.end)
            cost += self._crossing(anchor, item)
            if sum(token.boundary >= SENTENCE_END for token in self.tokens[anchor.end : item.start + 1]) > 1:
                cost += 1.5  # "normal at L4. What did we forget? The saddle."
            if not sensory and (self._roots_first or "S4-5" in item.ids):
                cost += 0.6
            if not sensory and len(item.ids) > _MOST_ROOTS and self._between(said.end, item.start) >= SENTENCE_END:
                cost += 1.5  # "Ankle jerks absent. L3, L4, L5, S1. Light touch is normal at all four"
            closed = any(after[0].start < other.start < item.start for other in post if other.kind is ItemKind.SIDE)
            joined = any(self.tokens[at].text in ("and", "or") for at in range(after[0].end, item.start))
            anew = not (item.linked or joined) or self._between(after[0].end, item.start) >= COMMA
            contrasted = closed and not joined and item.ids == after[0].ids  # "reduced at left L5, at right L5 normal"
            if (contrasted or (closed and anew)) and item.end in self._value_starts:
                cost += 0.9  # "reduced at T9 on both sides, T8 normal", "..., and S1 normal"
            order = self._place_order.get(id(item))
            said_of = self.tokens[item.end].text if item.end < len(self.tokens) else ""
            if said_of in (*_IT, "is") or (said_of == "are" and item.end + 1 not in self._value_starts):
                cost += 0.9  # "normal on the right, and at S1 it's normal on both", "C6 is under the cast"
            if said_of in _I and self._is_left_out_at(item):
                cost += 1.5  # "normal at the knees, at the ankles I haven't checked"
            if sensory and not _is_listed(after, item) and order != "before" and (order or not item.linked):
                cost += 0.45
            if (
                not (item.linked or self._is_listed_with_last(item))
                and item.start > said.end
                and item.end in self._subject_at
                and self._fits(self._subject_at[item.end], _PLACED)
            ):
                cost += 0.6
        for item in before:
            if item is pre[0] and self._is_of_both(item):
                cost += 1.2
            if (sensory and item.linked and subjects and item.start > subjects[-1].start) or (
                sensory
                and item.linked
                and not subjects
                and item.start > 0
                and self.tokens[item.start].boundary < 0.5
                and self._copula_before(said)
            ):
                cost += 0.0
            elif sensory and item.linked and self._place_order.get(id(item)) != "after":
                cost += 0.2
            following = next(
                (other for other in [*pre, said] if other.start >= item.end and other.kind is not ItemKind.PLACE), said
            )
            cost += self._crossing(item, following)
            if not sensory:
                led = (self._roots_first and said.grade) or self._leads_its_test(item)
                cost += 0.1 if led else 0.5
            elif self._place_order.get(id(item)) == "before" and not subjects:
                cost += 0.3
        if sensory and subjects and not before and not after and said.kind is ItemKind.VALUE:
            cost += 0.45
        if sensory and subjects and any(item.start < subjects[0].start and not item.linked for item in before):
            cost += 0.6
        if subjects and _names_its_place(before, subjects[0]):
            cost += 1.2 * (not self._is_listed_with_last(before[-1]))
        if subjects and before and before[0].start < subjects[0].start and self._is_listed_with_last(before[0]):
            cost += 0.6  # "normal at left C7 and left C8 | pinprick reduced at left C6"
        if before and any(item.kind is ItemKind.REST for item in post):
            cost += 1.0  # "reduced L5, normal elsewhere"
        if before and after and sensory:
            begins = min(item.start for item in (said, *subjects))
            cost += 1.4 * any(self._between(item.end, begins) < BLOCK_END for item in before)
        return cost

    def _is_of_both(self, place: Item) -> bool:
        """ "Normal | both ankles": the word before a joint belongs to it, and not to the result before."""
        side = self._side_before(place)
        return (
            side is not None
            and self.tokens[side.start].text in _OF_BOTH
            and side.end - side.start == 1
            and not ROOT.match(place.ids[0])
            and self.tokens[place.start].boundary < COMMA
        )

    def _begins_senses(self, owner: Item, said: Item) -> bool:
        """ "Plantars mute. Now the pin. L3 normal": at a dermatome, in another breath than the last test."""
        return "sensation" in said.values and self._between(owner.end, said.start) >= BLOCK_END

    def _is_listed_with_last(self, place: Item) -> bool:
        """ "At left C7 and left C8": an "and" joins the place to the one before it."""
        at = self._place_of[id(place)] - 1
        while at >= 0 and self.items[at].kind is ItemKind.SIDE and self.items[at].start < place.start:
            at -= 1
        last = self.items[at] if at >= 0 else None
        if last is None or last.kind is not ItemKind.PLACE:
            return False
        between = self._text_between(last, place, self.items[at + 1 : self._place_of[id(place)]])
        return between == ["and"] and self._between(last.end, place.start) < 0.5

    def _has_its_object(self, said: Item) -> bool:
        """ "I'll skip the plantars": what is left out stands after those who leave it out."""
        if said.kind is not ItemKind.OMISSION or self.tokens[said.end - 1].text not in _LEAVING:
            return False
        at = said.end + (self.tokens[said.end].text in _DETERMINERS if said.end < len(self.tokens) else 0)
        return at in self._subject_at and self._between(said.end, at) < COMMA

    def _is_of_a_whole_limb(self, named: Item, pre: list[Item], said: Item) -> bool:
        """ "The peroneal half took it. The left leg has full power throughout", "is five throughout": of the limb, not
        of the movement before.
        """
        strong = said.match is not None and not POWER_WORDS.isdisjoint(said.match.term.words)
        strong = strong or (said.grade is not None and self._fits(named, _STRONG))
        at = self._place_of[id(said)] + 1
        wide = any(item.kind is ItemKind.THROUGHOUT for item in self.items[at : at + 2])
        limbs = [item for item in pre if item.start >= named.end and (item.limbs or self._is_its_subject(item))]
        own = bool(limbs) and limbs[0].linked and limbs[0].start - named.end <= 2  # "grip in the right arm"
        return strong and wide and bool(limbs) and not (own or _are_groups([named]))

    def _is_its_subject(self, side: Item) -> bool:
        """ "Left side's five throughout", "the right is full throughout"."""
        after = self.tokens[side.end].text if side.end < len(self.tokens) else ""
        return side.kind is ItemKind.SIDE and not side.linked and after in ("'s", *_SAID_OF)

    def _is_told_of(self, named: Item, said: Item) -> bool:
        """ "Light touch at L1 I didn't do": what was left out stands before those who left it out."""
        at = said.start - (self.tokens[said.start - 1].text in _I if said.start else 0)
        return (
            said.kind is ItemKind.OMISSION
            and self.tokens[at].text in _I
            and not self._has_its_object(said)
            and all(token.boundary < COMMA for token in self.tokens[named.start + 1 : at])
        )

    def _is_left_out_next(self, named: Item, said: Item) -> bool:
        """ "All normal | pinprick I haven't done", "gait impaired | heel walking not possible": the test after the
        value is the one that was left out.
        """
        after = self.items[self._place_of[id(named)] + 1 :][:1]
        left_out = any(
            (one.kind is ItemKind.OMISSION and one.start == named.end) or self._is_told_of(named, one) for one in after
        )
        return said.kind is ItemKind.VALUE and left_out

    def _is_left_out_at(self, place: Item) -> bool:
        """Whether "I haven't checked" stands right behind a place that is not the last of a list."""
        after = self.items[self._place_of[id(place)] + 1 :][:1]
        return (place.linked or place.is_level) and any(
            one.kind is ItemKind.OMISSION and one.start - place.end <= 1 for one in after
        )

    def _is_denied_next(self, named: Item) -> bool:
        """ "Both knees normal | wasting, I forgot, no wasting in either leg": named once more, with its denial."""
        denial, *again = self.items[self._place_of[id(named)] + 1 :][:2] or [named]
        return denial.kind is ItemKind.NEGATION and [item.ids for item in again] == [named.ids]

    def _copula_before(self, said: Item) -> bool:
        return said.start > 0 and self.tokens[said.start - 1].text in ("is", "are", "'s", "was")


def _once_each(fits: Fits) -> Fits:
    """The same answers for items that stay as they are, each found out once."""
    found: dict[tuple[int, int], bool] = {}

    def look(subject: Item, value: Item) -> bool:
        key = (id(subject), id(value))
        if key not in found:
            found[key] = fits(subject, value)
        return found[key]

    return look


def _same_side(one: Item, other: Item) -> bool:
    return one.ids == other.ids and (one.sites == other.sites or not (one.sites and other.sites))


def _are_groups(items: list[Item]) -> bool:
    return all(one.startswith("group:") for item in items for one in item.ids)


def _names_its_place(before: list[Item], named: Item) -> bool:
    """ "Intact L2 to S1 | perianal pinprick normal": a place right before the name is part of it, unlike a level."""
    return len(before) > 1 and before[-1].end == named.start and before[-1].match is not None


def _is_listed(places: list[Item], item: Item) -> bool:
    return item is not places[0]
