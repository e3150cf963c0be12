"""How thick things are under the presser foot."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from hoopwright.core.types import Mm
from hoopwright.project.schema import Project

FOUNDATION_THICKNESS: Final[Mm] = 0.3
"""A stabilizer, mm, from memory."""

BATTING_UNDER_FOOT: Final[Mm] = 0.8
"""Thin batting pressed flat by the foot, mm, from memory; loose it is about 3.2 mm high."""

THICKNESS_LIMIT: Final[Mm] = 3.0
"""Most that fits under the foot, pressed, mm, from memory."""


@dataclass(frozen=True, slots=True)
class Materials:
    """Thickness under the foot, mm: of each cloth by key, of the hooped layers, and of what has no cloth of its own."""

    cloths: Mapping[str, Mm]
    hooped: tuple[tuple[str, Mm], ...] = ()
    sections: Mapping[str, Mm] = field(default_factory=dict)

    def thickness(self, sheet: str, cloth: str) -> Mm:
        """Return the thickness of a sheet. Raises KeyError for a cloth that is not listed."""
        return self.sections[sheet] if sheet in self.sections else self.cloths[cloth]


def materials_of(project: Project) -> Materials:
    """Return the thicknesses a project states, with the values above for what it does not."""
    hooped = [(project.foundation.name, FOUNDATION_THICKNESS)]
    if project.foundation.batting:
        hooped.append((project.foundation.batting, BATTING_UNDER_FOOT))
    cloths = {key: cloth.thickness for key, cloth in project.cloths.items()}
    return Materials({**cloths, "": _pieced(hooped, cloths)}, tuple(hooped))


def _pieced(hooped: list[tuple[str, Mm]], cloths: Mapping[str, Mm]) -> Mm:
    """Return the thickness of a section that was pieced before, away from its own seams: what it is pieced on, and one cloth."""
    return sum(t for _, t in hooped) + max(cloths.values())
