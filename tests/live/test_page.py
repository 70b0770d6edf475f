"""Dictation in a real browser, with a microphone that plays a recording."""

from __future__ import annotations

import base64
import io
import time
import wave
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from playwright.sync_api import Page, Playwright, expect
from websockets.exceptions import InvalidStatus
from websockets.sync.client import connect

from pipeline.hear.audio import RATE
from pipeline.live import sessions
from pipeline.live.dictation import Settings
from pipeline.record.store import Store
from pipeline.review.access import COOKIE, Session
from tests.chromium import launch
from tests.live.network import ADDRESS, served
from tests.live.speech import said, write

LOST_SECONDS = 10.0

# The page's own way in for sound, with a copy of all that comes: a busy machine's browser may lose sound before that.
KEEP_GIVEN = """() => {
  const own = take;
  window.given = [];
  take = (samples) => { given.push(samples.slice()); own(samples); };
}"""
GIVEN = """async () => {
  const url = await new Promise((resolve) => {
    const reader = new FileReader();
    reader.onload = () => resolve(reader.result);
    reader.readAsDataURL(new Blob(given));
  });
  return url.slice(url.indexOf(",") + 1);
}"""


@contextmanager
def browser(playwright: Playwright, microphone: Path | None = None) -> Iterator[Page]:
    flags = ["--autoplay-policy=no-user-gesture-required"]
    if microphone is not None:
        flags += ["--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream"]
        flags += [f"--use-file-for-fake-audio-capture={microphone}%noloop"]
    opened = launch(playwright, *flags)
    try:
        page = opened.new_page(viewport={"width": 1280, "height": 800})
        page.set_default_timeout(120_000)
        expect.set_options(timeout=120_000)
        yield page
    finally:
        opened.close()


def enter(page: Page, root: str, key: str) -> None:
    page.goto(f"{root}/enter?key={key}")
    page.fill("[name=name]", "Rae Tester")
    page.press("[name=name]", "Enter")


def test_dictates_through_a_loss_of_the_network(tmp_path: Path, home: Path, playwright: Playwright) -> None:
    first = said("Left knee jerk two plus.", "Right ankle dorsiflexion four minus.", pause=1.2)
    lost = said("The left ankle jerk is absent.", "Left plantar response is flexor.", pause=1.6)
    last = said("Computer, mark for review.", "Computer, finish dictation.", pause=2.0)
    gap = np.zeros(round(1.5 * RATE), np.float32)
    spoken = np.concatenate([gap, first, gap, lost, gap, last, gap])
    microphone = write(tmp_path / "microphone.wav", spoken)
    with Store.open() as store, served(store, tmp_path) as (line, doorkeeper), browser(playwright, microphone) as page:
        root = f"http://{ADDRESS}:{line.port}"
        enter(page, root, doorkeeper.key)
        page.click("text=Dictate an examination")
        page.fill("[name=title]", "Bed 4")
        page.click("button:text('Begin')")
        page.wait_for_url("**/dictate/*")  # and for its scripts
        page.evaluate(KEEP_GIVEN)
        page.click("#microphone")
        expect(page.locator("#state")).to_have_text("Listening")
        # The page's policy lets nothing be evaluated in it, which waiting for a condition would do.
        while not page.evaluate("blocks.length > 0 && next > 5 * 16000"):
            page.wait_for_timeout(20)
        line.cut()
        expect(page.locator("#line")).to_contain_text("No connection")
        expect(page.locator("[data-control=pause]")).to_be_disabled()
        time.sleep(LOST_SECONDS)
        waiting = page.evaluate("blocks.reduce((sum, block) => sum + block.samples.length, 0) / 16000")
        assert waiting > LOST_SECONDS - 1
        line.mend()
        expect(page.locator("#line")).to_have_text("")
        expect(page.locator("#taken")).not_to_have_text("nothing yet")
        expect(page.locator("#heard")).not_to_have_text("")
        expect(page.locator("#parts")).to_contain_text("ankle dorsiflexion")
        expect(page.locator("#review")).to_be_visible()
        given = np.frombuffer(base64.b64decode(page.evaluate(GIVEN)), "<i2")
        page.click("#review")
        expect(page.locator("h1")).to_contain_text("Bed 4")
        exam_id = page.url.split("?")[0].rsplit("/", 1)[1]
        record = store.export_record(exam_id)
        wanted = {
            ("knee_jerk", "left", "2+"), ("ankle_dorsiflexion", "right", "4-"), ("ankle_jerk", "left", "0"),
            ("plantar_response", "left", "flexor"),
        }  # fmt: skip
        assert {row.manoeuvre for row in record.rows} == {manoeuvre for manoeuvre, _, _ in wanted}
        sure = {(row.manoeuvre, row.side.value, row.value) for row in record.rows if not row.confirm}
        assert sure <= wanted  # where the browser lost sound, a row may be in doubt
        assert [row.manoeuvre for row in record.rows if "marked_for_review" in row.flags] == ["plantar_response"]
        assert store.entries(exam_id)[0].who == "Rae Tester"
        kept = kept_sound(store, exam_id)
        assert kept.size > 2 * LOST_SECONDS * RATE
        assert np.array_equal(kept, given[: kept.size])
    assert sessions.unfinished() == []


def kept_sound(store: Store, exam_id: str) -> NDArray[np.int16]:
    with wave.open(io.BytesIO(store.clip(exam_id, 0, 1e6))) as source:
        return np.frombuffer(source.readframes(source.getnframes()), "<i2")


def test_without_a_microphone_the_page_says_so(tmp_path: Path, home: Path, playwright: Playwright) -> None:
    with Store.open() as store, served(store, tmp_path) as (line, doorkeeper), browser(playwright) as page:
        root = f"http://{ADDRESS}:{line.port}"
        enter(page, root, doorkeeper.key)
        page.goto(f"{root}/dictate/{sessions.begin(Settings(title='Bed 4')).id}")
        page.click("#microphone")
        expect(page.locator("#problem")).to_contain_text("microphone")
        page.goto(f"{root}/dictate")
        expect(page.locator(".unfinished")).to_contain_text("Bed 4")


@pytest.mark.parametrize("lacking", ["cookie", "origin", "host"])
def test_the_socket_lets_no_stranger_in(tmp_path: Path, home: Path, lacking: str) -> None:
    with Store.open() as store, served(store, tmp_path) as (line, doorkeeper):
        session = sessions.begin(Settings(title="Bed 4"))
        own = f"http://{ADDRESS}:{line.port}"
        cookie = {"Cookie": f"{COOKIE}={doorkeeper.token(Session('Rae'))}"}
        name = "localhost" if lacking == "host" else ADDRESS
        with (
            pytest.raises(InvalidStatus, match="403"),
            connect(
                f"ws://{name}:{line.port}/dictate/{session.id}/socket",
                origin="http://elsewhere.example" if lacking == "origin" else own,  # type: ignore[arg-type]
                additional_headers={} if lacking == "cookie" else cookie,
            ),
        ):
            pass
