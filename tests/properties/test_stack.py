"""What holds for every stack, whatever is folded over which line."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate
from shapely.geometry import LineString, Polygon, box

from hoopwright.cloth.columns import columns, thickness_map, visible
from hoopwright.cloth.edges import raw_edges
from hoopwright.cloth.handling import flip, fold, lay
from hoopwright.cloth.shapes import Layer, Line, Stack
from hoopwright.cloth.stitching import caught, free, stitch
from hoopwright.core.tolerances import COVER_AREA
from hoopwright.operations.vocabulary import Face, Side

numbers = st.floats(-40.0, 40.0, allow_nan=False)
sizes = st.floats(5.0, 60.0)
angles = st.floats(0.0, 360.0)


@st.composite
def shapes(draw: st.DrawFn) -> Polygon:
    x, y, w, h = draw(numbers), draw(numbers), draw(sizes), draw(sizes)
    return rotate(box(x, y, x + w, y + h), draw(angles), origin="center")


@st.composite
def lines(draw: st.DrawFn) -> Line:
    x, y, angle = draw(numbers), draw(numbers), math.radians(draw(angles))
    return ((x, y), (x + 50.0 * math.cos(angle), y + 50.0 * math.sin(angle)))


@st.composite
def stacks(draw: st.DrawFn) -> Stack:
    stack = Stack()
    for number in range(draw(st.integers(1, 5))):
        face, side = draw(st.sampled_from(list(Face))), draw(st.sampled_from(list(Side)))
        stack = lay(stack, Layer(f"s{number}", "linen", 0.1 * (number + 1), draw(shapes()), face, side))
    for line in draw(st.lists(lines(), max_size=2)):
        stack = fold(
            stack, line, draw(st.sets(st.sampled_from(stack.sheets), min_size=1)), draw(st.sampled_from(list(Side)))
        )
    return stack


def area(stack: Stack) -> float:
    return sum(p.region.area for p in stack.layers)


@settings(max_examples=150, deadline=None)
@given(stacks(), lines(), st.sampled_from(list(Side)))
def test_a_fold_conserves_area(stack: Stack, line: Line, onto: Side) -> None:
    folded = fold(stack, line, onto=onto)
    assert area(folded) == pytest.approx(area(stack), abs=1e-4)
    for sheet in stack.sheets:
        assert sum(p.region.area for p in folded.of(sheet)) == pytest.approx(
            sum(p.region.area for p in stack.of(sheet)), abs=1e-4
        )


@settings(max_examples=150, deadline=None)
@given(stacks(), shapes(), angles, st.floats(-0.45, 0.45))
def test_a_flip_undoes_itself(stack: Stack, shape: Polygon, angle: float, off: float) -> None:
    """Flipped twice over a line that crosses it, the last sheet lies as before in one piece; nothing else has moved."""
    turn, (x, y) = math.radians(angle), shape.centroid.coords[0]
    reach = off * math.sqrt(shape.minimum_clearance)
    line = ((x + reach, y), (x + reach + math.cos(turn), y + math.sin(turn)))
    whole = lay(stack, Layer("new", "linen", 0.3, shape, Face.DOWN, Side.TOP))
    once = flip(whole, "new", line)
    assert [p.face for p in once.of("new")] == [Face.DOWN, Face.UP]
    (back,) = flip(once, "new", line).of("new")
    assert back.region.symmetric_difference(shape).area < 1e-4 * shape.length + COVER_AREA
    assert (back.face, back.folds) == (Face.DOWN, ())
    assert [p for p in once.layers if p.sheet != "new"] == list(stack.layers)


@settings(max_examples=100, deadline=None)
@given(stacks())
def test_what_shows_parts_the_covered_area(stack: Stack) -> None:
    table = columns(stack)
    covered = shapely.union_all([p.region for p in stack.layers])
    for side in Side:
        shown = visible(stack, side, table)
        regions = [s.region for s in shown]
        assert shapely.union_all(regions).symmetric_difference(covered).area == pytest.approx(0.0, abs=0.05)
        assert sum(r.area for r in regions) == pytest.approx(covered.area, abs=0.05)
        for s in shown:
            assert s.region.difference(stack.layers[s.layer].region).area == pytest.approx(0.0, abs=0.05)


@settings(max_examples=100, deadline=None)
@given(stacks())
def test_thickness_is_the_sum_over_sheets(stack: Stack) -> None:
    table = columns(stack)
    volume = float((shapely.area(table.cells) * table.thickness).sum())
    assert volume == pytest.approx(sum(p.thickness * p.region.area for p in stack.layers), abs=0.05)
    assert sum(t * r.area for t, r in thickness_map(table)) == pytest.approx(volume, abs=0.1)


@settings(max_examples=100, deadline=None)
@given(stacks(), lines(), st.sampled_from(list(Side)))
def test_turning_the_whole_stack_over_shows_the_other_side(stack: Stack, line: Line, onto: Side) -> None:
    """Folding everything over a line far away turns the stack over: what showed below shows on top, mirrored."""
    far = ((500.0, 0.0), (500.0, 1.0))
    over = fold(stack, far, onto=onto)
    below = {(s.sheet, s.right, round(s.region.area, 1)) for s in visible(stack, Side.UNDER) if s.region.area > 0.2}
    above = {(s.sheet, s.right, round(s.region.area, 1)) for s in visible(over, Side.TOP) if s.region.area > 0.2}
    assert {(n, r) for n, r, _ in below} == {(n, r) for n, r, _ in above}
    assert sum(a for *_, a in below) == pytest.approx(sum(a for *_, a in above), abs=1.0)


@settings(max_examples=100, deadline=None)
@given(stacks(), lines())
def test_a_line_catches_a_layer_or_clears_it(stack: Stack, line: Line) -> None:
    path = LineString(line)
    held, cleared = caught(stack, path), free(stack, path)
    apart = [p.sheet for p in stack.layers if path.disjoint(p.region)]
    crossed = [p.sheet for p in stack.layers if path.intersection(p.region).length > 0.1]
    grazed = [p.sheet for p in stack.layers if path.dwithin(p.region, 0.1)]
    far = [p.sheet for p in stack.layers if not path.dwithin(p.region, 0.1)]
    assert Counter(far) <= Counter(f.sheet for f in cleared) <= Counter(apart)
    assert all(f.clearance > 0.0 for f in cleared)
    assert Counter(crossed) <= Counter(h.sheet for h in held) <= Counter(grazed)
    assert all(h.length <= path.length + 0.1 for h in held)
    assert all(h.own_line.length == pytest.approx(h.line.length) for h in held)


@settings(max_examples=60, deadline=None)
@given(shapes(), lines())
def test_folding_makes_no_cut_edge(shape: Polygon, line: Line) -> None:
    """The cut edges of a folded sheet are as long as its outline."""
    stack = lay(Stack(), Layer("one", "linen", 0.3, shape, Face.UP, Side.TOP))
    folded = fold(stack, line)
    assert sum(e.line.length for e in raw_edges(folded)) == pytest.approx(shape.length, abs=0.2)


@settings(max_examples=60, deadline=None)
@given(stacks(), lines())
def test_a_join_remembers_places_of_the_sheet(stack: Stack, line: Line) -> None:
    """Folded after it was sewn, a seam still lies at the same places of its sheets."""
    sewn = stitch(stack, LineString(line))
    for held in sewn.joins[-1].held:
        own = shapely.union_all([p.placing.undone().shape(p.region) for p in stack.of(held.sheet)])
        assert held.own_line.difference(own.buffer(0.02)).length == pytest.approx(0.0, abs=1e-6)


def test_the_order_of_a_fold_is_reversed() -> None:
    low = Layer("low", "linen", 0.3, box(0, 0, 10, 10), Face.UP, Side.TOP)
    stack = lay(Stack(), low, replace(low, sheet="high"))
    folded = fold(stack, ((5.0, 10.0), (5.0, 0.0)))
    assert [(p.sheet, p.face) for p in folded.layers] == [
        ("low", Face.UP),
        ("high", Face.UP),
        ("high", Face.DOWN),
        ("low", Face.DOWN),
    ]
    assert np.allclose(folded.layers[-1].region.bounds, (0, 0, 5, 10))
