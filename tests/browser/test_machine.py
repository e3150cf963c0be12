"""At the machine in a browser: keys and buttons, what is remembered, and the page that another device opens."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest
from playwright.sync_api import Browser, Page, expect

from hoopwright.worktable.desk import Desk
from hoopwright.worktable.machine.halts import Halts
from hoopwright.worktable.machine.sharing import Sharing
from hoopwright.worktable.room import Room
from hoopwright.worktable.texts import words
from tests.browser.conftest import Opener
from tests.browser.finding import rules
from tests.browser.looking import amiss, violations
from tests.browser.running import RunningTable
from tests.browser.window import BUSY, LOCALES, SIZES, Window
from tests.worktable.tables import DEMO, own_address, shelf

HERE: Final = "127.0.0.1"
# What is pressed at the machine and measures less than 60 CSS pixels.
PRESSED: Final = """() => [...document.querySelectorAll("button, a.button, select, textarea, input")]
  .map((e) => [e, e.getBoundingClientRect()]).filter(([e, r]) => r.width && (r.width < 59.9 || r.height < 59.9))
  .map(([e, r]) => `${e.textContent.slice(0, 30)} ${r.width}x${r.height}`)"""


def at_the_machine(maker: Window, name: str) -> None:
    maker.page.goto(f"{maker.table.origin}/machine/{name}")
    expect(maker.page.locator(".m-page")).to_be_visible(timeout=BUSY)


def where(page: Page, language: str, key: str, **values: object) -> None:
    """Wait until the head says so."""
    expect(page.locator(".m-where")).to_contain_text(words(language)[key].format(**values), timeout=BUSY)


def test_keys_and_buttons_lead_through_the_halts_and_the_place_is_kept(window: Opener, table: RunningTable) -> None:
    name = table.put()
    maker = window()
    at_the_machine(maker, name)
    where(maker.page, "en", "machine.before.where")
    maker.button("machine.begin").click()
    where(maker.page, "en", "machine.halt", n=1, of=14)
    maker.page.keyboard.press("ArrowRight")
    where(maker.page, "en", "machine.halt", n=2, of=14)
    maker.page.keyboard.press("Space")
    where(maker.page, "en", "machine.part", n=2, of=2)
    maker.page.keyboard.press("ArrowLeft")
    where(maker.page, "en", "machine.part", n=1, of=2)
    note = maker.page.get_by_label(maker.word("machine.note"))
    note.fill("cut a little larger")
    expect(maker.page.get_by_text(maker.word("machine.note.saved"), exact=True)).to_be_visible(timeout=BUSY)
    note.press("ArrowRight")
    where(maker.page, "en", "machine.part", n=1, of=2)
    maker.page.reload()
    where(maker.page, "en", "machine.halt", n=2, of=14)
    expect(note).to_have_value("cut a little larger")


def test_the_list_leads_anywhere_and_back_to_the_beginning(window: Opener, table: RunningTable) -> None:
    name = table.put()
    maker = window()
    at_the_machine(maker, name)
    maker.button("machine.list.open").click()
    halt = maker.word("machine.halt", n=9, of=14)
    maker.page.get_by_role("button", name=re.compile(re.escape(halt))).click()
    where(maker.page, "en", "machine.halt", n=9, of=14)
    picture = maker.page.locator(".m-picture img")
    expect(picture).to_be_visible()
    maker.until(lambda: bool(picture.evaluate("(i) => i.complete && i.naturalWidth > 0")))
    maker.button("machine.list.open").click()
    maker.button("machine.again").click()
    maker.button("machine.again.not").click()
    maker.button("machine.again").click()
    maker.button("machine.again").click()
    where(maker.page, "en", "machine.before.where")


@pytest.mark.parametrize("language", LOCALES)
def test_nothing_is_cut_and_everything_is_large_enough_for_a_finger(
    window: Opener, table: RunningTable, language: str
) -> None:
    name = table.put("quay-pouch")
    maker = window(language=language)
    at_the_machine(maker, name)
    maker.button("machine.list.open").click()
    maker.page.locator(".m-list li button").first.click()
    for _ in range(4):
        maker.quiet()
        fits_every_size(maker)
        assert rules() is None or violations(maker) == []
        maker.page.keyboard.press("ArrowRight")
        maker.page.wait_for_timeout(100)
    maker.button("machine.list.open").click()
    fits_every_size(maker)


def fits_every_size(maker: Window) -> None:
    """What stands here is not cut at any size, and large enough; at the end the window has the size of a phone."""
    for size in SIZES:
        maker.sized(size)
        assert amiss(maker) == [], size
        assert maker.page.evaluate(PRESSED) == [], size


IN_SIGHT: Final = """() => {
  const picture = document.querySelector(".m-picture img").getBoundingClientRect();
  const foot = document.querySelector(".m-foot").getBoundingClientRect();
  return Math.min(picture.bottom, foot.top) - Math.max(picture.top, 0);
}"""
"""How many pixels of the height of a halt's picture are seen above the buttons."""


@pytest.mark.parametrize(
    ("size", "least"), [((844, 390), 200), ((195, 422), 90), ((390, 844), 200), ((820, 1180), 450)]
)
def test_a_halt_is_seen_at_once_on_its_side_and_made_large(
    window: Opener, table: RunningTable, size: tuple[int, int], least: float
) -> None:
    """A phone upright, lying on its side and at 200 %, and a tablet: the picture is in sight without scrolling, and nothing is cut."""
    maker = window(size=size, language="de")
    at_the_machine(maker, table.put("quay-pouch"))
    maker.button("machine.begin").click()
    picture = maker.page.locator(".m-picture img").first
    expect(picture).to_be_visible(timeout=BUSY)
    maker.until(lambda: bool(picture.evaluate("(i) => i.complete && i.naturalWidth > 0")))
    maker.page.evaluate("window.scrollTo(0, 0)")
    assert maker.page.evaluate(IN_SIGHT) >= least
    assert amiss(maker) == []


@pytest.fixture
def sharing(tmp_path: Path) -> Iterator[Sharing]:
    """A sharing over the network, where browsers grant a page less than on the machine itself; on a machine without one, on itself."""
    at = own_address() or HERE
    found = Sharing(Halts(Room(Desk(shelf(tmp_path)))), lambda: (at,))
    found.begin(DEMO, at)
    yield found
    found.end()


def test_another_device_follows_with_the_code_and_nothing_but_it(browser: Browser, sharing: Sharing) -> None:
    row = sharing.row()
    context = browser.new_context(viewport={"width": 820, "height": 1180}, locale="de-DE", has_touch=True)
    page = context.new_page()
    faults: list[str] = []
    page.on("console", lambda m: faults.append(m.text) if m.type in ("error", "warning") else None)
    page.on("pageerror", lambda e: faults.append(str(e)))
    page.on("request", lambda r: None if r.url.startswith((row["address"], "data:")) else faults.append(r.url))
    page.goto(row["address"])
    page.get_by_label(words("de")["machine.door.code"]).fill(row["code"])
    page.get_by_role("button", name=words("de")["machine.door.open"]).click()
    where(page, "de", "machine.before.where")
    with page.expect_response(lambda r: r.request.method == "POST"):  # said before what is said here
        page.get_by_role("button", name=words("de")["machine.begin"], exact=True).tap()
    where(page, "de", "machine.halt", n=1, of=14)
    assert page.evaluate(PRESSED) == []
    sharing.halts.go(DEMO, "panel", "1-1", "4-1", done=True)
    where(page, "de", "machine.halt", n=3, of=14)
    expect(page.locator(".m-sentence").first).to_contain_text("mit der rechten Seite nach UNTEN")
    page.wait_for_function("[...document.images].every((i) => i.complete && i.naturalWidth > 0)")
    assert faults == []
    sharing.end()
    expect(page.get_by_role("alert")).to_contain_text(words("de")["machine.offline"], timeout=BUSY)
    page.get_by_role("button", name=words("de")["machine.next"], exact=True).tap()
    where(page, "de", "machine.halt", n=4, of=14)
    context.close()
