"""The stamp on every picture of a plan that must not be sewn."""

from __future__ import annotations

import io
from dataclasses import replace
from typing import Final

from PIL import Image, ImageDraw

from hoopwright.outputs.drawing.fonts import font
from hoopwright.outputs.drawing.shapes import Area, Drawing, Label
from hoopwright.outputs.saying import Say, plain

WORDS: Final = "DO NOT SEW: a finding blocks this plan"
INK: Final = "#b3261e"
PAPER: Final = "#ffffff"
SHARE: Final = 0.06
"""Height of the band as a share of the picture's width."""


def stamped(drawing: Drawing, say: Say = plain) -> Drawing:
    """Return the drawing with a band of warning along its upper edge, in the words that ``say`` says."""
    left, _, right, high = drawing.extent
    band = (right - left) * SHARE
    ring = ((left, high - band), (right, high - band), (right, high), (left, high))
    words = Label(say(WORDS), ((left + right) / 2, high - band / 2), band * 0.6, PAPER, bold=True)
    return replace(drawing, shapes=(*drawing.shapes, Area((ring,), fill=INK), words))


def stamped_png(data: bytes, say: Say = plain) -> bytes:
    """Return the PNG with the same band."""
    with Image.open(io.BytesIO(data)) as picture:
        marked = picture.convert("RGB")
    band = round(marked.width * SHARE)
    pen = ImageDraw.Draw(marked)
    pen.rectangle((0, 0, marked.width, band), fill=INK)
    pen.text((marked.width / 2, band / 2), say(WORDS), fill=PAPER, font=font(round(band * 0.6), bold=True), anchor="mm")
    out = io.BytesIO()
    marked.save(out, "PNG", optimize=False)
    return out.getvalue()
