"""Carrying out the steps of a hooping on the stack.

Where the plan says one thing and the cloth does another, the cloth is followed: a flip folds the sheet about the line
that was really sewn through it, wherever the plan says it will lie.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import shapely
from shapely.geometry import LineString, MultiLineString, box
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.handling import flip, fold, lay, press, release, trim, trim_to
from hoopwright.cloth.materials import LACE, Materials, materials_of
from hoopwright.cloth.placing import mirror
from hoopwright.cloth.shapes import Layer, Line, Stack, region_of, united
from hoopwright.cloth.stitching import stitch
from hoopwright.cloth.turning import Opening, flip_over, turn
from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import FLAT
from hoopwright.core.types import Mm
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import (
    Close,
    EdgeStyle,
    Face,
    Flip,
    Fold,
    Hand,
    HandWork,
    Hoop,
    Lay,
    Open,
    OrnamentStyle,
    Press,
    Release,
    Role,
    Side,
    Trim,
    Turn,
)
from hoopwright.plane.half_plane import left_of
from hoopwright.project.fields import field_of
from hoopwright.project.schema import Project

ROUND_FIELD: Final[Mm] = 15.0
"""How far the hooped foundation reaches past the field, mm, from memory."""

CLOSED_BY_HAND: Final = "closed by hand"
"""Name of the join that closes an opening."""


@dataclass(frozen=True, slots=True)
class Bench:
    """What a replay needs besides the hooping: materials, width and height of the hoop's field, and the allowance, mm."""

    materials: Materials
    field: tuple[Mm, Mm]
    allowance: Mm


def bench_of(project: Project) -> Bench:
    """Return the bench of a project."""
    return Bench(materials_of(project), field_of(project.hoop), project.piecing.allowance)


def replay(hooping: Hooping, bench: Bench) -> tuple[Stack, ...]:
    """Return the stack after each step (hands, then stitches), and last the stack after what is done at the end."""
    stack, stacks = Stack(), []
    for step in hooping.steps:
        stack = sewn(after_hands(stack, step.hands, bench), step)
        stacks.append(stack)
    return (*stacks, after_hands(stack, hooping.after, bench))


@dataclass(frozen=True, slots=True, eq=False)
class Undone:
    """Hand work that cannot be done, before step ``step`` (one past the last for what comes at the end), and why."""

    step: int
    hand: HandWork
    error: GeometryError


def attempt(hooping: Hooping, bench: Bench) -> tuple[tuple[Stack, ...], tuple[Undone, ...]]:
    """Return the stacks as ``replay`` does, leaving out what cannot be done, and what was left out."""
    stacks, undone = attempt_steps(hooping, bench)
    before = stacks[-1] if stacks else Stack()
    stack, left = attempt_hands(before, hooping.after, bench, len(hooping.steps) + 1)
    return (*stacks, stack), (*undone, *left)


def attempt_steps(hooping: Hooping, bench: Bench) -> tuple[tuple[Stack, ...], tuple[Undone, ...]]:
    """Return the stack after each step, leaving out what hands cannot do, and what was left out."""
    stack, stacks, undone = Stack(), [], []
    for step in hooping.steps:
        stack, left = attempt_hands(stack, step.hands, bench, step.index)
        undone += left
        stack = sewn(stack, step)
        stacks.append(stack)
    return tuple(stacks), tuple(undone)


def attempt_hands(
    stack: Stack, hands: Sequence[HandWork], bench: Bench, step: int, following: Sequence[HandWork] = ()
) -> tuple[Stack, list[Undone]]:
    """Return the stack when the hands have done what they can, and what they cannot; ``following`` is what comes next."""
    left: list[Undone] = []
    for at, hand in enumerate(hands):
        try:
            stack = carry_out(stack, hand, bench, (*hands[at + 1 :], *following))
        except GeometryError as error:
            left.append(Undone(step, hand, error))
    return stack, left


def stack_after(hooping: Hooping, index: int, bench: Bench, *, stitched: bool = True) -> Stack:
    """Return the stack after step ``index`` (from 1), or before its stitches; beyond the last step, at the end."""
    stack = Stack()
    for step in hooping.steps[:index]:
        stack = after_hands(stack, step.hands, bench)
        if stitched or step.index < index:
            stack = sewn(stack, step)
    return after_hands(stack, hooping.after, bench) if index > len(hooping.steps) else stack


def after_hands(stack: Stack, hands: Sequence[HandWork], bench: Bench) -> Stack:
    """Return the stack when the hands have done their work."""
    for at, hand in enumerate(hands):
        stack = carry_out(stack, hand, bench, hands[at + 1 :])
    return stack


def sewn(stack: Stack, step: Step) -> Stack:
    """Return the stack when a step is sewn. Stitches with a width join what lies under their middle line; those of an edge
    close over it to half their width.
    """
    sewing, style = step.stitch, step.stitch.style
    wide = isinstance(style, OrnamentStyle | EdgeStyle)
    lines = list(sewing.paths) if wide else [_line(r.points) for r in step.runs]
    path = lines[0] if len(lines) == 1 else MultiLineString(lines)
    binds = style.width / 2.0 if isinstance(style, EdgeStyle) and sewing.role is Role.EDGE else 0.0
    return stitch(stack, path, sewing.title, role=sewing.role, piece=sewing.piece, binds=binds, step=step.index)


def _line(points: object) -> LineString:
    return LineString(points)  # type: ignore[arg-type]


def carry_out(stack: Stack, hand: HandWork, bench: Bench, following: Sequence[HandWork] = ()) -> Stack:
    """Return the stack after one piece of hand work; ``following`` is what the same hands do next.

    Raises GeometryError when it cannot be done, such as turning through an opening that is sewn shut.
    """
    match hand:
        case Hoop():
            return hooped(stack, bench)
        case Lay():
            return lay(stack, *sheets_of(hand, bench))
        case Fold():
            return fold(stack, hand.line, hand.pieces or None, hand.onto)
        case Flip() if stack.turned:
            return flip_over(stack, {hand.piece})
        case Flip():
            return flipped(stack, hand)
        case Trim():
            return trimmed(stack, hand, bench, following)
        case Release():
            return release(stack, hand.foundation_goes)
        case Turn():
            return turn(stack, Opening(hand.line, hand.below, hand.above), hand.hanging)
        case Close():
            return stitch(stack, hand.line, CLOSED_BY_HAND)
        case Press() | Hand() | Open():
            return press(stack)


def hooped(stack: Stack, bench: Bench) -> Stack:
    """Return the stack with the foundation in the hoop, its layers lowest first."""
    width, height = (side / 2.0 + ROUND_FIELD for side in bench.field)
    area = box(-width, -height, width, height)
    rows = bench.materials.hooped
    return lay(stack, *(Layer(n, n, t, area, Face.UP, Side.TOP, foundation=True) for n, t in rows))


def sheets_of(hand: Lay, bench: Bench) -> tuple[Layer, ...]:
    """Return what is laid, lowest layer first: several layers when it is folded before.

    An accent is one sheet without a cloth. A section pieced before (it has no cloth of its own) brings the foundation it
    was pieced on, which was taken off its allowance, as a sheet of its own.
    """
    if hand.lace is not None:
        return (Layer(hand.piece, hand.cloth, LACE, region_of(hand.pose), hand.face, hand.side, lace=True),)
    thickness = bench.materials.thickness(hand.cloth)
    flat = Layer(hand.piece, hand.cloth, thickness, region_of(hand.pose), hand.face, hand.side)
    if hand.fold is not None:
        return tuple(replace(p, side=hand.side) for p in fold(Stack((flat,)), hand.fold).layers)
    if hand.cloth:
        return (flat,)
    inner = region_of(shapely.buffer(hand.pose, -bench.allowance, join_style="mitre"))
    backing = replace(
        flat, sheet=backing_of(hand.piece), thickness=bench.materials.backing, region=inner, foundation=True
    )
    return (backing, flat) if hand.face is Face.UP else (flat, backing)


def backing_of(piece: str) -> str:
    """Return the name of the sheet that a section was pieced on."""
    return f"{piece} backing"


def flipped(stack: Stack, hand: Flip) -> Stack:
    """Return the stack with a sheet flipped over the line that was sewn through it, with its backing if it has one."""
    line = _along(seam_of(stack, hand.piece), hand.line)
    if not stack.of(backing_of(hand.piece)):
        return flip(stack, hand.piece, line)
    return fold(stack, (line[1], line[0]), {hand.piece, backing_of(hand.piece)})


def seam_of(stack: Stack, sheet: str) -> Line | None:
    """Return the straight line that was last sewn for a sheet and holds it, None when there is none.

    A line that is not straight holds the sheet, but it cannot be folded over it.
    """
    for join in reversed(stack.joins):
        if join.piece == sheet and any(h.sheet == sheet for h in join.held):
            return _straight(join.path)
    return None


def _straight(path: BaseGeometry) -> Line | None:
    places = shapely.get_coordinates(path).tolist()
    first = tuple(places[0])
    last = tuple(max(places, key=lambda p: math.dist(p, first)))
    first = tuple(max(places, key=lambda p: math.dist(p, last)))
    chord = LineString([first, last])
    if chord.length <= FLAT or path.hausdorff_distance(chord) > FLAT:
        return None
    return (first[0], first[1]), (last[0], last[1])


def _along(sewn_line: Line | None, told: Line) -> Line:
    """Return the line that was sewn in the direction of the one the plan tells, or that one."""
    if sewn_line is None:
        return told
    (ax, ay), (bx, by) = sewn_line
    same = (bx - ax) * (told[1][0] - told[0][0]) + (by - ay) * (told[1][1] - told[0][1]) > 0.0
    return sewn_line if same else (sewn_line[1], sewn_line[0])


def trimmed(stack: Stack, hand: Trim, bench: Bench, following: Sequence[HandWork] = ()) -> Stack:
    """Return the stack after a trim: everything along a line, a region off one sheet, or what lies under a seam."""
    if hand.keep is not None:
        return trim_to(stack, hand.keep)
    if hand.away is not None:
        return trim(stack, hand.away, {hand.piece})
    line = seam_of(stack, hand.piece)
    if line is None:
        return stack
    clips = [h.away for h in following if isinstance(h, Trim) and h.piece == hand.piece and h.away is not None]
    return trim_under(stack, hand.piece, line, bench.allowance, clips)


def trim_under(stack: Stack, sheet: str, line: Line, allowance: Mm, spared: Sequence[BaseGeometry] = ()) -> Stack:
    """Return the stack with the cloth under a sheet that is not flipped yet cut back to ``allowance`` mm past its seam.

    Only what the flipped sheet will cover is cut, less the regions ``spared``; the foundation and what lies under the
    hoop are not.
    """
    layers = stack.of(sheet)
    cloth = united(p.region for p in layers)
    line = _body_right(cloth, line)
    flipped = mirror(*line).shape(cloth)
    strip = shapely.intersection(flipped, left_of(*line, allowance))
    if spared:
        strip = shapely.difference(strip, shapely.union_all(list(spared)))
    below = {p.sheet for p in stack.layers if p.sheet != sheet and p.side is Side.TOP and not p.foundation}
    return trim(stack, strip, below)


def _body_right(cloth: BaseGeometry, line: Line) -> Line:
    """Return the line directed so that most of the cloth lies on its right."""
    left = float(shapely.area(shapely.intersection(cloth, left_of(*line))))
    return line if 2.0 * left < cloth.area else (line[1], line[0])
