"""The picture of one halt: what lies, what hands do now, what is sewn then."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import shapely
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import Face, Flip, HandWork, Lay, OrnamentStyle, Role, Trim
from hoopwright.outputs.drawing.geometry import lines
from hoopwright.outputs.drawing.shapes import Drawing, Shape
from hoopwright.outputs.drawing.svg import to_svg
from hoopwright.outputs.pictures.frame import extent_of, stage
from hoopwright.outputs.pictures.inks import FAINT, INK, WHITE, cloth_paint, lightness, thread_paint
from hoopwright.outputs.pictures.lying import Lying, Removed, halts, replay
from hoopwright.outputs.pictures.sections import pieced_cloths
from hoopwright.outputs.pictures.signs import (
    away,
    cloth_down,
    cloth_up,
    cut_line,
    ornament_now,
    raw_edge,
    sewn_before,
    sewn_now,
)
from hoopwright.outputs.pictures.symbols import DISC, flip_arrow, number_disc, scissors, seam_tag

POINT_BY_POINT = frozenset({Role.LAYOUT, Role.ORNAMENT})
"""Blocks drawn from their needle positions; the others from their paths."""
TAG = 3.6
"""Room that a seam's tag takes, from its middle, mm."""
SHOWN = 60.0
"""A piece of which less than this shows, mm2, gets no number."""


def step_svg(plan: Plan, hooping: Hooping, index: int) -> str:
    """Return the picture of one halt as SVG, true to size. Raises IndexError as ``step_drawing`` does."""
    return to_svg(step_drawing(plan, hooping, index))


def step_drawing(plan: Plan, hooping: Hooping, index: int) -> Drawing:
    """Return the picture of step ``index`` (from 1) with its hand work done and its block about to be sewn.

    What was trimmed and flipped before is done by then: ``hands_drawing`` shows it.
    One more than the last is the work when all is sewn. Raises IndexError for a step the hooping does not have.
    """
    step, hands = _step(hooping, index)
    pieces, cuts = replay(hooping, index)
    fresh = tuple(r for r in cuts if r.index == index and not r.under)
    names, sewing = _names(plan, hooping), _decorating(hooping, step)
    marks = shapely.union_all([_marks((), fresh), *(Point(_tag_place(s)).buffer(TAG) for s in sewing)])
    signs = (*(s for r in fresh for s in _snips(r)), *(t for s in sewing for t in _tag(s)))
    shapes = (
        *_work(plan, hooping, index, pieces),
        *(s for r in fresh for s in (*away(r.region), *cut_line(r.line))),
        *(s for h in hands if isinstance(h, Lay) and h.raw_edge for s in raw_edge(*h.raw_edge)),
        *(_now(plan, hooping, step) if step else ()),
        *_numbers(pieces, names, {h.piece for h in hands if isinstance(h, Lay)}, marks),
        *signs,
    )
    title = f"step {index}: {step.stitch.title}" if step else "when all is sewn"
    sentences = [h.sentence for h in hands] + ([step.stitch.sentence] if step else [])
    return _framed(plan, hooping, shapes, title, sentences)


def hands_drawing(plan: Plan, hooping: Hooping, index: int) -> Drawing | None:
    """Return how the work lies when the machine halts before step ``index``, with what to trim and flip then.

    None when nothing is flipped at that halt. Raises IndexError for a step the hooping does not have.
    """
    _, hands = _step(hooping, index)
    moves = tuple(h for h in hands if isinstance(h, Trim | Flip))
    if not any(isinstance(h, Flip) for h in moves):
        return None
    pieces, _ = replay(hooping, index - 1)
    fresh = tuple(r for r in replay(hooping, index)[1] if r.index == index and r.under)
    shapes = (
        *_work(plan, hooping, index, pieces),
        *(s for r in fresh for s in (*away(r.region), *cut_line(r.line))),
        *_numbers(pieces, _names(plan, hooping), {h.piece for h in moves}, _marks(moves, fresh)),
        *_flips(moves),
        *(s for r in fresh for s in _snips(r)),
    )
    return _framed(plan, hooping, shapes, f"before step {index}: trim and flip", [h.sentence for h in moves])


def _step(hooping: Hooping, index: int) -> tuple[Step | None, tuple[HandWork, ...]]:
    last = len(hooping.steps)
    if not 1 <= index <= last + 1:
        raise IndexError(f"hooping {hooping.key} has steps 1 to {last}, and one more for its end, but not {index}")
    return hooping.steps[index - 1] if index <= last else None, dict(halts(hooping))[index]


def _framed(plan: Plan, hooping: Hooping, shapes: Sequence[Shape], title: str, sentences: Sequence[str]) -> Drawing:
    extent = extent_of(plan, hooping)
    return Drawing(extent, (*stage(plan, extent), *shapes), f"{hooping.title}, {title}", " ".join(sentences), WHITE)


def _work(plan: Plan, hooping: Hooping, index: int, pieces: tuple[Lying, ...]) -> tuple[Shape, ...]:
    """Return cloths and the blocks before ``index`` in the order in which they came to lie."""
    shapes: list[Shape] = []
    for step in hooping.steps[: index - 1]:
        shapes += [s for p in pieces if p.since == step.index for s in _cloth(plan, hooping, p)]
        shapes += _sewn(plan, step)
    return (*shapes, *(s for p in pieces if p.since >= index for s in _cloth(plan, hooping, p)))


def _cloth(plan: Plan, hooping: Hooping, piece: Lying) -> tuple[Shape, ...]:
    colour = cloth_paint(plan, piece.cloth)
    if piece.face is Face.DOWN:
        return cloth_down(piece.outline, colour)
    panel = next((p for p in plan.panels if p.key == hooping.panel), None)
    parts = pieced_cloths(panel, piece.piece, piece.outline) if panel else ()
    pieced = (s for key, region in parts for s in cloth_up(region, cloth_paint(plan, key)))
    return (*cloth_up(piece.outline, colour), *pieced)


def _sewn(plan: Plan, step: Step) -> tuple[Shape, ...]:
    """Return a block sewn before."""
    if step.stitch.role is Role.ORNAMENT:
        return lines(_paths(step), thread_paint(plan, step.stitch.thread), 0.4)
    if step.stitch.role is Role.LAYOUT:
        return lines(_paths(step), FAINT, 0.3)
    return sewn_before(_paths(step))


def _now(plan: Plan, hooping: Hooping, step: Step) -> tuple[Shape, ...]:
    """Return the block that is sewn now."""
    colour = thread_paint(plan, step.stitch.thread)
    if step.stitch.role is Role.ORNAMENT:
        later = tuple(s for o in _decorating(hooping, step)[1:] for s in _sewn(plan, o))
        return (*later, *ornament_now(_paths(step), colour))
    if step.stitch.role is Role.LAYOUT:
        return lines(_paths(step), colour if lightness(colour) < 0.6 else INK, 0.5)
    return sewn_now(_paths(step), colour)


def _decorating(hooping: Hooping, step: Step | None) -> tuple[Step, ...]:
    """Return ``step`` and the seam stitches that follow it without a halt; nothing when it is none itself."""
    if step is None or step.stitch.role is not Role.ORNAMENT:
        return ()
    rest = hooping.steps[step.index :]
    return step, *itertools.takewhile(lambda s: s.stitch.role is Role.ORNAMENT and not s.halt, rest)


def _tag(step: Step) -> tuple[Shape, ...]:
    """Return the seam number of a block of seam stitches."""
    return seam_tag(str(step.stitch.seam), _tag_place(step)) if step.stitch.seam is not None else ()


def _tag_place(step: Step) -> tuple[float, float]:
    """Return a place beside the middle of the block's path, clear of its stitches."""
    style, path = step.stitch.style, step.stitch.paths[0]
    (ax, ay), (bx, by) = path.coords[0], path.coords[-1]
    length = math.dist((ax, ay), (bx, by)) or 1.0
    aside = (0.5 * style.width if isinstance(style, OrnamentStyle) else 0.0) + TAG
    middle = path.interpolate(0.5, normalized=True)
    return middle.x - (by - ay) / length * aside, middle.y + (bx - ax) / length * aside


def _names(plan: Plan, hooping: Hooping) -> dict[str, str]:
    """Return what stands on each piece: the number that the layout sews, a section's own label."""
    patches = (p for panel in plan.panels if panel.key == hooping.panel for p in panel.patches)
    return {p.label: str(p.number) if p.made_of is None else p.label for p in patches}


def _paths(step: Step) -> list[LineString]:
    """Return what a block sews: its needle positions, or the smooth paths of a plain line."""
    if step.stitch.role in POINT_BY_POINT or not step.stitch.paths:
        return [LineString(r.points) for r in step.runs if r.count > 1]
    return [p for path in step.stitch.paths for p in shapely.get_parts(shapely.simplify(path, 0.02)).tolist()]


def _snips(cut: Removed) -> tuple[Shape, ...]:
    place = _snip_place(cut)
    return scissors(place[0], place[1], 9.0) if place else ()


def _snip_place(cut: Removed) -> tuple[tuple[float, float], float] | None:
    """Return where the scissors go and their direction: near the start of the longest stretch of the cutting line."""
    parts = [p for p in shapely.get_parts(cut.line).tolist() if hasattr(p, "coords") and p.length > 0.0]
    if not parts:
        return None
    way = max(parts, key=lambda p: p.length)
    at = min(0.12 * way.length, 12.0)
    a, b = way.interpolate(at), way.interpolate(at + 0.02 * way.length)
    return (a.x, a.y), math.degrees(math.atan2(b.y - a.y, b.x - a.x))


def _flips(hands: Sequence[HandWork]) -> tuple[Shape, ...]:
    return tuple(s for h in hands if isinstance(h, Flip) for s in flip_arrow(*_flip_ends(h)))


def _flip_ends(flip: Flip) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return where the arrow of a flip starts and ends: across the middle of the seam, to where the piece then lies."""
    (ax, ay), (bx, by) = flip.line
    middle, length = ((ax + bx) / 2, (ay + by) / 2), math.dist(*flip.line)
    nx, ny = -(by - ay) / length, (bx - ax) / length
    centre = flip.pose.centroid
    if (centre.x - middle[0]) * nx + (centre.y - middle[1]) * ny < 0:
        nx, ny = -nx, -ny
    reach = min(max(0.35 * length, 7.0), 13.0)
    start = (middle[0] - nx * 0.8 * reach, middle[1] - ny * 0.8 * reach)
    return start, (middle[0] + nx * reach, middle[1] + ny * reach)


def _marks(hands: Sequence[HandWork], cuts: Sequence[Removed]) -> BaseGeometry:
    """Return the places of arrows and scissors, which numbers keep clear of."""
    arrows = [LineString(_flip_ends(h)).buffer(4.0) for h in hands if isinstance(h, Flip)]
    places = [p for p in map(_snip_place, cuts) if p]
    return shapely.union_all([*arrows, *(Point(at).buffer(5.0) for at, _ in places)])


def _numbers(
    pieces: tuple[Lying, ...], names: dict[str, str], strong: set[str], marks: BaseGeometry
) -> tuple[Shape, ...]:
    """Return the number of each piece in the middle of what shows of it; those handled now are strong."""
    shapes: list[Shape] = []
    over: BaseGeometry = shapely.Polygon()
    for piece in reversed(pieces):
        shows = shapely.difference(piece.outline, over)
        over = shapely.union_all([over, piece.outline])
        if shows.area > SHOWN:
            shapes += number_disc(
                names.get(piece.piece, piece.piece), _spot(shows, marks), strong=piece.piece in strong
            )
    return tuple(shapes)


def _spot(region: BaseGeometry, marks: BaseGeometry) -> tuple[float, float]:
    """Return the place in ``region`` farthest from its edges and the marks; marks count only where there is room."""
    clear = _roomiest(shapely.difference(region, marks))
    x, y, _ = clear if clear[2] >= DISC else _roomiest(region)
    return x, y


def _roomiest(region: BaseGeometry) -> tuple[float, float, float]:
    """Return the middle and the radius of the largest circle in ``region``, to half a millimetre; 0s for nothing."""
    if region.is_empty:
        return 0.0, 0.0, 0.0
    largest = max(shapely.get_parts(region).tolist(), key=lambda p: p.area)
    spoke = shapely.maximum_inscribed_circle(largest, tolerance=0.5)
    (x, y), _ = shapely.get_coordinates(spoke).tolist()
    return x, y, spoke.length
