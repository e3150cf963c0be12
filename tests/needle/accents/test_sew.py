from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from shapely.geometry import LineString, Point

from hoopwright.needle.accents.sew import extent, grown, ribs_of, sewn_accent
from hoopwright.needle.accents.shapes import AccentWish
from hoopwright.needle.accents.table import MOTIFS

EACH = pytest.mark.parametrize("name", MOTIFS)


@EACH
def test_a_motif_is_as_large_as_wished_and_in_the_middle(name: str) -> None:
    for size in (MOTIFS[name].least, 77.0):
        left, low, right, high = sewn_accent(AccentWish(name, size)).outline.bounds
        assert max(right - left, high - low) == pytest.approx(size, abs=0.02)
        assert (left + right, low + high) == pytest.approx((0.0, 0.0), abs=1e-6)


@EACH
def test_needle_positions_stay_inside_the_outline(name: str) -> None:
    accent = sewn_accent(AccentWish(name, 60.0))
    grownout = accent.outline.buffer(0.1)
    assert all(grownout.covers(Point(p)) for p in accent.points)


@EACH
def test_it_is_one_run_of_stitches_that_machines_sew_well(name: str) -> None:
    lengths = np.hypot(*np.diff(sewn_accent(AccentWish(name, 60.0)).points, axis=0).T)
    assert lengths.min() >= 1.0 - 1e-9
    assert lengths.max() <= 4.0


@EACH
def test_the_same_wish_gives_the_same_stitches_and_a_seed_gives_others(name: str) -> None:
    wish = AccentWish(name, 62.0, seed=5)
    first = sewn_accent(wish).points
    sewn_accent.cache_clear()
    grown.cache_clear()
    assert np.array_equal(first, sewn_accent(wish).points)
    if name != "star":
        regular = sewn_accent(AccentWish(name, 62.0)).points
        assert first.shape != regular.shape or not np.allclose(first, regular)


@EACH
def test_more_lobes_are_more_ribs(name: str) -> None:
    low, _, high = MOTIFS[name].lobes
    counts = [len(ribs_of(grown(AccentWish(name, 90.0, n)).tree)) for n in range(low, high + 1)]
    assert len({b - a for a, b in pairwise(counts)}) == 1 and counts[1] > counts[0]


@EACH
def test_fuller_is_broader(name: str) -> None:
    """A shell is as broad as its size says and becomes lower; the others fill more of their size."""
    outlines = [grown(AccentWish(name, 70.0, fullness=f)).outline for f in (0.0, 0.5, 1.0)]
    boxes = [o.bounds for o in outlines]
    shapes = [
        (b[2] - b[0]) / (b[3] - b[1]) if name == "shell" else o.area for b, o in zip(boxes, outlines, strict=True)
    ]
    assert shapes == sorted(shapes) and shapes[2] > 1.06 * shapes[0]


@EACH
def test_the_spine_lies_inside_and_every_net_ends_on_the_rim(name: str) -> None:
    growth = grown(AccentWish(name, 60.0))
    assert growth.outline.covers(growth.spine)
    assert extent(growth) == pytest.approx(60.0, abs=0.02)
    rim = LineString(growth.rim.exterior.coords)
    ends = [Point(line.coords[k]) for net in growth.nets for line in net for k in (0, -1)]
    assert len(growth.nets) == 2 and max(rim.distance(p) for p in ends) < 1e-6
