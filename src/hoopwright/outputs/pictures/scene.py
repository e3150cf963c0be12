"""What the pictures of a hooping show, read off the sheet stack: what lies, since when, what is cut away, what shows."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.columns import visible
from hoopwright.cloth.placing import Placing, mirror
from hoopwright.cloth.replay import Bench, bench_of, carry_out, seam_of, sewn
from hoopwright.cloth.shapes import Layer, Stack
from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import FLAT, MERGE, SCRAP
from hoopwright.core.types import Mm
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Close, Face, HandWork, Lay, Side, Trim, Turn
from hoopwright.plane.half_plane import left_of


@dataclass(frozen=True, slots=True, eq=False)
class Lying:
    """A layer of a sheet as it lies: its outline (perhaps in parts, when trimmed), its face, the step since which it lies so.

    ``shows`` is what of it is seen from above, ``under`` tells that it lies under the hoop, ``placing`` leads from where
    its sheet was laid to where it lies.
    """

    piece: str
    cloth: str
    outline: BaseGeometry
    face: Face
    since: int
    shows: BaseGeometry
    under: bool
    folds: tuple[LineString, ...]
    placing: Placing


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


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """What lies when hands have done a part of their work, lowest first, and what they have trimmed away in this step."""

    lying: tuple[Lying, ...] = ()
    cuts: tuple[Removed, ...] = ()

    @property
    def on_top(self) -> tuple[Lying, ...]:
        """What lies on the hoop, in the order in which it came to lie so; what is wholly covered is left out."""
        return tuple(sorted((p for p in self.lying if not p.shows.is_empty), key=lambda p: p.since))

    @property
    def below(self) -> tuple[Lying, ...]:
        """What lies under the hoop."""
        return tuple(p for p in self.lying if p.under)


def scene(plan: Plan, hooping: Hooping, index: int) -> Scene:
    """Return the scene when the hands of step ``index`` (from 1) are done; nothing lies before the first.

    An index beyond the last step also carries out what is done after it, up to the turning of the work.
    """
    scenes = scenes_of(plan, hooping)
    return scenes[min(index, len(scenes)) - 1][-1] if index > 0 else Scene()


@lru_cache(maxsize=2)
def scenes_of(plan: Plan, hooping: Hooping) -> tuple[tuple[Scene, ...], ...]:
    """Return for every step, and for what follows the last, the scene after each part of its handwork (see ``parts``)."""
    bench, stack, found = bench_of(plan.project), Stack(), []
    lying: tuple[Lying, ...] = ()
    for number, hands in halts(hooping):
        cuts: tuple[Removed, ...] = ()
        rows: list[Scene] = []
        for part, following in parts(hands):
            stack, cut = _handled(stack, part, following, number, bench)
            cuts = (*cuts, *cut)
            lying = _aged(stack, lying, number)
            rows.append(Scene(lying, cuts))
        found.append(tuple(rows))
        if number <= len(hooping.steps):
            stack = sewn(stack, hooping.steps[number - 1])
    return tuple(found)


def parts(hands: Sequence[HandWork]) -> tuple[tuple[tuple[HandWork, ...], tuple[HandWork, ...]], ...]:
    """Return handwork in parts that each end when a piece is laid, each with what follows it; one part at least.

    What is done after the last piece is laid belongs to the last part.
    """
    ends = [k + 1 for k, h in enumerate(hands) if isinstance(h, Lay)][:-1]
    starts, stops = [0, *ends], [*ends, len(hands)]
    return tuple((tuple(hands[a:b]), tuple(hands[b:])) for a, b in zip(starts, stops, strict=True))


def halts(hooping: Hooping) -> tuple[tuple[int, tuple[HandWork, ...]], ...]:
    """Return step number and hand work of every step; what follows the last step counts as one more."""
    return (*((s.index, s.hands) for s in hooping.steps), (len(hooping.steps) + 1, before_turning(hooping.after)))


def before_turning(hands: Sequence[HandWork]) -> tuple[HandWork, ...]:
    """Return the hand work up to where the work is turned or closed, which has no picture from above."""
    at = next((k for k, h in enumerate(hands) if isinstance(h, Turn | Close)), len(hands))
    return tuple(hands[:at])


def _handled(
    stack: Stack, hands: Sequence[HandWork], following: Sequence[HandWork], number: int, bench: Bench
) -> tuple[Stack, tuple[Removed, ...]]:
    cuts: list[Removed] = []
    for at, hand in enumerate(hands):
        before = stack
        stack = _done(stack, hand, bench, (*hands[at + 1 :], *following))
        if isinstance(hand, Trim):
            cuts += _cut(before, stack, hand, number, bench.allowance)
    return stack, tuple(cuts)


def _done(stack: Stack, hand: HandWork, bench: Bench, following: Sequence[HandWork]) -> Stack:
    """Carry out one piece of hand work; what cannot be done is told by the checks and left undone in the picture."""
    try:
        return carry_out(stack, hand, bench, following)
    except GeometryError:
        return stack


def _aged(stack: Stack, before: tuple[Lying, ...], number: int) -> tuple[Lying, ...]:
    """Return what lies in a stack, each layer with the step since which it lies as it does."""
    earlier: dict[str, list[Lying]] = {}
    for p in before:
        earlier.setdefault(p.piece, []).append(p)
    layers = [p for p in stack.layers if not p.foundation]
    shown = _shown([p for p in layers if p.side is Side.TOP])
    return tuple(
        Lying(
            p.sheet,
            p.cloth,
            p.region,
            p.face,
            _since(p, earlier.get(p.sheet, ()), number),
            shown.get(p, Polygon()),
            p.side is Side.UNDER,
            p.folds,
            p.placing,
        )
        for p in layers
    )


def _shown(layers: Sequence[Layer]) -> dict[Layer, BaseGeometry]:
    """Return what shows of each layer from above."""
    return {layers[s.layer]: s.region for s in visible(Stack(tuple(layers)))} if layers else {}


def _since(layer: Layer, earlier: Iterable[Lying], number: int) -> int:
    under = layer.side is Side.UNDER
    return next((p.since for p in earlier if p.under is under and p.placing.like(layer.placing)), number)


def _cut(before: Stack, after: Stack, trim: Trim, number: int, allowance: Mm) -> list[Removed]:
    """Return what a trim took away and the line of the scissors; nothing when it took nothing.

    Under a seam the line is shown even where nothing sticks out: the maker may have cut her cloth larger.
    """
    pairs = [(p, _same(p, after)) for p in before.layers if not p.foundation]
    cut = _without_threads(shapely.union_all([shapely.difference(p.region, kept) for p, kept in pairs]))
    if trim.keep is None and trim.away is None:
        way = _beyond_seam(before, trim.piece, allowance)
        return [] if way is None else [Removed(number, trim.piece, cut, way, under=True)]
    if cut.area <= 0.0:
        return []
    line: BaseGeometry = trim.keep.exterior if trim.keep is not None else _scissors_way(pairs, cut)
    return [Removed(number, trim.piece, cut, line)]


def _without_threads(cut: BaseGeometry) -> BaseGeometry:
    """Return a region without the parts of no width that rounding leaves along the edges of cloth that stays."""
    core = cut.buffer(-FLAT, join_style="mitre")
    return shapely.intersection(cut, core.buffer(2.0 * FLAT, join_style="mitre"))


def _beyond_seam(stack: Stack, sheet: str, allowance: Mm) -> BaseGeometry | None:
    """Return the line one allowance beyond the seam of a sheet that is not flipped yet, as far as its cloth will reach."""
    line, cloth = seam_of(stack, sheet), shapely.union_all([p.region for p in stack.of(sheet)])
    if line is None:
        return None
    left = float(shapely.intersection(cloth, left_of(*line)).area)
    start, end = line if 2.0 * left < cloth.area else (line[1], line[0])
    endless = LineString(left_of(start, end, allowance).exterior.coords[:2])
    return shapely.intersection(endless, mirror(start, end).shape(cloth))


def _same(layer: Layer, stack: Stack) -> BaseGeometry:
    """Return what is left of a layer."""
    left = [p.region for p in stack.layers if p.sheet == layer.sheet and p.placing.like(layer.placing)]
    return shapely.union_all(left) if left else Polygon()


def _scissors_way(pairs: Sequence[tuple[Layer, BaseGeometry]], cut: BaseGeometry) -> BaseGeometry:
    """Return the new edges of what is left, as one line where several layers are cut along it."""
    shorter = [kept for p, kept in pairs if 0.0 < kept.area < p.region.area - SCRAP]
    edges = [shapely.intersection(cut.boundary, kept.buffer(MERGE)) for kept in shorter]
    return shapely.simplify(shapely.union_all(edges), FLAT)
