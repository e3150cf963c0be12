"""What a stitch file tells a maker at a glance; works for any file that can be read."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.spatial import cKDTree

from hoopwright.core.tolerances import MACHINE_STEP
from hoopwright.core.types import Minutes, Mm, Point
from hoopwright.estimate.time import sewing_minutes
from hoopwright.stitchfiles.record import StitchFile

KERNEL: Mm = float(np.sqrt(1.0 / np.pi))
"""Radius of a disc of one square millimetre: holes in it are holes per mm2."""


@dataclass(frozen=True, slots=True)
class StitchFacts:
    """Size (mm), blocks, halts, needle positions, longest and shortest sewn stitch (mm; 0 when there is none), cuts.

    ``densest`` is the largest number of different needle holes in a disc of 1 mm2 round a hole, ``densest_at`` its
    middle; holes within one machine step count once. ``minutes`` is what the machine takes, hands left out.
    """

    width: Mm
    height: Mm
    blocks: int
    halts: int
    stitches: int
    longest: Mm
    shortest: Mm
    densest: int
    densest_at: Point
    trims: int
    minutes: Minutes


def facts(file: StitchFile, speed: float) -> StitchFacts:
    """Return the facts of a stitch file; ``speed`` is the machine's, in stitches a minute."""
    left, low, right, high = file.extent
    lengths = np.concatenate([b.stitch_lengths for b in file.blocks])
    densest, place = _densest(file)
    return StitchFacts(
        width=right - left,
        height=high - low,
        blocks=len(file.blocks),
        halts=file.halts,
        stitches=file.count,
        longest=float(lengths.max(initial=0.0)),
        shortest=float(lengths.min()) if len(lengths) else 0.0,
        densest=densest,
        densest_at=place,
        trims=file.trims,
        minutes=sewing_minutes(lengths, file.count, file.trims, speed),
    )


def _densest(file: StitchFile) -> tuple[int, Point]:
    holes = np.unique(np.rint(file.points / MACHINE_STEP), axis=0) * MACHINE_STEP
    counts = cKDTree(holes).query_ball_point(holes, KERNEL, return_length=True)
    x, y = holes[int(np.argmax(counts))]
    return int(np.max(counts)), (float(x), float(y))
