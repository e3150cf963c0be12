from __future__ import annotations

import numpy as np
import pytest
from shapely.geometry import LineString, box

from hoopwright.cloth.needles import needles_of
from hoopwright.cloth.shapes import Layer, Stack
from hoopwright.core.types import frozen_points
from hoopwright.needle.shapes import Run, Step
from hoopwright.operations.vocabulary import Face, Role, RunStyle, Side, Stitch

CLOTH = Layer("cloth", "linen", 0.3, box(-20, -20, 20, 20), Face.UP, Side.TOP)


def step(*rows: tuple[float, float]) -> Step:
    stitch = Stitch(Role.CLOSING, "Closing seam", "slate", (LineString(rows),), RunStyle(2.0), "Sewn.")
    return Step(1, stitch, (), (Run(frozen_points(list(rows))),))


ACROSS = [(float(x), 0.0) for x in range(-30, 31, 2)]


def test_a_seam_that_crosses_an_edge_does_not_run_along_it() -> None:
    needles = needles_of(step(*ACROSS), Stack((CLOTH,)))
    near = needles.beside(0, CLOTH.region.boundary, 0.0, 3.0)
    assert set(np.abs(needles.at[near][:, 0])) <= {20.0}, "at most the two positions on the edge itself"


def test_a_seam_beside_an_edge_is_near_it_all_along() -> None:
    needles = needles_of(step(*[(x, 18.0) for x, _ in ACROSS]), Stack((CLOTH,)))
    near = needles.beside(0, CLOTH.region.boundary, 0.0, 3.0)
    inner = np.abs(needles.at[:, 0]) <= 16.0
    assert near[inner].all() and not near[np.abs(needles.at[:, 0]) > 20.0].any()


def test_places_sewn_twice_count_once() -> None:
    once, twice = (needles_of(step(*r), Stack((CLOTH,))) for r in (ACROSS, [*ACROSS, *ACROSS[-2::-1]]))
    assert len(once.at) == len(ACROSS)
    assert len(twice.at) <= len(ACROSS)
    assert once.spacing == pytest.approx(2.0)
