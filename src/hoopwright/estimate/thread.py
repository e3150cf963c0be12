"""How much thread it takes.

Lockstitch (ISO 4915 class 301): a stitch of length L through a stack of thickness T takes 2(L + T) of thread, half
from the needle and half from the bobbin (textilecalculation.blogspot.com, 2015/06; see docs/sources.md).
Waste: sources say 10 to 20 %, the default lies between. A thousand stitches then take about 5 m of top thread
(melgeecrafts.com, give or take 40 %).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hoopwright.core.types import Mm
from hoopwright.project.schema import Project

FOUNDATION: Mm = 0.5
"""Thickness of a stabilizer under the needle. From memory."""

BATTING: Mm = 1.2
"""Thickness of cotton batting pressed together under the foot (3.2 mm when loose). From memory."""

LAYERS = 2
"""Cloths under most stitches of a pieced panel: the patch and a seam allowance or the patch below."""

METRES = 1e-3
"""One millimetre in metres."""


def lockstitch_thread(length: Mm, thickness: Mm) -> Mm:
    """Return the thread one lockstitch takes, needle and bobbin together, in mm; or many, given both sums."""
    return 2.0 * (length + thickness)


def top_metres(lengths: NDArray[np.float64], thickness: Mm, waste: float) -> float:
    """Return the needle thread (metres) for stitches of these lengths (mm); the bobbin takes as much. ``waste`` 0.15 is 15 %."""
    both = lockstitch_thread(float(lengths.sum()), thickness * len(lengths))
    return both / 2.0 * METRES * (1.0 + waste)


def stack_thickness(project: Project) -> Mm:
    """Return a usual thickness of what the needle goes through, in mm."""
    cloths = [c.thickness for c in project.cloths.values()]
    batting = BATTING if project.foundation.batting else 0.0
    return FOUNDATION + batting + LAYERS * sum(cloths) / len(cloths)
