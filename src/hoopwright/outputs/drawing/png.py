"""A display list painted as PNG, with supersampling."""

from __future__ import annotations

import io
import itertools
import math
from collections.abc import Sequence

import shapely
import shapely.ops
from PIL import Image, ImageDraw
from shapely.geometry import LineString

from hoopwright.core.types import Mm, Point
from hoopwright.outputs.drawing.flatten import primitives
from hoopwright.outputs.drawing.fonts import CAP_HEIGHT, font
from hoopwright.outputs.drawing.shapes import Area, Circle, Drawing, Label, Line, Paint, Primitive

OVERSAMPLE = 3
"""Pixels painted for each pixel of the result, each way."""

PAPER = "#ffffff"
"""Ground of a drawing without a background."""


def to_png(drawing: Drawing, pixels_per_mm: float) -> bytes:
    """Return the drawing as a PNG with ``pixels_per_mm`` pixels to the millimetre of the drawing."""
    return png_bytes(to_image(drawing, pixels_per_mm), pixels_per_mm)


def png_bytes(image: Image.Image, pixels_per_mm: float, effort: int = 6) -> bytes:
    """Return an image as PNG bytes that tell its true size; ``effort`` 0-9 is for packing."""
    held = io.BytesIO()
    dots = pixels_per_mm * 25.4
    image.save(held, "PNG", dpi=(dots, dots), compress_level=effort)
    return held.getvalue()


def to_image(drawing: Drawing, pixels_per_mm: float) -> Image.Image:
    """Return the drawing as an RGB image."""
    size = (max(round(drawing.width * pixels_per_mm), 1), max(round(drawing.height * pixels_per_mm), 1))
    large = (size[0] * OVERSAMPLE, size[1] * OVERSAMPLE)
    brush = Brush(Image.new("RGB", large, drawing.background or PAPER), drawing, pixels_per_mm * OVERSAMPLE)
    for shape in primitives(drawing):
        brush.paint(shape)
    return brush.image.resize(size, Image.Resampling.BOX)


class Brush:
    """Paints primitives on an image that it owns; ``scale`` is pixels to the millimetre."""

    def __init__(self, image: Image.Image, drawing: Drawing, scale: float) -> None:
        self.image = image
        self.draw = ImageDraw.Draw(image)
        self.scale = scale
        self.left, self.top = drawing.extent[0], drawing.extent[3]

    def paint(self, shape: Primitive) -> None:
        """Paint one primitive over what is there."""
        if isinstance(shape, Area):
            self._area(shape)
        elif isinstance(shape, Line):
            self._stroke(
                [*shape.points, *(shape.points[:1] if shape.closed else ())], shape.colour, shape.width, shape.dash
            )
        elif isinstance(shape, Circle):
            self._circle(shape)
        else:
            self._label(shape)

    def _pixels(self, points: Sequence[Point]) -> list[tuple[float, float]]:
        """Return places as pixel centres' coordinates (the middle of the first pixel is 0, 0)."""
        return [((x - self.left) * self.scale - 0.5, (self.top - y) * self.scale - 0.5) for x, y in points]

    def _area(self, area: Area) -> None:
        if area.fill and len(area.rings) == 1 and area.opacity >= 1.0:
            self.draw.polygon(self._pixels(area.rings[0]), fill=area.fill)
        elif area.fill:
            mask = Image.new("L", self.image.size, 0)
            pen = ImageDraw.Draw(mask)
            for ring, value in zip(area.rings, [round(255 * area.opacity)] + [0] * len(area.rings), strict=False):
                pen.polygon(self._pixels(ring), fill=value)
            box = mask.getbbox()
            if box:
                self.image.paste(area.fill, box, mask.crop(box))
        if area.edge and area.width > 0.0:
            for ring in area.rings:
                self._stroke([*ring, ring[0]], area.edge, area.width, area.dash)

    def _circle(self, circle: Circle) -> None:
        ((x, y),) = self._pixels([circle.centre])
        r = circle.radius * self.scale
        if circle.fill:
            self.draw.ellipse((x - r, y - r, x + r, y + r), fill=circle.fill)
        if circle.edge and circle.width > 0.0:
            thick = max(round(circle.width * self.scale), 1)
            r += 0.5 * thick
            self.draw.ellipse((x - r, y - r, x + r, y + r), outline=circle.edge, width=thick)

    def _stroke(self, points: Sequence[Point], colour: Paint, width: Mm, dash: tuple[Mm, ...]) -> None:
        rows = dashes(points, dash) if dash else [points]
        thick = max(round(width * self.scale), 1)
        for row in rows:
            pixels = self._pixels(row)
            self.draw.line(pixels, fill=colour, width=thick, joint="curve")
            if not dash and thick > 2:
                for x, y in (pixels[0], pixels[-1]):
                    r = 0.5 * thick
                    self.draw.ellipse((x - r, y - r, x + r, y + r), fill=colour)

    def _label(self, label: Label) -> None:
        face = font(round(label.size * self.scale), bold=label.bold)
        ((x, y),) = self._pixels([(label.at[0], label.at[1] - 0.5 * CAP_HEIGHT * label.size)])
        anchor = {"start": "ls", "middle": "ms", "end": "rs"}[label.anchor]
        halo = round(label.halo_width * self.scale) if label.halo else 0
        self.draw.text((x, y), label.text, label.colour, face, anchor, stroke_width=halo, stroke_fill=label.halo)


def dashes(points: Sequence[Point], pattern: tuple[Mm, ...]) -> list[tuple[Point, ...]]:
    """Return the drawn pieces of a dashed line; ``pattern`` alternates drawn and open lengths in mm.

    A pattern of odd length is gone through twice, as SVG does; one without length leaves the line whole.
    """
    way = LineString(points)
    if sum(pattern) <= 0.0:
        return [tuple(points)]
    full = pattern if len(pattern) % 2 == 0 else pattern * 2
    pieces, at = [], 0.0
    for length, drawn in itertools.cycle(zip(full, itertools.cycle((True, False)))):
        if drawn and length > 0.0:
            piece = shapely.ops.substring(way, at, min(at + length, way.length))
            if piece.geom_type == "LineString":
                pieces.append(tuple((x, y) for x, y in shapely.get_coordinates(piece).tolist()))
        at += length
        if at >= way.length or math.isclose(at, way.length):
            return pieces
    raise AssertionError
