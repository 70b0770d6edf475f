"""Who gets in, and what is refused, over real HTTP to the real command."""

from __future__ import annotations

import socket
import stat
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import httpx
import pytest

from pipeline.record.model import Evidence, ExamRecord, Row, Side, Unplaced
from pipeline.record.store import Store
from pipeline.record.transcript import Block, SpokenWord, Talk, Transcript
from pipeline.review import access
from pipeline.review.access import Doorkeeper, Session
from tests.review import demo
from tests.review.server import Server, start


@dataclass(frozen=True)
class Standing:
    """A server that the tests of this file share: none of them changes its examination."""

    root: str
    store: Store
    exam: str
    client: httpx.Client

    @property
    def port(self) -> int:
        return int(self.root.rsplit(":", 1)[1])


@pytest.fixture(scope="module")
def standing(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Standing]:
    """The review command, and a client that was let in and gave a name."""
    home = tmp_path_factory.mktemp("standing")
    with Store.open(home) as store, start(home) as server:
        exam = demo.add(store)
        with httpx.Client(base_url=server.root, headers={"Origin": server.root}) as client:
            assert client.get(server.address).status_code == 303
            assert client.post("/reviewer", data={"name": "Dr Ada"}).status_code == 303
            yield Standing(server.root, store, exam, client)


@pytest.fixture
def inside(standing: Standing) -> httpx.Client:
    return standing.client


@pytest.fixture
def exam(standing: Standing) -> str:
    return standing.exam


@pytest.fixture
def store(standing: Standing) -> Store:
    return standing.store


def test_the_key_opens_once_and_becomes_a_strict_cookie(serve: Callable[..., Server]) -> None:
    server = serve()
    answer = httpx.get(server.address)
    assert answer.status_code == 303 and answer.headers["location"] == "/"
    cookie = answer.headers["set-cookie"]
    assert "HttpOnly" in cookie and "SameSite=strict" in cookie and server.address.split("key=")[1] not in cookie
    again = httpx.get(server.address)
    assert again.status_code == 403 and "set-cookie" not in again.headers and "used already" in again.text


@pytest.mark.parametrize("path", ["/", "/exams/{exam}", "/exams/{exam}/clip.wav?start=0&end=1", "/openapi.json", "/no"])
def test_nothing_is_served_without_the_cookie(standing: Standing, exam: str, path: str) -> None:
    answer = httpx.get(standing.root + path.format(exam=exam))
    assert answer.status_code == 403 and "invented patient" not in answer.text
    assert httpx.get(f"{standing.root}/enter?key=wrong").status_code == 403
    forged = httpx.get(standing.root + "/", headers={"Cookie": "review=eyJyZXZpZXdlciI6ICJBZGEifQ==.00"})
    assert forged.status_code == 403


@pytest.mark.parametrize("host", ["examination.example", "127.0.0.1:1", "127.0.0.1.example:80", ""])
def test_a_foreign_host_is_refused(inside: httpx.Client, host: str) -> None:
    assert inside.get("/", headers={"Host": host}).status_code == 421


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "https://elsewhere.example"},
        {"Origin": "null"},
        {"Origin": "http://127.0.0.1:1"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
    ],
)
def test_other_sites_can_change_and_read_nothing(
    inside: httpx.Client, store: Store, exam: str, headers: dict[str, str]
) -> None:
    answer = inside.post(f"/exams/{exam}/items/row-1/reject", data={"seen": 1}, headers=headers)
    assert answer.status_code == 403 and store.exam(exam).revision == 1
    assert inside.get(f"/exams/{exam}", headers=headers).status_code == 403


def test_a_change_without_an_origin_is_refused(inside: httpx.Client, store: Store, exam: str) -> None:
    bare = httpx.Client(base_url=inside.base_url, cookies=inside.cookies)
    assert bare.post(f"/exams/{exam}/items/row-1/reject", data={"seen": 1}).status_code == 403
    assert inside.get(f"/exams/{exam}/items/row-1/reject").status_code == 405
    assert store.exam(exam).revision == 1


@pytest.mark.parametrize(
    "path",
    [
        "/static/../app.py",
        "/static/%2e%2e/app.py",
        "/static/..%2fapp.py",
        "/static//etc/passwd",
        "/exams/..%2f..%2fetc%2fpasswd",
        "/exams/%00",
        "/exams/0000000000000000",
        "/exams/{exam}/items/..%2f..%2f/confirm",
        "/exams/{exam}/clip.wav?start=0&end=100000",
        "/exams/{exam}/clip.wav?start=nan&end=inf",
        "/exams/{exam}/clip.wav?start=5&end=1",
    ],
)
def test_path_tricks_lead_nowhere(inside: httpx.Client, standing: Standing, exam: str, path: str) -> None:
    # Sent as written: a client would tidy the path up.
    head = f"GET {path.format(exam=exam)} HTTP/1.1\r\nHost: 127.0.0.1:{standing.port}\r\nConnection: close\r\n"
    cookie = f"Cookie: review={inside.cookies['review']}\r\n\r\n"
    with socket.create_connection(("127.0.0.1", standing.port)) as raw:
        raw.sendall((head + cookie).encode())
        answer = b"".join(iter(lambda: raw.recv(65536), b"")).decode()
    assert answer.split()[1] in {"400", "404", "405", "422"}
    assert "root:" not in answer and "create_app" not in answer and "Traceback" not in answer


def test_large_bodies_are_refused(inside: httpx.Client, store: Store, exam: str) -> None:
    address, large = f"/exams/{exam}/items/row-1/reject", b"seen=1&why=" + b"x" * 200_000
    form = {"Content-Type": "application/x-www-form-urlencoded"}
    assert inside.post(address, content=large, headers=form).status_code == 413
    pieces = (large[at : at + 10_000] for at in range(0, len(large), 10_000))  # sent without a length
    assert inside.post(address, content=pieces, headers=form).status_code == 413
    assert store.exam(exam).revision == 1


def test_every_answer_forbids_inline_script_and_style(inside: httpx.Client, exam: str) -> None:
    for path in ("/", f"/exams/{exam}", "/static/review.js", "/nothing", "/enter?key=x"):
        answer = inside.get(path)
        policy = answer.headers["content-security-policy"]
        assert "default-src 'none'" in policy and "unsafe" not in policy and "frame-ancestors 'none'" in policy
        assert answer.headers["x-content-type-options"] == "nosniff" and answer.headers["cache-control"] == "no-store"
        if answer.headers.get("content-type", "").startswith("text/html"):
            assert "<style" not in answer.text and " style=" not in answer.text and " onclick=" not in answer.text
            assert (
                answer.text.count("<script") == 1 and '<script src="/static/review.js" defer></script>' in answer.text
            )


def test_script_in_words_and_names_stays_text(inside: httpx.Client, store: Store) -> None:
    bad = "<script>alert(1)</script><img src=x onerror=alert(1)>\"'"
    row = Row(
        manoeuvre=bad,
        side=Side.LEFT,
        value=bad,
        muscle=bad,
        confirm=True,
        flags=[bad],
        evidence=[Evidence(start=0, end=1, heard=bad, mended=bad)],
    )
    word = SpokenWord(text=bad, start=0, end=1, mended=bad + "x")
    exam = store.add(
        ExamRecord(rows=[row], unplaced=[Unplaced(start=0, end=1, text=bad, reason=bad)]),
        title=bad,
        speaker=bad,
        transcript=Transcript(blocks=[Block(start=0, end=1, kind=Talk.RESULT, words=[word])]),
    )
    inside.post("/reviewer", data={"name": bad})
    for path in ("/", f"/exams/{exam}", f"/exams/{exam}?item=unplaced-1", f"/exams/{exam}?item={bad}"):
        answer = inside.get(path)
        assert answer.status_code in (200, 422)
        assert "<script>alert" not in answer.text and "<img" not in answer.text
        assert answer.status_code == 422 or "&lt;script&gt;" in answer.text


def test_a_clip_is_a_wav_served_by_range(inside: httpx.Client, exam: str) -> None:
    address = f"/exams/{exam}/clip.wav?start=1.0&end=3.0"
    whole = inside.get(address)
    assert whole.headers["content-type"] == "audio/wav" and len(whole.content) == 44 + 2 * 32000
    for asked, wanted in {
        "bytes=0-99": whole.content[:100],
        "bytes=100-": whole.content[100:],
        "bytes=-8": whole.content[-8:],
    }.items():
        part = inside.get(address, headers={"Range": asked})
        assert part.status_code == 206 and part.content == wanted
        assert part.headers["content-range"].endswith(f"/{len(whole.content)}")
    assert inside.get(address, headers={"Range": "bytes=999999-"}).status_code == 416
    assert inside.get(address, headers={"Range": "pages=1-2"}).content == whole.content


def test_sessions_outlive_a_restart_but_not_twelve_hours(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    secret = tmp_path / "secret"
    token = Doorkeeper(secret).token(Session("Dr Ada"))
    assert stat.S_IMODE(secret.stat().st_mode) == 0o600
    again = Doorkeeper(secret)
    assert again.session(token) == Session("Dr Ada")
    assert again.session(token.replace(".", "x.")) is None and again.session("é.é") is None
    assert Doorkeeper(tmp_path / "other").session(token) is None
    now = time.time()
    monkeypatch.setattr(access.time, "time", lambda: now + 12 * 3600 + 5)
    assert again.session(token) is None


def test_only_this_computer_is_listened_to(standing: Standing) -> None:
    assert standing.root.startswith("http://127.0.0.1:")
    with pytest.raises(OSError), socket.create_connection((_own_address(), standing.port), timeout=2):
        pass


def _own_address() -> str:
    """Another address of this computer than 127.0.0.1."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # sends nothing
            return str(probe.getsockname()[0])
        except OSError:
            return "127.0.0.2"
