"""Where the real browser of the page tests is, if there is one.

A machine without Chromium leaves those tests out and says so; where
``KEEPDAMP_BROWSER=required`` is set, as in the checks before a change lands, missing
it is an error.
"""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, Page

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]

if CHROMIUM is None and os.environ.get("KEEPDAMP_BROWSER") == "required":
    raise RuntimeError("KEEPDAMP_BROWSER=required, but there is no chromium on PATH")


@contextmanager
def quiet_page(browser: Browser, path: Path) -> Iterator[Page]:
    """Open a file; it may ask for nothing but itself, then or later, and never err."""
    opened = browser.new_page(viewport={"width": 1400, "height": 900})
    troubles: list[str] = []
    opened.on("request", lambda request: troubles.append(request.url))
    opened.on("console", lambda message: troubles.append(message.text))
    opened.on("pageerror", lambda error: troubles.append(str(error)))
    opened.goto(path.as_uri())
    assert troubles == [path.as_uri()]
    yield opened
    assert troubles == [path.as_uri()]
