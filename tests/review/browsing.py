"""A real browser on the review page, by keyboard."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, Page, expect

from pipeline.review.access import COOKIE, Doorkeeper, Session
from tests.review.server import Server

PATIENCE = 60_000  # milliseconds: what does not come in a minute does not come, however busy the computer is
expect.set_options(timeout=PATIENCE)


@contextmanager
def browsing(browser: Browser, server: Server, **context: object) -> Iterator[Page]:
    """A browser of its own. Whatever the page complains about, or asks of elsewhere, fails the test."""
    opened = browser.new_context(viewport={"width": 1280, "height": 900}, **context)  # type: ignore[arg-type]
    opened.set_default_timeout(PATIENCE)
    page = opened.new_page()
    complaints: list[str] = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("console", lambda said: complaints.append(said.text) if "Content Security Policy" in said.text else None)
    page.on("request", lambda asked: complaints.append(asked.url) if not asked.url.startswith(server.root) else None)
    yield page
    assert complaints == []
    opened.close()


@contextmanager
def entering(browser: Browser, server: Server, name: str = "Dr Ada") -> Iterator[Page]:
    """Goes in by the address that the command printed, and gives a name."""
    with browsing(browser, server) as page:
        page.goto(server.address)
        page.keyboard.type(name)
        follow(page)
        expect(page.get_by_role("heading", name="Examination records")).to_be_visible()
        yield page


@contextmanager
def reviewing(browser: Browser, server: Server, **context: object) -> Iterator[Page]:
    """Is in already, as Dr Ada: a session signed with the secret in the store's folder."""
    token = Doorkeeper(server.home / "review.secret").token(Session("Dr Ada"))
    with browsing(browser, server, **context) as page:
        page.context.add_cookies([{"name": COOKIE, "value": token, "url": server.root}])
        yield page


def follow(page: Page) -> None:
    """Enter on a link. Waits until the page behind it is loaded: its keys work from then on, not before."""
    with page.expect_navigation():
        page.keyboard.press("Enter")


def press(page: Page, key: str) -> None:
    """A key that changes the record; waits until the page shows the new revision."""
    before = page.locator("#page").get_attribute("data-revision") or ""
    page.keyboard.press(key)
    expect(page.locator("#page")).not_to_have_attribute("data-revision", before)


def selected(page: Page) -> str:
    return page.locator("#selected-title").inner_text().replace("\n", " ")
