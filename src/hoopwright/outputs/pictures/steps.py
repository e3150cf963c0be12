"""The picture of one halt: what lies, what hands do now, what is sewn then."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import takewhile

import shapely
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import Face, Flip, Fold, HandWork, Lay, Role, Side, Trim
from hoopwright.outputs.drawing.geometry import areas, lines
from hoopwright.outputs.drawing.shapes import Drawing, Label, Shape
from hoopwright.outputs.drawing.svg import to_svg
from hoopwright.outputs.naming import name_of, sheet_names
from hoopwright.outputs.pictures.blocks import (
    TAG,
    before,
    decorates,
    gap_of,
    now,
    placement_lines,
    tag,
    tag_place,
)
from hoopwright.outputs.pictures.finished import strands_of
from hoopwright.outputs.pictures.frame import extent_of, stage
from hoopwright.outputs.pictures.inks import HAND, WHITE, cloth_paint, thread_paint
from hoopwright.outputs.pictures.lace import lace
from hoopwright.outputs.pictures.laid_lace import laid_lace
from hoopwright.outputs.pictures.laid_panels import laid_panel
from hoopwright.outputs.pictures.scene import Lying, Removed, Scene, halts, parts, scene, scenes_of
from hoopwright.outputs.pictures.sections import panel_cloths, pieced_cloths
from hoopwright.outputs.pictures.signs import (
    away,
    cloth_down,
    cloth_under,
    cloth_up,
    cut_line,
    folded_edge,
    lies_under,
    opening,
    placement_under,
    raw_edge,
)
from hoopwright.outputs.pictures.symbols import flip_arrow, scissors
from hoopwright.outputs.pictures.titles import SHOWN, Named, growth, named
from hoopwright.outputs.saying import Say, saying

PALE = 0.6
"""How far the work is paled behind the seam stitch that is sewn now."""

ASIDE = 0.25
"""An arrow to the underside starts at this share of its line, beside the one of what is folded above it."""


def step_svg(plan: Plan, hooping: Hooping, index: int) -> str:
    """Return the picture of one halt as SVG, true to size. Raises IndexError as ``step_drawing`` does."""
    return to_svg(step_drawing(plan, hooping, index))


def step_drawing(plan: Plan, hooping: Hooping, index: int) -> Drawing:
    """Return the picture of step ``index`` (from 1) with its hand work done and its block about to be sewn.

    What was trimmed and flipped before is done by then: ``hands_drawing`` shows it, and ``lay_drawings`` shows what is
    laid before the last piece. One more than the last is the work when all is sewn. Raises IndexError for a step the
    hooping does not have.
    """
    step, hands = _step(hooping, index)
    here, last = scene(plan, hooping, index), parts(hands)[-1][0]
    shown_before = hands_drawing(plan, hooping, index) is not None
    fresh = tuple(r for r in here.cuts if not r.under and not (step is None and shown_before))
    sewing, gap = step if decorates(step) else None, gap_of(plan, hooping, step)
    grow = growth(extent_of(plan, hooping))
    marks = shapely.union_all(
        [
            _marks((), fresh),
            *(Point(tag_place(s, grow)).buffer(grow * TAG) for s in (sewing,) if s),
            *_written(hooping, index),
        ]
    )
    shapes = (
        *_laid(plan, hooping, index, here, last),
        *_cut_away(fresh),
        *_edges(here, last),
        *(areas(_everything(here), WHITE, opacity=PALE) if sewing else ()),
        *(now(plan, step) if step else ()),
        *(opening(gap) if gap is not None else ()),
        *_names(plan, hooping, here, _pieces(last), marks),
        *(s for r in fresh for s in _snips(r)),
        *(tag(sewing, grow) if sewing else ()),
    )
    title = f"step {index}: {step.stitch.title}" if step else "when all is sewn"
    sentences = [h.sentence for h in hands] + ([step.stitch.sentence] if step else [])
    return _framed(plan, hooping, shapes, title, sentences)


def _everything(here: Scene) -> BaseGeometry:
    return shapely.union_all([p.shows for p in here.on_top])


def lay_drawings(plan: Plan, hooping: Hooping, index: int) -> tuple[Drawing, ...]:
    """Return a picture for every piece laid at a halt before the last one. Raises IndexError as ``step_drawing``."""
    _, hands = _step(hooping, index)
    made = []
    for (part, _), here in zip(parts(hands)[:-1], scenes_of(plan, hooping)[index - 1], strict=False):
        shapes = (
            *_laid(plan, hooping, index, here, part),
            *_edges(here, part),
            *_names(plan, hooping, here, _pieces(part), Point().buffer(0)),
        )
        title = f"step {index}: lay {name_of(sheet_names(plan, hooping), part[-1].piece).words}"  # type: ignore[union-attr]
        made.append(_framed(plan, hooping, shapes, title, [h.sentence for h in part]))
    return tuple(made)


def hands_drawing(plan: Plan, hooping: Hooping, index: int) -> Drawing | None:
    """Return how the work lies when the machine halts before step ``index``, with what to trim, flip and fold then.

    None when nothing is flipped or folded before the first piece is laid. Raises IndexError for a step the hooping
    does not have.
    """
    _, hands = _step(hooping, index)
    moves = tuple(h for h in takewhile(lambda h: not isinstance(h, Lay), hands) if isinstance(h, Trim | Flip | Fold))
    if not any(isinstance(h, Flip | Fold) for h in moves):
        return None
    here = scene(plan, hooping, index - 1)
    end = index > len(hooping.steps)
    fresh = tuple(r for r in scenes_of(plan, hooping)[index - 1][0].cuts if r.under or end)
    handled = {p for h in moves for p in (h.pieces if isinstance(h, Fold) else (h.piece,))}
    shapes = (
        *_work(plan, hooping, index, here),
        *_cut_away(fresh),
        *_names(plan, hooping, here, handled, _marks(moves, fresh)),
        *(s for h in moves if isinstance(h, Flip | Fold) for s in _arrow(h, saying(plan.project))),
        *(s for r in fresh for s in _snips(r)),
    )
    title = "when all is sewn: trim and flip" if end else f"before step {index}: trim and flip"
    return _framed(plan, hooping, shapes, title, [h.sentence for h in moves])


def _step(hooping: Hooping, index: int) -> tuple[Step | None, tuple[HandWork, ...]]:
    last = len(hooping.steps)
    if not 1 <= index <= last + 1:
        raise IndexError(f"hooping {hooping.key} has steps 1 to {last}, and one more for its end, but not {index}")
    return hooping.steps[index - 1] if index <= last else None, dict(halts(hooping))[index]


def _framed(plan: Plan, hooping: Hooping, shapes: Sequence[Shape], title: str, sentences: Sequence[str]) -> Drawing:
    extent = extent_of(plan, hooping)
    return Drawing(extent, (*stage(plan, extent), *shapes), f"{hooping.title}, {title}", " ".join(sentences), WHITE)


def _cut_away(cuts: Sequence[Removed]) -> tuple[Shape, ...]:
    """Return what is cut away, once where several layers are cut, and the ways of the scissors."""
    return (*away(shapely.union_all([r.region for r in cuts])), *(s for r in cuts for s in cut_line(r.line)))


def _pieces(hands: Sequence[HandWork]) -> set[str]:
    return {h.piece for h in hands if isinstance(h, Lay)}


def _laid(plan: Plan, hooping: Hooping, index: int, here: Scene, hands: Sequence[HandWork]) -> tuple[Shape, ...]:
    """Return the work with what is laid now: placement lines shine through it, and what lies under the hoop is shown."""
    pieces = _pieces(hands)
    earlier = shapely.union_all([p.outline for p in here.below if p.piece not in pieces])
    return (
        *_work(plan, hooping, index, here),
        *placement_under(placement_lines(hooping, index, pieces)),
        *lies_under(earlier),
        *(s for p in here.below if p.piece in pieces for s in cloth_under(p.outline, cloth_paint(plan, p.cloth))),
    )


def _edges(here: Scene, hands: Sequence[HandWork]) -> tuple[Shape, ...]:
    """Return the raw and folded edges of the pieces that are laid now."""
    lays = [h for h in hands if isinstance(h, Lay)]
    folded = {h.piece for h in lays if h.fold is not None}
    edges = [f for p in here.lying if p.piece in folded for f in p.folds]
    return (
        *(s for h in lays if h.raw_edge for s in raw_edge(*h.raw_edge)),
        *folded_edge(shapely.union_all(edges), now=True),
    )


def _work(plan: Plan, hooping: Hooping, index: int, here: Scene) -> tuple[Shape, ...]:
    """Return cloths and the blocks before ``index`` in the order in which they came to lie."""
    shapes: list[Shape] = []
    for step in hooping.steps[: index - 1]:
        shapes += [s for p in here.on_top if p.since == step.index for s in cloth_shapes(plan, hooping, p)]
        shapes += before(plan, step)
    return (*shapes, *(s for p in here.on_top if p.since >= index for s in cloth_shapes(plan, hooping, p)))


def cloth_shapes(plan: Plan, hooping: Hooping, piece: Lying) -> tuple[Shape, ...]:
    """Return a sheet as it lies: its right side with what was pieced of it, or its wrong side."""
    if (row := laid_lace(plan, hooping, piece.piece)) is not None:
        return lace([piece.placing.shape(LineString(row.row))], thread_paint(plan, row.thread))
    colour = cloth_paint(plan, piece.cloth)
    if piece.face is Face.DOWN:
        return cloth_down(piece.outline, colour)
    panel = next((p for p in plan.panels if p.key == hooping.panel), None)
    parts = pieced_cloths(panel, piece.piece, piece.outline) if panel else ()
    pieced = (s for key, region in parts for s in cloth_up(region, cloth_paint(plan, key)))
    return (*cloth_up(piece.outline, colour), *pieced, *_panel(plan, hooping, piece))


def _panel(plan: Plan, hooping: Hooping, piece: Lying) -> tuple[Shape, ...]:
    """Return patches and seam stitches of a pieced panel that is laid like one cloth."""
    found = laid_panel(plan, hooping, piece.piece)
    if found is None:
        return ()
    panel, laid = found
    way = piece.placing.after(laid)
    cloths = [(key, shapely.intersection(way.shape(region), piece.outline)) for key, region in panel_cloths(panel)]
    strands = [(s.colour, way.shape(LineString(s.points))) for s in strands_of(plan, panel)]
    return (
        *(s for key, region in cloths for s in cloth_up(region, cloth_paint(plan, key))),
        *(s for colour, strand in strands for s in lines([strand], colour, 0.4)),
    )


def _names(plan: Plan, hooping: Hooping, here: Scene, strong: set[str], marks: BaseGeometry) -> tuple[Shape, ...]:
    """Return the name of each sheet where it shows; of what lies under the hoop only of what is laid there now."""
    names, say = sheet_names(plan, hooping), saying(plan.project)
    shown: dict[str, list[BaseGeometry]] = {}
    for p in (*here.on_top, *(p for p in here.below if p.piece in strong)):
        shown.setdefault(p.piece, []).append(p.outline if p.under else p.shows)
    regions = {piece: shapely.union_all(rows) for piece, rows in shown.items()}
    sheets = [
        Named(region, name_of(names, piece).drawn(say), piece in strong)
        for piece, region in reversed(regions.items())
        if region.area > (0.0 if piece in strong else SHOWN)
    ]
    return named(sheets, marks, extent_of(plan, hooping))


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


def _arrow(hand: Flip | Fold, say: Say) -> tuple[Shape, ...]:
    """Return the arrow of a flip or fold; what is folded to the underside says so."""
    start, end = _way(hand)
    if not (isinstance(hand, Fold) and hand.onto is Side.UNDER):
        return flip_arrow(start, end)
    below = 5.0 if end[1] > start[1] else -5.0
    word = Label(say("under the hoop"), (end[0], end[1] + below), 5.0, HAND, bold=True, halo=WHITE, halo_width=0.8)
    return (*flip_arrow(start, end), word)


def _way(hand: Flip | Fold) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return where the arrow of a flip or fold starts and ends: across the middle of its line, to where the cloth then lies."""
    (ax, ay), (bx, by) = hand.line
    under = isinstance(hand, Fold) and hand.onto is Side.UNDER
    share = ASIDE if under else 0.5
    middle, length = (ax + (bx - ax) * share, ay + (by - ay) * share), math.dist(*hand.line)
    nx, ny = -(by - ay) / length, (bx - ax) / length
    if isinstance(hand, Fold) or (hand.pose.centroid.x - middle[0]) * nx + (hand.pose.centroid.y - middle[1]) * ny < 0:
        nx, ny = -nx, -ny
    reach = min(max(0.35 * length, 7.0), 13.0)
    start = (middle[0] - nx * 0.8 * reach, middle[1] - ny * 0.8 * reach)
    return start, (middle[0] + nx * reach, middle[1] + ny * reach)


def _written(hooping: Hooping, index: int) -> list[BaseGeometry]:
    """Return the places of letters sewn so far, which names of sheets must not hide."""
    stitches = [s.stitch for s in hooping.steps if s.index <= index]
    return [s.region for s in stitches if s.role is Role.LETTERING and s.region is not None]


def _marks(hands: Sequence[HandWork], cuts: Sequence[Removed]) -> BaseGeometry:
    """Return the places of arrows and scissors, which names keep clear of."""
    arrows = [LineString(_way(h)).buffer(4.0) for h in hands if isinstance(h, Flip | Fold)]
    places = [p for p in map(_snip_place, cuts) if p]
    return shapely.union_all([*arrows, *(Point(at).buffer(5.0) for at, _ in places)])
