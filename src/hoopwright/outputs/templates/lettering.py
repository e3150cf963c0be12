"""How wide words are on paper, and which letters the fonts can show."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path

from PIL import ImageFont

from hoopwright.core.types import Mm
from hoopwright.outputs.templates.fonts import font_folders

POINT: float = 25.4 / 72
"""One typographic point in mm (1/72 in)."""

UNKNOWN = "?"
"""Stands for a letter that the fonts do not have."""

_NO_LETTER = "\U0010ffff"


@cache
def _font(name: str, folder: int) -> ImageFont.FreeTypeFont:
    path = Path(font_folders()[folder]) / f"{name}.otf"
    return ImageFont.truetype(str(path), 200, layout_engine=ImageFont.Layout.BASIC)


@cache
def text_width(text: str, size: float, *, bold: bool = False) -> Mm:
    """Return how wide a line of words in Source Sans is, in mm, at ``size`` points."""
    font = _font("SourceSansPro-Semibold" if bold else "SourceSansPro-Regular", 0)
    return float(font.getlength(text)) / 200 * size * POINT


def shortened(text: str, size: float, width: Mm, *, bold: bool = False) -> str:
    """Return the words, cut off with an ellipsis when they are wider than ``width`` mm."""
    line = printable(text)
    if text_width(line, size, bold=bold) <= width:
        return line
    while line and text_width(f"{line}…", size, bold=bold) > width:
        line = line[:-1]
    return f"{line.rstrip()}…"


def wrapped(text: str, size: float, width: Mm, *, bold: bool = False) -> tuple[str, ...]:
    """Return the words in lines no wider than ``width`` mm, broken at plain spaces; a single word that is wider is cut off."""
    lines: list[str] = []
    for word in (printable(w) for w in text.split(" ") if w):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size, bold=bold) <= width:
            lines[-1] = longer
        else:
            lines.append(shortened(word, size, width, bold=bold))
    return tuple(lines)


@cache
def printable(text: str) -> str:
    """Return the words on one line, with UNKNOWN for every letter that the fonts cannot show."""
    spaced = "".join(" " if c.isspace() else c for c in unicodedata.normalize("NFC", text))
    shown = "".join(c if _known(c) else UNKNOWN for c in spaced if not unicodedata.category(c).startswith("C"))
    return " ".join(shown.split())


def unknown_letters(text: str) -> str:
    """Return the letters of a text that the fonts cannot show, each once, in their order."""
    plain = unicodedata.normalize("NFC", text)
    return "".join(dict.fromkeys(c for c in plain if not unicodedata.category(c).startswith("C") and not _known(c)))


def drawable(text: str) -> str:
    """Return text of any length with UNKNOWN for every letter that the fonts cannot show, and nothing else changed."""
    strange = {c for c in set(text) if not c.isascii() and not _known(c)}
    return text.translate({ord(c): UNKNOWN for c in strange})


@cache
def _known(letter: str) -> bool:
    """Whether both fonts have a drawing for the letter: one other than that for a letter that cannot exist."""
    if letter.isspace():
        return True
    fonts = (_font("SourceSansPro-Regular", 0), _font("SourceSerifPro-Regular", 1))
    return all(_drawn(f, letter) != _drawn(f, _NO_LETTER) for f in fonts)


def _drawn(font: ImageFont.FreeTypeFont, letter: str) -> tuple[tuple[int, int], bytes, float]:
    mask = font.getmask(letter)
    return mask.size, bytes(mask), font.getlength(letter)


def all_printable(data: object) -> object:
    """Return plain data with every text made printable."""
    if isinstance(data, str):
        return printable(data)
    if isinstance(data, Mapping):
        return {key: all_printable(value) for key, value in data.items()}
    if isinstance(data, Sequence):
        return [all_printable(value) for value in data]
    return data
