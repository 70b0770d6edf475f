"""The board in a terminal: few large lines, colour says nothing; without a terminal, a line an event."""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from rich.console import Console, Group, RenderableType
from rich.live import Live
from rich.rule import Rule
from rich.table import Table
from rich.text import Text

from pipeline.live.board import Board, Part, clock

STATES = {
    "waiting": "WAITING: say \"computer, start dictation\"",
    "listening": "LISTENING",
    "paused": "PAUSED: nothing is taken down or recorded",
    "finished": "FINISHED",
}  # fmt: skip
_A_SECOND = 8
_SHOWN = 4


class Screen:
    """Shows boards on a terminal, at most some times a second; the sound is never kept waiting."""

    def __init__(self, console: Console) -> None:
        self._board = Board()
        self._live = Live(
            get_renderable=lambda: render(self._board, console.height),
            console=console, screen=True, refresh_per_second=_A_SECOND,
        )  # fmt: skip

    def show(self, board: Board) -> None:
        """The board to show from now on."""
        self._board = board

    @contextmanager
    def open(self) -> Iterator[None]:
        """Takes the terminal while the dictation goes on."""
        with self._live:
            yield


class Lines:
    """Prints what changes, a line at a time."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._shown = Board(state="")

    def show(self, board: Board) -> None:
        """Prints what is new on the board."""
        with self._lock:
            before, self._shown = self._shown, board
            stamp = clock(board.seconds)
            if board.state != before.state:
                self._print(f"{stamp}  {STATES[board.state]}")
            if board.message and board.message != before.message:
                self._print(f"{stamp}  {board.message}")
            if board.question and board.question != before.question:
                self._print(f"{stamp}  {board.question}")
            if board.taken != before.taken:
                for text in board.taken:
                    doubt = next((one for one in board.unsure if one.startswith(f"{text} (")), text)
                    self._print(f"{stamp}  {doubt.replace(text, f'{text}, unsure', 1) if doubt != text else text}")

    @contextmanager
    def open(self) -> Iterator[None]:
        """Nothing to prepare."""
        yield

    def _print(self, line: str) -> None:
        print(line, flush=True)


def screen() -> Screen | Lines:
    """What suits the output."""
    console = Console(highlight=False)
    return Screen(console) if sys.stdout.isatty() and not console.is_dumb_terminal else Lines()


def render(board: Board, height: int = 40) -> RenderableType:
    """The board as text of at most `height` lines; what is new comes first, because a terminal does not scroll here."""
    head = Table.grid(expand=True)
    head.add_column()
    head.add_column(justify="right")
    head.add_row(Text(STATES.get(board.state, ""), style="bold reverse"), Text(f"{clock(board.seconds)}", style="bold"))
    last = Text("\n".join(board.taken[:_SHOWN]) or "nothing yet", style="bold")
    if len(board.taken) > _SHOWN:
        last.append(f"\nand {len(board.taken) - _SHOWN} more")
    blocks: list[RenderableType] = [
        head,
        Text(f"{board.caution} {board.consent}", style="dim"),
        Rule("JUST TAKEN DOWN"),
        last,
        Text(f"heard: {board.partial or board.heard}", style="italic", overflow="ellipsis", no_wrap=True),
    ]
    if board.question:
        blocks.append(Text(f"QUESTION: {board.question}", style="bold"))
    if board.message:
        blocks.append(Text(f"-> {board.message}", style="bold"))
    blocks += [Rule(f"UNSURE: {len(board.unsure)}, and {len(board.to_clear)} to clear"), *_listed(board.unsure)]
    blocks += [Rule(f"NOT MENTIONED YET ({board.plan}): {len(board.missing)}"), Text(", ".join(board.missing) or "-")]
    used = 13 + len(board.taken[:_SHOWN]) + min(len(board.unsure), _SHOWN) + len(", ".join(board.missing)) // 70
    blocks += [Rule(f"EXAMINATION: {board.rows} entries"), _table(board.parts, max(6, height - used))]
    return Group(*blocks)


def _listed(items: list[str]) -> list[Text]:
    more = [f"and {len(items) - _SHOWN} more"] if len(items) > _SHOWN else []
    return [Text(f"? {item}", overflow="ellipsis", no_wrap=True) for item in items[:_SHOWN]] + [
        Text(line) for line in more
    ]


def _table(parts: list[Part], room: int) -> Table:
    """The last lines that there is room for, around what was just taken down."""
    rows: list[tuple[Any, ...]] = []
    newest = 0
    for part in parts:
        rows.append((Text(part.title, style="bold"), Text("RIGHT", style="bold"), Text("LEFT", style="bold")))
        for line in part.lines:
            style = "bold" if line.new else ""
            mark = "> " if line.new else "  "
            cells = (line.midline, "") if line.midline else (line.right or "·", line.left or "·")
            rows.append((Text(mark + line.name, style=style), *(Text(cell, style=style) for cell in cells)))
            newest = len(rows) if line.new else newest
    first = max(0, min((newest or len(rows)) - room + 2, len(rows) - room))
    table = Table.grid(padding=(0, 3))
    for row in rows[first : first + room]:
        table.add_row(*row)
    return table
