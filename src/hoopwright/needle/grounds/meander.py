"""The meander: one line that wanders all over a region and never crosses itself."""

from __future__ import annotations

import numpy as np
from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Mm, Points
from hoopwright.needle.grounds.cells import connected_parts, cover_of, sites_of, wall_of, with_necks
from hoopwright.needle.grounds.settling import STEP, settled, softened
from hoopwright.needle.grounds.shapes import Ground, GroundWish
from hoopwright.needle.grounds.tree_walk import SiteNet, site_net, walks


def meander(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Return one closed line in each part of ``part`` that is connected at the spacing.

    Connected at the spacing means: with half the spacing taken off all round, it is still one piece. Nothing where not even
    half a cell (two squares of the spacing) fits.
    """
    return tuple(line for piece in connected_parts(part, wish.spacing) for line in _lines(piece, wish))


def _lines(piece: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    spacing, rng = wish.spacing, np.random.default_rng(wish.seed)
    wall, cover = wall_of(piece, spacing), cover_of(piece, spacing * STEP)
    net = _joined_net(piece, sites_of(piece, cover, wall, spacing, rng), wall, spacing)
    rough = walks(net, net.tree(spacing, rng))
    return tuple(_finished(line, piece, wall, cover, spacing) for line in rough)


def _joined_net(piece: Polygon, sites: Points, wall: Points, spacing: Mm) -> SiteNet:
    """Return the sites as a net in one piece, with more of them in the necks if need be."""
    net = site_net(sites, wall)
    for share in (1.0, 0.6):
        if net.groups > 1:
            net = site_net(with_necks(piece, sites, spacing, share, 0.0), wall)
    return net


def _finished(rough: Points, piece: Polygon, wall: Points, cover: Points, spacing: Mm) -> LineString:
    """Return the line settled and softened; where that would spoil it, as much of it as keeps it clear."""
    calm = settled(rough, wall, cover, spacing)
    for line in (softened(calm), calm):
        ring = _closed(line)
        if ring.is_simple and piece.covers(ring):
            return ring
    return _closed(rough)


def _closed(line: Points) -> LineString:
    return LineString(np.concatenate([line, line[:1]]))


GROUNDS = (
    Ground(
        "meander",
        "Meander",
        "One line wanders all over and never crosses itself.",
        4.0,
        2.0,
        0.0,
        meander,
        network=False,
    ),
)
