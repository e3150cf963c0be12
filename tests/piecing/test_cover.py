from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from shapely.affinity import rotate, translate
from shapely.geometry import Polygon, box

from hoopwright.core.types import Point
from hoopwright.piecing.allowances import Needed, needed_cloth
from hoopwright.piecing.cover import Errors, at_risk, cover_of, draw_errors, edge_pairs, oversteps
from hoopwright.piecing.laying import mirrored
from hoopwright.piecing.shapes import Seam
from hoopwright.piecing.templates import corners_of, template_of
from tests.piecing.patch_makers import regular

ALLOWANCE = 6.35
FAR_OUTLINE = box(-500, -500, 500, 500)
SHAPES = {
    "kite": Polygon([(0, 0), (60, 0), (75, 35), (10, 50)]),
    "triangle": Polygon([(0, 0), (90, 0), (20, 28)]),
    "round": regular(72, 30).buffer(0),
    "strip": box(0, 0, 100, 9),
}


def needed_by(area: Polygon) -> Needed:
    return needed_cloth(corners_of(area), FAR_OUTLINE, ALLOWANCE)


def exactly(area: Polygon) -> Needed:
    """Return a need for the area itself, without any strip."""
    corners = corners_of(area)
    doubled = np.stack([corners, np.roll(corners, -1, axis=0)], axis=1).reshape(-1, 2)
    return Needed(corners, doubled, corners)


def disc_outside_square(radius: float, margin: float) -> float:
    """Return the share of a disc that lies outside a square round its middle: four segments (circle geometry)."""
    segment = radius**2 * math.acos(margin / radius) - margin * math.sqrt(radius**2 - margin**2)
    return 4 * segment / (math.pi * radius**2)


@pytest.mark.parametrize("margin", [1.45, 1.6, 1.8, 1.95])
def test_chance_for_a_strip_that_is_only_shifted_is_that_of_circle_segments(margin: float) -> None:
    errors = draw_errors(2.0, 0.0, 100_000, 3)
    cover = cover_of(box(-margin, -margin, 80 + margin, 12 + margin), exactly(box(0, 0, 80, 12)), (40.0, 0.0), errors)
    # the cover tolerance of 0.01 mm belongs to the margin
    expected = disc_outside_square(2.0, margin + 0.01)
    assert cover.chance == pytest.approx(expected, abs=4 * math.sqrt(expected / 100_000))
    assert cover.worst == pytest.approx(2.0 - margin)


def brute_oversteps(cloth: Polygon, needed: Needed, seam: Seam, errors: Errors) -> NDArray[np.float64]:
    """Lay the cloth by hand: mirror it, turn it about the middle of its raw edge, shift it, mirror it back, measure.

    The seam is the x axis. Errors of the flipped cloth are mirrored errors of the laid one.
    """
    left, low, right, _ = cloth.bounds
    middle = ((left + right) / 2, -low)
    found = []
    for (dx, dy), turn in zip(errors.shifts, errors.turns, strict=True):
        laid = rotate(mirrored(cloth, seam), -turn, origin=middle, use_radians=True)
        opened = mirrored(translate(laid, dx, -dy), seam)
        ring = shapely.get_coordinates(shapely.geometry.polygon.orient(opened).exterior)
        along = np.diff(ring, axis=0)
        normal = np.column_stack([along[:, 1], -along[:, 0]]) / np.hypot(*along.T)[:, None]
        beyond = normal @ needed.moved.T - (normal * ring[:-1]).sum(axis=1)[:, None]
        found.append(beyond.max())
    return np.array(found)


@pytest.mark.parametrize("name", SHAPES)
def test_trials_agree_with_laying_turning_and_flipping_by_hand(name: str) -> None:
    area = SHAPES[name]
    area = translate(area, 0, -area.bounds[1])
    needed, cloth = needed_by(area), template_of(area, ALLOWANCE)
    errors = draw_errors(4.0, 6.0, 150, 5)
    left, low, right, _ = cloth.bounds
    pivot: Point = ((left + right) / 2, low)
    by_hand = brute_oversteps(cloth, needed, Seam(1, (left, 0.0), (right, 0.0)), errors)
    pairs = edge_pairs(shapely.get_coordinates(cloth.exterior)[:-1], needed.hull, pivot, errors)
    assert oversteps(pairs, errors).max(axis=0) == pytest.approx(by_hand, abs=1e-9)
    cover = cover_of(cloth, needed, pivot, errors)
    assert cover.chance == pytest.approx((by_hand > 0.01).mean())
    assert 0 < cover.chance < 1


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize(("shift", "turn"), [(0.0, 5.0), (1.0, 1.0), (2.0, 3.0), (6.0, 12.0), (9.0, 0.0)])
def test_worst_case_is_never_passed_and_nearly_reached(name: str, shift: float, turn: float) -> None:
    area = SHAPES[name]
    needed, cloth = needed_by(area), template_of(area, ALLOWANCE)
    errors = draw_errors(shift, turn, 3000, 8)
    edges = [
        Errors(np.array([(shift * math.cos(a), shift * math.sin(a))]), np.array([t]), shift, errors.turn)
        for a in np.linspace(0, 2 * math.pi, 73)
        for t in np.linspace(-errors.turn, errors.turn, 9)
    ]
    pairs = edge_pairs(shapely.get_coordinates(cloth.exterior)[:-1], needed.hull, (20.0, 0.0), errors)
    sampled = oversteps(pairs, errors).max()
    forced = max(oversteps(pairs, e).max() for e in edges)
    worst = pairs.worst.max()
    assert max(sampled, forced) <= worst + 1e-9
    assert forced >= worst - 0.05
    assert cover_of(cloth, needed, (20.0, 0.0), errors).worst == pytest.approx(max(0.0, worst))


def test_leaving_out_pairs_without_risk_changes_no_failure() -> None:
    area = SHAPES["kite"]
    errors = draw_errors(3.0, 4.0, 2000, 1)
    pairs = edge_pairs(
        shapely.get_coordinates(template_of(area, ALLOWANCE).exterior)[:-1], needed_by(area).hull, (30.0, 0.0), errors
    )
    risky = at_risk(pairs)
    assert 0 < len(risky.edge) < len(pairs.edge)
    assert ((oversteps(pairs, errors).max(axis=0) > 0.01) == (oversteps(risky, errors).max(axis=0) > 0.01)).all()


def test_a_larger_cloth_fails_more_rarely() -> None:
    errors = draw_errors(4.0, 6.0, 4000, 2)
    area = SHAPES["kite"]
    chances = [cover_of(template_of(area, a), needed_by(area), (30.0, 0.0), errors).chance for a in (4, 5, 6, 8, 12)]
    assert chances == sorted(chances, reverse=True)
    assert chances[0] > 0.3
    assert chances[-1] < chances[0] / 10


def test_a_careful_hand_never_fails_with_a_quarter_inch() -> None:
    cover = cover_of(
        template_of(SHAPES["kite"], ALLOWANCE),
        needed_by(SHAPES["kite"]),
        (30.0, -ALLOWANCE),
        draw_errors(1, 1, 1000, 1),
    )
    assert (cover.worst, cover.chance, cover.trials) == (0.0, 0.0, 1000)


DENTED = Polygon([(0, 0), (60, 0), (60, 40), (32, 40), (30, 22), (28, 40), (0, 40)])


def test_cloth_with_a_dent_agrees_with_moving_it_by_hand() -> None:
    needed, cloth = needed_by(DENTED), template_of(DENTED, ALLOWANCE)
    errors = draw_errors(4.0, 5.0, 400, 4)
    pivot = (30.0, -ALLOWANCE)
    bare = []
    for (dx, dy), turn in zip(errors.shifts, errors.turns, strict=True):
        moved = translate(rotate(cloth, turn, origin=pivot, use_radians=True), dx, dy)
        bare.append(needed.region().difference(moved.buffer(0.01)).area > 0)
    cover = cover_of(cloth, needed, pivot, errors)
    assert 0 < cover.chance < 1
    assert cover.chance == pytest.approx(np.mean(bare), abs=1 / 400)


def test_worst_case_of_a_cloth_with_a_dent_is_an_upper_bound() -> None:
    needed, cloth = needed_by(DENTED), template_of(DENTED, ALLOWANCE)
    errors = draw_errors(4.0, 5.0, 500, 4)
    pivot = (30.0, -ALLOWANCE)
    cover = cover_of(cloth, needed, pivot, errors)
    deepest = 0.0
    for (dx, dy), turn in zip(errors.shifts, errors.turns, strict=True):
        moved = translate(rotate(cloth, turn, origin=pivot, use_radians=True), dx, dy)
        bare = needed.region().difference(moved)
        deepest = max(
            deepest, max((moved.distance(shapely.Point(p)) for p in shapely.get_coordinates(bare)), default=0.0)
        )
    assert 0.5 < deepest <= cover.worst


def test_errors_fill_the_disc_and_the_turns_evenly() -> None:
    errors = draw_errors(3.0, 2.0, 50_000, 6)
    length = np.hypot(*errors.shifts.T)
    assert length.max() <= 3.0
    assert (length < 1.5).mean() == pytest.approx(0.25, abs=0.01)
    assert np.abs(errors.turns).max() <= math.radians(2.0)
    assert np.quantile(errors.turns, 0.75) == pytest.approx(math.radians(1.0), abs=1e-3)


def test_the_same_seed_draws_the_same_errors() -> None:
    assert (draw_errors(1, 1, 100, 9).shifts == draw_errors(1, 1, 100, 9).shifts).all()
    assert (draw_errors(1, 1, 100, 9).shifts != draw_errors(1, 1, 100, 10).shifts).any()


def test_errors_that_are_kept_cannot_be_changed() -> None:
    errors = draw_errors(2.0, 1.0, 10, 3)
    assert not errors.shifts.flags.writeable and not errors.turns.flags.writeable
