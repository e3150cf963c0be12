"""The table of seam stitches."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from hoopwright.needle.seam_stitches.stitch import SeamStitch
from hoopwright.needle.seam_stitches.table_arms import ARMS
from hoopwright.needle.seam_stitches.table_loops import LOOPS

SEAM_STITCHES: Mapping[str, SeamStitch] = MappingProxyType({s.name: s for s in (*ARMS, *LOOPS)})
"""Every seam stitch by name."""
