"""From millimetres to pixels: a grid over a part of the plane, and masks of polygons on it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.types import Points
from hoopwright.outputs.drawing.geometry import polygons_of
from hoopwright.outputs.drawing.shapes import Extent
from hoopwright.outputs.pictures.cloth import Grey


@dataclass(frozen=True, slots=True)
class Canvas:
    """A grid of square pixels: ``scale`` pixels to the mm, its upper left corner at (left, top) mm."""

    left: float
    top: float
    columns: int
    rows: int
    scale: float

    def finer(self, factor: float) -> Canvas:
        """Return a canvas over the same place with ``factor`` times the pixels each way."""
        return Canvas(self.left, self.top, round(self.columns * factor), round(self.rows * factor), self.scale * factor)

    def pixels(self, points: Points) -> Points:
        """Return places (n, 2) in mm as pixel coordinates; the middle of the first pixel is (0, 0)."""
        return np.column_stack([(points[:, 0] - self.left) * self.scale, (self.top - points[:, 1]) * self.scale]) - 0.5

    def x(self) -> Grey:
        """Return the x of each column's middle, mm."""
        return (self.left + (np.arange(self.columns) + 0.5) / self.scale).astype(np.float32)

    def y(self) -> Grey:
        """Return the y of each row's middle, mm."""
        return (self.top - (np.arange(self.rows) + 0.5) / self.scale).astype(np.float32)

    def window(self, polygon: Polygon) -> tuple[slice, slice]:
        """Return rows and columns of the pixels that a polygon can touch."""
        left, bottom, right, top = polygon.bounds
        first, last = int((left - self.left) * self.scale) - 1, int((right - self.left) * self.scale) + 2
        high, low = int((self.top - top) * self.scale) - 1, int((self.top - bottom) * self.scale) + 2
        return slice(max(high, 0), min(low, self.rows)), slice(max(first, 0), min(last, self.columns))

    def paint(self, image: Image.Image, polygons: Iterable[tuple[BaseGeometry, int | str]]) -> None:
        """Fill polygons on an image of this canvas; holes are not left out."""
        draw = ImageDraw.Draw(image)
        for polygon, value in polygons:
            for part in polygons_of(polygon):
                rim = self.pixels(np.asarray(part.exterior.coords)[:, :2])
                draw.polygon([tuple(p) for p in rim.tolist()], fill=value)


def canvas_for(extent: Extent, scale: float) -> Canvas:
    """Return the canvas that shows ``extent`` with ``scale`` pixels to the mm."""
    left, bottom, right, top = extent
    return Canvas(left, top, max(round((right - left) * scale), 1), max(round((top - bottom) * scale), 1), scale)


def coverage(canvas: Canvas, polygon: Polygon) -> Grey:
    """Return how much of each pixel a polygon covers, 0 to 1, to a ninth."""
    image = Image.new("L", (canvas.columns * 3, canvas.rows * 3), 0)
    canvas.finer(3).paint(image, [(polygon, 255)])
    return np.asarray(image.reduce(3), dtype=np.float32) / np.float32(255)


def resized(grey: NDArray[np.float32], canvas: Canvas) -> Grey:
    """Return a coarser field of values spread smoothly over a canvas."""
    image = Image.fromarray(np.ascontiguousarray(grey, dtype=np.float32))
    return np.asarray(image.resize((canvas.columns, canvas.rows), Image.Resampling.BICUBIC))
