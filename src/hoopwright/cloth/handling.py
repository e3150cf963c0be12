"""What hands do to the stack: lay, fold, flip, trim, release, press. Each returns a new stack.

A fold takes every chosen layer beyond a straight line, mirrors it over the line and puts it on top of everything (or
below everything), so that what lay highest comes to lie lowest among the folded. Which layers a fold or trim can
touch is found by their bounding boxes first; layers out of reach are handed on as they are.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.placing import Placing, mirror
from hoopwright.cloth.shapes import Layer, Line, Region, Stack, region_of, turned_over
from hoopwright.cloth.sheet_error import SheetError
from hoopwright.core.tolerances import COVER_AREA, FLAT, GRID, MERGE
from hoopwright.operations.vocabulary import Side
from hoopwright.plane.half_plane import REACH, left_of


def lay(stack: Stack, *sheets: Layer) -> Stack:
    """Return the stack with sheets laid: on top of all, or below all for those whose side is UNDER.

    Several sheets at once keep their order, lowest first. Raises GeometryError for a sheet without area.
    """
    for sheet in sheets:
        if sheet.region.is_empty:
            raise SheetError("{} has no area", (sheet.sheet,), "Give it an outline")
    under = tuple(s for s in sheets if s.side is Side.UNDER)
    on_top = tuple(s for s in sheets if s.side is Side.TOP)
    return replace(stack, layers=(*under, *stack.layers, *on_top))


def fold(stack: Stack, line: Line, sheets: Collection[str] | None = None, onto: Side = Side.TOP) -> Stack:
    """Return the stack with what lies to the left of ``line`` folded over it, on to the top or the underside.

    ``sheets`` names the sheets folded; None folds all but the foundation. Raises GeometryError for a line without length.
    """
    beyond, over, crease = left_of(*line), mirror(*line), _endless(line)
    stay: list[Layer] = []
    moved: list[Layer] = []
    for layer in stack.layers:
        if layer.foundation if sheets is None else layer.sheet not in sheets:
            stay.append(layer)
            continue
        rest, part = _parted(layer, beyond, crease)
        if rest is not None:
            stay.append(rest)
        if part is not None:
            moved.append(_mirrored(part, over, onto))
    moved.reverse()
    return replace(stack, layers=(*stay, *moved) if onto is Side.TOP else (*moved, *stay))


def flip(stack: Stack, sheet: str, line: Line) -> Stack:
    """Return the stack with a sheet folded on to the top over ``line``: what lies to the right of it comes to the left.

    A sheet that is folded at this line already is flipped back: what lies on its fold returns. Raises GeometryError
    for a line without length.
    """
    lying = _on_fold(stack, sheet, line)
    if lying is None:
        return fold(stack, (line[1], line[0]), {sheet})
    return _flipped_back(stack, lying, line)


def _on_fold(stack: Stack, sheet: str, line: Line) -> int | None:
    """Return the number of the sheet's highest layer that was folded over this line, None when there is none."""
    ends = LineString(line)
    for number in range(len(stack.layers) - 1, -1, -1):
        layer = stack.layers[number]
        if layer.sheet == sheet and any(_same_line(f, ends) for f in layer.folds):
            return number
    return None


def _same_line(fold_edge: LineString, line: LineString) -> bool:
    along = _endless((line.coords[0][:2], line.coords[-1][:2]))  # type: ignore[arg-type]
    return bool(fold_edge.hausdorff_distance(fold_edge.intersection(along.buffer(MERGE))) <= MERGE)


def _flipped_back(stack: Stack, number: int, line: Line) -> Stack:
    top = stack.layers[number]
    side, ends = top.side, LineString(line)
    back = _mirrored(top, mirror(*line), side)
    back = replace(back, folds=tuple(f for f in back.folds if not _same_line(f, ends)))
    partner = next(
        (
            i
            for i, p in enumerate(stack.layers)
            if i != number and p.sheet == top.sheet and p.placing.like(back.placing)
        ),
        None,
    )
    left = [layer for i, layer in enumerate(stack.layers) if i not in (number, partner)]
    if partner is not None:
        rest = stack.layers[partner]
        folds = (*back.folds, *(f for f in rest.folds if not _same_line(f, ends)))
        back = replace(back, region=_closed_up(rest, back), folds=folds)
    return replace(stack, layers=(*left, back))


def _closed_up(one: Layer, other: Layer) -> Region:
    """Return the union of two pieces that were parted by a fold; the grid closes the parting line."""
    return region_of(shapely.union_all([one.region, other.region], grid_size=GRID))


def _endless(line: Line) -> LineString:
    (ax, ay), (bx, by) = line
    length = shapely.length(LineString(line))
    ux, uy = (bx - ax) / length * REACH, (by - ay) / length * REACH
    return LineString([(ax - ux, ay - uy), (bx + ux, by + uy)])


def _parted(layer: Layer, beyond: BaseGeometry, crease: LineString) -> tuple[Layer | None, Layer | None]:
    """Return what stays of a layer and what lies beyond the crease; each remembers the folded edge."""
    if not shapely.intersects(layer.region, beyond):
        return layer, None
    part, rest = _cut_in_two(layer.region, beyond)
    if part.is_empty or rest.is_empty:
        return (layer, None) if part.is_empty else (None, layer)
    edge = shapely.intersection(layer.region, crease)
    edges = tuple(p for p in shapely.get_parts(edge) if isinstance(p, LineString) and p.length > FLAT)
    halves = [replace(layer, region=r, folds=(*_kept(layer.folds, r), *edges)) for r in (rest, part)]
    return halves[0], halves[1]


def _cut_in_two(region: Region, beyond: BaseGeometry) -> tuple[Region, Region]:
    """Return what of a region lies inside ``beyond`` and what does not.

    Where edges all but coincide the plain overlay may lose or invent a piece; then both are found on the grid.
    """
    part, rest = (region_of(f(region, beyond)) for f in (shapely.intersection, shapely.difference))
    if part.is_valid and rest.is_valid and abs(part.area + rest.area - region.area) <= COVER_AREA:
        return part, rest
    return (
        region_of(shapely.intersection(region, beyond, grid_size=GRID)),
        region_of(shapely.difference(region, beyond, grid_size=GRID)),
    )


def _kept(folds: tuple[LineString, ...], region: BaseGeometry) -> tuple[LineString, ...]:
    """Return the parts of folded edges that still lie at the edge of a region."""
    near = region.boundary.buffer(MERGE) if folds else None
    parts = [p for f in folds for p in shapely.get_parts(shapely.intersection(f, near))]
    return tuple(p for p in parts if isinstance(p, LineString) and p.length > FLAT)


def _mirrored(layer: Layer, over: Placing, side: Side) -> Layer:
    return replace(
        layer,
        region=over.shape(layer.region),
        face=turned_over(layer.face),
        side=side,
        folds=tuple(over.shape(f) for f in layer.folds),
        placing=over.after(layer.placing),
    )


def trim(stack: Stack, away: BaseGeometry, sheets: Collection[str] | None = None) -> Stack:
    """Return the stack with the region ``away`` cut off the named sheets (None: off everything)."""
    shapely.prepare(away)
    layers = (_cut(p, away) if sheets is None or p.sheet in sheets else p for p in stack.layers)
    return replace(stack, layers=tuple(p for p in layers if p is not None))


def _cut(layer: Layer, away: BaseGeometry) -> Layer | None:
    if not shapely.intersects(away, layer.region):
        return layer
    return _with_region(layer, shapely.difference(layer.region, away, grid_size=GRID))


def _with_region(layer: Layer, shape: BaseGeometry) -> Layer | None:
    """Return what is left of a layer; trims are cut on the grid, so that no hairs stand where scissors follow an edge, and
    none of the plain overlay's slips with edges that all but coincide.
    """
    if abs(shape.area - layer.region.area) <= COVER_AREA:
        return layer
    region = region_of(shape)
    return None if region.is_empty else replace(layer, region=region, folds=_kept(layer.folds, region))


def trim_to(stack: Stack, keep: BaseGeometry, sheets: Collection[str] | None = None) -> Stack:
    """Return the stack with everything outside ``keep`` cut off the named sheets (None: off everything)."""
    shapely.prepare(keep)
    layers = (
        _with_region(p, shapely.intersection(p.region, keep, grid_size=GRID))
        if sheets is None or p.sheet in sheets
        else p
        for p in stack.layers
    )
    return replace(stack, layers=tuple(p for p in layers if p is not None))


def release(stack: Stack, foundation_goes: bool = False) -> Stack:
    """Return the stack taken out of the hoop; the foundation stays on it unless it is torn or washed away."""
    layers = tuple(p for p in stack.layers if not (foundation_goes and p.foundation))
    return replace(stack, layers=layers, hooped=False)


def press(stack: Stack) -> Stack:
    """Return the stack pressed: flat layers lie as flat as before."""
    return stack
