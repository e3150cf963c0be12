"""Nothing is cut, hidden behind something else or beyond the edge of the window: every screen, size and language."""

from __future__ import annotations

import pytest

from tests.browser.conftest import Opener
from tests.browser.looking import amiss, told
from tests.browser.running import RunningTable
from tests.browser.window import ALL_SCREENS, LOCALES, SIZES

ZOOMED = {"laptop at 200 %": (640, 400), "tablet at 200 %": (410, 590)}
"""A window enlarged to twice its size has half the room."""


@pytest.mark.parametrize("language", LOCALES)
@pytest.mark.parametrize("screen", ALL_SCREENS)
def test_all_words_can_be_read(window: Opener, table: RunningTable, screen: str, language: str) -> None:
    name = table.put()
    maker = window(language=language)
    maker.go(screen, "" if screen == "shelf" else name)
    found = {}
    for size, (width, height) in {**SIZES, **ZOOMED}.items():
        maker.page.set_viewport_size({"width": width, "height": height})
        maker.quiet()
        found[size] = amiss(maker)
    assert not any(found.values()), told(found)


def test_a_page_with_faults_is_found_out(window: Opener) -> None:
    """The test above can fail."""
    maker = window()
    maker.page.set_content(
        """<!doctype html><body style="margin:0; font: 16px/1.2 sans-serif">
        <p style="width: 40px; overflow: hidden; white-space: nowrap">words that are cut</p>
        <p style="margin: 0 0 -14px">under</p><p style="margin: 0">over</p>
        <p style="white-space: nowrap; width: 1400px; text-align: right">beyond the edge</p>
        <button style="width: 60px; white-space: nowrap; display: block">too long for it</button>
        <input value="a long word in a narrow field" style="width: 40px">
        <button style="height: 10px; width: 100px; padding: 0; font-size: 6px">small</button>"""
    )
    said = "\n".join(amiss(maker))
    for fault in (
        '"words that are cut" is cut',
        '"under" and "over" lie on each other',
        '"beyond the edge" leaves the window',
        "scrolls sideways",
        '"too long for it" sticks out',
        '"a long word in a narrow field" is too narrow',
        '"small" is too small',
    ):
        assert fault in said
