"""The table of grounds."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from hoopwright.needle.grounds import clamshell, drawing, echo, lines, meander, motifs, spiral, vine
from hoopwright.needle.grounds.shapes import Ground

GROUNDS: Final[Mapping[str, Ground]] = MappingProxyType(
    {g.name: g for family in (meander, echo, spiral, lines, clamshell, motifs, vine, drawing) for g in family.GROUNDS}
)
"""Every ground by name."""

PLAIN: Final = "none"
"""The name that leaves a region without a ground."""
