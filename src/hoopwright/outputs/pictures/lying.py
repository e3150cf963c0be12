"""What lies on the foundation at a halt: the lay, flip and trim operations replayed piece by piece.

Pieces are taken as flat and apart; each one is a polygon with a face. It is enough for pictures of flat piecing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TypeAlias

import shapely
from shapely.affinity import affine_transform
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm, Point
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Face, Flip, HandWork, Lay, Trim
from hoopwright.plane.half_plane import left_of

State: TypeAlias = tuple[tuple["Lying", ...], tuple["Removed", ...]]
"""What lies, lowest first, and what was cut away so far."""


@dataclass(frozen=True, slots=True, eq=False)
class Lying:
    """A piece as it lies: its outline (perhaps in parts, when trimmed), its face, the step since which it lies so.

    ``seam`` is the line it is sewn on by and ``allowance`` what stands beyond it, None and 0 for a piece laid flat.
    """

    piece: str
    cloth: str
    outline: BaseGeometry
    face: Face
    since: int
    seam: tuple[Point, Point] | None
    allowance: Mm


@dataclass(frozen=True, slots=True, eq=False)
class Removed:
    """Cloth cut away by a trim at step ``index``; ``line`` is what the scissors follow.

    ``under`` tells that it was cut under a piece not yet flipped, which then covers the place.
    """

    index: int
    piece: str
    region: BaseGeometry
    line: BaseGeometry
    under: bool = False


def lying(hooping: Hooping, index: int) -> tuple[Lying, ...]:
    """Return what lies when the hands of step ``index`` (from 1) are done, lowest first.

    An index beyond the last step also carries out what is done after it.
    """
    return replay(hooping, index)[0]


def removed(hooping: Hooping, index: int) -> tuple[Removed, ...]:
    """Return what the trims up to step ``index`` have cut away, in order."""
    return replay(hooping, index)[1]


def replay(hooping: Hooping, index: int) -> State:
    """Return what lies and what was cut away when the hands of step ``index`` are done; nothing before the first."""
    states = _states(hooping)
    return states[min(index, len(states)) - 1] if index > 0 else ((), ())


@lru_cache(maxsize=2)
def _states(hooping: Hooping) -> tuple[State, ...]:
    """Return what lies and what was cut away after the hands of every step, and after what follows the last."""
    pieces: tuple[Lying, ...] = ()
    cuts: tuple[Removed, ...] = ()
    states = []
    for number, hands in halts(hooping):
        for at, hand in enumerate(hands):
            pieces, cut = _carry_out(pieces, hand, number, hands[at + 1 :])
            cuts = (*cuts, *cut)
        states.append((pieces, cuts))
    return tuple(states)


def halts(hooping: Hooping) -> tuple[tuple[int, tuple[HandWork, ...]], ...]:
    """Return step number and hand work of every step; what follows the last step counts as one more."""
    return (*((s.index, s.hands) for s in hooping.steps), (len(hooping.steps) + 1, hooping.after))


def _carry_out(
    pieces: tuple[Lying, ...], hand: HandWork, index: int, following: Sequence[HandWork]
) -> tuple[tuple[Lying, ...], tuple[Removed, ...]]:
    if isinstance(hand, Lay):
        new = Lying(hand.piece, hand.cloth, hand.pose, hand.face, index, hand.seam, _allowance(hand))
        return (*pieces, new), ()
    if isinstance(hand, Flip):
        top = [
            replace(p, outline=opened(hand), face=_turned(p.face), since=index) for p in pieces if p.piece == hand.piece
        ]
        return (*(p for p in pieces if p.piece != hand.piece), *top), ()
    if isinstance(hand, Trim):
        return _trim(pieces, hand, index, following)
    return pieces, ()


def opened(flip: Flip) -> BaseGeometry:
    """Return what shows of a piece that was flipped: its cloth up to the fold; the seam allowance lies folded under."""
    half = left_of(*flip.line)
    far = flip.pose.intersection(half)
    return far if 2.0 * far.area > flip.pose.area else flip.pose.difference(half)


def _turned(face: Face) -> Face:
    return Face.UP if face is Face.DOWN else Face.DOWN


def _allowance(lay: Lay) -> Mm:
    """Return how far the raw edge lies beyond the seam."""
    if lay.seam is None or lay.raw_edge is None:
        return 0.0
    (ax, ay), (bx, by) = lay.seam
    x, y = lay.raw_edge[0]
    return abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / math.dist(*lay.seam)


def mirrored(shape: BaseGeometry, line: tuple[Point, Point]) -> BaseGeometry:
    """Return ``shape`` mirrored across ``line``."""
    (ax, ay), (bx, by) = line
    angle = 2.0 * math.atan2(by - ay, bx - ax)
    c, s = math.cos(angle), math.sin(angle)
    return affine_transform(shape, [c, s, s, -c, ax - c * ax - s * ay, ay - s * ax + c * ay])


def _trim(
    pieces: tuple[Lying, ...], trim: Trim, index: int, following: Sequence[HandWork]
) -> tuple[tuple[Lying, ...], tuple[Removed, ...]]:
    own = next((p for p in pieces if p.piece == trim.piece), None)
    if own is None:
        return _trim_all(pieces, trim, index)
    if trim.away is not None:
        kept, cuts = _clipped(own, trim.away, index)
        return tuple(kept if p is own else p for p in pieces), cuts
    if own.seam is None:
        return pieces, ()
    return _trim_under(pieces, own, index, following)


def _trim_under(
    pieces: tuple[Lying, ...], own: Lying, index: int, following: Sequence[HandWork]
) -> tuple[tuple[Lying, ...], tuple[Removed, ...]]:
    """Cut what lies under ``own`` to its allowance beyond the seam, as far as the opened piece will cover."""
    assert own.seam is not None
    turned = mirrored(own.outline, own.seam) if own.face is Face.DOWN else own.outline
    clips = [h.away for h in following if isinstance(h, Trim) and h.piece == own.piece and h.away is not None]
    covered = shapely.difference(turned, shapely.union_all(clips))
    half = left_of(*own.seam, own.allowance)
    strip = shapely.intersection(covered, half)
    below = [p for p in pieces if p is not own]
    cut = shapely.union_all([shapely.intersection(p.outline, strip) for p in below])
    kept = {p.piece: replace(p, outline=shapely.difference(p.outline, strip)) for p in below}
    line = shapely.intersection(LineString(half.exterior.coords[:2]), covered)
    return tuple(kept.get(p.piece, p) for p in pieces), (Removed(index, own.piece, cut, line, under=True),)


def _trim_all(pieces: tuple[Lying, ...], trim: Trim, index: int) -> tuple[tuple[Lying, ...], tuple[Removed, ...]]:
    """Cut everything along the border of ``keep``."""
    keep = trim.keep
    if keep is None:
        return pieces, ()
    kept = tuple(replace(p, outline=shapely.intersection(p.outline, keep)) for p in pieces)
    cut = shapely.union_all([shapely.difference(p.outline, keep) for p in pieces])
    return kept, (Removed(index, trim.piece, cut, keep.exterior),)


def _clipped(own: Lying, region: Polygon, index: int) -> tuple[Lying, tuple[Removed, ...]]:
    """Cut ``region`` off one piece."""
    cut = shapely.intersection(own.outline, region)
    kept = replace(own, outline=shapely.difference(own.outline, region))
    line = shapely.intersection(cut.boundary, shapely.intersection(region.boundary, kept.outline.buffer(MERGE)))
    return kept, (Removed(index, own.piece, cut, line),) if cut.area > 0.0 else ()
