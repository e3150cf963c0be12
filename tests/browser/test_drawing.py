"""What a maker draws by hand: no piece is lost, and every piece keeps its cloth."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Opener, running
from tests.browser.hands import Pointer
from tests.browser.looking import amiss
from tests.browser.running import RunningTable
from tests.browser.window import BUSY, Window

NET: Final = r"net::ERR_|WebSocket connection|Failed to load resource"
PUSH: Final = 14
"""Pixels by which a cut is dragged."""
STEPS: Final = 6
"""How often an arrow is pressed without waiting."""
ROUNDED: Final = 0.15
"""Places are written and shown rounded, in mm."""


@pytest.fixture(scope="module")
def own_table(tmp_path_factory: pytest.TempPathFactory) -> Iterator[RunningTable]:
    """A worktable that a test of this file stops for a while."""
    with running(tmp_path_factory.mktemp("drawing")) as made:
        yield made


def by_hand(maker: Window) -> None:
    """Go on by hand with pieces that came from a rule."""
    expect(maker.pieces().first).to_be_visible(timeout=BUSY)
    maker.button("draw.unbind").click()
    expect(maker.cuts().first).to_be_visible(timeout=BUSY)
    maker.quiet()


def sewable(maker: Window, pieces: int) -> None:
    """Wait until so many pieces can be sewn."""
    maker.quiet()
    expect(maker.pieces()).to_have_count(pieces)
    expect(maker.page.get_by_text(maker.word("draw.order.mend"))).to_have_count(0)


def changed(maker: Window, file: Path, before: str) -> None:
    """Wait until a project is saved as something else."""
    maker.until(lambda: file.read_text() != before)
    maker.saved()


def test_no_piece_is_lost_when_cuts_of_a_rule_are_moved(window: Opener, table: RunningTable) -> None:
    maker = window(size=(1280, 800))
    hand = Pointer(maker)
    maker.go("shelf")
    recipe = maker.page.get_by_role("button", name=re.compile("^" + re.escape(maker.word("recipe.flap-pouch")) + r"\b"))
    recipe.click()
    dialog = maker.page.get_by_role("dialog")
    dialog.get_by_label(maker.word("shelf.title"), exact=True).fill("Pouch with moved cuts")
    dialog.get_by_role("button", name=maker.word("shelf.make"), exact=True).click()
    maker.stands("draw")
    by_hand(maker)
    pieces = maker.pieces().count()
    cuts = maker.cuts().count()
    assert pieces == 6
    for number in range(1, cuts + 1):
        before = maker.cut(number).inner_html()
        x, y = maker.middle_of_cut(number)
        hand.stroke((x, y), (x + PUSH, y + PUSH))
        assert maker.cut(number).inner_html() != before
        sewable(maker, pieces)
        maker.saved()
    quick_steps(maker)


def quick_steps(maker: Window) -> None:
    """Press a cut, then an arrow quicker than steps are saved: none is lost, and undo takes them back."""
    maker.page.mouse.click(*maker.middle_of_cut(1))
    place = maker.page.get_by_label(maker.word("draw.number.ay"), exact=True)

    def height() -> float:
        return float(place.input_value().split()[0])

    before = height()
    for _ in range(STEPS):
        maker.page.keyboard.press("ArrowUp")
    shown = height()
    assert shown != before
    maker.saved()
    maker.quiet()
    assert abs(height() - shown) <= ROUNDED
    for _ in range(STEPS):
        if abs(height() - before) > ROUNDED:
            maker.page.keyboard.press("Control+z")
            maker.quiet()
    assert abs(height() - before) <= ROUNDED


def wider(maker: Window) -> None:
    """Make the item wider: in the form of what it was begun with."""
    maker.page.locator("summary", has_text=maker.word("make.title")).click()
    width = maker.page.get_by_label(maker.word("make.width"), exact=True)
    width.fill("116")
    width.press("Tab")


def test_what_is_drawn_and_resized_while_the_worktable_is_gone_is_saved_as_if_it_were_there(
    window: Opener, own_table: RunningTable
) -> None:
    """Pieces keep their cloths in the new cut, and all cuts go along with the new size."""
    saved = []
    for gone in (False, True):
        name = own_table.put("ferry-zip-pouch")
        maker = window(own_table, expect_faults=[NET])
        maker.go("draw", name)
        by_hand(maker)
        before = own_table.file(name).read_text()
        if gone:
            own_table.stop(kill=True)
        maker.piece("A").focus()
        maker.page.keyboard.press("c")
        if gone:
            expect(maker.page.get_by_text(maker.word("totals.waiting"), exact=True)).to_be_visible(timeout=BUSY)
            assert own_table.file(name).read_text() == before
        else:
            changed(maker, own_table.file(name), before)
        wider(maker)
        told = maker.word("size.waits" if gone else "size.carried")
        expect(maker.page.locator(".size-said", has_text=told)).to_be_visible(timeout=BUSY)
        if gone:
            own_table.start()
        file = own_table.file(name)
        maker.until(lambda file=file: "width = 116" in file.read_text())  # type: ignore[misc]
        maker.saved()
        assert not amiss(maker)
        saved.append(own_table.file(name).read_text())
    assert saved[0] == saved[1]


WINDMILL: Final = """way = "lines"
lines = [
    [[-55, -15], [18, -15]],
    [[18, -46], [18, 15]],
    [[-18, 15], [55, 15]],
    [[-18, -15], [-18, 46]],
]
"""


def windmill(text: str) -> str:
    """Return the example with four cuts that hold each other in a ring."""
    start = text.index('way = "cuts"')
    return text[:start] + WINDMILL + text[text.index("]\n", text.index("cuts = [")) + 2 :]


def test_a_cure_is_shown_only_when_the_hand_is_led_to_it(window: Opener, table: RunningTable) -> None:
    maker = window()
    maker.go("draw", table.put(change=windmill))
    cures = maker.page.get_by_role("region", name=maker.word("draw.cures")).get_by_role("button")
    expect(cures.first).to_be_visible(timeout=BUSY)
    maker.quiet()
    asked: list[str] = []
    maker.page.on("request", lambda r: asked.append(r.url) if r.url.endswith("/draw/hand") else None)
    box = cures.first.bounding_box()
    assert box is not None
    at = {"clientX": box["x"] + 9, "clientY": box["y"] + 9, "pointerType": "mouse", "bubbles": True}
    for kind in ("pointerover", "pointerenter", "pointermove"):
        cures.first.dispatch_event(kind, at)
    maker.quiet()
    assert not asked
    maker.page.mouse.move(box["x"] + 9, box["y"] + 9, steps=4)
    maker.quiet()
    assert asked
    cures.first.click()
    maker.saved()
    sewable(maker, maker.pieces().count())


def test_the_tool_stays_in_the_hand_and_nothing_jumps(window: Opener, table: RunningTable) -> None:
    maker = window(size=(1280, 800))
    name = table.put("spring-tide-panel")
    maker.go("draw", name)
    expect(maker.cuts().first).to_be_visible(timeout=BUSY)
    maker.quiet()
    mouse, keyboard = maker.page.mouse, maker.page.keyboard
    standing = maker.board().bounding_box()
    there = maker.cuts().count()
    maker.button("draw.cut").click()
    assert maker.board().bounding_box() == standing
    x, y = maker.middle_of_cut(1)
    mouse.move(x - 60, y - 60)
    mouse.down()
    mouse.move(x - 60, y + 40, steps=4)
    keyboard.press("Escape")  # the cut that is begun is let go, the tool stays
    mouse.up()
    expect(maker.button("draw.cut")).to_have_attribute("aria-pressed", "true")
    assert maker.cuts().count() == there
    keyboard.press("Escape")
    expect(maker.button("draw.move")).to_have_attribute("aria-pressed", "true")
    box = maker.end_of_cut(1).bounding_box()
    assert box is not None
    for drop in (False, True):
        mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        mouse.down()
        for far in range(20, 160, 20):
            mouse.move(box["x"] + far, box["y"] - 20, steps=2)  # into the middle of a patch: no patches come of it
        maker.quiet()
        assert maker.board().bounding_box() == standing
        if drop:
            mouse.up()
            refused = maker.page.locator(".draw [role=alert]")
            expect(refused).to_be_visible(timeout=BUSY)
            refused.evaluate("(said) => said.append(' and more'.repeat(30))")  # however much there is to say
            assert maker.board().bounding_box() == standing
            continue
        maker.page.locator(".findings button.findings-strip").evaluate("(strip) => strip.click()")
        beside, work = maker.page.locator(".findings.open").bounding_box(), maker.page.locator(".draw").bounding_box()
        assert beside is not None and work is not None
        assert beside["x"] >= work["x"] + work["width"]  # what was found stands beside the work, not over it
        keyboard.press("Escape")
        mouse.up()
        maker.quiet()
        expect(maker.page.locator(".findings.open")).to_have_count(0)
        assert maker.board().bounding_box() == standing


COVERED = """() => new Promise((told) => requestAnimationFrame(() => requestAnimationFrame(() => {
  const at = document.activeElement, box = at.getBoundingClientRect(), bar = document.querySelector(".totals").getBoundingClientRect();
  const under = !at.closest(".totals") && box.height < bar.top && box.bottom > bar.top + 1;
  told(under ? at.getAttribute("aria-label") ?? at.textContent : "");
})))"""
"""What has the focus and lies under the totals, though there is room for it above them."""


def test_keys_come_to_nothing_that_lies_under_the_totals_and_the_focus_is_not_lost(
    window: Opener, table: RunningTable
) -> None:
    maker = window(size=(640, 400))
    maker.go("draw", table.put("spring-tide-panel"))
    expect(maker.cuts().first).to_be_visible(timeout=BUSY)
    maker.quiet()
    maker.button("draw.move").focus()
    found = []
    for _ in range(30):
        maker.page.keyboard.press("Tab")
        found.append(maker.page.evaluate(COVERED))
    assert not any(found), found
    there = maker.cuts().count()
    maker.cuts().first.focus()
    above, beside = maker.button("draw.remove").all()  # beside the tools, for the form lies below the board
    assert beside.is_visible()
    above.press("Enter")
    expect(maker.cuts()).not_to_have_count(there)
    expect(maker.button("draw.move")).to_be_focused()
    more, opened = maker.page.locator(".totals-more"), maker.page.locator("#totals-full")
    more.press("Enter")
    expect(opened).to_be_focused()
    maker.page.keyboard.press("Escape")
    expect(opened).to_have_count(0)
    expect(more).to_be_focused()
    more.press("Enter")
    expect(opened).to_be_focused()
    maker.page.keyboard.press("Shift+Tab")  # on beyond it, to what it lies over
    expect(opened).to_have_count(0)
    more.click()
    maker.button("draw.move").focus()
    maker.page.keyboard.press("Escape")
    expect(opened).to_have_count(0)
