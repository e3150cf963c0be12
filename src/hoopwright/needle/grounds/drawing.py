"""A ground that repeats the maker's own motif, and what she should know about the motif."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.types import Mm, Points
from hoopwright.needle.grounds.along_edge import joined_along_edge
from hoopwright.needle.grounds.figure import Figure, figure_of
from hoopwright.needle.grounds.frame import Frame, clipped, frame_of, middles
from hoopwright.needle.grounds.shapes import Ground, GroundWish
from hoopwright.project.lengths import Units, show_measure

CROWDED: Final[Mm] = 1.5
"""Area of a cell over the length of its lines: below this the cloth grows stiff (common practice, no source)."""

MUCH: Final = 1.0 / 3.0
"""So much of a motif that ends free, and is sewn there and back, is worth a word."""

BOAT: Final = (
    LineString([(-0.5, 0), (-6, 0), (-5, -1.6), (-3.4, -2.7), (3.6, -2.7), (5.2, -1.6), (6.4, 0), (0.7, 0), (-0.5, 0)]),
    LineString([(-0.5, 0), (-0.5, 8.2), (-2.2, 4.4), (-4.9, 1.2), (-0.5, 0)]),
    LineString([(0.7, 0), (0.7, 9.4), (3.0, 6.6), (4.8, 3.6), (5.6, 1.0), (0.7, 0)]),
)
"""A little boat, repeated where no motif is given, as on the sheet of all grounds."""


def drawing(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Rows of the maker's motif, of a boat where there is none, each row moved by half a figure."""
    return _repeated(part, wish, 0.5)


def drawing_rows(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Rows of the maker's motif, of a boat where there is none, one straight above the other."""
    return _repeated(part, wish, 0.0)


def _repeated(part: Polygon, wish: GroundWish, drop: float) -> tuple[LineString, ...]:
    figure = figure_of(wish.motif or BOAT, wish.spacing)
    frame = frame_of(part, wish.angle)
    places = _places(frame, figure, drop)
    copies = [frame.lines(np.asarray(line.coords)[None, :, :2] + places[:, None]) for line in figure.sewn]
    return joined_along_edge(clipped(np.concatenate(copies), part, wish.spacing / 2.0), part)


def _places(frame: Frame, figure: Figure, drop: float) -> Points:
    """Return the middles of all figures that may show in a frame."""
    heights = middles(frame.half_height, figure.height, past=figure.height / 2.0)
    along = middles(frame.half_length, figure.width, past=2.0 * figure.width)
    rows = [
        np.stack([along + (k % 2) * drop * figure.width, np.full(len(along), v)], axis=-1)
        for k, v in enumerate(heights)
    ]
    return np.concatenate(rows)


def drawing_findings(region: BaseGeometry, wish: GroundWish, where: Where, units: Units = "mm") -> tuple[Finding, ...]:
    """Return what the maker should know about her motif as a ground of ``region``, its margin taken off."""
    if not wish.motif:
        return ()
    return tuple(_said(region, wish, where, units))


def _said(region: BaseGeometry, wish: GroundWish, where: Where, units: Units) -> Iterator[Finding]:
    figure = figure_of(wish.motif, wish.spacing)
    shown = show_measure(wish.spacing, units)
    room = figure.width * figure.height / sum(line.length for line in figure.sewn)
    if room < CROWDED:
        message = f"Fitted into a cell of {shown}, the lines of your motif lie so close that the quilting grows stiff"
        yield Finding("HW350", Severity.WARNS, message, "A larger spacing, or a simpler drawing", where)
    if figure.bridges:
        count = len(figure.bridges)
        message = f"Your motif has {count + 1} parts that do not touch; short lines between them are sewn too"
        yield Finding("HW351", Severity.NOTES, message, "Draw it as lines that touch if you do not want them", where)
    if figure.free > MUCH:
        message = f"About {100 * figure.free:.0f} % of your motif's lines end free and are sewn there and back"
        cure = "Draw it as one line that comes in at the left and goes out at the right, or as closed lines that touch"
        yield Finding("HW352", Severity.NOTES, message, cure, where)
    if not _shows(region, figure):
        message = f"No whole figure of your motif, {shown} in size, has room in the region: it only shows in pieces"
        yield Finding("HW353", Severity.WARNS, message, "A smaller spacing", where)


def _shows(region: BaseGeometry, figure: Figure) -> bool:
    """Return whether a circle about a whole figure has room somewhere in a region."""
    corner = shapely.total_bounds(figure.lines)
    circle = float(np.hypot(corner[2] - corner[0], corner[3] - corner[1])) / 2.0
    parts = [p for p in shapely.get_parts(region) if not p.is_empty]
    return any(shapely.maximum_inscribed_circle(p, tolerance=circle / 20.0).length >= 0.8 * circle for p in parts)


GROUNDS = (
    Ground(
        "drawing",
        "Own motif",
        "A motif of your own from an SVG drawing, in rows moved by half a figure.",
        20.0,
        8.0,
        0.0,
        drawing,
        network=True,
    ),
    Ground(
        "drawing-rows",
        "Own motif in rows",
        "A motif of your own from an SVG drawing, one row straight above the other.",
        20.0,
        8.0,
        0.0,
        drawing_rows,
        network=True,
    ),
)
