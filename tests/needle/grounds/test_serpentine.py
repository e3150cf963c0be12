from __future__ import annotations

import pytest
import shapely
from shapely.geometry import LineString, Point, Polygon, box

from hoopwright.needle.grounds.serpentine import serpentine


def rows(part: Polygon, pitch: float) -> list[LineString]:
    left, low, right, high = part.bounds
    found: list[LineString] = []
    y = low + pitch / 2
    while y < high:
        cut = LineString([(left - 1, y), (right + 1, y)]).intersection(part)
        found += [p for p in shapely.get_parts(cut) if isinstance(p, LineString)]
        y += pitch
    return found


def test_a_rectangle_is_sewn_to_and_fro() -> None:
    """n rows of length L, n - 1 steps between them."""
    part = box(0, 0, 100, 60)
    (line,) = serpentine(rows(part, 5.0), part)
    assert line.length == pytest.approx(12 * 100 + 11 * 5)
    assert line.is_simple


def test_a_round_region_is_sewn_to_and_fro_along_its_edge() -> None:
    part = Point(0, 0).buffer(30, 64)
    (line,) = serpentine(rows(part, 4.0), part)
    assert line.is_simple
    steps = line.intersection(part.exterior.buffer(1e-6)).length
    assert steps < part.exterior.length / 2


@pytest.mark.parametrize(
    "part",
    [
        box(0, 0, 100, 60).difference(box(40, 20, 60, 40)),
        box(0, 0, 100, 60).difference(Point(30, 30).buffer(12)).difference(Point(70, 33).buffer(9)),
        Polygon([(0, 0), (90, 0), (90, 60), (60, 60), (60, 20), (30, 20), (30, 60), (0, 60)]),
    ],
    ids=["window", "two holes", "yoke"],
)
def test_every_row_is_sewn_and_little_twice(part: Polygon) -> None:
    pieces = rows(part, 5.0)
    (line,) = serpentine(pieces, part)
    assert all(line.buffer(1e-6).covers(piece) for piece in pieces)
    assert part.buffer(1e-6).covers(line)
    again = line.length - float(shapely.union_all([line], grid_size=1e-4).length)
    assert again < 0.05 * line.length
    assert line.length < sum(p.length for p in pieces) + part.length


def test_rows_that_no_edge_joins_are_lines_of_their_own() -> None:
    part = box(0, 0, 100, 60)
    inner = [LineString([(0, 30), (100, 30)]), LineString([(20, 10), (80, 10)])]
    assert len(serpentine(inner, part)) == 2


def test_nothing_stays_nothing() -> None:
    assert serpentine([], box(0, 0, 1, 1)) == ()
