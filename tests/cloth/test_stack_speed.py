"""Measurements, started by ``make bench``; docs/performance.md has the figures."""

from __future__ import annotations

import time
from collections.abc import Callable

import pytest

from hoopwright.cloth.columns import columns, visible
from hoopwright.cloth.edges import raw_edges
from hoopwright.cloth.proofs import prove_panel
from hoopwright.cloth.replay import bench_of, replay
from hoopwright.items.plan import Plan
from hoopwright.operations.vocabulary import Side
from hoopwright.pipeline import plan
from hoopwright.project.schema import Project
from tests.cloth.flap import flap

pytestmark = pytest.mark.bench


def best(work: Callable[[], object], rounds: int = 7) -> float:
    """Return the least time of several rounds, ms."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return 1000.0 * min(times)


def asked_everything(made: Plan) -> None:
    """Carry the hooping out and ask for everything after every step, from both sides."""
    stacks = replay(made.hoopings[0], bench_of(made.project))
    for stack in stacks:
        table = columns(stack)
        assert table.thickest() > 0.0
        for side in Side:
            visible(stack, side, table)
    raw_edges(stacks[-1])


def large(patches: int) -> Plan:
    """A panel of so many strips in rounds, in a large hoop."""
    side = 60.0 + 4.0 * patches
    return plan(
        Project.model_validate(
            {
                "schema": 1,
                "title": "Rounds",
                "hoop": {"field": [side + 40, side + 40]},
                "cloths": {f"c{i}": {"name": f"c{i}", "colour": f"#{40 + 30 * i:02x}6080"} for i in range(6)},
                "threads": {"slate": {"name": "slate", "colour": "#56606b"}},
                "panel": {
                    "outline": {"shape": "rectangle", "width": side, "height": side},
                    "patchwork": {"way": "rounds", "patches": patches},
                    "seam_stitch": {"stitch": "none"},
                },
            }
        )
    )


def test_the_demo_is_carried_out_and_asked_everything_quickly() -> None:
    made = flap()
    whole, proofs = (
        best(lambda: asked_everything(made)),
        best(lambda: prove_panel(made.panels[0], made.hoopings[0], made.project)),
    )
    print(f"\ndemo: replay with all queries after every step {whole:.0f} ms, proofs {proofs:.0f} ms")
    assert whole < 60.0


def test_the_cost_grows_nearly_with_the_operations() -> None:
    sizes = (9, 17, 33, 65)
    rows = []
    for size in sizes:
        made = large(size)
        count = len(made.panels[0].patches)
        carry = best(lambda made=made: replay(made.hoopings[0], bench_of(made.project)), 3)  # type: ignore[misc]
        prove = best(lambda made=made: prove_panel(made.panels[0], made.hoopings[0], made.project), 3)  # type: ignore[misc]
        rows.append((count, carry, prove))
        print(f"\n{count} patches: replay {carry:.0f} ms ({carry / count:.2f} a patch), proofs {prove:.0f} ms", end="")
    (first, carry, _), (last, long_carry, _) = rows[0], rows[-1]
    assert long_carry / carry < 2.0 * last / first
