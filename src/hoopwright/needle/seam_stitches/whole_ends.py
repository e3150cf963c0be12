"""Where a row of stitches that needs its width at both ends may begin and end.

A seam that meets the outline or another seam at a slant has room on one side only at its very end. Stitches whose
first and last strokes lie on an edge of the row would be squashed there, so their row ends where both sides have room.
"""

from __future__ import annotations

import numpy as np

from hoopwright.core.types import Mm, Points
from hoopwright.needle.seam_stitches.room import CELL, Room

WHOLE = 0.9
"""An end counts as whole where both sides have this part of the most room they have near it (by eye)."""


def insets(room: Room, most: Mm) -> tuple[Mm, Mm]:
    """Return how far from the seam's start and end the row should stay, each ``most`` mm at most."""
    share = np.minimum(_part(room.left), _part(room.right))
    count = max(1, min(int(most / CELL) + 1, len(share)))
    start, end = _first(share[:count]), _first(share[::-1][:count])
    last = room.length - (len(share) - 1) * CELL
    return start * CELL, 0.0 if end == 0 else last + (end - 1) * CELL


def _part(reach: list[Mm]) -> Points:
    """Return the reach at each cell as a part of the largest one; 1 where a side has no room at all."""
    row = np.array(reach)
    part: Points = row / row.max() if row.max() > 0.0 else np.ones_like(row)
    return part


def _first(share: Points) -> int:
    return int(np.flatnonzero(share >= WHOLE * share.max())[0])
