"""A pen that sews every line as a cord: a narrow column of satin over a running stitch, which reads as thick thread.

The way there is sewn as a running stitch, with arms and loops finished at once, out as a run and back as satin. At the
far end the needle turns, and the satin of the line itself, sewn back to the start, covers the roots of all of them. So the whole
row is one thread, and it begins and ends in the same place. Where cloth is full of holes already, as where cords cross, the
satin is left out: thread lies there.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, TypeAlias

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Point
from hoopwright.needle.seam_stitches.holes import Holes
from hoopwright.needle.seam_stitches.parts import boss
from hoopwright.needle.seam_stitches.pen import KNOT_RADIUS, Pen
from hoopwright.needle.seam_stitches.room import Room

CORD: Final[Mm] = 1.1
"""Width of a cord, needle to needle; with its thread about 1.5 mm: it reads as thick hand thread from a distance (by eye)."""

NARROWEST: Final = 1.02
"""A cord is at least this many shortest stitches wide, since each stitch of its satin crosses it."""

SPACING: Final[Mm] = 0.45
"""Between neighbouring holes of one side of a cord: satin of 0.4 mm thread that covers, between 4 and 5 holes to a mm."""

FINE: Final[Mm] = 0.5
"""On a curved seam ways are bent in pieces of this length."""

UNDERLAY: Final[Mm] = 2.4
"""Longest stitch of the run below the satin (common practice, no source)."""

BARE: Final = 0.8
"""The satin of an arm keeps so many half widths off its root: the line will cover that."""

MOST_LIMB: Final = 9
"""Most holes in four square millimetres round a stitch of an arm before it is sewn."""

MOST_LINE: Final = 8
"""The same for a stitch of the line, which comes last."""

KNOT: Final[Mm] = 0.5
"""How far a knot stands out past the sides of a cord."""

OPEN: Final = 2.5
"""A loop is at least this many cords wide, so that it stays open."""

CLOSED: Final[Mm] = 0.1
"""A bend that opens the outer edge of a cord by more than this is fanned."""

TURN: Final = math.radians(35.0)
"""Round a sharper bend the satin is fanned out in steps no larger than this."""

_Piece: TypeAlias = list[Point]


def cord_width(shortest: Mm) -> Mm:
    """Return how wide a cord is sewn where no stitch may be shorter than ``shortest``."""
    return max(CORD, NARROWEST * shortest)


@dataclass(frozen=True, slots=True)
class _Dot:
    """A knot on the line, sewn on the way back."""

    dots: tuple[Point, ...]


class CordPen(Pen):
    """Sews lines as cords."""

    def __init__(self, room: Room, holes: Holes) -> None:
        """Start with the thread nowhere yet."""
        super().__init__(room, holes, 1)
        self.thick = cord_width(holes.shortest)
        self._half = cord_width(holes.shortest) / 2.0
        self._spine: list[_Piece | _Dot] = []
        self._needle: Point = (0.0, 0.0)
        self._side = 1.0

    def start(self, place: Point) -> None:
        """Put the needle down at ``place``."""
        super().start(place)
        self._needle = self.at

    def line(self, way: list[Point]) -> None:
        """Run along a way; its satin is sewn on the way back."""
        if not way or math.dist(way[-1], self._needle) <= SAME_PLACE:
            return
        piece = [self._needle, *way]
        self._run(piece)
        last = self._spine[-1] if self._spine else None
        if isinstance(last, list):
            last.extend(way)
        else:
            self._spine.append(piece)
        self._needle = way[-1]

    def limb(self, way: list[Point]) -> None:
        """Run out along a way and come back in satin; the run stops short of the tip, so that the cord ends square."""
        piece = [self._needle, *way]
        self._run(_shortened(piece, self.holes.shortest))
        self._satin(piece[::-1], piece[0])
        self._home()

    def petal(self, end: Point, width: Mm) -> None:
        """Sew a teardrop that stays open although its line is thick."""
        super().petal(end, max(width, OPEN * self.thick))

    def knot_radius(self, wish: Mm = KNOT_RADIUS) -> Mm:
        """Return the radius of a knot: it stands out on both sides of the cord."""
        return max(super().knot_radius(wish), self._half + KNOT)

    def dots(self, size: Mm) -> list[Point]:
        """Return the needle positions of a knot about the origin, from its near side on; the last is on its far side."""
        return boss((0.0, 0.0), size)

    def loop(self, way: list[Point]) -> None:
        """Run round a loop and sew it in satin the other way round."""
        piece = [self._needle, *way]
        self._run(piece)
        self._satin(piece[::-1], piece[0])
        self._home()

    def link(self, left: list[Point], right: list[Point]) -> None:
        """Run and cover the right side of a loop, and run along its left side; that is covered on the way back."""
        piece = [self._needle, *right]
        self._run(piece)
        self._satin(piece[::-1], piece[0])
        self._home()
        self._spine.append([self._needle, *left])
        self._run([self._needle, *left])
        self._needle = left[-1]
        self._spine.append([self._needle])

    def star(self, dots: list[Point]) -> None:
        """Leave a knot for the way back."""
        self._spine.append(_Dot(tuple(dots)))
        self._needle = dots[-1]
        self._spine.append([self._needle])
        self.holes.sew(self._needle, knot=True)

    def berry(self, way: list[Point], dots: list[Point]) -> None:
        """Run out to a knot, sew it, and come back in satin."""
        piece = [self._needle, *way]
        self._run(piece)
        for hole in dots:
            self.holes.sew(hole, knot=True)
        self._satin(piece[::-1], piece[0])
        self._home()

    def finish(self) -> None:
        """Sew back to the start: satin over the line, a knot where one was left out."""
        self._step_back()
        for piece in reversed(self._spine):
            if isinstance(piece, _Dot):
                self._knot_back(piece)
            elif len(piece) > 1:
                self._satin(piece[::-1])
        first = next((p[0] for p in self._spine if isinstance(p, list)), self._needle)
        self.holes.sew(first)

    def _step_back(self) -> None:
        """Go one stitch back along the line's end, so that its satin can begin at the very end, square."""
        last = next((p for p in reversed(self._spine) if isinstance(p, list) and len(p) > 1), None)
        if last is not None and self._spine[-1] is last:
            self.holes.sew(_shortened(last, self.holes.shortest)[-1])

    def _knot_back(self, dot: _Dot) -> None:
        """Sew a knot from its far side to its near one."""
        for hole in dot.dots[-1:] + tuple(reversed(dot.dots[:-1])):
            self.holes.sew(hole, knot=True)

    def _home(self) -> None:
        """Come back to the line."""
        self.holes.sew(self._needle)

    def _run(self, piece: _Piece) -> None:
        """Sew a running stitch along a way."""
        for a, b in pairwise(piece):
            count = max(1, math.ceil(math.dist(a, b) / UNDERLAY - SAME_PLACE))
            for i in range(1, count + 1):
                self.holes.sew((a[0] + (b[0] - a[0]) * i / count, a[1] + (b[1] - a[1]) * i / count))

    def _satin(self, piece: _Piece, root: Point | None = None) -> None:
        """Sew a column of satin along a way; ``root`` is where the line will cover it."""
        bare = BARE * self._half if root else 0.0
        most = MOST_LIMB if root else MOST_LINE
        flat = _fine(piece) if self.holes.curved else piece
        cloth = [self.holes.carried(p) for p in flat]
        covered = None if root is None else self.holes.carried(root)
        for middle, (nx, ny), k in stations(cloth, self._half):
            if covered is not None and math.dist(middle, covered) < bare:
                continue
            reach = self._half * self._side
            if self.holes.satin((middle[0] + nx * reach, middle[1] + ny * reach), middle, flat[k], most):
                self._side = -self._side
        self.holes.sew(piece[-1])


def _fine(piece: _Piece) -> _Piece:
    """Return a way with places so near each other that it can be bent."""
    fine = [piece[0]]
    for a, b in pairwise(piece):
        count = max(1, math.ceil(math.dist(a, b) / FINE))
        fine += [(a[0] + (b[0] - a[0]) * i / count, a[1] + (b[1] - a[1]) * i / count) for i in range(1, count + 1)]
    return fine


def _shortened(piece: _Piece, by: Mm) -> _Piece:
    """Return a way without its last ``by`` mm; at least half of it is left."""
    long = sum(math.dist(a, b) for a, b in pairwise(piece))
    left = max(long - by, 0.5 * long)
    kept = [piece[0]]
    for a, b in pairwise(piece):
        step = math.dist(a, b)
        if step >= left:
            t = left / step if step > 0.0 else 0.0
            return [*kept, (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)]
        left -= step
        kept.append(b)
    return kept


def stations(piece: Sequence[Point], half: Mm) -> Iterator[tuple[Point, Point, int]]:
    """Yield the places of a column's stitches along a way, half a SPACING apart.

    Each comes with the direction across the way and the number of its piece. Where the way bends the column is fanned out, so that
    its outer edge stays closed.
    """
    angles = [math.atan2(b[1] - a[1], b[0] - a[0]) if a != b else None for a, b in pairwise(piece)]
    before: float | None = None
    left = 0.0
    for k, ((a, b), angle) in enumerate(zip(pairwise(piece), angles, strict=True)):
        if angle is None:
            continue
        if before is not None:
            yield from ((at, across, k) for at, across in _fan(a, before, angle, half))
        before, across, long = angle, (-math.sin(angle), math.cos(angle)), math.dist(a, b)
        while left < long:
            t = left / long
            yield (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t), across, k
            left += SPACING / 2.0
        left -= long


def _fan(at: Point, before: float, after: float, half: Mm) -> Iterator[tuple[Point, Point]]:
    """Yield the stitches round a bend."""
    bend = (after - before + math.pi) % (2.0 * math.pi) - math.pi
    if abs(bend) * half <= CLOSED:
        return
    count = max(1, math.ceil(abs(bend) / TURN))
    for i in range(count):
        angle = before + bend * (i + 0.5) / count
        yield at, (-math.sin(angle), math.cos(angle))
