"""How cloth, lines and edges look in the step pictures and in their legend.

Every sign differs by pattern, not by colour alone, so that the pictures can be printed in black.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from hoopwright.core.types import Mm, Point
from hoopwright.outputs.drawing.geometry import areas, hatches, lines
from hoopwright.outputs.drawing.shapes import Line, Paint, Shape
from hoopwright.outputs.pictures.inks import CUT, FAINT, HAND, INK, WHITE, edge_of, lightness, mix, wrong_side

BAR = 3.0
"""Half the length of the bars at the ends of an opening, mm."""

DARK = 0.3
"""Cloths darker than this are edged in a paler tone."""

SLIVER = 0.3
"""A cut-away strip narrower than twice this, mm, is not worth showing."""

SCRAP_SHOWN = 8.0
"""A cut-away scrap smaller than this, mm2, such as the tip of a corner, is left out too."""


def cloth_up(outline: BaseGeometry, colour: Paint) -> tuple[Shape, ...]:
    """Return a cloth with its right side up: its full colour, with a pale edge when the colour is dark."""
    edge = edge_of(colour) if lightness(colour) > DARK else mix(colour, WHITE, 0.4)
    return areas(outline, colour, edge, 0.3)


def cloth_down(outline: BaseGeometry, colour: Paint) -> tuple[Shape, ...]:
    """Return a cloth with its right side down: a pale tint under a hatch."""
    stripe = mix(colour, INK, 0.25) if lightness(colour) > 0.6 else mix(colour, WHITE, 0.25)
    return (
        *areas(outline, wrong_side(colour)),
        *hatches(outline, stripe, 0.2, 2.2, 45.0),
        *areas(outline, None, edge_of(colour), 0.45),
    )


def cloth_under(outline: BaseGeometry, colour: Paint) -> tuple[Shape, ...]:
    """Return a cloth laid under the hoop, which is not seen from above: a broken edge, and broken lines across."""
    return (
        *hatches(outline, mix(colour, INK, 0.4), 0.35, 4.5, 0.0, (1.6, 1.6)),
        *areas(outline, None, WHITE, 1.3),
        *areas(outline, None, edge_of(colour), 0.6, (2.4, 1.4)),
    )


def lies_under(outline: BaseGeometry) -> tuple[Shape, ...]:
    """Return the edge of what was laid under the hoop before."""
    return areas(outline, None, FAINT, 0.4, (2.4, 1.4))


def folded_edge(edges: Sequence[LineString] | BaseGeometry, *, now: bool) -> tuple[Shape, ...]:
    """Return the edge at which a piece is folded: two lines side by side."""
    return (
        *lines(edges, WHITE, 3.0 if now else 2.0),
        *lines(edges, INK, 2.2 if now else 1.2),
        *lines(edges, WHITE, 1.0 if now else 0.6),
    )


def placement_under(paths: Sequence[LineString]) -> tuple[Shape, ...]:
    """Return a placement line that a cloth laid now covers: dots."""
    return (*lines(paths, WHITE, 1.2), *lines(paths, INK, 0.7, (0.7, 1.5)))


def opening(gap: LineString) -> tuple[Shape, ...]:
    """Return the stretch that stays unsewn: dots between two bars."""
    bars = [_bar_at(gap, 0.0), _bar_at(gap, gap.length)]
    return (
        *lines([gap], WHITE, 2.4),
        *lines([gap], HAND, 1.2, (1.2, 1.6)),
        *lines(bars, WHITE, 2.2),
        *lines(bars, HAND, 1.2),
    )


def _bar_at(path: LineString, at: Mm) -> LineString:
    """Return a short line across a path."""
    here = path.interpolate(at)
    a, b = path.interpolate(max(at - 0.5, 0.0)), path.interpolate(min(at + 0.5, path.length))
    length = math.dist((a.x, a.y), (b.x, b.y)) or 1.0
    nx, ny = -(b.y - a.y) / length * BAR, (b.x - a.x) / length * BAR
    return LineString([(here.x - nx, here.y - ny), (here.x + nx, here.y + ny)])


def sewn_before(paths: Sequence[LineString]) -> tuple[Shape, ...]:
    """Return lines sewn earlier: thin and broken."""
    return lines(paths, FAINT, 0.3, (1.4, 0.8))


def sewn_now(paths: Sequence[LineString], colour: Paint) -> tuple[Shape, ...]:
    """Return lines sewn now: stitches in the thread's colour on a dark band, or pale stitches on a dark thread's."""
    pale = lightness(colour) > 0.45
    band, stitches = (INK, colour) if pale else (colour, WHITE)
    return (*lines(paths, WHITE, 1.9), *lines(paths, band, 1.3), *lines(paths, stitches, 0.7, (2.6, 1.2)))


def ornament_now(paths: Sequence[LineString], colour: Paint) -> tuple[Shape, ...]:
    """Return seam stitches sewn now: the thread's colour in a casing that sets it off."""
    casing = INK if lightness(colour) > 0.5 else WHITE
    return (*lines(paths, WHITE, 2.4), *lines(paths, casing, 1.6), *lines(paths, colour, 0.8))


def raw_edge(start: Point, end: Point) -> tuple[Shape, ...]:
    """Return the raw edge of a piece that is laid now: a thick line."""
    return Line((start, end), WHITE, 1.7), Line((start, end), INK, 1.0)


def away(region: BaseGeometry) -> tuple[Shape, ...]:
    """Return what is cut away: a lattice. Slivers are left out."""
    core = region.buffer(-SLIVER, join_style="mitre")
    if core.is_empty:
        return ()
    shown = shapely.intersection(region, core.buffer(2 * SLIVER, join_style="mitre"))
    region = shapely.union_all([p for p in shapely.get_parts(shown) if p.area >= SCRAP_SHOWN])
    return (
        *areas(region, WHITE, opacity=0.55),
        *hatches(region, CUT, 0.3, 1.6, -45.0),
        *hatches(region, CUT, 0.3, 1.6, 45.0),
        *areas(region, None, CUT, 0.4),
    )


def cut_line(line: BaseGeometry) -> tuple[Shape, ...]:
    """Return the line the scissors follow: long and short dashes."""
    dash = (3.0, 0.9, 0.7, 0.9)
    return (*lines(line, WHITE, 1.2), *lines(line, CUT, 0.55, dash))
