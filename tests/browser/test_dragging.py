"""How soon the plan follows the hand: from a move of the pointer to the frame that shows the new plan."""

from __future__ import annotations

import statistics
from typing import Final

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Opener
from tests.browser.many import SIXTY
from tests.browser.running import RunningTable
from tests.browser.window import Window

MOVES: Final = 30
WARM: Final = 3
"""The first moves of a drag are not counted: the engine's caches fill."""

WATCH: Final = r"""
(name) => {
  const board = document.querySelector(`[role=group][aria-label="${name}"]`);
  window.planned = [];
  let moved = 0;
  window.addEventListener("pointermove", (event) => { moved = event.timeStamp; }, true);
  // A piece is redrawn when the plan in the page is another one; what lies under the hand moves before.
  const look = (rows) => {
    if (!moved || !rows.some((r) => r.target.closest("[role=button]") && r.attributeName === "d")) return;
    const from = moved;
    moved = 0;
    requestAnimationFrame(() => window.planned.push(performance.now() - from));
  };
  new MutationObserver(look).observe(board, { subtree: true, attributes: true, attributeFilter: ["d"] });
}
"""


def dragged(maker: Window, cut: int, far: float) -> list[float]:
    """Drag a cut by its middle to and fro; return the milliseconds until each new plan was shown."""
    name = maker.word("draw.board")
    board = maker.page.get_by_role("group", name=name)
    expect(board).to_be_visible()
    x, y = maker.middle_of_cut(cut)
    maker.page.evaluate(WATCH, name)
    maker.page.mouse.move(x, y)
    maker.page.mouse.down()
    for k in range(MOVES + WARM):
        maker.page.mouse.move(x + far * (1 + k % 5) / 5, y + far * (1 + k % 7) / 7)
        maker.page.wait_for_function("(n) => window.planned.length > n", arg=k)
    maker.page.mouse.up()
    times: list[float] = maker.page.evaluate("window.planned")
    maker.saved()
    return sorted(times[WARM : WARM + MOVES])


def told(what: str, times: list[float]) -> str:
    """Return the figures of a drag as a line."""
    return f"\n{what}: median {statistics.median(times):.0f} ms, 95th of 100 {late(times):.0f} ms, worst {times[-1]:.0f} ms"


def late(times: list[float]) -> float:
    """Return the 95th percentile of sorted times (nearest rank)."""
    return times[-(-95 * len(times) // 100) - 1]


def test_the_plan_follows_the_hand(window: Opener, table: RunningTable, capsys: pytest.CaptureFixture[str]) -> None:
    name = table.put()
    maker = window()
    maker.go("draw", name)
    times = dragged(maker, 4, 8)
    with capsys.disabled():
        print(told("dragging a cut of the example", times))
    assert statistics.median(times) < 400


@pytest.mark.bench
def test_the_plan_follows_within_a_twentieth_of_a_second(
    window: Opener, table: RunningTable, capsys: pytest.CaptureFixture[str]
) -> None:
    name = table.put()
    maker = window()
    maker.go("draw", name)
    times = dragged(maker, 4, 8)
    with capsys.disabled():
        print(told("dragging a cut of the example", times))
    assert statistics.median(times) < 60
    assert late(times) < 120


@pytest.mark.bench
def test_sixty_pieces_follow_within_a_quarter_of_a_second(
    window: Opener, table: RunningTable, capsys: pytest.CaptureFixture[str]
) -> None:
    name = table.put(change=lambda _: SIXTY)
    maker = window()
    maker.go("draw", name)
    times = dragged(maker, 30, 4)
    with capsys.disabled():
        print(told("dragging a cut among 60 pieces", times))
    assert statistics.median(times) < 250
