"""Who may use the page: this computer only, by a one-time key that becomes a cookie; and what browsers may do."""

from __future__ import annotations

import base64
import hashlib
import hmac
import json
import os
import secrets
import threading
import time
from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie
from pathlib import Path

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

COOKIE = "review"
SESSION_HOURS = 12
LARGEST_BODY = 64 * 1024  # bytes; the page's own forms stay far below
TOO_LARGE = "This is more than the page takes."
OPEN_PATHS = ("/enter", "/static/")

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; media-src 'self'; "
        "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    # Not "no-referrer": with that, browsers send "null" as the origin of our own forms.
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(self), geolocation=()",
    "Cache-Control": "no-store",
}


@dataclass(frozen=True)
class Session:
    """A browser that was let in. `reviewer` is empty until a name was given."""

    reviewer: str = ""


class Doorkeeper:
    """The one-time key, and the sessions: signed with a secret in `secret_file`, so that they outlive a restart."""

    def __init__(self, secret_file: Path) -> None:
        self._secret = _secret(secret_file)
        self._key: str | None = secrets.token_urlsafe(32)
        self._lock = threading.Lock()

    @property
    def key(self) -> str:
        """The key, as long as nobody used it. Raises `LookupError` afterwards."""
        if self._key is None:
            raise LookupError("the key was used")
        return self._key

    def exchange(self, key: str) -> bool:
        """Whether the key opens the door; it does so once."""
        with self._lock:
            if self._key is None or not hmac.compare_digest(key.encode(), self._key.encode()):
                return False
            self._key = None
            return True

    def token(self, session: Session) -> str:
        body = json.dumps({"reviewer": session.reviewer, "at": int(time.time())}).encode()
        text = base64.urlsafe_b64encode(body).decode()
        return f"{text}.{self._mac(text)}"

    def session(self, token: str) -> Session | None:
        """The session of a token, or None when it was not given here or is too old."""
        text, _, mac = token.partition(".")
        if not hmac.compare_digest(mac.encode(), self._mac(text).encode()):
            return None
        body = json.loads(base64.urlsafe_b64decode(text))
        if time.time() - body["at"] > SESSION_HOURS * 3600:
            return None
        return Session(body["reviewer"])

    def _mac(self, text: str) -> str:
        return hmac.new(self._secret, text.encode(), hashlib.sha256).hexdigest()


def _secret(file: Path) -> bytes:
    file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    try:
        handle = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        secret = file.read_bytes()
        if len(secret) == 32:
            return secret
        # A crash left it half-written; nobody holds a session that it signed.
        file.unlink()
        return _secret(file)
    with os.fdopen(handle, "wb") as out:
        secret = secrets.token_bytes(32)
        out.write(secret)
    return secret


class Guard:
    """Stands before the application: refuses foreign hosts and origins, strangers and large bodies; adds the headers.

    Puts the `Session` into the request's state as `session`.
    """

    def __init__(self, app: ASGIApp, doorkeeper: Doorkeeper, hosts: frozenset[str]) -> None:
        self._app = app
        self._doorkeeper = doorkeeper
        self._hosts = hosts

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "websocket":
            if self._refusal(scope) is None:
                await self._app(scope, receive, send)
            else:
                await send({"type": "websocket.close", "code": 1008})
            return
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._app(scope, receive, send)
            return

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers[name] = value
            await send(message)

        refusal = self._refusal(scope)
        if refusal is not None:
            status, reason = refusal
            await PlainTextResponse(reason, status)(scope, receive, with_headers)
            return
        await self._app(scope, _Body(receive), with_headers)

    def _refusal(self, scope: Scope) -> tuple[int, str] | None:
        headers = Headers(scope=scope)
        host = headers.get("host", "")
        if host not in self._hosts:
            return 421, "This page is served on 127.0.0.1 only."
        own = f"http://{host}"
        origin = headers.get("origin")
        if origin not in (None, own) or headers.get("sec-fetch-site") not in (None, "none", "same-origin"):
            return 403, "This page takes nothing from other sites."
        # A socket has no method; a browser tells the origin of each.
        if scope.get("method") not in ("GET", "HEAD") and origin != own:
            return 403, "This page takes changes from its own forms only."
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > LARGEST_BODY:
            return 413, TOO_LARGE
        session = self._doorkeeper.session(_cookie(headers)) if _cookie(headers) else None
        scope.setdefault("state", {})["session"] = session
        if session is None and not scope["path"].startswith(OPEN_PATHS):
            return 403, "Open the address that the review command printed; each start prints a new one."
        return None


class _Body:
    """Counts a body that came without a length."""

    def __init__(self, receive: Callable[[], Awaitable[Message]]) -> None:
        self._receive = receive
        self._size = 0

    async def __call__(self) -> Message:
        message = await self._receive()
        self._size += len(message.get("body", b""))
        if self._size > LARGEST_BODY:
            raise HTTPException(413, TOO_LARGE)
        return message


def _cookie(headers: Headers) -> str:
    try:
        found = SimpleCookie(headers.get("cookie", "")).get(COOKIE)
    except CookieError:
        return ""
    return found.value if found else ""
