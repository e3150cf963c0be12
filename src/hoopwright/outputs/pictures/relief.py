"""The ups and downs of a finished panel and the light on them.

A seam is a valley: the later patch folds away from it and lies on two allowances, so its side is the higher one; batting puffs
the patches up between the seams. Heights are in mm and by eye.
"""

from __future__ import annotations

from typing import Final

import numpy as np
import shapely
from PIL import Image, ImageDraw
from scipy.ndimage import uniform_filter
from shapely.geometry import LineString

from hoopwright.core.types import Mm
from hoopwright.outputs.pictures.canvas import Canvas, resized
from hoopwright.outputs.pictures.cloth import Grey, seed_of
from hoopwright.piecing.shapes import PiecedPanel

COARSE: Final = 0.5
"""The relief is worked out on half the pixels, each way."""
STEP_UP: Final[Mm] = 0.42
"""How much higher the later patch lies beside its seam."""
PUFF: Final[Mm] = 1.1
"""How deep a seam lies in the batting."""
RUMPLE: Final[Mm] = 0.22
"""Height of the soft unevenness of hand-pressed cloth."""
LIGHT: Final = (-0.6, 0.8)
"""Where the light comes from, x and y of its direction in the plane."""


def shading(panel: PiecedPanel, canvas: Canvas, allowance: Mm) -> Grey:
    """Return the light on the panel over ``canvas``: 0 where the cloth lies flat, up to about +-0.3."""
    coarse = canvas.finer(COARSE)
    height = _steps(panel, coarse, allowance) + _puffs(panel, coarse) + _rumples(panel, coarse)
    down, right = np.gradient(height, np.float32(1.0 / coarse.scale))
    slope = -right * LIGHT[0] + down * LIGHT[1]
    return resized(np.tanh(slope * np.float32(1.4)) * np.float32(0.3), canvas)


def creases(panel: PiecedPanel, canvas: Canvas) -> Grey:
    """Return the darkness of the seams' creases, 0 to 1."""
    image = Image.new("L", (canvas.columns * 2, canvas.rows * 2), 0)
    draw, fine = ImageDraw.Draw(image), canvas.finer(2)
    for line in _seams(panel):
        ends = fine.pixels(np.asarray(line.coords))
        draw.line([tuple(p) for p in ends.tolist()], fill=255, width=max(round(0.22 * fine.scale), 1))
    fresh = np.asarray(image.reduce(2), dtype=np.float32) / np.float32(255)
    dark: Grey = np.maximum(np.float32(0.55) * fresh, soft(fresh, 0.55 * canvas.scale) * np.float32(1.1))
    return dark


def smooth(field: Grey, radius: float) -> Grey:
    """Return a field blurred over about ``radius`` pixels: three running means, close to a bell curve."""
    size = max(round(radius) * 2 + 1, 1)
    for _ in range(3):
        field = uniform_filter(field, size, mode="nearest")
    return field


def soft(field: Grey, radius: float, aside: tuple[float, float] = (0.0, 0.0)) -> Grey:
    """Return a field moved by ``aside`` (rows, columns) pixels and blurred, worked out on half the pixels each way."""
    small = np.asarray(Image.fromarray(field).reduce(2))
    rows, columns = round(aside[0] / 2), round(aside[1] / 2)
    moved = np.pad(small, ((rows, 0), (columns, 0)), mode="edge")[: small.shape[0], : small.shape[1]]
    blurred = Image.fromarray(smooth(moved, radius / 2))
    return np.asarray(blurred.resize((field.shape[1], field.shape[0]), Image.Resampling.BILINEAR))


def _seams(panel: PiecedPanel) -> list[LineString]:
    return [LineString([p.seam.start, p.seam.end]) for p in panel.patches if p.seam is not None]


def _steps(panel: PiecedPanel, canvas: Canvas, allowance: Mm) -> Grey:
    """Return the cloth lifted by the allowances that lie under the later patch along its seam."""
    image = Image.new("L", (canvas.columns, canvas.rows), 0)
    for patch in panel.patches:
        if patch.seam is not None:
            band = LineString([patch.seam.start, patch.seam.end]).buffer(allowance, cap_style="flat")
            canvas.paint(image, [(shapely.intersection(patch.area, band), 1)])
    lifted = np.asarray(image, dtype=np.float32) * np.float32(STEP_UP)
    return 0.75 * smooth(lifted, 1.5 * canvas.scale) + 0.25 * smooth(lifted, 0.4 * canvas.scale)


def _puffs(panel: PiecedPanel, canvas: Canvas) -> Grey:
    """Return the panel rounded at its rim and pressed down along the seams."""
    image = Image.new("L", (canvas.columns, canvas.rows), 0)
    draw = ImageDraw.Draw(image)
    for line in (*_seams(panel), LineString(panel.outline.exterior.coords)):
        row = canvas.pixels(np.asarray(line.coords))
        draw.line([tuple(p) for p in row.tolist()], fill=255, width=max(round(1.2 * canvas.scale), 1))
    pressed = np.asarray(image, dtype=np.float32) / np.float32(255)
    return -np.float32(PUFF) * smooth(pressed, 1.5 * canvas.scale) - 0.5 * smooth(
        pressed, 0.5 * canvas.scale
    ) * np.float32(PUFF)


def _rumples(panel: PiecedPanel, canvas: Canvas) -> Grey:
    """Return soft unevenness, the same for the same panel every time."""
    rng = np.random.default_rng(seed_of(panel.key))
    cells = (max(round(canvas.rows / canvas.scale / 7.0), 2), max(round(canvas.columns / canvas.scale / 7.0), 2))
    return resized(rng.standard_normal(cells).astype(np.float32) * np.float32(RUMPLE), canvas)
