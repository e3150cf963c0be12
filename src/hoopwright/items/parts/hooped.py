"""How thick the hooped layers are that stay in the work."""

from __future__ import annotations

from typing import Final

from hoopwright.core.types import Mm
from hoopwright.project.schema import Project

FOUNDATION: Final[Mm] = 0.3
"""Thickness of the foundation that stays in the work, mm, from memory."""

BATTING: Final[Mm] = 0.8
"""Thickness of thin batting pressed flat, mm, from memory."""


def hooped_thickness(project: Project) -> Mm:
    """Return how thick foundation and batting are together, mm."""
    return FOUNDATION + (BATTING if project.foundation.batting else 0.0)
