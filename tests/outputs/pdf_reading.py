"""Reading PDFs back with PDFium, which had no hand in writing them."""

from __future__ import annotations

import ctypes
from dataclasses import dataclass

import numpy as np
import pypdfium2 as pdfium
import pypdfium2.raw as raw
from numpy.typing import NDArray

MM = 72 / 25.4
"""Points in a millimetre (a point is 1/72 in, ISO 32000)."""


@dataclass(frozen=True, slots=True)
class Path:
    """A drawn path in mm from the lower left corner, y up; ``stroke`` is its line width in mm (0: only filled)."""

    points: tuple[tuple[float, float], ...]
    stroke: float
    colour: tuple[int, int, int]


def opened(pdf: bytes) -> pdfium.PdfDocument:
    return pdfium.PdfDocument(pdf)


def texts(pdf: bytes) -> list[str]:
    """The text of every page."""
    return [page.get_textpage().get_text_bounded() for page in opened(pdf)]


def squeezed(text: str) -> str:
    """The text without any white space, so that line ends do not matter."""
    return "".join(text.split())


def paths(page: pdfium.PdfPage) -> list[Path]:
    """All paths of a page with every matrix applied."""
    found = []
    for item in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH], max_depth=8):
        matrix = item.get_matrix()
        holder = item.container
        while holder is not None:
            matrix = matrix.multiply(holder.get_matrix())
            holder = holder.container
        scale = float(np.hypot(matrix.a, matrix.b))
        found.append(_path(item.raw, matrix, scale))
    return found


def _path(item: object, matrix: pdfium.PdfMatrix, scale: float) -> Path:
    points = []
    for k in range(raw.FPDFPath_CountSegments(item)):
        x, y = ctypes.c_float(), ctypes.c_float()
        raw.FPDFPathSegment_GetPoint(raw.FPDFPath_GetPathSegment(item, k), x, y)
        there = matrix.on_point(x.value, y.value)
        points.append((there[0] / MM, there[1] / MM))
    fill, stroke, width = ctypes.c_int(), ctypes.c_int(), ctypes.c_float()
    raw.FPDFPath_GetDrawMode(item, fill, stroke)
    raw.FPDFPageObj_GetStrokeWidth(item, width)
    rgba = [ctypes.c_uint() for _ in range(4)]
    get = raw.FPDFPageObj_GetStrokeColor if stroke.value else raw.FPDFPageObj_GetFillColor
    get(item, *rgba)
    red, green, blue = (c.value for c in rgba[:3])
    return Path(tuple(points), width.value * scale / MM if stroke.value else 0.0, (red, green, blue))


def rendered(page: pdfium.PdfPage, dpi: int, box: tuple[float, float, float, float]) -> NDArray[np.uint8]:
    """The grey picture of a part of the page: left, bottom, right, top in mm from the lower left corner."""
    width, height = page.get_size()
    left, bottom, right, top = (v * MM for v in box)
    crop = (left, bottom, width - right, height - top)
    return np.asarray(page.render(scale=dpi / 72, crop=crop, grayscale=True).to_numpy()).squeeze()


def fonts(pdf: bytes) -> set[tuple[str, bool]]:
    """Family of every font used and whether it is embedded."""
    found = set()
    for page in opened(pdf):
        for item in page.get_objects(filter=[raw.FPDF_PAGEOBJ_TEXT], max_depth=8):
            font = raw.FPDFTextObj_GetFont(item.raw)
            length = raw.FPDFFont_GetFamilyName(font, None, 0)
            name = ctypes.create_string_buffer(length)
            raw.FPDFFont_GetFamilyName(font, name, length)
            found.add((name.value.decode(), bool(raw.FPDFFont_GetIsEmbedded(font))))
    return found
