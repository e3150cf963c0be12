"""Decorative stitches along seams: hand embroidery imitated by one continuous line of lockstitches.

How a stitch is written: a function in a module of its family takes a ``Pen`` and a ``Row`` (how many repeats, how
long, how far to each side) and speaks in verbs: ``start``, ``go`` (sew on), ``arm`` (out to a tip and back through the
same holes), ``petal`` and ``chain`` (teardrop loops), ``knot``. Places are (along, across) the seam in mm; the seam
runs from (0, 0) to (row.length, 0). The function never looks at stitch lengths, hole density or the clip: the pen
draws arms in where room is short, and ``Holes`` keeps stitches and holes apart. A line of ``table`` makes it known.
"""

from __future__ import annotations

from hoopwright.needle.seam_stitches.names import OTHER_NAMES, near_names, offer
from hoopwright.needle.seam_stitches.row import has_room, whole_repeats
from hoopwright.needle.seam_stitches.sew import sew_seam_stitch, stitch_named
from hoopwright.needle.seam_stitches.stitch import SeamStitch, Symmetry
from hoopwright.needle.seam_stitches.table import SEAM_STITCHES

__all__ = [
    "OTHER_NAMES",
    "SEAM_STITCHES",
    "SeamStitch",
    "Symmetry",
    "has_room",
    "near_names",
    "offer",
    "sew_seam_stitch",
    "stitch_named",
    "whole_repeats",
]
