"""Dictation in the browser: pages, and the socket that sound comes in by and the board goes out by.

The browser keeps each block of sound until the server says that it is on the disk, and sends it again after a break.
A block is the number of its first sample (64 bits), whether the program was speaking meanwhile (8 bits), and samples.
"""

from __future__ import annotations

import asyncio
import json
import struct
import tempfile
import threading
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, get_args

from fastapi import APIRouter, BackgroundTasks, FastAPI, Form, HTTPException, Request, WebSocket, WebSocketDisconnect
from fastapi import Path as PathPart
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from fastapi.staticfiles import StaticFiles
from fastapi.templating import Jinja2Templates
from pydantic import StringConstraints
from starlette.concurrency import run_in_threadpool

from pipeline.lexicon import load
from pipeline.lexicon.live import ControlId, controls, plans
from pipeline.live.board import CAUTION, CONSENT, Board
from pipeline.live.errors import LiveError
from pipeline.record.errors import StoreError
from pipeline.record.learned import agreed
from pipeline.record.store import Store

if TYPE_CHECKING:
    from pipeline.live.dictation import Dictation
    from pipeline.live.hearing import Hears
    from pipeline.live.sessions import Session

HERE = Path(__file__).parent
HEAD = struct.Struct("<QB")
LARGEST = 64 * 1024
"""Bytes of a block; the page's own are far smaller."""
SHOWN = 0.1
"""Seconds between two boards that are sent."""

SessionId = Annotated[str, PathPart(pattern="^[0-9]{8}-[0-9]{6}-[0-9a-f]{4}$")]
Text = Annotated[str, StringConstraints(strip_whitespace=True, max_length=120, pattern=r"^[^\x00-\x1f\x7f]*$")]


class Desk:
    """The one dictation that goes on in this server, and what it takes to hear it.

    All methods but `claim` may take seconds and raise `LiveError` or `StoreError`.
    """

    def __init__(self, store: Store, hearing: Callable[[], Hears] | None = None) -> None:
        self._store = store
        self._make_hearing = hearing
        self._hearing: Hears | None = None
        self._lock = threading.Lock()
        self._open: tuple[Session, Dictation] | None = None
        self._kept: dict[str, str] = {}
        self._holder = 0
        self._connected = False
        self.spoken: list[str] = []
        self.changed: Callable[[Board], None] = lambda board: None

    def claim(self) -> int:
        """Makes the caller the one that is listened to; whoever was so before finds out by `holds`."""
        self._holder += 1
        return self._holder

    def holds(self, claim: int) -> bool:
        return claim == self._holder

    def kept(self, session_id: str) -> str | None:
        """The examination that the dictation became, if it was finished here."""
        return self._kept.get(session_id)

    def open(self, session_id: str) -> Dictation:
        """The dictation, going on. Raises `LiveError` where there is none of that name."""
        from pipeline.engine import Engine
        from pipeline.live import sessions
        from pipeline.live.dictation import Dictation
        from pipeline.live.partial import partial
        from pipeline.live.voice import synthesiser

        with self._lock:
            if self._open is not None:
                if self._open[0].id == session_id and self._open[1].failure is None:
                    return self._open[1]
                self._open[1].close()
                self._open = None
            session = sessions.reopen(session_id)
            if session.settings.read_back:
                synthesiser()
            lexicon = load()
            speaker = session.settings.speaker
            dictation = Dictation(
                session.folder,
                session.settings,
                self._listeners(),
                Engine(lexicon, agreed(self._store.learned(speaker)) if speaker else {}),
                partial=partial(lexicon),
                changed=lambda board: self.changed(board),
                say=self.spoken.append,
            )
            self._open = (session, dictation)
            return dictation

    def prepare(self) -> None:
        """Loads the recognisers, so that they are there when the first word is spoken."""
        with self._lock:
            self._listeners()

    def _listeners(self) -> Hears:
        if self._hearing is None:
            from pipeline.live.hearing import Hearing

            self._hearing = self._make_hearing() if self._make_hearing else Hearing(load())
        return self._hearing

    def finish(self, who: str) -> str:
        """Ends the dictation that is open and keeps it; returns the examination's id."""
        from pipeline.live import sessions

        with self._lock:
            if self._open is None:
                raise LiveError("no dictation is open: choose one from the list")
            session, dictation = self._open
            exam_id = sessions.keep(session, dictation, dictation.finish(), self._store, who or None)
            self._kept[session.id] = exam_id
            self._open = None
            return exam_id


def mount(app: FastAPI, store: Store, hearing: Callable[[], Hears] | None = None) -> None:
    """Adds the pages under `/dictate`. The application lets nobody in whom it does not know, sockets included."""
    desk = Desk(store, hearing)
    app.mount("/dictate/static", StaticFiles(directory=HERE / "static"), name="dictate-static")
    app.include_router(_router(desk))


def _router(desk: Desk) -> APIRouter:
    router = APIRouter(prefix="/dictate")
    templates = Jinja2Templates(HERE / "templates")
    templates.env.globals.update(caution=CAUTION, consent=CONSENT, controls=controls(), plans=plans())

    @router.get("", response_class=HTMLResponse)
    def begin_or_go_on(request: Request) -> Response:
        from pipeline.live import sessions

        _reviewer(request)
        return templates.TemplateResponse(request, "begin.html", {"unfinished": sessions.unfinished()})

    @router.post("", response_class=RedirectResponse, status_code=303)
    def begin(
        request: Request,
        background: BackgroundTasks,
        plan: Annotated[str, Form()],
        title: Annotated[Text, Form()] = "",
        speaker: Annotated[Text, Form()] = "",
        wait: Annotated[bool, Form()] = False,
        read_back: Annotated[bool, Form()] = False,
    ) -> Response:
        from pipeline.live import sessions
        from pipeline.live.dictation import Settings

        _reviewer(request)
        if plan not in plans():
            raise HTTPException(422, "There is no such plan. Go back and choose one.")
        settings = Settings(
            title=title or f"Dictation {datetime.now():%Y-%m-%d %H:%M}",
            plan=plan,
            speaker=speaker or None,
            wait=wait,
            read_back=read_back,
        )
        try:
            session = sessions.begin(settings)
        except LiveError as error:
            raise HTTPException(507, str(error)) from error
        background.add_task(desk.prepare)
        return RedirectResponse(f"/dictate/{session.id}", 303)

    @router.get("/{session_id}", response_class=HTMLResponse)
    def board(request: Request, session_id: SessionId) -> Response:
        _reviewer(request)
        return templates.TemplateResponse(request, "board.html", {"session_id": session_id})

    @router.get("/{session_id}/said/{number}.wav", response_class=Response)
    def said(session_id: SessionId, number: int) -> Response:
        from pipeline.live.voice import speak_to

        if not 0 <= number < len(desk.spoken):
            raise HTTPException(404, "Nothing was said under this number.")
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "said.wav"
            speak_to(path, desk.spoken[number])
            return Response(path.read_bytes(), media_type="audio/wav")

    @router.websocket("/{session_id}/socket")
    async def socket(websocket: WebSocket, session_id: SessionId) -> None:
        await websocket.accept()
        await _Line(desk, websocket, session_id).serve()

    return router


class _Line:
    """One connection of a page."""

    def __init__(self, desk: Desk, websocket: WebSocket, session_id: str) -> None:
        self._desk, self._websocket, self._session_id = desk, websocket, session_id
        self._claim = desk.claim()
        self._news = asyncio.Event()
        self._board: Board | None = None
        session = websocket.scope["state"].get("session")
        self._who: str = session.reviewer if session is not None else ""

    async def serve(self) -> None:
        kept = self._desk.kept(self._session_id)
        if kept is not None:
            await self._send(kept=kept)
            await self._websocket.close()
            return
        try:
            dictation = await run_in_threadpool(self._desk.open, self._session_id)
        except (LiveError, StoreError) as error:
            await self._fail(error)
            return
        loop = asyncio.get_running_loop()
        self._desk.changed = lambda board: _tell(loop, self._take, board)
        self._take(dictation.board)
        await self._send(samples=dictation.samples, spoken=len(self._desk.spoken))
        showing = asyncio.create_task(self._show())
        try:
            await self._listen(dictation)
        except (LiveError, StoreError) as error:
            await self._fail(error)
        except WebSocketDisconnect:
            await run_in_threadpool(dictation.sync)
        finally:
            showing.cancel()

    async def _listen(self, dictation: Dictation) -> None:
        while self._desk.holds(self._claim):
            message = await self._websocket.receive()
            if message["type"] == "websocket.disconnect":
                raise WebSocketDisconnect(message.get("code", 1000))
            if message.get("bytes") is not None:
                await self._block(dictation, message["bytes"])
            elif message.get("text") is not None:
                await self._order(dictation, message["text"])
            if dictation.state == "finished":
                exam_id = await run_in_threadpool(self._desk.finish, self._who)
                await self._send(board=dictation.board.model_dump(), kept=exam_id)
                await self._websocket.close()
                return
        await self._send(moved=True)
        await self._websocket.close()

    async def _block(self, dictation: Dictation, data: bytes) -> None:
        if not HEAD.size < len(data) <= LARGEST or (len(data) - HEAD.size) % 2:
            raise LiveError("the page sent no sound: reload it")
        first, muted = HEAD.unpack_from(data)
        known = dictation.samples - first
        if known < 0:
            await self._send(samples=dictation.samples)
            return
        pcm = data[HEAD.size + 2 * known :]
        if pcm:
            await self._send(ack=await run_in_threadpool(dictation.accept, pcm, bool(muted)))
        else:
            await self._send(ack=await run_in_threadpool(dictation.sync))

    async def _order(self, dictation: Dictation, text: str) -> None:
        with suppress(ValueError):
            control = json.loads(text).get("control")
            if control in get_args(ControlId):
                await run_in_threadpool(dictation.command, control)

    def _take(self, board: Board) -> None:
        self._board = board
        self._news.set()

    async def _show(self) -> None:
        said = len(self._desk.spoken)
        while True:
            await self._news.wait()
            self._news.clear()
            assert self._board is not None
            await self._send(board=self._board.model_dump())
            for number in range(said, len(self._desk.spoken)):
                await self._send(say=f"/dictate/{self._session_id}/said/{number}.wav")
            said = len(self._desk.spoken)
            await asyncio.sleep(SHOWN)

    async def _fail(self, error: Exception) -> None:
        await self._send(error=str(error))
        await self._websocket.close()

    async def _send(self, **message: Any) -> None:
        await self._websocket.send_text(json.dumps(message))


def _tell(loop: asyncio.AbstractEventLoop, take: Callable[[Board], None], board: Board) -> None:
    with suppress(RuntimeError):  # the loop has ended with the server
        loop.call_soon_threadsafe(take, board)


def _reviewer(request: Request) -> None:
    """Asks for a name first, as the other pages do."""
    session = getattr(request.state, "session", None)
    if session is None or not session.reviewer:
        raise HTTPException(307, "who dictates?")
