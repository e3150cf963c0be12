"""How an accent looks in the step pictures: its net as lines, its columns as areas with a thread here and there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from hoopwright.core.types import Points, frozen_points
from hoopwright.needle.accents.columns_seen import Seen, columns_seen
from hoopwright.outputs.drawing.geometry import areas, lines
from hoopwright.outputs.drawing.shapes import Paint, Shape
from hoopwright.outputs.pictures.inks import INK, WHITE, lightness, mix

SHOWN = 9
"""Of the needle positions of a column one in so many is drawn; odd, so that the thread crosses over and back."""

UNDER = 0.1
"""What is run under the columns, or less beside them, mm, is not drawn."""

COARSE = 0.12
"""Edges of columns are drawn through fewer places where none is missed by more, mm."""


def lace(rows: Sequence[LineString], colour: Paint) -> tuple[Shape, ...]:
    """Return accents sewn as ``rows``: thread with a darker edge, so that pale thread shows on pale ground."""
    shapes: list[Shape] = []
    dark = mix(colour, INK, 0.5)
    for row in rows:
        net, place, threads = _parts(np.asarray(row.coords, dtype=np.float64)[:, :2].tobytes())
        shapes += [*lines(net, mix(colour, INK, 0.25), 0.36), *areas(place, colour, dark, 0.2)]
        shapes += lines(threads, mix(colour, WHITE if lightness(colour) < 0.25 else INK, 0.35), 0.12)
    return tuple(shapes)


@lru_cache(maxsize=64)
def _parts(row: bytes) -> tuple[tuple[LineString, ...], BaseGeometry, tuple[LineString, ...]]:
    """Return what is run, the place of all columns, and a thread here and there of each."""
    points = frozen_points(np.frombuffer(row))
    seen = columns_seen(points, parted=False)
    place = shapely.union_all([c.place() for c in seen]) if seen else LineString()
    ways = np.array(list(_straight(_runs(points, seen))), dtype=object)
    net = tuple(ways[~shapely.covers(place.buffer(UNDER), ways)].tolist())
    threads = tuple(LineString(c.points[::SHOWN]) for c in seen if len(c.points) > SHOWN)
    return net, place.simplify(COARSE), threads


def _straight(runs: Iterable[Points]) -> Iterator[LineString]:
    """Yield the straight ways of runs, those that are sewn several times once."""
    met = set()
    for run in runs:
        for way in pairwise(
            shapely.get_coordinates(shapely.simplify(LineString(run), COARSE, preserve_topology=False)).tolist()
        ):
            key = frozenset((round(x / COARSE), round(y / COARSE)) for x, y in way)
            if key not in met:
                met.add(key)
                yield LineString(way)


def _runs(points: Points, seen: Sequence[Seen]) -> Iterator[Points]:
    """Yield the stretches of a run between its columns."""
    at = 0
    for column in seen:
        start = at + int(np.flatnonzero((points[at:] == column.points[0]).all(axis=1))[0])
        if start > at:
            yield points[at : start + 1]
        at = start + len(column.points) - 1
    if at < len(points) - 1:
        yield points[at:]
