"""Where the browser and the library of accessibility rules are, and what to say when they are missing."""

from __future__ import annotations

import os
import shutil
from pathlib import Path
from typing import Final

from tests.browser.running import ROOT

NAMES: Final = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
VARIABLE: Final = "HOOPWRIGHT_BROWSER"
RULES: Final = ROOT / "build" / "browser-tests" / "node_modules" / "axe-core" / "axe.min.js"
NO_BROWSER: Final = (
    "Chromium is not installed: the pages of the worktable are NOT TESTED. "
    f"Install it (on Debian: apt-get install chromium) or name a browser of its kind in {VARIABLE}"
)
NO_RULES: Final = "axe-core is not installed: accessibility is NOT TESTED. Install Node and npm, then: make browser"
FLAGS: Final = (
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


def browser_program() -> str | None:
    """Return the browser to test with: the one that the environment names, else the first that is installed."""
    named = os.environ.get(VARIABLE)
    return named or next((found for name in NAMES if (found := shutil.which(name))), None)


def flags() -> list[str]:
    """Return how the browser is started: quiet, and as root without its sandbox, which it refuses there."""
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    return [*FLAGS, "--no-sandbox"] if root else [*FLAGS]


def rules() -> str | None:
    """Return the library of accessibility rules as a script, None where it was not fetched."""
    path: Path = RULES
    return path.read_text(encoding="utf-8") if path.is_file() else None
