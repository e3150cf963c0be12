"""Swatches as pictures: thread on woven cloth, and a clean drawing of whole sheets."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
import shapely

from hoopwright.core.colour import channels_of
from hoopwright.core.types import Mm
from hoopwright.items.plan import Plan
from hoopwright.items.swatches.sheets import Swatch, Swatches
from hoopwright.items.swatches.wish import MARKS, SWATCHES
from hoopwright.outputs.drawing.geometry import areas
from hoopwright.outputs.drawing.shapes import Drawing, Extent, Line
from hoopwright.outputs.drawing.svg import to_svg
from hoopwright.outputs.pictures.canvas import Canvas, canvas_for
from hoopwright.outputs.pictures.cloth import sampled, weave_of, woven_tile
from hoopwright.outputs.pictures.finished import WEAVE_DEPTH, Colours, packed, sewn
from hoopwright.outputs.pictures.inks import cloth_paint, thread_paint
from hoopwright.outputs.pictures.thread import WIDTH, Strand
from hoopwright.outputs.saying import saying, titled
from hoopwright.project.schema import ClothModel

AROUND: Final[Mm] = 8.0
"""Cloth shown round a sheet."""

SCALE: Final = 8.0
"""Pixels to the mm in the pictures of whole sheets."""

WARP: Final = 90.0
"""The cloth lies with its grain upright."""


def sheet_pictures(sheets: Swatches) -> dict[str, bytes]:
    """Return PNG and SVG of every sheet by file name."""
    files, say = {}, saying(sheets.plan.project)
    for hooping in sheets.plan.hoopings:
        files[f"{hooping.key}.png"] = sheet_png(sheets, hooping.key)
        files[f"{hooping.key}.svg"] = to_svg(titled(sheet_drawing(sheets, hooping.key), say)).encode()
    return files


def sheet_png(sheets: Swatches, key: str, scale: float = SCALE) -> bytes:
    """Return a whole sheet as sewn, as PNG with ``scale`` pixels to the mm."""
    swatches = sheets.on(key)
    marks = [s for swatch in swatches for s in mark_strands(sheets.plan, swatch)]
    strands = [s for swatch in swatches for s in strands_of(sheets.plan, swatch)]
    return cloth_png(sheets.plan, (*marks, *strands), _extent(swatches), scale)


def sheet_drawing(sheets: Swatches, key: str) -> Drawing:
    """Return a whole sheet as a display list, true to size."""
    swatches, plan = sheets.on(key), sheets.plan
    hooping = next(h for h in plan.hoopings if h.key == key)
    extent = _extent(swatches)
    lines = [_line(s) for w in swatches for s in (*mark_strands(plan, w), *strands_of(plan, w))]
    return Drawing(
        extent,
        (*areas(shapely.box(*extent), cloth_paint(plan, _cloth(plan)[0])), *lines),
        hooping.title,
        "Every swatch as it is sewn, true to size.",
    )


def cloth_png(plan: Plan, strands: Sequence[Strand], extent: Extent, scale: float) -> bytes:
    """Return a part of the sewn cloth as PNG with ``scale`` pixels to the mm."""
    canvas = canvas_for(extent, scale)
    key, cloth = _cloth(plan)
    return packed(sewn(_woven(key, cloth, canvas), tuple(strands), canvas), scale)


def strands_of(plan: Plan, swatch: Swatch) -> tuple[Strand, ...]:
    """Return the threads of a swatch."""
    return tuple(Strand(run.points, thread_paint(plan, SWATCHES)) for run in swatch.runs)


def mark_strands(plan: Plan, swatch: Swatch) -> tuple[Strand, ...]:
    """Return the threads of its number and outline."""
    return tuple(Strand(run.points, thread_paint(plan, MARKS)) for run in swatch.marks)


def _cloth(plan: Plan) -> tuple[str, ClothModel]:
    return next(iter(plan.project.cloths.items()))


def _woven(key: str, cloth: ClothModel, canvas: Canvas) -> Colours:
    weave = weave_of(cloth.name)
    tile = woven_tile(key, weave, canvas.scale)
    light = sampled(tile, canvas.x(), canvas.y(), weave.pitch, WARP) * np.float32(WEAVE_DEPTH)
    picture: Colours = np.array(channels_of(cloth.colour), np.float32) / np.float32(255) * (1.0 + light[..., None])
    return picture


def _extent(swatches: Sequence[Swatch]) -> Extent:
    left, low, right, high = shapely.total_bounds([s.area for s in swatches])
    return float(left) - AROUND, float(low) - AROUND, float(right) + AROUND, float(high) + AROUND


def _line(strand: Strand) -> Line:
    return Line(tuple((float(x), float(y)) for x, y in strand.points), strand.colour, WIDTH)
