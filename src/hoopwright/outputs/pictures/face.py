"""One picture that stands for a whole project: the item turned and finished, else its panel, else what lies in the hoop."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from hoopwright.items.plan import Plan
from hoopwright.outputs.drawing.shapes import Area, Drawing, Label
from hoopwright.outputs.drawing.svg import to_svg
from hoopwright.outputs.pictures.finished import finished_png
from hoopwright.outputs.pictures.finished_lace import finished_lace_png, lace_strands
from hoopwright.outputs.pictures.steps import step_drawing
from hoopwright.outputs.pictures.turned import turned_drawings
from hoopwright.outputs.pictures.vector import finished_drawing

SVG: Final = "image/svg+xml"
PNG: Final = "image/png"
LACE_SCALE: Final = 3.0
"""Pixels to the mm of accents made for themselves."""


def face(plan: Plan, longest: int) -> tuple[str, bytes] | None:
    """Return (media type, picture) of what a plan makes, ``longest`` pixels on its longer side where it is no drawing; None for nothing."""
    if not turned_drawings(plan):
        pieced = next((p.key for p in plan.panels if p.patches), None)
        if pieced is not None:
            return PNG, finished_png(plan, pieced, longest=longest)
        if lace_strands(plan):
            return PNG, finished_lace_png(plan, LACE_SCALE)
    drawing = face_drawing(plan)
    return None if drawing is None else (SVG, to_svg(drawing).encode())


def face_drawing(plan: Plan) -> Drawing | None:
    """Return the same as a drawing, of lines and areas alone; None when nothing can be shown."""
    turned = turned_drawings(plan)
    if turned:
        return turned[0][1]
    pieced = next((p.key for p in plan.panels if p.patches), None)
    if pieced is not None:
        return finished_drawing(plan, pieced)
    if not plan.hoopings:
        return None
    last = plan.hoopings[-1]
    return _unsigned(step_drawing(plan, last, len(last.steps) + 1))


def _unsigned(drawing: Drawing) -> Drawing:
    """Return a drawing without the names of its pieces and the plates they stand on."""
    rows = drawing.shapes
    plates = {i - 1 for i, shape in enumerate(rows) if isinstance(shape, Label) and i and isinstance(rows[i - 1], Area)}
    return replace(drawing, shapes=tuple(s for i, s in enumerate(rows) if i not in plates and not isinstance(s, Label)))
