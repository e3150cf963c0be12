"""The open fonts that come with the dependencies, and letters of theirs sewn."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import font_source_sans_pro
import font_source_serif_pro
import numpy as np
import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from hoopwright.core.types import Points
from hoopwright.needle.lettering.font import read_font
from hoopwright.needle.lettering.satin import letter, thread_of
from hoopwright.needle.lettering.strokes import Stroke
from hoopwright.operations.vocabulary import LetteringStyle

SOME = "AEGKNRSWXZaefgkmqy0268&Öß"
"""Letters with every kind of joint, corner, round and terminal."""

_FOLDERS = {"Sans": font_source_sans_pro, "Serif": font_source_serif_pro}

SIGNS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789&ÄÖÜäöüßéñç"


@cache
def font(name: str) -> bytes:
    """Return a font by the end of its name, such as "Serif-Bold.otf"."""
    family, rest = name.split("-")
    folder = Path(str(_FOLDERS[family].__file__)).parent / "files"
    return (folder / f"Source{family}Pro-{rest}").read_bytes()


SANS, SERIF = font("Sans-Regular.otf"), font("Serif-Regular.ttf")


def in_mm(strokes: tuple[Stroke, ...], height: float) -> list[Stroke]:
    return [replace(s, spokes=s.spokes * height) for s in strokes]


@cache
def sewn(data: bytes, sign: str, height: float, pull: float = 0.2) -> tuple[Points, ...]:
    """Return the rows of one letter, its origin at (0, 0), mm."""
    style = LetteringStyle((sign,), height, font=data, pull=pull)
    return tuple(row for part in letter(data, sign) for row in thread_of(in_mm(part, height), style, 1.0))


def drawn(data: bytes, sign: str, height: float) -> BaseGeometry:
    """Return the area of a letter, mm."""
    return shapely.transform(read_font(data).area(sign), lambda xy: xy * height)


def laid(rows: tuple[Points, ...]) -> BaseGeometry:
    """Return what thread 0.4 mm wide covers."""
    return shapely.union_all([LineString(row).buffer(0.2, cap_style="flat") for row in rows])


def lengths(rows: tuple[Points, ...]) -> Points:
    return np.asarray(np.concatenate([np.hypot(*np.diff(row, axis=0).T) for row in rows]), dtype=np.float64)
