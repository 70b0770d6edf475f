"""From a recording to the signed record, as a user goes: `record add`, `review`, and the keyboard alone."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from pipeline.cli import main
from pipeline.record.model import Row
from pipeline.record.store import Store
from tests.review.browsing import entering, follow
from tests.review.server import Server

ROOT = Path(__file__).parents[2]
MOST = 30
"""Key presses from the opened record to the signature, the signer's role included."""


class Keyboard:
    """Presses keys and counts them, each letter of a typed word too."""

    def __init__(self, page: Page) -> None:
        self._page = page
        self.count = 0

    def press(self, key: str) -> None:
        self.count += 1
        self._page.keyboard.press(key)

    def follow(self) -> None:
        self.count += 1
        follow(self._page)

    def type(self, words: str) -> None:
        self.count += len(words)
        self._page.keyboard.type(words)

    def decide(self, key: str) -> None:
        """A key that changes the record; waits until the page shows the new revision."""
        before = self._page.locator("#page").get_attribute("data-revision") or ""
        self.press(key)
        expect(self._page.locator("#page")).not_to_have_attribute("data-revision", before)

    def tab_to(self, what: str) -> None:
        """Goes on with Tab until `what`, an expression about the focused element, is true."""
        for _ in range(40):
            self.press("Tab")
            if self._page.evaluate(f"(focused => {what})(document.activeElement)"):
                return
        pytest.fail(f"not reached with Tab: {what}")


def said(recording: str) -> list[dict[str, object]]:
    """The rows of the recording's script."""
    cases = map(json.loads, (ROOT / "demo_audio" / "cases.jsonl").read_text(encoding="utf-8").splitlines())
    return next(case["rows"] for case in cases if case["id"] == f"demo-{recording}")


def is_right(row: Row, said: list[dict[str, object]]) -> bool:
    found = row.model_dump(mode="json", include={"manoeuvre", "site", "value", "status"})
    return any(found.items() <= one.items() and one["side"] in (row.side, "unsaid") for one in said)


@pytest.mark.parametrize("recording", ["dictation", "teaching"])
def test_from_a_recording_to_the_signed_record_in_less_than_thirty_keys(
    recording: str, browser: Browser, serve: Callable[..., Server], store: Store, capsys: pytest.CaptureFixture[str]
) -> None:
    source = ROOT / "demo_audio" / f"{recording}.opus"
    assert main(["record", "add", str(source), "--title", "Invented patient", "--speaker", "Dr Ada"]) == 0
    exam = capsys.readouterr().out.strip()
    came = store.exam(exam)
    assert came.sound is not None and store.transcript(exam) is not None
    right = {item.id: item.kind != "row" or is_right(item.row, said(recording)) for item in came.open_items}

    with entering(browser, serve()) as page:
        keys = Keyboard(page)
        keys.tab_to("focused.textContent === 'Invented patient'")
        keys.follow()
        expect(page.get_by_role("heading", name=f"{len(came.open_items)} to decide")).to_be_visible()
        while page.locator(".queue .line").count():
            # The sound of each open item is there to be heard, and its words to be read.
            assert page.locator("#selected audio").count() >= 1
            assert page.locator("#selected .said dd").first.inner_text()
            listed = page.locator("#selected .together [name=items]").evaluate_all("all => all.map(one => one.value)")
            current = page.locator(".queue [aria-current]").get_attribute("data-item") or ""
            if listed and all(right[item] for item in listed):
                keys.decide("a")
            else:
                keys.decide("c" if right[current] else "x")
        inferred = page.locator(".ticks [name=items]").evaluate_all("all => all.map(one => one.value)")
        for item in (one for one in inferred if not right[one]):
            keys.tab_to(f"(focused.href || '').endsWith('item={item}#selected')")
            keys.press("Enter")
            expect(page.locator("#selected [data-key=x]")).to_be_visible()
            keys.decide("x")
        if page.locator(".group .card").count():
            keys.tab_to("focused.type === 'checkbox'")
            keys.decide("Enter")
        expect(page.get_by_role("heading", name="Nothing left to decide")).to_be_visible()
        keys.tab_to("focused.name === 'role'")
        keys.type("Neurologist")
        keys.decide("Enter")
        expect(page.get_by_role("heading", name="Signed")).to_be_visible()
    with capsys.disabled():
        print(json.dumps({"recording": recording, "open items": len(came.open_items), "key presses": keys.count}))
    assert keys.count < MOST

    signed = store.exam(exam)
    assert all(signed.item(item).state.live == good for item, good in right.items() if signed.item(item).kind == "row")
    assert signed.signature is not None and (signed.signature.name, signed.signature.role) == ("Dr Ada", "Neurologist")
    assert signed.sound is not None and signed.sound.deleted
    assert store.verify(exam) == []
    assert main(["note", exam]) == 0
    assert "Signed by Dr Ada, Neurologist" in capsys.readouterr().out
