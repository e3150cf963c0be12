"""Grounds: quilting lines that fill a region."""

from hoopwright.needle.grounds.sew import ground_lines
from hoopwright.needle.grounds.shapes import Ground, GroundWish
from hoopwright.needle.grounds.table import GROUNDS

__all__ = ["GROUNDS", "Ground", "GroundWish", "ground_lines"]
