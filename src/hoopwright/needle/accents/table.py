"""All motifs by name."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from hoopwright.needle.accents.blossom import BLOSSOM
from hoopwright.needle.accents.feather import FEATHER
from hoopwright.needle.accents.leaf import LEAF
from hoopwright.needle.accents.shapes import Motif
from hoopwright.needle.accents.shell import SHELL
from hoopwright.needle.accents.star import STAR

MOTIFS: Final[Mapping[str, Motif]] = MappingProxyType({m.name: m for m in (LEAF, BLOSSOM, SHELL, FEATHER, STAR)})
"""The motifs by name, in the order they are offered."""
