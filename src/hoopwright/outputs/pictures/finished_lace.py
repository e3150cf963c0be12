"""Accents when their base is gone: shaded thread on a dark sheet, on which lace is best seen."""

from __future__ import annotations

from typing import Final

import numpy as np

from hoopwright.core.types import Mm
from hoopwright.items.plan import Plan
from hoopwright.operations.vocabulary import Role
from hoopwright.outputs.pictures.canvas import canvas_for
from hoopwright.outputs.pictures.finished import LONGEST, packed, paper, sewn
from hoopwright.outputs.pictures.inks import thread_paint
from hoopwright.outputs.pictures.relief import soft
from hoopwright.outputs.pictures.thread import Strand, threadwork

AROUND: Final[Mm] = 9.0
"""Sheet shown round the accents, mm."""

SLATE: Final = (0.225, 0.255, 0.295)
"""Colour of the sheet: dark, for most lace is pale."""


def lace_strands(plan: Plan) -> tuple[Strand, ...]:
    """Return the thread of the accents that are made in the first hooping; none when the plan has panels or pieces."""
    if plan.panels or plan.making.pieces or not plan.hoopings:
        return ()
    steps = (s for s in plan.hoopings[0].steps if s.stitch.role is Role.ACCENT)
    return tuple(Strand(run.points, thread_paint(plan, s.stitch.thread)) for s in steps for run in s.runs)


def finished_lace_png(plan: Plan, pixels_per_mm: float | None = None) -> bytes:
    """Return the accents of a plan that makes nothing else as PNG bytes; without ``pixels_per_mm`` its longer side is LONGEST.

    Raises ValueError when there are none.
    """
    strands = lace_strands(plan)
    if not strands:
        raise ValueError("there are no accents to show")
    places = np.vstack([s.points for s in strands])
    (left, low), (right, high) = (places.min(axis=0) - AROUND).tolist(), (places.max(axis=0) + AROUND).tolist()
    scale = pixels_per_mm or LONGEST / max(right - left, high - low)
    canvas = canvas_for((left, low, right, high), scale)
    cover = soft(threadwork(canvas, strands).cover, 0.1 * scale)
    return packed(sewn(paper(canvas, cover, SLATE), strands, canvas), scale)
