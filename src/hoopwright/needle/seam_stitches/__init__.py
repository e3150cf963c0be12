"""Decorative stitches along seams: hand embroidery imitated by one continuous line of lockstitches."""

from __future__ import annotations

from hoopwright.needle.seam_stitches.row import has_room, whole_repeats
from hoopwright.needle.seam_stitches.sew import sew_seam_stitch, stitch_named
from hoopwright.needle.seam_stitches.table import SEAM_STITCHES, SeamStitch, Symmetry

__all__ = ["SEAM_STITCHES", "SeamStitch", "Symmetry", "has_room", "sew_seam_stitch", "stitch_named", "whole_repeats"]
