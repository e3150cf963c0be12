from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np
import pytest

from hoopwright.core.types import frozen_points
from hoopwright.needle.best_order import best_order
from hoopwright.needle.block_order import RANK, colour_changes, reordered, travel_of
from hoopwright.needle.block_search import improved
from hoopwright.needle.shapes import Run, Step
from hoopwright.operations.vocabulary import DrawnStyle, OrnamentStyle, Press, Role, RunStyle, Stitch

ROLES = (Role.GROUND, Role.ORNAMENT, Role.ORNAMENT, Role.ORNAMENT, Role.LETTERING)


def block(
    index: int,
    *places: tuple[float, float],
    role: Role = Role.ORNAMENT,
    thread: str = "slate",
    seam: int | None = None,
    after: tuple[int, ...] = (),
    drawn: bool = False,
    hands: tuple[Press, ...] = (),
) -> Step:
    style = DrawnStyle(()) if drawn else OrnamentStyle("feather", 5.0) if role is Role.ORNAMENT else RunStyle(2.5)
    stitch = Stitch(role, f"Block {index}", thread, (), style, "", seam=seam, after=after)
    return Step(index, stitch, hands, (Run(frozen_points(places)),))


def random_steps(seed: int, count: int) -> list[Step]:
    """Return blocks of all kinds; some name seams of earlier ones, as blocks do whose ends another one covers."""
    dice = np.random.default_rng(seed)
    roles = sorted((ROLES[k] for k in dice.integers(0, len(ROLES), count)), key=lambda r: RANK[r])
    steps = []
    for k, role in enumerate(roles, 1):
        a, b = dice.random((2, 2)) * 100
        after = tuple(j for j in range(1, k) if dice.random() < 0.15) if role is Role.ORNAMENT else ()
        thread = ("slate", "rust", "moss")[int(dice.integers(0, 3))]
        steps.append(block(k, tuple(a), tuple(b), role=role, thread=thread, seam=k, after=after))
    return steps


def allowed(steps: Sequence[Step]) -> bool:
    """The rules, read from the finished order."""
    ranks = [RANK[s.stitch.role] for s in steps]
    place = {s.stitch.seam: k for k, s in enumerate(steps) if s.stitch.role is Role.ORNAMENT}
    named = all(
        place[n] < k
        for k, s in enumerate(steps)
        if s.stitch.role is Role.ORNAMENT
        for n in s.stitch.after
        if n in place
    )
    return ranks == sorted(ranks) and named and _met_in_turn(steps)


def _met_in_turn(steps: Sequence[Step]) -> bool:
    """Blocks of a kind that may touch, other than seam stitches, keep their order."""
    for a, b in itertools.combinations(steps, 2):
        if a.stitch.role is b.stitch.role is not Role.ORNAMENT and int(a.stitch.title[6:]) > int(b.stitch.title[6:]):
            one, other = a.runs[0].points, b.runs[0].points
            if (one.min(0) <= other.max(0)).all() and (other.min(0) <= one.max(0)).all():
                return False
    return True


def cost(steps: Sequence[Step]) -> tuple[int, float]:
    return colour_changes(steps), travel_of(steps)


def turned(step: Step) -> Step:
    return Step(step.index, step.stitch, step.hands, (Run(step.runs[0].points[::-1]),))


@pytest.mark.parametrize("seed", range(12))
def test_few_blocks_are_sewn_in_the_best_order_there_is(seed: int) -> None:
    """Oracle: every order in every direction."""
    steps = random_steps(seed, 5)
    found = reordered(steps)
    orders = (o for o in itertools.permutations(steps) if allowed(o))
    ways = (w for o in orders for w in itertools.product(*((s, turned(s)) for s in o)))
    best = min(cost(way) for way in ways)
    assert allowed(found)
    assert cost(found)[0] == best[0]
    assert cost(found)[1] == pytest.approx(best[1])


@pytest.mark.parametrize("seed", range(60))
def test_rules_are_kept_and_nothing_gets_worse(seed: int) -> None:
    steps = random_steps(100 + seed, 2 + seed % 25)
    found = reordered(steps)
    assert [s.index for s in found] == list(range(1, len(steps) + 1))
    assert sorted(s.stitch.title for s in found) == sorted(s.stitch.title for s in steps)
    assert allowed(found)
    assert cost(found) <= (colour_changes(steps), travel_of(steps) + 1e-6)
    assert [s.stitch.title for s in reordered(steps)] == [s.stitch.title for s in found]


@pytest.mark.parametrize("seed", range(8))
def test_many_blocks_come_near_the_best(seed: int) -> None:
    """Nine blocks, held against the exact order; the search may miss it by a little."""
    dice = np.random.default_rng(seed)
    ends = dice.random((9, 2, 2)) * 100
    entries, exits = ends.reshape(-1, 2), ends[:, ::-1].reshape(-1, 2)
    link = np.hypot(*(exits[:, None] - entries[None]).transpose(2, 0, 1))
    needs = [sum(1 << j for j in range(k) if dice.random() < 0.1) for k in range(9)]
    none = np.zeros(18)

    def length(choices: tuple[int, ...]) -> float:
        return math.fsum(link[a, b] for a, b in itertools.pairwise(choices))

    found = improved(none.tolist(), link.tolist(), none.tolist(), needs)
    place = {c >> 1: k for k, c in enumerate(found)}
    assert all(place[j] < place[k] for k in range(9) for j in range(9) if needs[k] >> j & 1)
    assert length(found) <= 1.25 * length(best_order(none, link, none, needs))


def test_nothing_passes_a_halt_and_what_builds_the_work_stays() -> None:
    press = (Press("A", "Press."),)
    steps = [
        block(1, (0, 0), (0, 1), role=Role.HOLD),
        block(2, (50, 0), (60, 0), seam=1),
        block(3, (0, 2), (40, 0), seam=2),
        block(4, (90, 0), (99, 0), seam=3, hands=press),
        block(5, (0, 0), (61, 0), seam=4),
        block(6, (0, 0), (5, 0), role=Role.OUTLINE),
    ]
    found = reordered(steps)
    assert [s.stitch.title for s in found] == ["Block 1", "Block 3", "Block 2", "Block 4", "Block 5", "Block 6"]
    assert [s.halt for s in found] == [False, False, False, True, False, False]


def test_the_halt_comes_before_whichever_block_is_first_now() -> None:
    press = (Press("A", "Press."),)
    steps = [block(1, (50, 0), (60, 0), seam=1, hands=press), block(2, (99, 0), (61, 0), seam=2)]
    steps = [block(0, (99, 0), (99, 1), role=Role.TACK), *steps]
    found = reordered(steps)
    assert [s.stitch.title for s in found] == ["Block 0", "Block 2", "Block 1"]
    assert [s.hands for s in found] == [(), press, ()]


def test_drawn_rows_are_not_turned() -> None:
    steps = [block(1, (0, 0), (90, 0), seam=1, drawn=True), block(2, (0, 1), (90, 1), seam=2, drawn=True)]
    assert all(s.runs[0].points[0, 0] == 0 for s in reordered(steps))


def test_a_thread_is_used_up_before_the_next_is_taken() -> None:
    threads = ("slate", "rust", "slate", "rust", "slate")
    steps = [block(k, (10.0 * k, 0), (10.0 * k + 5, 0), seam=k, thread=t) for k, t in enumerate(threads, 1)]
    assert colour_changes(steps) == 4
    assert colour_changes(reordered(steps)) == 1
