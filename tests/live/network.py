"""A server of the pages in this process, behind a line that can be cut."""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path

import uvicorn

from pipeline.record.store import Store
from pipeline.review.access import Doorkeeper
from pipeline.review.app import create_app

ADDRESS = "127.0.0.1"


@dataclass
class Line:
    """Carries connections to `target`; while cut, those that there are end and no others come about."""

    target: int
    listening: socket.socket = field(default_factory=lambda: socket.create_server((ADDRESS, 0)))
    whole: bool = True
    _ends: list[socket.socket] = field(default_factory=list)

    @property
    def port(self) -> int:
        return int(self.listening.getsockname()[1])

    def carry(self) -> None:
        with suppress(OSError):
            while True:
                near, _ = self.listening.accept()
                if not self.whole:
                    near.close()
                    continue
                far = socket.create_connection((ADDRESS, self.target))
                self._ends += [near, far]
                for one, other in ((near, far), (far, near)):
                    threading.Thread(target=_pump, args=(one, other), daemon=True).start()

    def cut(self) -> None:
        self.whole = False
        for end in self._ends:
            _shut(end)
        self._ends = []

    def mend(self) -> None:
        self.whole = True


def _pump(source: socket.socket, target: socket.socket) -> None:
    with suppress(OSError):
        while data := source.recv(1 << 16):
            target.sendall(data)
    _shut(source)
    _shut(target)


def _shut(end: socket.socket) -> None:
    with suppress(OSError):
        end.shutdown(socket.SHUT_RDWR)
    end.close()


@contextmanager
def served(store: Store, folder: Path) -> Iterator[tuple[Line, Doorkeeper]]:
    """The pages of `store` behind a line."""
    listening = socket.create_server((ADDRESS, 0))
    line = Line(listening.getsockname()[1])
    doorkeeper = Doorkeeper(folder / "secret")
    app = create_app(store, doorkeeper, frozenset({f"{ADDRESS}:{line.port}"}))
    server = uvicorn.Server(uvicorn.Config(app, log_level="error", lifespan="off"))
    serving = threading.Thread(target=server.run, args=([listening],), daemon=True)
    serving.start()
    threading.Thread(target=line.carry, daemon=True).start()
    while not server.started:
        time.sleep(0.02)
    try:
        yield line, doorkeeper
    finally:
        line.cut()
        server.should_exit = True
        serving.join()
        line.listening.close()
