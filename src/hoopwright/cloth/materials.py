"""How thick things are under the presser foot."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from hoopwright.core.types import Mm
from hoopwright.project.schema import Project

FOUNDATION_THICKNESS: Final[Mm] = 0.3
"""A stabilizer, mm, from memory."""

BATTING_UNDER_FOOT: Final[Mm] = 0.8
"""Thin batting pressed flat by the foot, mm, from memory; loose it is about 3.2 mm high."""

LACE: Final[Mm] = 0.8
"""An accent under the foot, mm, from memory: two to three threads on each other, and their bobbin threads."""

THICKNESS_LIMIT: Final[Mm] = 3.0
"""Most that fits under the foot, pressed, mm, from memory."""


@dataclass(frozen=True, slots=True)
class Materials:
    """Thickness under the foot, mm: of each cloth by key, and of the hooped layers by name, lowest first.

    ``patches`` are the cloths a panel may be pieced from (none named: any).
    """

    cloths: Mapping[str, Mm]
    hooped: tuple[tuple[str, Mm], ...] = ()
    patches: tuple[str, ...] = ()

    def thickness(self, cloth: str) -> Mm:
        """Return the thickness of a cloth; of the thickest patch for what was pieced before, which has none of its own (the
        empty text). Raises KeyError for a cloth that is not listed.
        """
        if cloth:
            return self.cloths[cloth]
        return max((self.cloths[key] for key in self.patches or self.cloths), default=0.0)

    @property
    def backing(self) -> Mm:
        """Thickness of the foundation."""
        return sum(thickness for _, thickness in self.hooped)


def materials_of(project: Project) -> Materials:
    """Return the thicknesses a project states, with the values above for what it does not."""
    hooped = [(project.foundation.name, FOUNDATION_THICKNESS)]
    if project.foundation.batting:
        hooped.append((project.foundation.batting, BATTING_UNDER_FOOT))
    given = set(project.panel.cloths.values())
    patches = tuple(key for key, cloth in project.cloths.items() if cloth.kind == "cloth" or key in given)
    return Materials({key: cloth.thickness for key, cloth in project.cloths.items()}, tuple(hooped), patches)
