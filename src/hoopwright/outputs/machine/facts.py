"""What a stitch file tells a maker at a glance; works for any file that can be read."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.core.types import Minutes, Mm, Point
from hoopwright.estimate.time import sewing_minutes
from hoopwright.needle.maps import KERNEL, map_of_holes
from hoopwright.needle.needlework import different
from hoopwright.stitchfiles.record import StitchFile


@dataclass(frozen=True, slots=True)
class StitchFacts:
    """Size (mm), blocks, halts, needle positions, longest and shortest sewn stitch (mm; 0 when there is none), cuts.

    ``densest`` is the largest number of different needle holes within KERNEL (1 mm) of one place, counted as HW604 does,
    ``densest_at`` the middle of these holes. ``minutes`` is what the machine takes, hands left out.
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
    points = file.points
    holes = points[different(points)]
    most, place = map_of_holes(holes).worst()
    x, y = holes[((holes - place) ** 2).sum(axis=1) <= KERNEL**2].mean(axis=0)
    return most, (float(x), float(y))
