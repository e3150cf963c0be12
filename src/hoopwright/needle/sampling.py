"""Thread as a cloud of small pieces, for maps of what lies where."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hoopwright.core.types import Mm, Points


def stitches_of(rows: Sequence[Points]) -> tuple[Points, Points]:
    """Return where every sewn stitch begins and where it ends, shapes (n, 2), mm; nothing is sewn between two rows."""
    if not rows:
        return np.empty((0, 2)), np.empty((0, 2))
    return np.concatenate([row[:-1] for row in rows]), np.concatenate([row[1:] for row in rows])


def sampled(starts: Points, ends: Points, step: Mm) -> tuple[Points, NDArray[np.float64]]:
    """Return every stitch cut into equal pieces of at most ``step`` mm: their middles (k, 2) and lengths (k,), mm."""
    ways = ends - starts
    lengths = np.hypot(ways[:, 0], ways[:, 1])
    parts = np.maximum(1, np.ceil(lengths / step)).astype(np.intp)
    which = np.repeat(np.arange(len(parts)), parts)
    number = np.arange(len(which)) - np.repeat(np.cumsum(parts) - parts, parts)
    share = (number + 0.5) / parts[which]
    return starts[which] + ways[which] * share[:, None], (lengths / parts)[which]
