"""Accents drawn for the tests, and ways to spoil them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from shapely.geometry import LineString, Point, box

from hoopwright.core.types import Mm, Points, frozen_points
from hoopwright.core.types import Point as Place
from hoopwright.needle.accents.lattice import straight_net
from hoopwright.needle.accents.sew import accent_points, net_rows, rib_rows
from hoopwright.needle.accents.shapes import Growth, Rib

SHORTEST: Mm = 1.0
WIDTH: Mm = 2.4


def plain(spacing: Mm = 5.0) -> Growth:
    """Return a square of 40 mm with one rib up its middle and a net of lines ``spacing`` mm apart."""
    rim = box(-20.0, -20.0, 20.0, 20.0).buffer(-3.0).buffer(3.0)
    middle = LineString([(0.0, -20.0), (0.0, 20.0)])
    nets = (straight_net(rim, spacing, 45.0), straight_net(rim, spacing, 135.0))
    return Growth(rim, Rib(middle, 2.0, 2.0), nets, middle, WIDTH)


def sewn(growth: Growth) -> Points:
    """Return the needle positions of a growth."""
    return accent_points(growth, SHORTEST)


def rimless(growth: Growth) -> Points:
    """Return an accent whose rim was forgotten: its net and ribs, and nothing after them."""
    rim = LineString(growth.rim.exterior.coords)
    root = rim.project(Point(growth.tree.line.coords[0]))
    rows = [*net_rows(growth, rim, root, SHORTEST), *rib_rows(growth.tree, rim, growth.width, SHORTEST)]
    return frozen_points(np.vstack(rows))


def with_spur(points: Points, to: Place) -> Points:
    """Return a run that goes out from its needle position nearest to a place, to that place, and back the same way."""
    at = int(np.argmin(np.hypot(*(points[: len(points) // 2] - to).T)))
    return frozen_points(np.vstack([points[: at + 1], [to], points[at:]]))


def with_twig(growth: Growth, line: LineString) -> Growth:
    """Return a growth whose middle rib has a child along ``line``, which begins on it."""
    at = growth.tree.line.project(Point(line.coords[0]))
    return replace(growth, tree=replace(growth.tree, children=((at, Rib(line, 1.6, 1.6)),)))
