"""A font file of the maker's own: the area of every letter, how far it moves on, which pairs move closer.

All lengths are parts of the height of a capital: the font's own figure, or the height of its H.
"""

from __future__ import annotations

import io
import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Any, Final

import shapely
from fontTools.pens.basePen import BasePen
from fontTools.ttLib import TTFont
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.errors import HoopwrightError
from hoopwright.plane.tangle import is_tangled

FLATNESS: Final = 0.0015
"""Curves are drawn by chords that leave them by at most this part of the em."""

MOST_POINTS: Final = 20_000
"""A letter with more points than this is no letter to be sewn."""

MOST_MEETINGS: Final = 100_000
"""So many pairs of lines of a letter may lie near each other: three times its points are usual; tangled at random, 500 lines are enough."""

MOST_PARTS: Final = 200
"""So many parts may a letter be put together from, parts of parts counted."""

TOO_MUCH: Final = ("A letter of the font has too many points", "Choose a plainer font")

SIGNATURES: Final = (b"\0\1\0\0", b"OTTO", b"true")
"""The first bytes of a font that is not packed (OpenType, "Organization of an OpenType Font"); what is packed may unpack to any size."""

PAIRS: Final = 2
"""The kind of layout table that holds pairs (OpenType, GPOS)."""


class FontError(HoopwrightError):
    """A file that is no font with outlines."""


@dataclass(frozen=True, slots=True, eq=False)
class Font:
    """A font opened: names of its glyphs by character, the height of its capitals in its own units."""

    file: TTFont
    glyphs: Any
    names: dict[int, str]
    capital: float
    flatness: float
    tables: tuple[Any, ...] = ()

    def has(self, sign: str) -> bool:
        """Whether the font has this character."""
        return ord(sign) in self.names

    def area(self, sign: str) -> MultiPolygon:
        """Return the area of a character, capitals 1 high, its origin on the baseline."""
        pen = _Contours(self.glyphs, self.flatness)
        self.glyphs[self.names[ord(sign)]].draw(pen)
        filled = _filled(pen.contours)
        return _polygons(shapely.transform(filled, lambda xy: xy / self.capital))

    def advance(self, sign: str) -> float:
        """Return how far a character moves on."""
        return float(self.glyphs[self.names[ord(sign)]].width) / self.capital

    def kern(self, one: str, other: str) -> float:
        """Return by how much a pair stands further apart (nearer, when negative)."""
        return _kern(self.tables, self.names[ord(one)], self.names[ord(other)]) / self.capital


@lru_cache(maxsize=8)
def read_font(data: bytes) -> Font:
    """Return the font in a TTF or OTF file. Raises FontError for a file that is none."""
    try:
        if not data.startswith(SIGNATURES):
            raise ValueError("packed, or no font")
        file = TTFont(io.BytesIO(data), lazy=True)
        names = dict(file.getBestCmap() or {})
        glyphs = file.getGlyphSet()
        em = float(file["head"].unitsPerEm)
        capital = _capital(file, glyphs, names, em)
        tables = _pair_tables(file)
    except FontError:
        raise
    except Exception as fault:
        raise FontError("The file is no font with letters that can be drawn", "Name a TTF or OTF file") from fault
    if not names or capital <= 0.0:
        raise FontError("The font has no letters", "Name another TTF or OTF file")
    return Font(file, glyphs, names, capital, FLATNESS * em, tables)


def _capital(file: TTFont, glyphs: Any, names: dict[int, str], em: float) -> float:
    told = float(getattr(file["OS/2"], "sCapHeight", 0.0) or 0.0) if "OS/2" in file else 0.0
    if ord("H") in names:
        pen = _Contours(glyphs, FLATNESS * em)
        glyphs[names[ord("H")]].draw(pen)
        return _filled(pen.contours).bounds[3]
    return told or 0.7 * em


class _Contours(BasePen):  # type: ignore[misc]
    """A pen that draws every contour as a row of places."""

    def __init__(self, glyphs: Any, flatness: float) -> None:
        super().__init__(glyphs)
        self.flatness = flatness
        self.contours: list[list[tuple[float, float]]] = []
        self._points = 0
        self._parts = 0

    def addComponent(self, glyphName: str, transformation: Any) -> None:  # noqa: N802, N803 - the pen's own names
        """Draw a part of a letter that is a letter itself. Raises FontError for too many."""
        self._parts += 1
        if self._parts > MOST_PARTS:
            raise FontError(*TOO_MUCH)
        super().addComponent(glyphName, transformation)

    def _moveTo(self, pt: tuple[float, float]) -> None:  # noqa: N802
        self.contours.append([])
        self._add(pt)

    def _lineTo(self, pt: tuple[float, float]) -> None:  # noqa: N802
        self._add(pt)

    def _curveToOne(self, pt1: Any, pt2: Any, pt3: Any) -> None:  # noqa: N802
        self._curve([self._getCurrentPoint(), pt1, pt2, pt3])

    def _qCurveToOne(self, pt1: Any, pt2: Any) -> None:  # noqa: N802
        self._curve([self._getCurrentPoint(), pt1, pt2])

    def _curve(self, places: list[Any]) -> None:
        """Draw a curve of second or third degree by chords."""
        bent = max(
            math.hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1])
            for a, b, c in zip(places, places[1:], places[2:], strict=False)
        )
        count = max(1, min(200, math.ceil(math.sqrt(bent / self.flatness))))
        for k in range(1, count + 1):
            self._add(_on_curve(places, k / count))

    def _add(self, place: tuple[float, float]) -> None:
        self._points += 1
        if self._points > MOST_POINTS:
            raise FontError(*TOO_MUCH)
        self.contours[-1].append(place)


def _on_curve(places: list[Any], t: float) -> tuple[float, float]:
    while len(places) > 1:
        places = [(a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t) for a, b in pairwise(places)]
    return float(places[0][0]), float(places[0][1])


def _filled(contours: list[list[tuple[float, float]]]) -> BaseGeometry:
    """Return the area inside contours: those that turn like the largest are filled, the others are holes.

    Raises FontError for contours too tangled to be a letter.
    """
    rings = [Polygon(c) for c in contours if len(c) > 2]
    if not rings:
        return MultiPolygon()
    if is_tangled(map(shapely.get_coordinates, rings), MOST_MEETINGS):
        raise FontError(*TOO_MUCH)
    signs = [1.0 if r.exterior.is_ccw else -1.0 for r in rings]
    outer = signs[max(range(len(rings)), key=lambda i: rings[i].area)]
    solid = shapely.union_all([r.buffer(0) for r, s in zip(rings, signs, strict=True) if s == outer])
    holes = shapely.union_all([r.buffer(0) for r, s in zip(rings, signs, strict=True) if s != outer])
    return shapely.difference(solid, holes)


def _polygons(shape: BaseGeometry) -> MultiPolygon:
    return MultiPolygon([p for p in shapely.get_parts(shape) if isinstance(p, Polygon) and not p.is_empty])


def _pair_tables(file: TTFont) -> tuple[Any, ...]:
    """Return the tables of the font's own kerning: those of its layout, or else the plain pair table."""
    if "GPOS" in file and file["GPOS"].table.FeatureList is not None:
        table = file["GPOS"].table
        kerns = [f.Feature for f in table.FeatureList.FeatureRecord if f.FeatureTag == "kern"]
        lookups = sorted({i for feature in kerns for i in feature.LookupListIndex})
        parts = (getattr(p, "ExtSubTable", p) for i in lookups for p in table.LookupList.Lookup[i].SubTable)
        return tuple(p for p in parts if p.LookupType == PAIRS)
    return tuple(t.kernTable for t in file["kern"].kernTables if hasattr(t, "kernTable")) if "kern" in file else ()


def _kern(tables: tuple[Any, ...], one: str, other: str) -> float:
    """Return what the first table that knows the pair says of it, in the font's own units."""
    for table in tables:
        if isinstance(table, dict):
            return float(table.get((one, other), 0.0))
        if one not in table.Coverage.glyphs:
            continue
        if table.Format == 1:
            row = table.PairSet[table.Coverage.glyphs.index(one)].PairValueRecord
            found = [r.Value1 for r in row if r.SecondGlyph == other]
        else:
            first, second = (d.classDefs.get(n, 0) for d, n in ((table.ClassDef1, one), (table.ClassDef2, other)))
            found = [table.Class1Record[first].Class2Record[second].Value1]
        if found:
            return float(getattr(found[0], "XAdvance", 0.0) or 0.0)
    return 0.0
