"""Travel without sewing in the hoopings of the examples, against a search that takes a hundred times as long."""

from __future__ import annotations

from pathlib import Path

import pytest

from hoopwright.needle import best_order, block_search, sewing, tour
from hoopwright.needle.block_order import colour_changes, travel_of
from hoopwright.needle.shapes import Hooping
from hoopwright.pipeline import plan
from hoopwright.project.load import load

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*/project.toml"))
LONG = 100
MOST_OFF = 0.03

pytestmark = pytest.mark.bench


def hoopings(path: Path) -> tuple[Hooping, ...]:
    loaded = load(path)
    return plan(loaded.project, dict(loaded.drawings)).hoopings


def trims(hooping: Hooping) -> int:
    return sum(len(step.runs) for step in hooping.steps)


@pytest.mark.parametrize("path", EXAMPLES, ids=[p.parent.name for p in EXAMPLES])
def test_travel_is_near_the_best_tour_found_by_a_long_search(
    path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    found = hoopings(path)
    with monkeypatch.context() as patch:
        patch.setattr("hoopwright.pipeline.planning.reordered", tuple)
        patch.setattr(sewing, "in_short_order", lambda rows, start=None: list(rows))
        given = hoopings(path)
    with monkeypatch.context() as patch:
        patch.setattr(tour, "KICKS", LONG * tour.KICKS)
        patch.setattr(block_search, "KICKS", LONG * block_search.KICKS)
        patch.setattr(best_order, "MOST_SETS", 1 << best_order.MOST_THINGS)
        best = hoopings(path)
    with capsys.disabled():
        print()
        for a, b, c in zip(given, found, best, strict=True):
            way = [travel_of(h.steps) for h in (a, b, c)]
            print(
                f"{path.parent.name} {b.key}: {len(b.steps)} blocks, {colour_changes(a.steps)} -> {colour_changes(b.steps)} changes of "
                f"colour, {trims(b)} runs, travel {way[0]:.0f} -> {way[1]:.0f} mm (long search {way[2]:.0f})"
            )
    for a, b, c in zip(given, found, best, strict=True):
        assert colour_changes(b.steps) <= colour_changes(a.steps)
        assert travel_of(b.steps) <= (1.0 + MOST_OFF) * travel_of(c.steps) + 1e-6
