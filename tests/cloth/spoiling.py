"""Ways to spoil a sound plan: each returns another plan in which one thing is done wrong."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import TypeAlias

from shapely.affinity import affine_transform, translate
from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Point
from hoopwright.items.parts.closing import gap_on
from hoopwright.items.plan import Plan
from hoopwright.needle.sewing import steps_of
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Close, Face, HandWork, Lay, Operation, Role, Stitch, Trim, Turn
from hoopwright.pipeline import plan
from hoopwright.project.load import load

Spoil: TypeAlias = Callable[[Plan], Plan]
Change: TypeAlias = Callable[[Operation], "Operation | tuple[Operation, ...]"]

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def sound(example: str) -> Plan:
    """Return the plan of an example project as it is."""
    return plan(load(EXAMPLES / example / "project.toml").project)


def operations(hooping: Hooping) -> tuple[Operation, ...]:
    """Return everything that is done in a hooping, in order."""
    return (*(o for step in hooping.steps for o in (*step.hands, step.stitch)), *hooping.after)


def sewn_again(made: Plan, key: str, work: tuple[Operation, ...]) -> Plan:
    """Return the plan with other operations in one hooping."""
    steps, after = steps_of(work, made.project.stitching, made.project.machine)
    rows = (replace(h, steps=steps, after=after) if h.key == key else h for h in made.hoopings)
    return replace(made, hoopings=tuple(rows))


def changed(key: str, change: Change) -> Spoil:
    """Return changing every operation of a hooping; the empty tuple leaves one out."""

    def spoil(made: Plan) -> Plan:
        (hooping,) = (h for h in made.hoopings if h.key == key)
        rows = (change(o) for o in operations(hooping))
        return sewn_again(made, key, tuple(o for r in rows for o in (r if isinstance(r, tuple) else (r,))))

    return spoil


def assembled(change: Callable[[HandWork], HandWork | None]) -> Spoil:
    """Return changing every handwork of the assembly; None leaves one out."""

    def spoil(made: Plan) -> Plan:
        rows = (change(h) for h in made.making.assembly)
        return replace(made, making=replace(made.making, assembly=tuple(h for h in rows if h is not None)))

    return spoil


def both(*spoils: Spoil) -> Spoil:
    """Return several changes, one after the other."""

    def spoil(made: Plan) -> Plan:
        for one in spoils:
            made = one(made)
        return made

    return spoil


def laid(key: str, piece: str, change: Callable[[Lay], Lay]) -> Spoil:
    """Return laying a piece otherwise."""
    return changed(key, lambda o: change(o) if isinstance(o, Lay) and o.piece == piece else o)


def faced(key: str, piece: str, face: Face) -> Spoil:
    """Return laying a piece with this face up."""
    return laid(key, piece, lambda o: replace(o, face=face))


def moved(key: str, piece: str, x: float, y: float) -> Spoil:
    """Return laying a piece somewhere else."""
    return laid(key, piece, lambda o: replace(o, pose=translate(o.pose, x, y), fold=_moved(o.fold, x, y)))


def _moved(line: tuple[Point, Point] | None, x: float, y: float) -> tuple[Point, Point] | None:
    return line and ((line[0][0] + x, line[0][1] + y), (line[1][0] + x, line[1][1] + y))


def stretched(key: str, piece: str, by: float) -> Spoil:
    """Return laying a piece ``by`` mm wider."""

    def wider(o: Lay) -> Lay:
        left, _, right, _ = o.pose.bounds
        factor = (right - left + by) / (right - left)
        return replace(o, pose=affine_transform(o.pose, [factor, 0, 0, 1, (left + right) / 2 * (1 - factor), 0]))

    return laid(key, piece, wider)


def shrunk(key: str, piece: str, by: float) -> Spoil:
    """Return laying a piece cut ``by`` mm smaller all round."""
    return laid(key, piece, lambda o: replace(o, pose=_polygon(o.pose.buffer(-by, join_style="mitre"))))


def _polygon(shape: object) -> Polygon:
    assert isinstance(shape, Polygon)
    return shape


def upside_down(key: str, piece: str) -> Spoil:
    """Return laying a folded piece turned by half a turn: its fold below, its raw edges above."""

    def turned(o: Lay) -> Lay:
        assert o.fold is not None
        middle = o.pose.bounds[1] + o.fold[0][1]
        left, right = o.fold
        fold = ((right[0], middle - right[1]), (left[0], middle - left[1]))
        return replace(o, pose=affine_transform(o.pose, [1, 0, 0, -1, 0, middle]), fold=fold)

    return laid(key, piece, turned)


def mirrored(key: str, piece: str, x: float) -> Spoil:
    """Return laying a folded piece mirrored over an upright line."""

    def over(o: Lay) -> Lay:
        fold = o.fold and ((2 * x - o.fold[1][0], o.fold[1][1]), (2 * x - o.fold[0][0], o.fold[0][1]))
        return replace(o, pose=affine_transform(o.pose, [-1, 0, 0, 1, 2 * x, 0]), fold=fold)

    return laid(key, piece, over)


def left_out(key: str, kind: type[object], piece: str | None = None) -> Spoil:
    """Return leaving out handwork of a kind (about a piece)."""
    return changed(
        key,
        lambda o: () if isinstance(o, kind) and piece in (None, getattr(o, "piece", None)) else o,
    )


def sewn(key: str, title: str, change: Callable[[Stitch], Stitch | tuple[Operation, ...]]) -> Spoil:
    """Return sewing a block otherwise; its title begins with ``title``."""
    return changed(key, lambda o: change(o) if isinstance(o, Stitch) and o.title.startswith(title) else o)


def later(key: str, piece: str) -> Spoil:
    """Return doing the handwork about a piece only after the next block: the halt before it is lost."""

    def spoil(made: Plan) -> Plan:
        (hooping,) = (h for h in made.hoopings if h.key == key)
        work = list(operations(hooping))
        at = next(i for i, o in enumerate(work) if isinstance(o, Lay) and o.piece == piece)
        stitch = next(i for i in range(at, len(work)) if isinstance(work[i], Stitch))
        block = work.pop(stitch)
        first = at
        while first > 0 and not isinstance(work[first - 1], Stitch):
            first -= 1
        work.insert(first, block)
        return sewn_again(made, key, tuple(work))

    return spoil


def earlier(key: str, piece: str) -> Spoil:
    """Return laying a piece already one block before."""

    def spoil(made: Plan) -> Plan:
        (hooping,) = (h for h in made.hoopings if h.key == key)
        work = list(operations(hooping))
        at = next(i for i, o in enumerate(work) if isinstance(o, Lay) and o.piece == piece)
        stitch = next(i for i in range(at, -1, -1) if isinstance(work[i], Stitch))
        work.insert(stitch, work.pop(at))
        return sewn_again(made, key, tuple(work))

    return spoil


def after_block(key: str, piece: str, title: str) -> Spoil:
    """Return taking all handwork about a piece, with its own blocks, after another block."""

    def spoil(made: Plan) -> Plan:
        (hooping,) = (h for h in made.hoopings if h.key == key)
        work = list(operations(hooping))
        own = [o for o in work if getattr(o, "piece", None) == piece or piece in getattr(o, "pieces", ())]
        rest = [o for o in work if not any(o is x for x in own)]
        at = next(i for i, o in enumerate(rest) if isinstance(o, Stitch) and o.title.startswith(title))
        return sewn_again(made, key, (*rest[: at + 1], *own, *rest[at + 1 :]))

    return spoil


def opened_at(key: str, outline: Polygon, middle: Point, width: float, below: str) -> Spoil:
    """Return an opening of this width near ``middle`` in the closing seam, turned through and closed there."""
    gap = gap_on(outline, middle, width)
    ring = LineString(outline.exterior.coords)
    return both(closed_but(key, ring, gap), through(gap, below))


def closed_but(key: str, ring: LineString, *gaps: LineString) -> Spoil:
    """Return a closing seam along ``ring`` that leaves these gaps."""
    from shapely import get_parts, line_merge, union_all

    left = line_merge(ring.difference(union_all([g.buffer(0.01, cap_style="flat") for g in gaps]))) if gaps else ring
    parts = tuple(p for p in get_parts(left) if isinstance(p, LineString))
    return changed(key, lambda o: replace(o, paths=parts) if isinstance(o, Stitch) and o.role is Role.CLOSING else o)


def through(gap: LineString, below: str) -> Spoil:
    """Return turning through another opening, and closing that."""

    def change(hand: HandWork) -> HandWork:
        if isinstance(hand, Turn):
            return replace(hand, line=gap, below=below)
        return replace(hand, line=gap) if isinstance(hand, Close) else hand

    return assembled(change)


def closing_of(made: Plan, key: str) -> Stitch:
    """Return the closing seam of a hooping."""
    (hooping,) = (h for h in made.hoopings if h.key == key)
    return next(s.stitch for s in hooping.steps if s.stitch.role is Role.CLOSING)


def thicker(cloth: str, mm: float) -> Spoil:
    """Return the plan with a thicker cloth."""

    def spoil(made: Plan) -> Plan:
        cloths = {**made.project.cloths, cloth: made.project.cloths[cloth].model_copy(update={"thickness": mm})}
        return replace(made, project=made.project.model_copy(update={"cloths": cloths}))

    return spoil


def cut(key: str, away: Callable[[Trim], bool]) -> Spoil:
    """Return leaving out some cuts."""
    return changed(key, lambda o: () if isinstance(o, Trim) and away(o) else o)
