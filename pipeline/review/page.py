"""What the examination's page shows, gathered from the store for the template."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field

from pipeline.record.errors import StoreError
from pipeline.record.model import Unplaced
from pipeline.record.store import Store
from pipeline.record.trail import TrailEntry, describe
from pipeline.record.views import Difference, ExamView, Item, differences
from pipeline.review import body, risk, sound, tables, wording, words
from pipeline.review.vocabulary import Vocabulary

GROUP, SIGN, ADD = "group", "sign", "add"


@dataclass(frozen=True)
class Heard:
    """A clip with the path of its waveform."""

    clip: sound.Clip
    outline: str


@dataclass(frozen=True)
class Choice:
    """An alternative with the key that takes it."""

    number: int
    text: str
    chance: str


@dataclass(frozen=True)
class Detail:
    """The selected item, opened.

    `was` says how the engine left it, once a person decided; `together` are the open rows of the same words, this one
    among them, and `after` is what to open when all of them were confirmed.
    """

    item: Item
    title: str
    reasons: list[str]
    heard: list[Heard] = field(default_factory=list)
    said: list[tuple[str, str]] = field(default_factory=list)
    choices: list[Choice] = field(default_factory=list)
    was: str = ""
    together: list[Item] = field(default_factory=list)
    after: str = ""


@dataclass(frozen=True)
class Done:
    """The change just made: what it was, the entry that an undo takes back (None after an undo), its first item."""

    text: str
    entry: int | None
    item: str


@dataclass(frozen=True)
class Page:
    """All that the template needs. `selected` is an item's id, `group`, `sign`, `add` or empty."""

    exam: ExamView
    queue: list[Item]
    group: list[Item]
    decided: list[Item]
    selected: str
    following: str
    detail: Detail | None
    sections: list[tables.Section]
    chart: body.Chart
    talk: list[words.TalkBlock]
    differences: list[Difference]
    done: Done | None

    @property
    def open_count(self) -> int:
        return len(self.queue) + len(self.group)

    @property
    def to_decide(self) -> int:
        """How many items there were or are to decide."""
        return self.open_count + len(self.decided)


def gather(store: Store, vocabulary: Vocabulary, exam_id: str, wanted: str = "", done: int = 0) -> Page:
    """The page with `wanted` selected where that exists, else with the first open item. Raises `NoSuchExamination`."""
    exam = store.exam(exam_id)
    queue, group = risk.ordered(exam), risk.group(exam)
    selected = _selected(exam, queue, group, wanted)
    known = {item.id: item for item in exam.items}
    live = [item.row for item in exam.rows if item.state.live]
    transcript = store.transcript(exam_id)
    return Page(
        exam=exam,
        queue=queue,
        group=group,
        decided=[item for item in exam.items if item.decision is not None and not item.open],
        selected=selected,
        following=_following(queue, group, selected),
        detail=_detail(store, exam, known[selected], queue, group) if selected in known else None,
        sections=tables.side_by_side(exam.rows, vocabulary),
        chart=body.chart(live, vocabulary),
        talk=words.linked(transcript, exam.rows, selected) if transcript else [],
        differences=differences(exam),
        done=_done(store, exam, done),
    )


def subject(item: Item) -> str:
    """What an item is about, in a few words."""
    if item.kind == "row":
        return wording.subject(item.row)
    return "Speech without words" if item.kind == "unheard" else "Words without a row"


def line(item: Item) -> str:
    """An item in one line, for messages."""
    if item.kind == "row":
        return wording.whole(item.row)
    return f"{subject(item)} at {wording.clock(item.gap.start)}"


def news(entries: list[TrailEntry], reviewer: str) -> str:
    """What others changed, in one sentence; empty when nobody did."""
    others = [entry for entry in entries if entry.who != reviewer]
    if not others:
        return ""
    count = sum(len(entry.content.changes) for entry in others)
    names = ", ".join(dict.fromkeys(entry.who for entry in others))
    if others[-1].action == "sign":
        return f"{names} signed the record."
    return f"{names} changed {count} {'item' if count == 1 else 'items'} of this record."


def _selected(exam: ExamView, queue: list[Item], group: list[Item], wanted: str) -> str:
    if exam.signature is None and (wanted in (SIGN, ADD) or (wanted == GROUP and group)):
        return wanted
    if any(item.id == wanted for item in exam.items):
        return wanted
    if exam.signature is not None:
        return ""
    return queue[0].id if queue else GROUP if group else SIGN


def _following(queue: list[Item], group: list[Item], selected: str, together: Collection[str] = ()) -> str:
    """What to open when the selected item, and those `together` with it, are decided: down the list, else the first."""
    ids = [item.id for item in queue]
    at = ids.index(selected) if selected in ids else -1
    rest = [one for one in ids[at + 1 :] + ids[: max(at, 0)] if one not in together]
    if rest:
        return rest[0]
    return GROUP if group and selected != GROUP else SIGN


def _detail(store: Store, exam: ExamView, item: Item, queue: list[Item], group: list[Item]) -> Detail:
    if item.kind != "row":
        return _gap_detail(store, exam, item)
    row = item.row
    flags = row.flags or (item.original.row.flags if item.original else [])
    choices = [
        Choice(number, wording.alternative(one), wording.percent(one.probability))
        for number, one in enumerate(row.alternatives, 1)
    ]
    was = wording.whole(item.original.row) if item.original and item.decision else ""
    together = risk.of_same_words(exam, item)
    spans = [(span.start, span.end, span.heard, span.mended) for span in row.evidence]
    return Detail(
        item=item,
        title=wording.subject(row),
        reasons=[wording.reason(flag) for flag in wording.by_weight(flags)],
        heard=_heard(store, exam, spans),
        said=list(dict.fromkeys((span.heard, span.mended) for span in row.evidence)),
        choices=choices if item.state.live else [],
        was=was,
        together=together,
        after=_following(queue, group, item.id, {one.id for one in together}),
    )


def _gap_detail(store: Store, exam: ExamView, item: Item) -> Detail:
    gap = item.gap
    text = gap.text if isinstance(gap, Unplaced) else ""
    reason = gap.reason[:1].upper() + gap.reason[1:]
    return Detail(
        item=item,
        title=subject(item),
        reasons=[reason if reason.endswith(".") else f"{reason}."],
        heard=_heard(store, exam, [(gap.start, gap.end, text, "")]),
        said=[(text, "")] if text else [],
    )


def _heard(store: Store, exam: ExamView, spans: list[tuple[float, float, str, str]]) -> list[Heard]:
    if exam.sound is None or exam.sound.deleted:
        return []
    found = []
    for start, end, heard, mended in dict.fromkeys(spans):
        clip = sound.clip(start, end, exam.sound.duration, heard, mended)
        if clip is not None:
            try:
                peaks = store.peaks(exam.id, clip.start, clip.end, sound.BARS)
            except StoreError:
                return []  # deleted at this moment, or gone from the folder: the words remain
            found.append(Heard(clip, sound.outline(peaks)))
    return found


def _done(store: Store, exam: ExamView, number: int) -> Done | None:
    """Told from the trail, so that a reload shows it again and nobody can write it into an address."""
    if not 1 < number <= exam.revision:
        return None
    entry = store.entries(exam.id, number - 1)[0]
    label = wording.DECISIONS.get(entry.action, entry.action)
    changes = entry.content.changes
    undoable = exam.signature is None and entry.action != "undo"
    if not changes:
        return None
    if len(changes) > 1:
        return Done(f"{label}: {len(changes)} items.", number if undoable else None, GROUP)
    try:
        about = line(exam.item(changes[0].item))
    except KeyError:
        about = describe(changes[0])
    return Done(f"{label}: {about}.", number if undoable else None, changes[0].item)
