"""Edge satin over outlines of any shape keeps its promises."""

from __future__ import annotations

import math

import numpy as np
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from hoopwright.needle.columns.satin_edge import satin_edge
from hoopwright.needle.working_lines import largest
from hoopwright.operations.vocabulary import EdgeStyle


@st.composite
def outlines(draw: st.DrawFn) -> Polygon:
    """Return a star-shaped outline with 3 to 9 corners, some of them rounded, nowhere narrower than a column."""
    count = draw(st.integers(3, 9))
    radii = draw(st.lists(st.floats(14, 40), min_size=count, max_size=count))
    turns = [2 * math.pi * (k + draw(st.floats(-0.2, 0.2))) / count for k in range(count)]
    shape = Polygon([(r * math.cos(t), r * math.sin(t)) for r, t in zip(radii, turns, strict=True)])
    soft = draw(st.floats(0, 4))
    opened = shape.buffer(-6).buffer(6 + soft).buffer(-soft)
    return largest(opened)


@settings(max_examples=25, deadline=None)
@given(outlines(), st.floats(3, 4), st.floats(0.35, 0.5))
def test_stitches_keep_their_limits_and_cover_the_edge(shape: Polygon, width: float, spacing: float) -> None:
    line = LineString(shape.exterior.coords)
    points = satin_edge(line, EdgeStyle(width, spacing), 1.0)
    steps = np.hypot(*np.diff(points, axis=0).T)
    assert steps.min() >= 1.0
    assert steps.max() <= math.hypot(width, spacing) + 0.3
    bare = shapely.difference(line, LineString(points).buffer(spacing / 2 + 0.05))
    assert all(part.length < 0.5 for part in shapely.get_parts(bare))
    band = line.buffer(width / 2 + 0.05, join_style="mitre", mitre_limit=3.0)
    assert bool(shapely.covers(band, shapely.points(points)).all())
