"""Drafting the pattern of a frame purse from its metal frame.

Words: the *opening edge* runs from hinge to hinge over the top of one half of the frame; *swinging an arm out* means
turning the straight arm about the round corner, so that the corner bends less and its arc passes to the arm: the edge
keeps its length while the hinges move apart by the *flare* on each side. *Ease* is cloth in excess of the frame's edge, so
that it can be pushed into the groove; the whole edge is drawn larger by it, evenly.

Coordinates: x to the right, y up, the origin half way between the frame's hinges.
The method (trace the frame from hinge to hinge, swing the sides out, add an allowance with ease) is the one that
tutorials for metal frames teach; see docs/sources.md.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Final, TypeVar

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Degrees, Mm, Point
from hoopwright.plane.arcs import arc

Shape = TypeVar("Shape", bound=BaseGeometry)

_HALVINGS: Final = 60
_MOST_SWING: Final[Degrees] = 80.0
"""An arm swung out further lies almost flat."""


@dataclass(frozen=True, slots=True)
class FrameShape:
    """One half of a metal frame, measured along the outside of its groove.

    ``width`` from hinge to hinge, ``arm`` from the hinges up to the top, ``radius`` of its two corners: 0 for square ones;
    half the width for a half-round frame. A radius larger than the arm means a bow that ends at the hinges without an arm.
    """

    width: Mm
    arm: Mm
    radius: Mm

    @property
    def rest(self) -> Degrees:
        """The angle at which a corner's arc ends, seen from its middle: 0, more for a flat bow."""
        return math.degrees(math.asin(1 - self.arm / self.radius)) if self.radius > self.arm else 0.0

    @property
    def straight(self) -> Mm:
        """The straight part of an arm."""
        return max(0.0, self.arm - self.radius)

    @property
    def top(self) -> Mm:
        """The straight part of the top; below 0 when the corners are too round for the width."""
        return self.width - 2 * self.radius * math.cos(math.radians(self.rest))

    @property
    def edge(self) -> Mm:
        """The way along the frame from hinge to hinge: half its perimeter."""
        return self.top + 2 * self.straight + 2 * self.radius * math.radians(90.0 - self.rest)


def _moved(shape: Shape, up: Mm) -> Shape:
    """Return a shape moved upwards."""
    return shapely.transform(shape, lambda points: np.add(points, (0.0, up)))


def bow(width: Mm, arm: Mm) -> FrameShape:
    """Return a half-round frame: half a circle on arms, or where ``arm`` is less than half the width a flatter bow.

    The radius of a bow follows from chord and height: (width^2 / 4 + arm^2) / (2 arm).
    """
    radius = width / 2 if 2 * arm >= width else (width**2 / 4 + arm**2) / (2 * arm)
    return FrameShape(width, arm, radius)


@dataclass(frozen=True, slots=True)
class BodyShape:
    """The body below the hinges: ``depth`` down to the bottom, ``spread`` wider on each side there than at the hinges,
    bottom corners rounded with ``radius``, or cut out by squares of ``boxed`` mm, which makes a flat bottom 2 x boxed deep.
    """

    depth: Mm
    spread: Mm = 0.0
    radius: Mm = 0.0
    boxed: Mm = 0.0


@dataclass(frozen=True, eq=False)
class FrameDraft:
    """The pattern of one side at its seam line.

    ``opening`` is the edge set into the frame, from the left hinge over the top to the right hinge; ``seams`` what is
    sewn to the other side: one line from the right hinge round the bottom to the left hinge, or three when the corners
    are boxed (right side, bottom, left side).
    """

    opening: LineString
    seams: tuple[LineString, ...]
    outline: Polygon

    @cached_property
    def hinges(self) -> tuple[Point, Point]:
        """The left and the right hinge point."""
        (ax, ay), (bx, by) = self.opening.coords[0][:2], self.opening.coords[-1][:2]
        return (ax, ay), (bx, by)

    def centred(self) -> FrameDraft:
        """Return the pattern with the middle of its bounding box at the origin, as it lies in the hoop."""
        _, low, _, high = self.outline.bounds
        down = -(low + high) / 2
        seams = tuple(_moved(seam, down) for seam in self.seams)
        return FrameDraft(_moved(self.opening, down), seams, _moved(self.outline, down))

    @property
    def bottom(self) -> LineString:
        """The straight part of the bottom."""
        left, low, right, _ = self.outline.bounds
        flat = shapely.intersection(self.outline.boundary, LineString([(left, low), (right, low)]))
        x = flat.bounds
        return LineString([(x[0], low), (x[2], low)])


def widest_flare(frame: FrameShape, ease: Mm = 0.0) -> Mm:
    """Return how far out the hinges of this frame's pattern can come to lie."""
    drawn = _eased(frame, ease)
    return _hinge_at(_MOST_SWING, drawn)[0] - frame.width / 2


def _eased(frame: FrameShape, ease: Mm) -> FrameShape:
    """Return the frame drawn larger so that its edge is longer by ``ease``."""
    grow = (frame.edge + ease) / frame.edge
    return FrameShape(frame.width * grow, frame.arm * grow, frame.radius * grow)


def _arm_at(swing: Degrees, frame: FrameShape) -> Mm:
    """Return the length of the straight arm when it is swung out: it takes over what the corner's arc loses."""
    return frame.straight + frame.radius * math.radians(swing - frame.rest)


def _hinge_at(swing: Degrees, frame: FrameShape) -> Point:
    """Return the right hinge when the arc ends at the angle ``swing`` and the arm goes on straight."""
    t, r, reach = math.radians(swing), frame.radius, _arm_at(swing, frame)
    x = frame.top / 2 + r * math.cos(t) + reach * math.sin(t)
    return x, frame.arm - r + r * math.sin(t) - reach * math.cos(t)


def _swing_for(x: Mm, frame: FrameShape) -> Degrees:
    """Return the swing that brings the right hinge to ``x``, by halving; ``x`` grows with the swing."""
    low, high = frame.rest, _MOST_SWING
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if _hinge_at(middle, frame)[0] < x else (low, middle)
    return (low + high) / 2


def opening_edge(frame: FrameShape, flare: Mm, ease: Mm) -> LineString:
    """Return the pattern's edge from the left hinge to the right one, as long as the frame's edge and ``ease``.

    The hinges lie ``flare`` mm further out on each side than the frame's, or as far as the ease alone brings them. Raises
    GeometryError when the frame is not possible or cannot be swung out so far.
    """
    if frame.top < -MERGE:
        raise GeometryError("the corners of the frame are too round for its width", "Choose a smaller radius")
    if flare > widest_flare(frame, ease) + MERGE:
        raise GeometryError("the arms of the frame cannot be swung out so far", "Choose a smaller flare")
    drawn = _eased(frame, ease)
    swing = _swing_for(frame.width / 2 + flare, drawn)
    bend = arc((drawn.top / 2, drawn.arm - drawn.radius), drawn.radius, 90.0, swing)
    right = [*bend, _hinge_at(swing, drawn)]
    left = [(-x, y) for x, y in reversed(right)]
    return LineString(_apart([*left, *right]))


def _apart(points: list[Point]) -> list[Point]:
    """Return a row of places without neighbours that are one."""
    kept = points[:1]
    kept.extend(p for p, before in zip(points[1:], points, strict=False) if math.dist(p, before) > MERGE)
    return kept


def draft(frame: FrameShape, flare: Mm, ease: Mm, body: BodyShape) -> FrameDraft:
    """Return the pattern of one side. Raises GeometryError when its parts do not fit each other."""
    opening = opening_edge(frame, flare, ease)
    hinge: Point = (opening.coords[-1][0], opening.coords[-1][1])
    rows = _boxed_side(hinge, body) if body.boxed else (_round_side(hinge, body),)
    if rows[-1][-1][0] < MERGE:
        raise GeometryError("the bottom corners meet in the middle", "Choose smaller corners or a wider body")
    *sides, half = rows
    bottom = [*half, *_over(half)]
    seams = tuple(LineString(_apart(row)) for row in (*sides, bottom, *(_over(s) for s in reversed(sides))))
    cuts = [(half[0][0], side[-1][1]) for side in sides]
    right = [p for side in sides for p in side] + cuts
    ring = [(p[0], p[1]) for p in opening.coords[:-1]] + right + bottom + _over(right)
    outline = Polygon(_apart(ring)[:-1])
    if not outline.is_valid:
        raise GeometryError("the pattern crosses itself", "Choose a smaller flare or rounder corners")
    return FrameDraft(opening, seams, orient(outline))


def _over(row: list[Point]) -> list[Point]:
    """Return a row of places on the other side of the middle, from its other end."""
    return [(-x, y) for x, y in reversed(row)]


def _round_side(hinge: Point, body: BodyShape) -> list[Point]:
    """Return the right half of the seam, from the hinge to the right end of the bottom's straight part.

    The round of the corner touches the slanting side and the bottom.
    """
    x, low = hinge[0] + body.spread, hinge[1] - body.depth
    slant = math.degrees(math.atan2(body.spread, body.depth))
    back = body.radius / math.tan(math.radians(90.0 - slant) / 2)
    if back > math.hypot(body.spread, body.depth) + MERGE:
        raise GeometryError("the bottom corners reach up to the hinges", "Choose smaller corners or a deeper body")
    return [hinge, *arc((x - back, low + body.radius), body.radius, slant, -90.0)]


def _boxed_side(hinge: Point, body: BodyShape) -> tuple[list[Point], list[Point]]:
    """Return the right side down to the square cut-out, and the right end of the bottom.

    Both edges of the cut-out are ``boxed`` long, so that they can be sewn to each other; the bottom becomes twice as deep.
    """
    if body.boxed > body.depth - MERGE:
        raise GeometryError("the boxed corners reach up to the hinges", "Choose a smaller cut or a deeper body")
    x = hinge[0] + body.spread * (1 - body.boxed / body.depth)
    low = hinge[1] - body.depth
    return [hinge, (x, low + body.boxed)], [(x - body.boxed, low)]


def lining_body(body: BodyShape, smaller: Mm) -> BodyShape:
    """Return the body of a lining that lies inside without folds: ``smaller`` mm less at the bottom and its corners.

    Hinges and opening edge stay, since the two are sewn together there; the sides taper from nothing at the hinges. The sharp
    corner comes to lie ``smaller`` mm inside both the side and the bottom of the shell; a round one keeps its radius.
    """
    side = math.hypot(body.spread, body.depth)
    spread = body.spread - smaller * (body.spread + side) / body.depth
    return BodyShape(body.depth - smaller, spread, body.radius, body.boxed)
