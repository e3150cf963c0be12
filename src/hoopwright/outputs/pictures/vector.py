"""The finished panel as a clean drawing: flat cloth colours, seams, threads, a soft shadow."""

from __future__ import annotations

from shapely.affinity import translate

from hoopwright.items.plan import Plan
from hoopwright.outputs.drawing.geometry import areas
from hoopwright.outputs.drawing.shapes import Drawing, Line, Shape
from hoopwright.outputs.drawing.svg import to_svg
from hoopwright.outputs.pictures.finished import cloth_patches, panel_of, strands_of
from hoopwright.outputs.pictures.inks import INK, cloth_paint, edge_of, mix
from hoopwright.outputs.pictures.thread import WIDTH
from hoopwright.piecing.shapes import PiecedPanel

AROUND = 6.0
"""Paper shown round the panel, mm."""
PAPER = "#f3f0e9"
SHADOW = ((0.5, 0.10), (0.9, 0.08), (1.3, 0.05))
"""Offsets in mm and strengths of the layers of the panel's shadow."""


def finished_svg(plan: Plan, panel_key: str) -> str:
    """Return the finished panel as SVG, true to size. Raises KeyError for a panel that the plan does not have."""
    return to_svg(finished_drawing(plan, panel_key))


def finished_drawing(plan: Plan, panel_key: str) -> Drawing:
    """Return the finished panel as a display list. Raises KeyError for a panel that the plan does not have."""
    panel = panel_of(plan, panel_key)
    left, bottom, right, top = panel.outline.bounds
    return Drawing(
        (left - AROUND, bottom - AROUND, right + AROUND, top + AROUND),
        (*_shadow(panel), *_patches(plan, panel), *_threads(plan, panel)),
        f"{plan.project.title}, finished",
        f"{len(cloth_patches(panel))} patches, {right - left:.0f} x {top - bottom:.0f} mm.",
        PAPER,
    )


def _shadow(panel: PiecedPanel) -> tuple[Shape, ...]:
    return tuple(s for by, dark in SHADOW for s in areas(translate(panel.outline, 0.7 * by, -by), INK, opacity=dark))


def _patches(plan: Plan, panel: PiecedPanel) -> tuple[Shape, ...]:
    """Return the patches, each with an edge of its own kind so that no ground shows between neighbours."""
    shapes: list[Shape] = []
    for patch in cloth_patches(panel):
        colour = cloth_paint(plan, patch.cloth)
        shapes += areas(patch.area, colour, mix(edge_of(colour), colour, 0.35), 0.25)
    return (*shapes, *areas(panel.outline, None, INK, 0.3))


def _threads(plan: Plan, panel: PiecedPanel) -> tuple[Shape, ...]:
    shapes: list[Shape] = []
    for strand in strands_of(plan, panel):
        points = tuple((x, y) for x, y in strand.points.tolist())
        shapes += [Line(points, mix(strand.colour, INK, 0.6), WIDTH + 0.2), Line(points, strand.colour, WIDTH)]
    return tuple(shapes)
