"""The polygon overlay of the stack agrees with a slow model of columns, over random rows of operations."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon, box

from hoopwright.cloth.columns import columns, visible
from hoopwright.cloth.handling import fold, lay, trim, trim_to
from hoopwright.cloth.shapes import Layer, Line, Stack, region_of
from hoopwright.cloth.stitching import caught, thickness_at
from hoopwright.operations.vocabulary import Face, Side
from hoopwright.plane.half_plane import left_of
from tests.properties.column_oracle import SIZE, Columns, Half, places

SPOTS = places()
NAMES = ("a", "b", "c", "d", "e")
THICK = {name: 0.1 * 2**i for i, name in enumerate(NAMES)}

boxes = st.tuples(*[st.integers(-7, 6)] * 2, *[st.integers(1, 8)] * 2)
halves = st.tuples(st.sampled_from("xy+-"), st.integers(-5, 5), st.sampled_from((-1, 1)))
"""Folds reach at most 5 to 10 units beyond the middle, so nothing leaves the grid in a few folds of small sheets."""


def line_of(half: Half) -> Line:
    """Return the line of a half plane, which lies to its left."""
    kind, k, sign = half
    start, end = {
        "x": ((k, 0.0), (k, -1.0)),
        "y": ((0.0, k), (1.0, k)),
        "+": ((0.0, k), (1.0, k - 1.0)),
        "-": ((0.0, -k), (-1.0, -k - 1.0)),
    }[kind]
    return (start, end) if sign > 0 else (end, start)


def polygon_of(rows: list[Half]) -> Polygon:
    shape = region_of(shapely.intersection_all([box(-SIZE, -SIZE, SIZE, SIZE), *(left_of(*line_of(h)) for h in rows)]))
    assert isinstance(shape, Polygon)
    return shape


def sides_of(place: tuple[int, int, int, int]) -> list[Half]:
    x, y, width, height = place
    return [("x", x, 1), ("x", x + width, -1), ("y", y, 1), ("y", y + height, -1)]


sheets = st.tuples(st.just("lay"), boxes, st.booleans(), st.booleans(), st.none() | halves)
folds = st.tuples(st.just("fold"), halves, st.sets(st.sampled_from(NAMES), min_size=1), st.booleans())
trims = st.tuples(st.just("trim"), boxes, st.sets(st.sampled_from(NAMES), min_size=1), st.booleans())
rows_of_operations = st.lists(sheets, min_size=1, max_size=2).flatmap(
    lambda first: st.lists(st.one_of(sheets, folds, trims), max_size=7).map(lambda rest: [*first, *rest])
)


def carried_out(operations: list[tuple]) -> tuple[Stack, Columns]:  # type: ignore[type-arg]
    """Carry operations out on both models; at most five sheets are laid, and at most three folds made."""
    stack, model, laid, folded = Stack(), Columns(), 0, 0
    for operation in operations:
        match operation:
            case ("lay", place, up, under, extra) if laid < len(NAMES):
                rows = [*sides_of(place), *([extra] if extra else [])]
                shape = polygon_of(rows)
                if shape.is_empty:
                    continue
                name, laid = NAMES[laid], laid + 1
                face, side = Face.UP if up else Face.DOWN, Side.UNDER if under else Side.TOP
                stack = lay(stack, Layer(name, "linen", THICK[name], shape, face, side))
                model.lay(name, up, rows, under)
            case ("fold", half, names, under) if folded < 3 and _stays(stack, half):
                folded += 1
                stack = fold(stack, line_of(half), names, Side.UNDER if under else Side.TOP)
                model.fold(half, names, under)
            case ("trim", place, names, keep):
                shape = polygon_of(sides_of(place))
                stack = trim_to(stack, shape, names) if keep else trim(stack, shape, names)
                model.trim(sides_of(place), names, keep)
    return stack, model


def _stays(stack: Stack, half: Half) -> bool:
    """Whether a fold keeps everything on the grid."""
    regions = [p.region for p in fold(stack, line_of(half)).layers]
    return not regions or bool(np.abs(shapely.total_bounds(regions)).max() < SIZE - 1)


@settings(max_examples=20, deadline=None)
@given(rows_of_operations)
def test_counts_thickness_and_what_shows_agree(operations: list[tuple]) -> None:  # type: ignore[type-arg]
    stack, model = carried_out(operations)
    table = columns(stack)
    spots = shapely.points(SPOTS)
    counts = np.zeros(len(SPOTS))
    thick = np.zeros(len(SPOTS))
    if len(table.cells):
        cell, spot = shapely.STRtree(spots).query(table.cells, predicate="contains")
        counts[spot], thick[spot] = table.counts[cell], table.thickness[cell]
    assert np.array_equal(counts, model.array(len))
    assert np.allclose(thick, model.array(lambda c: sum(THICK[s] for s, _ in c)))
    assert np.allclose(thickness_at(stack, np.array(SPOTS)), thick)
    for side, end in ((Side.TOP, -1), (Side.UNDER, 0)):
        for shown in visible(stack, side, table):
            layer = stack.layers[shown.layer]
            inside = shapely.contains_xy(shown.region, np.array(SPOTS))
            outermost = [column[end] == (layer.sheet, layer.face is Face.UP) for column in _chosen(model, inside)]
            assert all(outermost)
            assert shown.right == ((layer.face is Face.UP) == (side is Side.TOP))
            assert shown.region.area == pytest.approx(0.25 * len(outermost), abs=0.02)


def _chosen(model: Columns, inside: NDArray[np.bool_]) -> list[list[tuple[str, bool]]]:
    return [column for column, chosen in zip(model.at.values(), inside, strict=True) if chosen]


@settings(max_examples=20, deadline=None)
@given(rows_of_operations, st.integers(-12, 11), st.integers(-14, 0), st.integers(1, 14))
def test_what_a_line_catches_agrees(operations: list[tuple], row: int, start: int, end: int) -> None:  # type: ignore[type-arg]
    stack, model = carried_out(operations)
    found: dict[tuple[str, bool], float] = {}
    for held in caught(stack, LineString([(start, row + 0.5), (end, row + 0.5)])):
        key = (held.sheet, held.face is Face.UP)
        found[key] = found.get(key, 0.0) + held.length
    wanted = model.caught(row, start, end)
    assert {k for k, v in found.items() if v > 0.1} == set(wanted)
    assert all(found[k] == pytest.approx(v, abs=0.1) for k, v in wanted.items())


@settings(max_examples=20, deadline=None)
@given(rows_of_operations)
def test_columns_hold_the_layers_in_the_right_order(operations: list[tuple]) -> None:  # type: ignore[type-arg]
    stack, model = carried_out(operations)
    table = columns(stack)
    for cell, shape in enumerate(table.cells):
        layers = [(p.sheet, p.face is Face.UP) for p in table.layers_of(cell)]
        inside = shapely.contains_xy(shape, np.array(SPOTS))
        assert all(column == layers for column in _chosen(model, inside))


def test_a_wrong_fold_is_noticed() -> None:
    """The comparison can fail: folding in the same order instead of the reverse one gives other columns."""
    operations = [
        ("lay", (-4, -4, 8, 8), True, False, None),
        ("lay", (-2, -2, 6, 6), False, False, None),
        ("fold", ("x", 0, 1), {"a", "b"}, False),
    ]
    stack, model = carried_out(operations)
    rows = [(p.sheet, p.face is Face.UP) for p in stack.layers]
    assert model.at[(-1.25 - 0.0, 0.5)] == rows
    assert rows[2:] == [("b", True), ("a", False)]
    assert rows[2:] != list(reversed(rows[2:]))


@pytest.mark.soak
@settings(max_examples=250, deadline=None)
@given(rows_of_operations, st.integers(-12, 11))
def test_many_rows_of_operations_agree(operations: list[tuple], row: int) -> None:  # type: ignore[type-arg]
    stack, model = carried_out(operations)
    assert np.allclose(thickness_at(stack, np.array(SPOTS)), model.array(lambda c: sum(THICK[s] for s, _ in c)))
    found: dict[tuple[str, bool], float] = {}
    for held in caught(stack, LineString([(-14, row + 0.5), (14, row + 0.5)])):
        key = (held.sheet, held.face is Face.UP)
        found[key] = found.get(key, 0.0) + held.length
    wanted = model.caught(row, -14, 14)
    assert all(found[k] == pytest.approx(v, abs=0.1) for k, v in wanted.items())
