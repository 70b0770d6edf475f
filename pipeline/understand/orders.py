"""Instructions to the patient and the reactions to them."""

from __future__ import annotations

import itertools
from bisect import bisect_left

from pipeline.lexicon.model import Lexicon, Manoeuvre
from pipeline.mend.tokens import CLAUSE_MARK, COMMA, SENTENCE_END, Token, closes, in_one_sentence
from pipeline.mend.words import BE, WHERETO
from pipeline.understand.commands import CommandFinder
from pipeline.understand.items import WHERE, Item, ItemKind, held
from pipeline.understand.talk import Clause, Kind
from pipeline.understand.telling import Cues
from pipeline.understand.words import IMPERATIVES

_EXAMINING = frozenset(
    """lift lifting roll rolling flick flicking bend bending flex flexing dorsiflex tap tapping stroke stroking scrape
        scraping strike hit turn turning move moving jerk jerking support supporting hold holding""".split()
)


_THE_SAME = 0.01
"""Distance of words that only spelling tells from what was said."""


def _meant(found: list[Item]) -> dict[int, str]:
    """ "Big tow up": the words of a part of the body that only spelling tells from it, by where they stand."""
    mends = [item.match for item in found if item.section_only and item.match is not None and item.match.mended]
    same = [match for match in mends if match.distance < _THE_SAME and match.end - match.start == len(match.term.words)]
    return {at: word for match in same for at, word in enumerate(match.term.words, match.start)}


_TOES_MOVED, _TO_ITS_GRADE = (["toes", "up"], ["toes", "down"]), 3
_SHORTLY = 3
"""Words of "both arms up"."""
_COPULAS = (["is"], ["was"])
_WALKS = ("heel_walk", "toe_walk")
_SAME_WHERE = (["on"], ["in"], ["with"], ["for"], ["at"], ["and"])
_OF_ITSELF = frozenset("takes lies sits rests hangs stays holds drops turns rolls falls flops".split())
"""What a limb does unasked: "the left foot takes up an odd posture"."""


_BEFORE_A_LIMB = frozenset("now next then and so okay the his her".split())


_TO_ANGLE = 4
"""Most tokens from the order to lift the leg to how far it went."""


class Orders:
    """The manoeuvres that instructions ask for."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._manoeuvres = {m.id: m for m in lexicon.manoeuvres}
        self._moving = {m.id for m in lexicon.manoeuvres if m.section in ("power", "coordination", "inspection")}
        self._commands = CommandFinder(lexicon)

    def items(self, words: list[str], tokens: list[Token], clauses: list[Clause], found: list[Item]) -> list[Item]:
        names = [item for item in found if item.kind is ItemKind.SUBJECT and not item.section_only]
        named_to = {item.end for item in names}
        stops = {
            item.start
            for item in found
            if item.kind is ItemKind.VALUE
            and (
                item.reaction
                or item.grade
                or not item.weak
                or words[item.start - 1 : item.start] in _POINTING
                or ("mrc" in item.values and (item.start in named_to or words[item.start - 1] in BE))  # "grip weak"
            )
        }
        sides = {item.start: item for item in found if item.kind is ItemKind.SIDE}
        results = {
            item.start: item
            for item in reversed(found)
            if (item.kind is ItemKind.VALUE and not item.reaction)
            or (item.kind is ItemKind.SUBJECT and not item.section_only)
        }
        named_so = held(item for item in names if words[item.start] not in IMPERATIVES)
        unheard = named_so | held(item for item in found if item.match is not None and item.match.mended)
        meant = _meant(found)
        cuts = stops | {item.start for item in names}
        cuts |= {
            item.start
            for item in found
            if item.kind is ItemKind.HEADING or (item.kind is ItemKind.PLACE and item.weak)  # "knee up, L2, three"
        }
        cuts |= {item.end for item in found if item.kind is ItemKind.OMISSION}  # "not done | stand up"
        cuts |= {
            k.end for k in found if k.same and words[k.end : k.end + 1] not in _SAME_WHERE
        }  # "same again | elbow up"
        levels = {item.start for item in found if item.is_level}
        limbs = {item.end for item in found if item.kind is ItemKind.REGION}
        cuts |= {at for at, side in sides.items() if side.sites and at in limbs}  # "legs | left leg up"
        felt = {item.start for item in found if "sensation" in item.values}
        cuts |= {item.start for item in found if item.is_level and item.end in felt}  # "on the pin | T8 normal"
        tests = [item for item in found if item.kind is ItemKind.SUBJECT]
        denials = {item.end for item in found if item.kind is ItemKind.NEGATION}
        denied = {item.end for item in tests if item.start in denials}
        cuts |= {at for at in denied if sides.keys().isdisjoint(range(at, at + 3))}  # "no wasting | knee up"
        toned = {item.end for item in tests if item.ids[0] == "tone"}
        cuts |= {
            item.end for item in found if item.kind is ItemKind.VALUE and item.start in toned
        }  # "normal | knee up"
        moved = (item for item in names if item.ids[0] in self._moving)
        in_results = cuts | {at for item in moved for at in self._past_name(item, words, sides)}
        # "Don't be shy with him, left leg first, knee up"
        in_results |= {at for at, side in sides.items() if side.sites and words[side.end : side.end + 1] == ["first"]}
        regions = self._regions(found)
        perianal = self._perianal(found)
        stated = {item.start for item in found if item.kind is ItemKind.VALUE and not (item.reaction or item.weak)}
        named = stated | {item.start for item in names}
        out: list[Item] = []
        segments: list[list[tuple[int, int]]] = [[]]
        for clause, following in itertools.zip_longest(clauses, clauses[1:]):
            pieces: list[tuple[int, int]] = []
            leads = following is not None and following.kind is Kind.INSTRUCTION
            leads = leads and clause.kind is Kind.RESULT and _begins_an_order(clause, words, tokens)
            if clause.kind is Kind.INSTRUCTION:
                pieces = _cut(clause.start, clause.end, cuts)
            elif clause.kind is Kind.RESULT:
                pieces = [
                    (start, end)
                    for start, end in _cut(clause.start, clause.end, in_results)
                    if _may_command(words, (self._past_grade(start, end, sides, results), end), named)
                ]
            if not pieces or clause.kind is Kind.RESULT:
                segments.append([])
            for piece in pieces:
                segments[-1].append(piece)
                if piece[1] in stops or (clause.kind is Kind.RESULT and not leads):
                    segments.append([])
        for segment in segments:
            at = 0
            while at < len(segment):
                hit = None
                for width in (1, 2, 3):
                    if at + width > len(segment):
                        break
                    start, end = segment[at][0], segment[at + width - 1][1]
                    if end - start > 26:
                        break
                    # the words of a name ask for nothing, those of a mended term are not what was said
                    said = [meant.get(k, "-" if k in unheard else words[k]) for k in range(start, end)]
                    opening = self._past_result(start, end, sides, results) - start
                    said[opening:] = _as_order(said[opening:])
                    region = _region_before(regions, out, self._manoeuvres, start)
                    whole = _with_part(said, out[-1].ids[0]) if out else None
                    hit = (whole and self._commands.find(whole, region)) or self._commands.find(said, region)
                    led = next((at for at in range(start, end) if words[at] not in _BEFORE_A_LIMB), end)
                    if hit is None and led in sides:  # "right arm, squeeze my fingers", "now his left side, knee up"
                        side = sides[led]
                        rest = self._commands.find(said[side.end - start :], region)
                        there = words[side.end - 1] == "side" or (rest and self._manoeuvres[rest].region in side.sites)
                        hit = rest if there else None
                    if hit:
                        break
                for past in range(width - 1 if hit else 0, 0, -1):  # "that's your biceps, push me off": the order alone
                    opens = segment[at + past][0]
                    talked = any(start <= item.start < opens for item in names)
                    if talked and self._commands.find(words[opens:end], region) == hit:
                        at, start, width = at + past, opens, width - past
                        break
                if hit and (
                    self._is_told_of(hit, start, end, names, levels) or not _OF_ITSELF.isdisjoint(words[start:end])
                ):
                    hit = None
                if hit:
                    # "Anal tone, squeeze my finger": no test of the hand
                    hit = next((item.ids[0] for item in perianal if start <= item.end < end), hit)
                if hit:
                    quiet = bool(out) and not any(at in stops for at in range(out[-1].end, start + 1))
                    follows = (
                        quiet
                        and start - out[-1].end <= 4
                        and not any(tokens[at].boundary >= 1.6 for at in range(out[-1].end, start + 1))
                    )
                    if (
                        follows
                        and out[-1].ids != (hit,)
                        and not any(item.kind is ItemKind.SIDE and out[-1].end <= item.start < end for item in found)
                    ):
                        at += width  # "bend your knee, pull me in": one instruction in two parts
                        continue
                    if (
                        quiet
                        and out[-1].ids == (hit,)
                        and out[-1].end >= start - 3
                        and out[-1].kind is ItemKind.COMMAND
                    ):
                        out[-1].end = end
                    begin = self._past_result(start, end, sides, results)
                    while begin in named_so and begin < end - 1:
                        begin += 1
                    out.append(Item(ItemKind.COMMAND, begin, end, (hit,)))
                    at += width
                else:
                    at += 1
        ending = {item.end: item for item in found}
        told = stated | {item.start for item in found if item.grade is not None}
        out = [item for item in out if not self._tells_how(item, ending, told, tokens)]
        out = [item for item in out if not self._raises_again(item, found)]
        out += self._shortened(words, found, out)
        return out + self._named_commands(clauses, found, out) + self._named_alone(found, out)

    def is_short(self, words: list[str], end: int) -> bool:
        """ "Wrists back, three", "turning it in is four": two or three words that end at a token ask for a movement."""
        end -= words[end - 1 : end] in _COPULAS
        if words[end - 1] not in WHERETO and words[end - 1] != "it":
            return False
        said = (_as_order(words[max(0, end - size) : end]) for size in (2, 3))
        return any(self._commands.find(part) is not None for part in said)

    def _tells_how(self, command: Item, ending: dict[int, Item], told: set[int], tokens: list[Token]) -> bool:
        """ "Hip abduction, push out against me, five", "clonus, right ankle, let it go, three beats": how the test that
        was just named is done.
        """
        at = command.start
        while at in ending and (ending[at].kind in WHERE or ending[at].section_only):
            at = ending[at].start
        named = next((ending[k] for k in range(at, at - 3, -1) if k in ending), None)
        return (
            named is not None
            and named.kind is ItemKind.SUBJECT
            and not named.section_only
            and named.ids[0] in self._manoeuvres
            and named.ids != command.ids
            and not _is_told_before(named, ending, tokens)
            and not told.isdisjoint((command.end, command.end + 1))
            and in_one_sentence(tokens, named.end, max(named.end, command.start) + 1)
        )

    @staticmethod
    def _raises_again(command: Item, found: list[Item]) -> bool:
        """ "Straight leg raise, forty degrees on the right. Left leg up we come, eighty degrees": an angle tells of the
        last test, and not of the movement.
        """
        names = (ItemKind.SUBJECT, ItemKind.VALUE)
        after = [item for item in found if command.end <= item.start <= command.end + _TO_ANGLE and item.kind in names]
        first = min(after, key=lambda item: item.start, default=None)
        if first is None or first.unit != "degrees":
            return False
        before = [item for item in found if item.end <= command.start and item.kind is ItemKind.SUBJECT]
        last = max(before, key=lambda item: item.end, default=None)
        return last is not None and last.ids == ("straight_leg_raise",)

    @staticmethod
    def _is_told_of(manoeuvre: str, start: int, end: int, names: list[Item], levels: set[int]) -> bool:
        """ "Light touch with a wisp of cotton on the left L2": the test is named, with the place of a result."""
        placed = not levels.isdisjoint(range(start, end))
        return placed and any(start <= item.start < end and manoeuvre in item.ids for item in names)

    def _perianal(self, found: list[Item]) -> list[Item]:
        """The tests of the sphincter."""
        tests = (item for item in found if item.kind is ItemKind.SUBJECT and not item.section_only)
        known = (item for item in tests if item.ids[0] in self._manoeuvres)
        return [item for item in known if self._manoeuvres[item.ids[0]].section == "perianal"]

    @staticmethod
    def _named_commands(clauses: list[Clause], found: list[Item], commands: list[Item]) -> list[Item]:
        """ "Finger nose, touch my finger, then your nose": an instruction in words of its own, of the test it names."""
        named: list[Item] = []
        in_order = sorted(found, key=lambda item: item.start)
        starts = [item.start for item in in_order]
        for clause in clauses:
            if clause.kind is not Kind.INSTRUCTION:
                continue
            within = in_order[bisect_left(starts, clause.start) : bisect_left(starts, clause.end)]
            tests = [item for item in within if item.kind is ItemKind.SUBJECT and not item.section_only]
            if (
                len(tests) == 1
                and clause.end - tests[0].end > 2
                and not any(item.kind is ItemKind.VALUE for item in within)
                and not any(command.start < clause.end and command.end > clause.start for command in commands)
            ):
                named.append(Item(ItemKind.COMMAND, tests[0].end, clause.end, tests[0].ids[:1]))
        return named

    def _named_alone(self, found: list[Item], commands: list[Item]) -> list[Item]:
        """ "Heel to shin, left leg. Grand.", "left heel on the right knee, lovely", "tiptoes, good": a test praised."""
        said = sorted([*found, *commands], key=lambda item: item.start)
        said = [item for item in said if item.kind is not ItemKind.SIDE and not item.is_place]
        return [
            Item(ItemKind.COMMAND, named.end, named.end, named.ids[:1])
            for named, answer in itertools.pairwise(said)
            if named.kind is ItemKind.SUBJECT
            and named.ids[0] in self._manoeuvres
            and (self._manoeuvres[named.ids[0]].scale == "coordination" or named.ids[0] in _WALKS)
            and answer.reaction
            and not (named.match is not None and named.match.mended)
        ]

    def _shortened(self, words: list[str], found: list[Item], commands: list[Item]) -> list[Item]:
        """ "Foot down. Good. Big toe. Good.", "heel back. Good. Toes up. Good.": what moves, or what sounds like the
        result of another test, is enough after another order to the same limb.
        """
        shortened: list[Item] = []
        asked: Item | None = None  # the last order, if nothing was named since
        said = sorted([*found, *commands], key=lambda item: item.start)
        for item, answer in itertools.pairwise(said):
            if item.kind is ItemKind.COMMAND:
                asked = item
            elif (
                asked is None
                or item.start < asked.end
                or item.reaction
                or item.grade is not None
                or item.kind not in (ItemKind.SUBJECT, ItemKind.HEADING, ItemKind.VALUE)
            ):
                continue
            elif answer.start == item.end and (answer.reaction or answer.grade is not None):
                ordered = self._commands.find(words[item.start : item.end])
                ordered = item.ids[0] if item.section_only and answer.reaction else ordered
                if item.kind is ItemKind.VALUE and item.values.keys() != {"plantar"}:
                    continue
                if ordered in self._manoeuvres and self._goes_on(ordered, asked.ids[0]):
                    item.weak = True
                    asked = Item(ItemKind.COMMAND, item.start, item.end, (ordered,))
                    shortened.append(asked)
            elif item.kind is not ItemKind.VALUE:
                asked = None
        return shortened

    def _goes_on(self, manoeuvre: str, asked: str) -> bool:
        """Whether both are tests of the power of the same limb."""
        one, other = self._manoeuvres[manoeuvre], self._manoeuvres[asked]
        return one.section == "power" and (one.section, one.region) == (other.section, other.region)

    def _past_grade(self, start: int, end: int, sides: dict[int, Item], results: dict[int, Item]) -> int:
        """Where the instruction begins in "four plus foot up", "a flicker, turning it in"."""
        graded = start in results and (results[start].grade is not None or results[start].values.keys() == {"mrc"})
        return self._past_result(start, end, sides, results) if graded else start

    @staticmethod
    def _past_name(name: Item, words: list[str], sides: dict[int, Item]) -> tuple[int, ...]:
        """Where an instruction may begin behind "heel shin on the right": behind the name, or behind its side."""
        at = name.end + (words[name.end : name.end + 1] in (["on"], ["in"]))
        at += at > name.end and words[at : at + 1] == ["the"]
        behind = (sides[at].end,) if at in sides else ()
        return behind if at > name.end else (name.end, *behind)

    @staticmethod
    def _past_result(start: int, end: int, sides: dict[int, Item], results: dict[int, Item]) -> int:
        """Where the instruction begins in "five on the left fingers straight", "no wasting in either leg go limp"."""
        result = results.get(start)
        if result is None:
            return start
        stated = result.kind is ItemKind.VALUE
        near = [sides[at] for at in range(result.end, result.end + 3) if at in sides]
        after = [side.end for side in near if stated or side.linked]
        begun = [result.end, *after] if stated else after
        return min(max(begun, default=start), end - 1)

    def _regions(self, found: list[Item]) -> list[tuple[int, str]]:
        """(token, limb region) wherever a limb or one of its manoeuvres is named, in order."""
        named: list[tuple[int, str]] = []
        for item in found:
            if item.kind is ItemKind.REGION and item.ids[0] != "all":
                named.append((item.start, f"{item.ids[0]}_limb"))
            elif item.kind is ItemKind.SIDE and item.sites:
                named.append((item.start, item.sites[0]))
            elif item.kind is ItemKind.SUBJECT and item.ids[0] in self._manoeuvres:  # or a joint: "the right knee"
                region = self._manoeuvres[item.ids[0]].region
                if region in ("lower_limb", "upper_limb"):
                    named.append((item.start, region))
        return sorted(named)


_NOT_SO = tuple(
    [denial, degree]
    for denial in ("not", "isn't", "wasn't", "aren't", "weren't")
    for degree in ("so", "very", "too", "that", "all", "as", "really", "quite", "particularly")
)


def reactions(words: list[str], tokens: list[Token], cues: Cues, kind_at: list[Kind], found: list[Item]) -> list[Item]:
    values = {(item.start): item for item in found if item.kind is ItemKind.VALUE}
    taken = {at for item in found for at in range(item.start, item.end)}
    sides = {item.end for item in found if item.kind is ItemKind.SIDE}
    out = []
    for start, end in cues.get("reaction", ()):
        if kind_at[start] not in (Kind.RESULT, Kind.INSTRUCTION):
            continue
        if words[max(0, start - 2) : start] in _NOT_SO:
            continue  # "heel walking not so good"
        if start in sides and end in values and tokens[end].boundary < SENTENCE_END:
            continue  # "and on the left, lovely, normal"
        if not BE.isdisjoint(words[start - 1 : start]) and tokens[start].boundary < 0.5:
            continue  # "power is fine": a result
        within = next((values[at] for at in range(start, end) if at in values), None)  # the "good" of "very good"
        if within is not None and within.end <= end:
            within.reaction, within.values = True, {}
        elif not any(at in taken for at in range(start, end)):
            out.append(Item(ItemKind.VALUE, start, end, reaction=True))
    return out


def well_then(found: list[Item], tokens: list[Token]) -> list[Item]:
    """ "Knee up. Right. Kick out. Right. Foot up. Three": behind one order and before another, time and again, "right"
    praises. Said once, or where another side is said between, it may be the side.
    """
    found = sorted(found, key=lambda item: (item.start, item.end))
    run: list[int] = []
    for at, item in enumerate(found):
        if item.kind is not ItemKind.SIDE:
            continue
        if not _is_right_between_orders(found[at - 1 : at + 2], tokens):
            run = []
            continue
        run.append(at)
        if len(run) > 1:
            for praise in run:
                found[praise] = Item(ItemKind.VALUE, found[praise].start, found[praise].end, reaction=True)
            run = run[-1:]
    return found


def _is_right_between_orders(items: list[Item], tokens: list[Token]) -> bool:
    if len(items) < 3:
        return False
    before, item, after = items
    return (
        before.kind is ItemKind.COMMAND
        and after.kind in (ItemKind.COMMAND, ItemKind.SUBJECT)
        and before.ids != after.ids
        and [token.text for token in tokens[item.start : item.end]] == ["right"]
        and tokens[item.start].boundary >= CLAUSE_MARK
        and tokens[after.start].boundary >= CLAUSE_MARK
    )


def without_praise_of_results(found: list[Item], words: list[str], tokens: list[Token]) -> list[Item]:
    """ "Heel down the shin, fine, that's normal", "fingers straight, good, full power there": it is of the test."""
    values = {item.start: item for item in found if item.kind is ItemKind.VALUE}

    def tells(praise: Item) -> bool:
        at = praise.end + (words[praise.end : praise.end + 1] in (*_POINTING, ["so"]))
        value = values.get(at)
        if not praise.reaction or praise.values or value is None or value.reaction:
            return False
        there = words[value.end : value.end + 1] in _THERE and "mrc" in value.values
        pointed = at > praise.end and not is_asked_for(praise, found)
        return (pointed or there) and in_one_sentence(tokens, praise.end, at + 1)

    return [item for item in found if not tells(item)]


_NOT_PRAISED = frozenset("reflex plantar presence clonus tone pendular sensation nerve_tension anal_tone".split())
"""Scales of tests in which the patient does nothing that may be praised."""


def without_thanks(found: list[Item], scales: dict[str, str]) -> list[Item]:
    """ "Anal tone, my chaperone is here, thank you. Anal tone is reduced": no result of the test, and no end of it."""
    kept: list[Item] = []
    for item in sorted(found, key=lambda item: (item.start, item.end)):
        if item.reaction and not item.values:
            named = next((other for other in reversed(kept) if other.kind not in WHERE), None)
            tested = () if named is None or named.section_only or named.kind is not ItemKind.SUBJECT else named.ids
            if tested and kept[-1].end < item.start and all(scales.get(one) in _NOT_PRAISED for one in tested):
                continue
        kept.append(item)
    return kept


def without_toes_moved(found: list[Item], words: list[str]) -> list[Item]:
    """ "Knee up, five. Toes up, three": where a grade follows, and no plantar response was named, the patient moves."""
    kept: list[Item] = []
    tested: Item | None = None
    in_order = sorted(found, key=lambda item: item.start)
    for item, following in itertools.zip_longest(in_order, in_order[1:]):
        if item.kind is ItemKind.SUBJECT:
            tested = item
        graded = following is not None and following.grade is not None and following.start - item.end <= _TO_ITS_GRADE
        moved = item.kind is ItemKind.VALUE and words[item.start : item.end] in _TOES_MOVED
        if not (moved and graded and (tested is None or "plantar_response" not in tested.ids)):
            kept.append(item)
    return kept


def _begins_an_order(clause: Clause, words: list[str], tokens: list[Token]) -> bool:
    """ "Arms up | don't let me push them down": where a part is to go, and in the same sentence what to do there."""
    short = clause.end - clause.start <= _SHORTLY
    return short and words[clause.end - 1] in WHERETO and tokens[clause.end].boundary < SENTENCE_END


def _cut(start: int, end: int, stops: set[int]) -> list[tuple[int, int]]:
    edges = [start] + [at for at in range(start + 1, end) if at in stops] + [end]
    return [(a, b) for a, b in itertools.pairwise(edges) if b > a]


def _commanding(words: list[str]) -> bool:
    text = f" {' '.join(words)} "
    return any(word in IMPERATIVES for word in words[:4]) or any(
        f" {p} " in text for p in ("for me", "your", "against my", "don't let me", "do not let me", "my hand")
    )


def affirming(found: list[Item], tokens: list[Token], cues: Cues) -> list[Item]:
    """ "Knee up. Strong.": words of full power that are a clause of their own. They end what was asked for."""
    alone = {
        (start, end) for start, end in cues.get("full", ()) if tokens[start].boundary >= COMMA and closes(tokens, end)
    }
    stated = {item.end for item in found if item.kind is ItemKind.VALUE and not item.weak}
    affirming = [
        item
        for item in found
        if item.kind is ItemKind.VALUE and item.weak and (item.start, item.end) in alone and item.start not in stated
    ]
    for item in affirming:
        item.weak = False
    return affirming


def is_asked_for(item: Item, found: list[Item]) -> bool:
    """The last thing named before the value is an instruction, not a test."""
    named = [
        other
        for other in found
        if other.start < item.start
        and (other.kind is ItemKind.COMMAND or (other.kind is ItemKind.SUBJECT and not other.section_only))
    ]
    return bool(named) and max(named, key=lambda other: other.start).kind is ItemKind.COMMAND


def _region_before(
    regions: list[tuple[int, str]], commands: list[Item], manoeuvres: dict[str, Manoeuvre], start: int
) -> str | None:
    """The limb region that was named, or whose manoeuvre was asked for, last before a token."""
    at = bisect_left(regions, (start, ""))
    place, region = regions[at - 1] if at else (-1, None)
    if commands and commands[-1].start > place:
        asked = manoeuvres[commands[-1].ids[0]].region
        region = asked if asked in ("lower_limb", "upper_limb") else region
    return region


def _is_told_before(named: Item, ending: dict[int, Item], tokens: list[Token]) -> bool:
    """ "Five for the hip flexors, knee straight, four": the name has its result already."""
    at = named.start - 1
    at -= tokens[at].text in ("the", "his", "her")
    result = ending.get(at)
    return tokens[at].text == "for" and result is not None and result.kind is ItemKind.VALUE


def _may_command(words: list[str], piece: tuple[int, int], named: set[int]) -> bool:
    """A stretch without a copula or a named result that reads like a shortened instruction ("big toe up")."""
    said = words[piece[0] : piece[1]]
    first = next((k for k, word in enumerate(said) if word not in ("and", "so", "now", "then", "but")), 0)
    if said[first : first + 1] in (["i"], ["i'm"]) and not _EXAMINING.isdisjoint(said[first + 1 : first + 2]):
        return False  # "I'm lifting under the knee": what the examiner does
    if _commanding(_as_order(said)):
        return True
    if said[-1:] in _COPULAS and said[-2:-1] and said[-2] in WHERETO:
        said = said[:-1]  # "big toe up is four"
    if len(said) > 16 or any(word in ("is", "are", "was", "were", "'s", "went", "goes", "no") for word in said):
        return False
    return not any(at in named for at in range(*piece))


def _as_order(words: list[str]) -> list[str]:
    """ "As well, and turning it in, five": what was asked for, as the patient was asked."""
    first = next((k for k, word in enumerate(words) if word not in _BEFORE_THE_ORDER), 0)
    stem = words[first].removesuffix("ing") if words else ""
    verbs = IMPERATIVES.intersection((stem, f"{stem}e", stem[:-1]))
    return [*words[:first], *verbs, *words[first + 1 :]] if len(verbs) == 1 and words[first] != stem else words


def _with_part(words: list[str], last: str) -> list[str] | None:
    """ "Push your thigh up. Now press it down", "foot up. Good. Down", "sole in. Good. And out": the part moved last,
    named again.
    """
    if words[-1] in _MOVED_BACK.get(last, ()) and _LITTLE.issuperset(words[:-1]):
        return ["foot", words[-1]]
    if last == "hip_flexion" and words[-3:] == ["into", "the", "bed"] and _LITTLE.issuperset(words[:-3]):
        return ["push", "thigh", *words[-3:]]
    part = _MOVED.get(last)
    at = next((k for k, word in enumerate(words) if word in ("it", "them")), None)
    return None if part is None or at is None else [*words[:at], part, *words[at + 1 :]]


_MOVED_BACK = {
    "ankle_dorsiflexion": ("down",),
    "ankle_inversion": ("out", "outwards"),
    "ankle_eversion": ("in", "inwards"),
}
"""The words in which the foot is asked for the other movement."""
_LITTLE = frozenset("and now then turned turn push pushed press it back".split())
_MOVED = {"hip_flexion": "thigh", "hip_adduction": "knees", "hip_abduction": "knees"}


def tried_again(items: list[Item], words: list[str]) -> list[Item]:
    """ "Squeeze again, yes, three minus": the test that was just graded, done once more."""
    grades = [item.end for item in items if item.kind is ItemKind.VALUE and item.grade is not None]
    praised = {item.start for item in items if item.reaction}  # "fingers straight again, good": another test
    return [
        item
        for item in items
        if not (
            item.kind is ItemKind.COMMAND
            and "again" in words[item.start : item.end]
            and (item.end not in praised or words[item.start] in IMPERATIVES)
            and any(0 <= item.start - end <= 3 for end in grades)
        )
    ]


_BEFORE_THE_ORDER = frozenset("and then now as well too".split())
_POINTING = (["that's"], ["they're"], ["it's"])
_THERE = (["there"], ["here"])
_THAT_ONE = (["that", "one"], ["this", "one"])


def the_other_one(items: list[Item], words: list[str]) -> list[Item]:
    """ "Lift this leg, good, left one, good": the other leg; "call that one reduced": the last result; not a grade."""
    kept: list[Item] = []
    findings = {item.start for item in items if item.kind is ItemKind.VALUE and item.grade is None}
    for item in sorted(items, key=lambda item: item.start):
        if words[max(0, item.start - 1) : item.end] in _THAT_ONE and item.end in findings:
            continue
        if (
            item.kind is ItemKind.VALUE
            and item.weak
            and words[item.start : item.end] == ["one"]
            and any(k.kind is ItemKind.SIDE and k.end == item.start for k in kept[-2:])
        ):
            asked = next((k.kind for k in reversed(kept) if k.kind in (ItemKind.COMMAND, ItemKind.SUBJECT)), None)
            if asked is ItemKind.COMMAND:
                continue
        kept.append(item)
    return kept
