"""The two faces letters may have: single lines, or a font of the maker's own."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from hoopwright.needle.lettering.fit import Bounds
from hoopwright.needle.lettering.font import Font, read_font
from hoopwright.needle.lettering.single_line import sign


@dataclass(frozen=True, slots=True)
class Pen:
    """Single-line letters."""

    def has(self, character: str) -> bool:
        """Whether the letter can be sewn."""
        return sign(character) is not None

    def advance(self, character: str) -> float:
        """Return how far a letter moves on."""
        found = sign(character)
        return found.advance if found is not None else 0.0

    def kern(self, one: str, other: str) -> float:
        """Single-line letters have no pairs."""
        del one, other
        return 0.0

    def bounds(self, character: str) -> Bounds | None:
        """Return the ends of a letter, None for a space."""
        found = sign(character)
        return found.bounds if found is not None and (found.strokes or found.dots) else None


@dataclass(frozen=True, slots=True, eq=False)
class Outlines:
    """The letters of a font file."""

    font: Font

    def has(self, character: str) -> bool:
        """Whether the font has the letter."""
        return self.font.has(character)

    def advance(self, character: str) -> float:
        """Return how far a letter moves on."""
        return self.font.advance(character)

    def kern(self, one: str, other: str) -> float:
        """Return by how much a pair stands further apart."""
        return self.font.kern(one, other)

    def bounds(self, character: str) -> Bounds | None:
        """Return the ends of a letter, None for a space."""
        return _bounds(self.font, character)


@lru_cache(maxsize=1024)
def _bounds(font: Font, character: str) -> Bounds | None:
    area = font.area(character)
    return None if area.is_empty else area.bounds


@lru_cache(maxsize=8)
def face_of(font: bytes | None) -> Pen | Outlines:
    """Return the face of a font file, of single lines without one. Raises FontError for a file that is no font."""
    return Pen() if font is None else Outlines(read_font(font))


def lacking(lines: tuple[str, ...], face: Pen | Outlines) -> tuple[str, ...]:
    """Return the characters of these lines that the face lacks, each once, in order."""
    return tuple(dict.fromkeys(c for line in lines for c in line if c != " " and not face.has(c)))
