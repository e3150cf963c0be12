"""Takes the pictures of the worktable that the first page shows. Run by ``make screenshots``; they are looked at, not compared."""

from __future__ import annotations

import io
import sys
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from PIL import Image
from playwright.sync_api import sync_playwright

from tests.browser.conftest import running
from tests.browser.finding import NO_BROWSER, browser_program, flags
from tests.browser.running import ROOT
from tests.browser.window import BUSY, Window, opened

FOLDER: Final = ROOT / "docs" / "pictures"
SIZE: Final = (1280, 800)
COLOURS: Final = 200
"""Colours of a picture as it is kept: enough for cloth and letters, at a third of the size."""


@dataclass(frozen=True, slots=True)
class Shot:
    """A picture: the example and the screen it is of, and what is done there before it is taken."""

    name: str
    example: str
    screen: str
    do: Callable[[Window], None]


def _cut_chosen(maker: Window) -> None:
    maker.cuts().first.wait_for(timeout=BUSY)
    maker.cut(2).focus()


def _at_a_halt(maker: Window) -> None:
    rows = maker.page.locator(".runsheet button")
    rows.first.wait_for(timeout=BUSY)
    maker.page.keyboard.press("End")
    for _ in range(2):
        maker.page.keyboard.press("PageUp")
    maker.page.keyboard.press("PageUp")
    maker.page.wait_for_timeout(1500)


SHOTS: Final = (
    Shot("worktable-draw", "spring-tide-panel", "draw", _cut_chosen),
    Shot("worktable-sew", "quay-pouch", "sew", _at_a_halt),
)


def take(folder: Path) -> None:
    """Take all pictures into a folder."""
    with tempfile.TemporaryDirectory() as home, running(Path(home)) as table, sync_playwright() as play:
        browser = play.chromium.launch(executable_path=browser_program(), args=flags())
        for shot in SHOTS:
            with opened(browser, table, size=SIZE) as maker:
                maker.go(shot.screen, table.put(shot.example))
                maker.quiet()
                shot.do(maker)
                maker.quiet()
                picture = Image.open(io.BytesIO(maker.page.screenshot())).convert("RGB")
                picture.quantize(COLOURS, dither=Image.Dither.NONE).save(folder / f"{shot.name}.png", optimize=True)
        browser.close()


if __name__ == "__main__":
    if browser_program() is None:
        sys.exit(NO_BROWSER)
    take(FOLDER)
