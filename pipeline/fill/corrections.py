"""Corrections within a result: what is taken back goes."""

from __future__ import annotations

import itertools

from pipeline.fill.drafts import root_order
from pipeline.mend.numbers import roots_between
from pipeline.mend.tokens import COMMA, SENTENCE_END, Token, in_one_sentence
from pipeline.understand.items import OPPOSITE, Item, ItemKind
from pipeline.understand.words import is_remark

_PUT_RIGHT_WITHIN, _TOLD_WITHIN = 6, 12
"""Most tokens from a correction to what it puts, and to what is said with "call it" or "make it"."""
_RECENT, _KEY = 30, 5
"""Most items before a correction in which the result may be that it puts right, and after it to what it puts."""
_TO_A_PLACE = frozenset("on in at over the his her".split())
_OF_ALL = frozenset("this all was were been these those".split())
_ALL_THIS = _OF_ALL | frozenset("is that's that it's it are has have i've on the of his her in fact no".split())
"""Words between a correction and the side that all results before it are of."""
_RESTATING = frozenset("call make it that let's i'd i'll say it's that's put give i think just so".split())


def other_sides(items: list[Item]) -> list[Item]:
    """ "The other side" is the opposite of the side that was named last, "on that side" the same."""
    last: str | None = None
    for item in items:
        if item.kind is ItemKind.SIDE:
            if item.ids[0] == "other" and last is not None:
                item.ids = (OPPOSITE[last],)
            elif item.ids[0] == "that":
                item.ids = (last or "other",)
            if item.ids[0] in OPPOSITE:
                last = item.ids[0]
    return items


def corrected(items: list[Item], tokens: list[Token]) -> list[Item]:
    """Applies corrections within a result ("right, sorry, left"): what is taken back goes."""
    items = list(items)
    at = 0
    while at < len(items):
        item = items[at]
        following = items[at + 1] if at + 1 < len(items) else None
        led = (
            following is not None
            and following.start >= item.end
            and tokens[item.start].text == "no"
            and _TO_A_PLACE.issuperset(token.text for token in tokens[item.end : following.start])
        )
        remarked = at > 0 and following is not None and _is_put_after_a_remark(items[at - 1], item, following, tokens)
        denial = (
            item.kind is ItemKind.NEGATION
            and following is not None
            and (
                (following.kind in (ItemKind.SIDE, ItemKind.VALUE) and following.start == item.end)
                or (following.kind in (ItemKind.SIDE, ItemKind.PLACE) and led)  # "no, on the right", "no, at the ankle"
                or (following.grade is not None and _is_put_instead(item, following, tokens))
                or remarked
            )
            and (
                tokens[item.start].boundary >= 0.5
                or tokens[item.end].boundary >= 0.5
                or (following.grade is not None and _is_graded(items[:at]))
                or remarked
                or _is_other_side(items[at - 1 : at + 3])
            )
        )
        if item.kind is ItemKind.REMOVE and _puts_another(items, at, tokens):
            item.kind = ItemKind.REPAIR
        if item.kind is not ItemKind.REPAIR and not denial:
            at += 1
            continue
        changed = _brought_out(items, at, tokens) or _mend_at(items, at, tokens)
        if changed is None:
            del items[at]
        else:
            items = changed
        at = max(0, at - 1)
    return items


def _is_other_side(items: list[Item]) -> bool:
    """ "Left no right ankle jerk": nothing but "no" between two sides, and what is tested right after them."""
    kinds = [item.kind for item in items]
    if kinds != [ItemKind.SIDE, ItemKind.NEGATION, ItemKind.SIDE, ItemKind.SUBJECT]:
        return False
    joined = all(one.end == two.start for one, two in itertools.pairwise(items))
    return joined and items[2].ids[0] == OPPOSITE.get(items[0].ids[0])


def _brought_out(items: list[Item], at: int, tokens: list[Token]) -> list[Item] | None:
    """ "Ankle jerk absent, no wait, grip your hands and pull, one plus": what brings a reflex out is no test."""
    named = next((item for item in reversed(items[max(0, at - 3) : at]) if item.kind is ItemKind.SUBJECT), None)
    if named is None or not named.ids[0].endswith("_jerk") or items[at - 1].kind is not ItemKind.VALUE:
        return None
    found = next((k for k in range(at + 1, min(at + 5, len(items))) if items[k].kind is ItemKind.VALUE), None)
    if found is None or items[found].start - items[at].end > _TOLD_WITHIN:
        return None
    asked = items[at + 1 : found]
    ordered = bool(asked) and (
        asked[0].kind is ItemKind.COMMAND or tokens[asked[0].end].text in ("your", "my")
    )  # "squeeze my hand", "grip your hands"
    seen = "reflex" in items[found].values or (items[found].grade or "").endswith("+")
    return [*items[: at - 1], *items[found:]] if ordered and seen else None


def _is_graded(items: list[Item]) -> bool:
    """The last of the items, but for sides, is a grade."""
    last = next((item for item in reversed(items) if item.kind is not ItemKind.SIDE), None)
    return last is not None and last.grade is not None


def _puts_another(items: list[Item], at: int, tokens: list[Token]) -> bool:
    """ "Three, strike that, two": another grade of the same test follows at once."""
    before, after = items[at - 1 : at] if at else [], items[at + 1 : at + 3]
    return (
        bool(before and after)
        and before[0].grade is not None
        and after[0].grade is not None
        and after[0].start == items[at].end
        and in_one_sentence(tokens, before[0].end, after[0].end)
        and not (
            len(after) > 1
            and after[1].kind is ItemKind.SUBJECT
            and after[1].start - after[0].end <= 1
            and tokens[after[1].start].boundary < COMMA
        )
    )


def _is_put_instead(denial: Item, value: Item, tokens: list[Token]) -> bool:
    """ "No, call it four", "no, I don't believe that, call it zero"."""
    near = tokens[denial.start].text == "no" and value.start - denial.end <= _TOLD_WITHIN
    return _is_restated(denial.end, value, tokens) or (near and _is_restated(value.start - 2, value, tokens))


def _is_put_after_a_remark(first: Item, denial: Item, value: Item, tokens: list[Token]) -> bool:
    """ "Four, no, she'd let go of the bar, five", "reduced, no, let me be honest, absent"."""
    said = [token.text for token in tokens[denial.end : value.start]]
    alike = (first.grade and value.grade) or first.values.keys() & value.values.keys()
    return tokens[denial.start].text == "no" and is_remark(said) and bool(alike)


def _is_restated(start: int, value: Item, tokens: list[Token]) -> bool:
    """ "No, call it four": nothing from a token on to a value but words that give one."""
    between = [token.text for token in tokens[start : value.start]]
    return bool(between) and _RESTATING.issuperset(between)


def _mend_at(items: list[Item], at: int, tokens: list[Token]) -> list[Item] | None:
    repair = items[at]
    if _is_apology(items, at, tokens):
        return None
    follow = at + 1
    while follow < len(items) and items[follow].kind in (
        ItemKind.REPAIR,
        ItemKind.HEADING,
        ItemKind.REGION,
        ItemKind.NEGATION,
    ):
        follow += 1
    if follow >= len(items):
        return None
    led = max(item.end for item in items[at:follow] if item.kind in (ItemKind.REPAIR, ItemKind.NEGATION))
    told = _is_restated(items[follow].start - 2, items[follow], tokens) or (
        at > 0 and _is_put_after_a_remark(items[at - 1], repair, items[follow], tokens)
    )
    if items[follow].start - led > (_TOLD_WITHIN if told else _PUT_RIGHT_WITHIN):
        return None
    if _is_of_an_earlier_one(items[max(0, at - _RECENT) : at], items[follow : follow + _KEY]):
        return _excepted(items, at, follow)
    new = items[follow]
    kind = new.kind
    back = at - 1
    values = 0
    while back >= 0 and at - back <= 6:
        old = items[back]
        if old.kind is kind and not (kind is ItemKind.SUBJECT and old.section_only):
            break
        values += old.kind in (ItemKind.VALUE, ItemKind.OMISSION)
        if values > 1:
            if kind is ItemKind.SIDE and _is_of_all_before(repair, new, tokens):
                _doubt_side(items[:at], new)
            return None
        back -= 1
    else:
        return None
    if back < 0 or items[back].kind is not kind:
        return None
    upcoming: list[Item] = []
    for item in items[follow + 1 : follow + 5]:
        if item.kind is ItemKind.SIDE and any(u.kind is ItemKind.VALUE for u in upcoming):
            break
        upcoming.append(item)
    restated = any(item.kind in (ItemKind.VALUE, ItemKind.OMISSION) for item in upcoming[:3])
    if repair.kind is ItemKind.NEGATION and any(item.kind is ItemKind.SUBJECT for item in items[back + 1 : at]):
        return None
    if kind is ItemKind.VALUE:
        if _leads_on(items[max(0, back - 3) : at]):
            return None
        new.instead_of = items[back]
        between = [item for item in items[back + 1 : at] if item.kind is not ItemKind.REPAIR]
        where = items[follow + 1 : follow + 3]
        where = where[1:] if where and where[0].kind is ItemKind.PLACE else where[:1]
        narrower = next((item for item in where if item.kind is ItemKind.SIDE), None)
        if narrower and narrower.ids[0] in OPPOSITE and any(item.ids == ("both",) for item in between):
            return _excepted(items, at, follow)  # "five on both sides, sorry, four on the left"
        if narrower and any(item.kind is ItemKind.SIDE and item.ids != narrower.ids for item in between):
            # "Five on the right, sorry, four on the left": perhaps both are meant
            new.flags += ("side_uncertain",)
            between = [item for item in between if item.kind is not ItemKind.SIDE]
        elif narrower and _says_side_again(items[max(0, back - 2) : back], between, narrower, tokens):
            between = []
        elif narrower and narrower.linked and _is_of_another_side(items, back, narrower):
            new.flags += ("side_uncertain",)
        placed = next((item for item in items[follow + 1 : follow + 2] if item.is_level and item.linked), None)
        first = {one for item in between if item.is_level for one in item.ids}
        if placed and first > set(placed.ids) and not _same_result([items[back]], [new]):
            return _excepted(items, at, follow)  # "reduced at L2 and L3, sorry, absent at L3"
        if placed:  # "reduced at L2 and L3, sorry, reduced at L3"
            between = [item for item in between if not item.is_level]
        return items[:back] + between + items[follow:]
    told_from = max(0, back - 2) if items[back].ids == ("both",) else back
    if _is_of_one_place(items[told_from:at], items[follow : follow + 3]):
        return _excepted(items, at, follow)
    if _ends_a_range(items[back], new, tokens):
        new.ids = roots_between(items[back].ids[0], new.ids[-1])
    between_values = any(item.kind in (ItemKind.VALUE, ItemKind.OMISSION) for item in items[back + 1 : at])
    if kind is ItemKind.PLACE and not any(item.kind is ItemKind.SIDE for item in items[follow + 1 : follow + 2]):
        sides = [item for item in items[back + 1 : at] if item.kind is ItemKind.SIDE]
        return items[:back] + sides + items[follow:]  # "at L5 on the left, sorry, S1"
    if not between_values:
        return items[:back] + items[follow:]
    if kind is ItemKind.SIDE:
        subject_before = _subject_near(items, back, 1)
        subject_after = next((i for i in items[follow + 1 : follow + 3] if i.kind is ItemKind.SUBJECT), None)
        if (
            subject_after is not None
            and subject_before is not None
            and not set(subject_after.ids) & set(subject_before.ids)
        ):
            if new.ids == items[back].ids and _same_result(items[back:at], items[follow : follow + 4]):
                return items[:back] + items[follow:]  # only the test is put right
            if new.ids == items[back].ids and subject_after.start > new.end + 1:
                _doubt(items[back:at])
            elif new.ids != items[back].ids and _points_back(items[at - 1], new, tokens):
                return _with_side(items, back, at, follow)
            return None
        if restated and any(item.same for item in items[back + 1 : at]) and subject_after is not None:
            return _excepted(items, at, follow)  # "left the same, sorry, left grip four": the other tests stay
        if restated and items[back].ids == ("both",) and new.ids[0] in OPPOSITE and subject_after is None:
            return _excepted(items, at, follow)  # "both flexor, sorry, the left is extensor": the right stays
        if restated:
            return (
                items[:back] + items[follow:]
                if subject_after is not None or subject_before is None
                else items[:back] + [i for i in items[back + 1 : at] if i.kind is ItemKind.SUBJECT] + items[follow:]
            )
        if new.ids == items[back].ids:
            _doubt(items[back:at])
        return _with_side(items, back, at, follow)
    if kind is ItemKind.SUBJECT:
        if set(items[back].ids) & set(new.ids) or tokens[repair.start].text in ("correction", "make", "i", "rather"):
            return items[:back] + items[follow:]
        return None
    if kind is ItemKind.PLACE:
        return items[:back] + items[follow:]
    return None


def _is_of_an_earlier_one(before: list[Item], after: list[Item]) -> bool:
    """ "Left quads four, right quads five. Sorry, left quads three": the side, or the place, of a result before the
    last is named with another result; the last one stays.
    """
    results = _with_where(before)
    last = results[-1:] and results[-1][0]
    put = _with_where(after, last or None)[:1]
    if not (last and put):
        return False
    key, value = put[0]
    same_test = key[0] is not None and key[0] == last[0]
    told = [old for old, _ in results[:-1]]
    return same_test and key != last and key in told and not _same_result([results[-1][1]], [value])


_Key = tuple[tuple[str, ...] | None, tuple[str, ...] | None, tuple[str, ...] | None]


def _with_where(items: list[Item], key: _Key | None = None) -> list[tuple[_Key, Item]]:
    """Test, side and place of each value, where they stand before it; none where a value leads the list."""
    test, side, place = key or (None, None, None)
    where = False
    found: list[tuple[_Key, Item]] = []
    for item in items:
        if item.kind is ItemKind.SIDE:
            side, where = item.ids, True
        elif item.is_place:
            place, where = item.sites or item.ids, True
        elif item.kind is ItemKind.SUBJECT:
            test = item.ids
        elif item.kind is ItemKind.VALUE and not where:
            return []
        elif item.kind is ItemKind.VALUE:
            found.append(((test, side, place), item))
            where = False
        elif item.kind is not ItemKind.HEADING:
            test = side = place = None
            found, where = [], False
    return found


def _points_back(last: Item, side: Item, tokens: list[Token]) -> bool:
    """ "Right grip four, sorry, that was the left. Biceps five", "..., sorry, left. Biceps five": the side is that of
    the result before it. Without a stop behind "that's the left" it may lead the next test: asked about.
    """
    closed = side.end >= len(tokens) or tokens[side.end].boundary >= SENTENCE_END
    said = [token.text for token in tokens[max(0, side.start - 3) : side.start]]
    if "was" not in said and not closed and said[-2:] in (["that's", "the"], ["it's", "the"]):
        side.flags += ("side_uncertain",)
        return True
    return "was" in said or (closed and in_one_sentence(tokens, last.end, side.start + 1))


def _with_side(items: list[Item], back: int, at: int, follow: int) -> list[Item]:
    """The items with the side at `follow` in place of that at `back`, without the correction at `at`."""
    moved = list(items)
    moved[back] = items[follow]
    del moved[follow]
    del moved[at]
    return moved


def _leads_on(items: list[Item]) -> bool:
    """ "Right flexor, left, let me do that again, extensor": the side has no result yet that could be taken back."""
    if [item.kind for item in items[-4:]] == [ItemKind.VALUE, ItemKind.SIDE] * 2:
        return False  # "four left, three right, sorry, two"
    said = [item for item in items if item.kind is not ItemKind.SUBJECT][-3:]
    if [item.kind for item in said] != [ItemKind.SIDE, ItemKind.VALUE, ItemKind.SIDE] or said[2].linked:
        return False
    return said[2].ids[0] == OPPOSITE.get(said[0].ids[0])


def _is_of_one_place(old: list[Item], new: list[Item]) -> bool:
    """ "C5 to C8 normal, correction, C6 is reduced": one place of those told has another result, the others stay."""
    told = {one for item in old if item.is_level for one in item.ids}
    narrower = next((item for item in new[:2] if item.is_level), None)
    if narrower is None or not told > set(narrower.ids) or _same_result(old, new):
        return False
    sides = [{one for item in items if item.kind is ItemKind.SIDE for one in item.ids} for items in (old, new[:1])]
    return any(item.kind is ItemKind.VALUE for item in new) and (not sides[1] or sides[0] in ({"both"}, sides[1]))


def _ends_a_range(old: Item, new: Item, tokens: list[Token]) -> bool:
    """ "From T11 to L5, sorry, to S1": only where the stretch ends is put right."""
    levels = old.is_level and new.is_level and len(old.ids) > 1 and len(new.ids) == 1
    led = tokens[new.start - 1].text in ("to", "through")
    return levels and led and root_order(old.ids[0]) < root_order(new.ids[0])


def _doubt(items: list[Item]) -> None:
    """ "Left extensor, no hang on, left banana": what was put instead was not understood."""
    for item in items:
        if item.kind is ItemKind.VALUE:
            item.flags += ("value_uncertain",)


def _is_of_all_before(repair: Item, side: Item, tokens: list[Token]) -> bool:
    """ "Sorry, this is the right leg", "no, that's all on the right": perhaps of all that was told."""
    said = {token.text for token in tokens[repair.end : side.start]}
    return said <= _ALL_THIS and bool(said & _OF_ALL)


def _doubt_side(items: list[Item], side: Item) -> None:
    """Asks about the side of each result since the other side was named."""
    for item in reversed(items):
        if item.kind is ItemKind.SIDE and item.ids != side.ids:
            return
        if item.kind in (ItemKind.VALUE, ItemKind.OMISSION):
            item.flags += ("side_uncertain",)


def _says_side_again(before: list[Item], between: list[Item], side: Item, tokens: list[Token]) -> bool:
    """ "Two right, four left, sorry, three left": sides follow their results, and that of the last is said again."""
    listed = [item.kind for item in before] == [ItemKind.VALUE, ItemKind.SIDE]
    again = [item.ids for item in between] == [side.ids]
    return listed and again and in_one_sentence(tokens, between[0].end, side.end)


def _is_of_another_side(items: list[Item], value: int, side: Item) -> bool:
    """ "Right grip four, sorry, five on the left": the side behind what is put right is not the one told before it,
    and no result of its own follows.
    """
    at = value - 1
    while at >= 0 and items[at].kind not in (ItemKind.SIDE, ItemKind.VALUE, ItemKind.OMISSION):
        at -= 1
    told = items[at].ids if at >= 0 and items[at].kind is ItemKind.SIDE else side.ids
    following = next((item for item in items if item.start >= side.end and item.kind is not ItemKind.REPAIR), None)
    return told != side.ids and (following is None or following.kind is not ItemKind.VALUE)


def _excepted(items: list[Item], at: int, follow: int) -> list[Item]:
    """The correction at a place as an exception: what was said of both sides stands for the other one."""
    items[at].kind = ItemKind.EXCEPT
    return [*items[: at + 1], *items[follow:]]


def _same_result(first: list[Item], second: list[Item]) -> bool:
    said = [next((item for item in items if item.kind is ItemKind.VALUE), None) for items in (first, second)]
    one, two = said
    return one is not None and two is not None and (one.grade, one.values) == (two.grade, two.values)


def _is_apology(items: list[Item], at: int, tokens: list[Token]) -> bool:
    """ "Sorry, that's enough", "sorry, this tickles": nothing is put right in the words that follow."""
    end = items[at].end
    said = [word.text for word in tokens[end : end + 1]]
    if tokens[items[at].start].text != "sorry" or said not in (["that's"], ["this"]):
        return False
    told = (ItemKind.SIDE, ItemKind.VALUE, ItemKind.PLACE)
    return not any(
        0 <= item.start - end <= 3 and item.kind in told and in_one_sentence(tokens, end, item.start + 1)
        for item in items[at + 1 : at + 3]
    )


def _subject_near(items: list[Item], at: int, step: int) -> Item | None:
    for item in items[at : at + 4] if step > 0 else items[max(0, at - 4) : at][::-1]:
        if item.kind is ItemKind.SUBJECT:
            return item
    for item in items[max(0, at - 3) : at][::-1]:
        if item.kind is ItemKind.SUBJECT:
            return item
    return None
