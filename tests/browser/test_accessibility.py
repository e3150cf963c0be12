"""No screen breaks the rules of accessibility seriously: every screen, both lights, both languages."""

from __future__ import annotations

from typing import Literal

import pytest

from tests.browser.conftest import Opener
from tests.browser.finding import NO_RULES, rules
from tests.browser.looking import told, violations
from tests.browser.running import RunningTable
from tests.browser.window import ALL_SCREENS, LOCALES, SIZES

LIGHTS: tuple[Literal["light", "dark"], ...] = ("light", "dark")

pytestmark = pytest.mark.skipif(rules() is None, reason=NO_RULES)


@pytest.mark.parametrize("language", LOCALES)
@pytest.mark.parametrize("screen", ALL_SCREENS)
def test_no_serious_violation(window: Opener, table: RunningTable, screen: str, language: str) -> None:
    name = table.put()
    maker = window(language=language)
    maker.go(screen, "" if screen == "shelf" else name)
    found = {}
    for size in ("laptop", "phone"):
        maker.page.set_viewport_size({"width": SIZES[size][0], "height": SIZES[size][1]})
        for light in LIGHTS:
            maker.page.emulate_media(color_scheme=light)
            maker.quiet()
            found[size, light] = violations(maker)
    assert not any(found.values()), told(found)


def test_a_violation_is_found_out(window: Opener) -> None:
    """The test above can fail."""
    maker = window()
    maker.page.set_content('<html lang="en"><title>t</title><button></button><p style="color:#999">grey on white</p>')
    said = " ".join(violations(maker))
    assert "button-name" in said
    assert "color-contrast" in said
