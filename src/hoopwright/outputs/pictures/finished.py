"""The finished panel as a picture: woven cloth, soft seams, shaded thread, on a sheet of paper."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from hoopwright.core.types import Mm, frozen_points
from hoopwright.items.plan import Plan
from hoopwright.operations.vocabulary import IN_SIGHT
from hoopwright.outputs.drawing.png import png_bytes
from hoopwright.outputs.pictures.canvas import Canvas, canvas_for, coverage
from hoopwright.outputs.pictures.cloth import Grey, sampled, seed_of, weave_of, woven_tile
from hoopwright.outputs.pictures.inks import cloth_paint, thread_paint
from hoopwright.outputs.pictures.laid_lace import laces_of
from hoopwright.outputs.pictures.relief import creases, shading, soft
from hoopwright.outputs.pictures.thread import Strand, threadwork
from hoopwright.piecing.shapes import Patch, PiecedPanel

Colours = NDArray[np.float32]
"""A picture, shape (rows, columns, 3), 0 to 1."""

AROUND: Final[Mm] = 11.0
"""Paper shown round the panel, mm."""
PAPER: Final = (0.937, 0.925, 0.902)
"""Colour of the paper."""
LONGEST: Final = 1400
"""Pixels of the longer side, unless told otherwise."""
PACKING: Final = 2
"""Effort of the PNG compression: woven grain hardly packs better with more."""
WEAVE_DEPTH: Final = 0.1
"""How strongly the weave shows."""


def finished_png(plan: Plan, panel_key: str, pixels_per_mm: float | None = None, longest: int = LONGEST) -> bytes:
    """Return the finished panel as PNG bytes; without ``pixels_per_mm`` its longer side has ``longest`` pixels.

    Raises KeyError for a panel that the plan does not have.
    """
    panel = panel_of(plan, panel_key)
    left, bottom, right, top = panel.outline.bounds
    extent = (left - AROUND, bottom - AROUND, right + AROUND, top + AROUND)
    scale = pixels_per_mm or longest / max(extent[2] - extent[0], extent[3] - extent[1])
    canvas = canvas_for(extent, scale)
    cover = coverage(canvas, panel.outline)
    picture = paper(canvas, cover)
    work = sewn(_cloths(plan, panel, canvas), strands_of(plan, panel), canvas)
    picture += (work - picture) * cover[..., None]
    return packed(picture, scale)


def packed(picture: Colours, scale: float) -> bytes:
    """Return a picture of ``scale`` pixels to the mm as PNG bytes."""
    pixels = (np.clip(picture, 0.0, 1.0) * np.float32(255) + np.float32(0.5)).astype(np.uint8)
    return png_bytes(Image.fromarray(pixels), scale, effort=PACKING)


def panel_of(plan: Plan, key: str) -> PiecedPanel:
    """Return a panel of a plan by its key. Raises KeyError for an unknown one."""
    found = next((p for p in plan.panels if p.key == key), None)
    if found is None:
        raise KeyError(key)
    return found


def cloth_patches(panel: PiecedPanel) -> tuple[Patch, ...]:
    """Return the patches that are one piece of cloth each."""
    return tuple(p for p in panel.patches if p.made_of is None)


def strands_of(plan: Plan, panel: PiecedPanel) -> tuple[Strand, ...]:
    """Return the stitches that show on the finished panel, in sewing order, and the accents laid on it."""
    own = [hooping for hooping in plan.hoopings if hooping.panel == panel.key]
    stitched = tuple(
        Strand(run.points, thread_paint(plan, step.stitch.thread))
        for hooping in own
        for step in hooping.steps
        if step.stitch.role in IN_SIGHT
        for run in step.runs
        if run.count > 1
    )
    laid = ((frozen_points(lace.row), lace.thread) for hooping in own for _, lace in laces_of(hooping))
    return (*stitched, *(Strand(points, thread_paint(plan, thread)) for points, thread in laid))


def _cloths(plan: Plan, panel: PiecedPanel, canvas: Canvas) -> Colours:
    """Return the patches in their cloths, lit."""
    patches = cloth_patches(panel)
    fine = Image.new("RGB", (canvas.columns * 2, canvas.rows * 2), cloth_paint(plan, patches[0].cloth))
    grown = [p.area.buffer(0.05, join_style="mitre") for p in patches]
    canvas.finer(2).paint(fine, [(g, cloth_paint(plan, p.cloth)) for g, p in zip(grown, patches, strict=True)])
    base: Colours = np.asarray(fine.reduce(2), dtype=np.float32) / np.float32(255)
    light = _weaves(plan, patches, canvas) * np.float32(WEAVE_DEPTH)
    light += shading(panel, canvas, plan.project.piecing.allowance)
    light -= np.float32(0.62) * creases(panel, canvas)
    lit: Colours = base * (1.0 + light[..., None]) + np.float32(0.16) * np.maximum(light, -0.12)[..., None]
    return lit


def _weaves(plan: Plan, patches: tuple[Patch, ...], canvas: Canvas) -> Grey:
    """Return the lightness of the weaves, each patch in its own cloth along its own grain."""
    label = Image.new("L" if len(patches) < 255 else "I", (canvas.columns, canvas.rows), 0)
    canvas.paint(label, [(p.area, i + 1) for i, p in enumerate(patches)])
    labels, x, y = np.asarray(label), canvas.x(), canvas.y()
    light = np.zeros((canvas.rows, canvas.columns), np.float32)
    tiles = {}
    for i, patch in enumerate(patches):
        cloth = plan.project.cloths[patch.cloth]
        weave = weave_of(cloth.name)
        if patch.cloth not in tiles:
            tiles[patch.cloth] = woven_tile(patch.cloth, weave, canvas.scale)
        rows, columns = canvas.window(patch.area)
        moved = np.float32(seed_of(patch.label) % 97)
        here = sampled(tiles[patch.cloth], x[columns] + moved, y[rows] - moved, weave.pitch, patch.grain)
        np.copyto(light[rows, columns], here, where=labels[rows, columns] == i + 1)
    return light


def sewn(cloth: Colours, strands: tuple[Strand, ...], canvas: Canvas) -> Colours:
    """Return a picture of cloth with threads on it and the shadows they cast."""
    if not strands:
        return cloth
    threads = threadwork(canvas, strands)
    shadow = soft(threads.cover, 0.13 * canvas.scale, (0.16 * canvas.scale, 0.12 * canvas.scale))
    pull = soft(threads.cover, 0.6 * canvas.scale)
    dark = 1.0 - np.float32(0.5) * shadow - np.float32(0.18) * pull
    covered: Colours = cloth * (dark * (1.0 - threads.cover))[..., None] + threads.colour
    return covered


def paper(canvas: Canvas, cover: Grey, colour: tuple[float, float, float] = PAPER) -> Colours:
    """Return the sheet with the shadow of what lies on it, light from the upper left; ``cover`` is 1 where something lies."""
    rng = np.random.default_rng(seed_of("paper"))
    grain = rng.standard_normal((canvas.rows // 2 + 1, canvas.columns // 2 + 1), dtype=np.float32)
    tone = grain.repeat(2, 0).repeat(2, 1)[: canvas.rows, : canvas.columns] * np.float32(0.004)
    near = soft(cover, 0.35 * canvas.scale, (0.35 * canvas.scale, 0.25 * canvas.scale))
    far = soft(cover, 1.7 * canvas.scale, (1.7 * canvas.scale, 1.1 * canvas.scale))
    light = (1.0 + tone) * (1.0 - np.float32(0.3) * near) * (1.0 - np.float32(0.28) * far)
    sheet: Colours = light[..., None] * np.array(colour, np.float32)
    return sheet
