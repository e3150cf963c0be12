"""Decorative stitches along seams: hand embroidery imitated by one continuous line of lockstitches.

How a stitch is written: a function in a module of its family takes a ``Pen`` and a ``Row`` (how many repeats, how
long, how far to each side) and speaks in verbs: ``start``, ``go`` (sew on), ``arm`` (out to a tip and back through the
same holes), ``bud`` (an arm with a knot), ``petal`` and ``chain`` (teardrop loops), ``knot``. Places are (along, across) the seam in mm; the seam
runs from (0, 0) to (row.length, 0). The function never looks at stitch lengths, hole density or the clip: the pen
draws arms in where room is short, and ``Holes`` keeps stitches and holes apart. Motifs that change sides stand on the row's
``beats``, repeats in its ``cells``: gaps, sides and rows over others follow from them. A line of ``table_arms`` or ``table_loops``
makes it known. The same drawing is sewn as plain thread or as a cord, straight or along a curve.
"""

from __future__ import annotations

from hoopwright.needle.seam_stitches.names import OTHER_NAMES, near_names, offer
from hoopwright.needle.seam_stitches.row import Sides, has_room, whole_repeats
from hoopwright.needle.seam_stitches.sew import sew_seam_stitch, stitch_named
from hoopwright.needle.seam_stitches.stitch import SeamStitch, Symmetry
from hoopwright.needle.seam_stitches.table import SEAM_STITCHES

__all__ = [
    "OTHER_NAMES",
    "SEAM_STITCHES",
    "SeamStitch",
    "Sides",
    "Symmetry",
    "has_room",
    "near_names",
    "offer",
    "sew_seam_stitch",
    "stitch_named",
    "whole_repeats",
]
