"""The real browser, with what it would fetch by itself turned off."""

from __future__ import annotations

import os

from playwright.sync_api import Browser, Playwright

_FLAGS = (
    "--no-sandbox --disable-quic --no-first-run --disable-background-networking --disable-component-update"
    " --disable-sync"
)


def launch(playwright: Playwright, *flags: str) -> Browser:
    return playwright.chromium.launch(
        executable_path=os.environ.get("CHROMIUM", "/usr/bin/chromium"), args=[*_FLAGS.split(), *flags]
    )
