"""Trouble while working: the worktable is gone for a while, another window was faster, the disk is full, a file is no drawing."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Opener, running
from tests.browser.running import RunningTable
from tests.browser.window import BUSY, Window

NET = r"net::ERR_|WebSocket connection|Failed to load resource"


@pytest.fixture(scope="module")
def own_table(tmp_path_factory: pytest.TempPathFactory) -> Iterator[RunningTable]:
    """A worktable that the tests of this file may stop; they leave it running."""
    with running(tmp_path_factory.mktemp("mortal")) as made:
        yield made


def nudged(maker: Window, number: int = 1, way: str = "ArrowRight") -> None:
    """Slide a cut by a millimetre with an arrow key."""
    maker.cut(number).focus()
    maker.page.keyboard.press(way)


def alert(maker: Window, key: str) -> None:
    """Wait until something is told in the words of this key."""
    told = maker.page.get_by_role("alert").filter(has_text=maker.word(key))
    expect(told).to_be_visible(timeout=BUSY)


def test_a_worktable_that_was_gone_for_a_while(window: Opener, own_table: RunningTable) -> None:
    name = own_table.put()
    before = own_table.file(name).read_text()
    maker = window(own_table, expect_faults=[NET])
    maker.go("draw", name)
    own_table.stop(kill=True)
    nudged(maker)
    alert(maker, "trouble.offline")
    expect(maker.page.get_by_text(maker.word("totals.waiting"), exact=True)).to_be_visible()
    assert own_table.file(name).read_text() == before
    own_table.start()
    maker.until(lambda: own_table.file(name).read_text() != before)
    maker.saved()
    expect(maker.page.get_by_role("alert").filter(has_text=maker.word("trouble.offline"))).to_be_hidden()


def test_work_outlives_the_window_while_the_worktable_is_gone(window: Opener, own_table: RunningTable) -> None:
    """The window is closed with a change in it that could not be saved; a new one in the same browser saves it."""
    name = own_table.put()
    before = own_table.file(name).read_text()
    maker = window(own_table, expect_faults=[NET])
    maker.go("draw", name)
    own_table.stop(kill=True)
    nudged(maker)
    alert(maker, "trouble.offline")
    maker.page.close()
    own_table.start()
    maker.page = maker.context.new_page()
    maker.go("draw", name)
    maker.until(lambda: own_table.file(name).read_text() != before)
    maker.saved()


def test_a_screen_that_could_not_be_loaded(window: Opener, table: RunningTable) -> None:
    name = table.put()
    maker = window(expect_faults=[NET])
    maker.go("draw", name)
    maker.page.route(re.compile("/parts/take"), lambda route: route.abort())
    maker.step_link("take").click()
    maker.quiet()
    maker.page.unroute_all()
    maker.stands("take")


def test_another_window_is_told_of_a_change(window: Opener, table: RunningTable) -> None:
    name = table.put()
    one, two = window(), window()
    one.go("draw", name)
    two.go("draw", name)
    nudged(one)
    expect(two.page.get_by_text(two.word("trouble.elsewhere"))).to_be_visible(timeout=BUSY)
    assert two.cut(1).get_attribute("aria-label") == one.cut(1).get_attribute("aria-label")


def test_of_two_windows_that_change_the_same_thing_one_is_told(window: Opener, table: RunningTable) -> None:
    name = table.put()
    one, two = window(), window(expect_faults=["409"])
    one.go("draw", name)
    two.go("draw", name)
    # The second window does not look in the meantime.
    seen = two.page.request.get(f"{table.origin}/api/projects/{name}/version").json()
    two.page.route(re.compile("/version$"), lambda route: route.fulfill(json=seen))
    before = table.file(name).read_text()
    nudged(one)
    one.until(lambda: table.file(name).read_text() != before)
    after = table.file(name).read_text()
    nudged(two, way="ArrowLeft")  # the same change in both would be no conflict
    alert(two, "trouble.409")
    assert table.file(name).read_text() == after
    two.page.unroute_all()
    nudged(two, way="ArrowLeft")
    two.until(lambda: table.file(name).read_text() != after)
    two.saved()


@pytest.mark.skipif(sys.platform != "linux", reason="limits of another process are set on Linux only")
def test_a_full_disk(window: Opener, own_table: RunningTable) -> None:
    import resource

    name = own_table.put()
    before = own_table.file(name).read_text()
    maker = window(own_table, expect_faults=["507"])
    maker.go("draw", name)
    assert own_table.process is not None
    full, roomy = (64, resource.RLIM_INFINITY), (resource.RLIM_INFINITY, resource.RLIM_INFINITY)
    resource.prlimit(own_table.process.pid, resource.RLIMIT_FSIZE, full)
    nudged(maker)
    alert(maker, "trouble.507")
    assert own_table.file(name).read_text() == before
    resource.prlimit(own_table.process.pid, resource.RLIMIT_FSIZE, roomy)
    maker.until(lambda: own_table.file(name).read_text() != before)
    maker.saved()


def test_a_project_that_was_spoilt_outside(window: Opener, table: RunningTable) -> None:
    name = table.put()
    maker = window()
    maker.go("draw", name)
    good = table.file(name).read_text()
    table.file(name).write_text(good.replace("[panel.outline]", "[panel.outline"))
    expect(maker.page.get_by_role("heading", name=maker.word("unreadable.title"))).to_be_visible(timeout=BUSY)
    maker.button("unreadable.sound").click()
    expect(maker.board()).to_be_visible(timeout=BUSY)
    assert table.file(name).read_text() == good


NO_DRAWING: Final = {
    "no drawing at all": b"This is a letter, not a drawing.",
    "cut off in the middle": b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 80"><path d="M0 0 L',
    "says more than it is": b'<!DOCTYPE s [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]><svg xmlns="http://www.w3.org/2000/svg">&b;</svg>',
}


@pytest.mark.parametrize("kind", NO_DRAWING)
def test_a_file_that_is_no_drawing(window: Opener, table: RunningTable, tmp_path: Path, kind: str) -> None:
    name = table.put()
    before = table.file(name).read_text()
    maker = window(expect_faults=["status of 4"])
    maker.go("draw", name)
    (tmp_path / "drawing.svg").write_bytes(NO_DRAWING[kind])
    maker.page.get_by_text(maker.word("draw.take"), exact=True).click()
    maker.page.get_by_label(maker.word("draw.take.drawing"), exact=True).set_input_files(tmp_path / "drawing.svg")
    told = maker.page.get_by_role("region", name=maker.word("frame.draw")).get_by_role("alert")
    expect(told).to_be_visible(timeout=BUSY)
    assert len(told.inner_text()) > 20
    assert table.file(name).read_text() == before
