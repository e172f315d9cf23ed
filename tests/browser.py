"""Where the real browser of the page tests is, if there is one.

A machine without Chromium leaves those tests out and says so; where
``KEEPDAMP_BROWSER=required`` is set, as in the checks before a change lands, missing
it is an error.
"""

import os
import shutil

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
