"""The type face of all drawings: Source Sans Pro, from a package of open fonts (SIL Open Font License)."""

from __future__ import annotations

from functools import cache
from importlib import resources

from PIL import ImageFont

FAMILY = "Source Sans Pro"
"""Name of the family, as the font files carry it."""

CAP_HEIGHT = 0.66
"""Height of the capitals over the size of the type (OS/2 sCapHeight 660 of 1000 units in the font's own table)."""


@cache
def font(pixels: int, *, bold: bool = False) -> ImageFont.FreeTypeFont:
    """Return the type face at a size of ``pixels`` (1 at least)."""
    name = "SourceSansPro-Bold.ttf" if bold else "SourceSansPro-Regular.ttf"
    with resources.as_file(resources.files("font_source_sans_pro") / "files" / name) as path:
        return ImageFont.truetype(str(path), max(pixels, 1), layout_engine=ImageFont.Layout.BASIC)
