"""What every screen keeps at every size, in both lights and both languages: all words can be read, no rule of accessibility is broken.

A screen is opened once in each language and looked at in every way there: opening it takes longer than looking.
"""

from __future__ import annotations

from typing import Final, Literal

import pytest

from tests.browser.conftest import Opener
from tests.browser.finding import NO_RULES, rules
from tests.browser.looking import amiss, told, violations
from tests.browser.running import RunningTable
from tests.browser.window import ALL_SCREENS, LOCALES, SIZES

ZOOMED = {"laptop at 200 %": (640, 400), "tablet at 200 %": (410, 590)}
"""A window enlarged to twice its size has half the room."""
RULED = ("laptop", "phone")
"""Sizes at which the rules of accessibility are asked; between them only places change."""
LIGHTS: Final[tuple[Literal["light", "dark"], ...]] = ("light", "dark")


@pytest.mark.parametrize("language", LOCALES)
@pytest.mark.parametrize("screen", ALL_SCREENS)
def test_all_words_can_be_read_and_no_rule_is_broken(
    window: Opener, table: RunningTable, screen: str, language: str
) -> None:
    name = table.put()
    maker = window(language=language)
    maker.go(screen, "" if screen == "shelf" else name)
    maker.quiet()
    found = {}
    for size, (width, height) in {**SIZES, **ZOOMED}.items():
        maker.page.set_viewport_size({"width": width, "height": height})
        maker.drawn()
        found[size, ""] = amiss(maker)
        if size in RULED and rules() is not None:
            for light in LIGHTS:
                maker.shine(light)
                found[size, light] = violations(maker)
    assert not any(found.values()), told(found)


@pytest.mark.skipif(rules() is None, reason=NO_RULES)
def test_a_broken_rule_is_found_out(window: Opener) -> None:
    """The rules asked above can fail; where they are missing, this is what tells it."""
    maker = window()
    maker.page.set_content('<html lang="en"><title>t</title><button></button><p style="color:#999">grey on white</p>')
    said = " ".join(violations(maker))
    assert "button-name" in said
    assert "color-contrast" in said


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
