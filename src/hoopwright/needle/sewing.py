"""From operations to steps: every block of stitches, with the handwork before it."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import shapely
from shapely.geometry import LineString, MultiPolygon, Polygon

from hoopwright.core.types import Mm, Points, frozen_points
from hoopwright.needle.columns.satin_edge import satin_edge
from hoopwright.needle.curved_stitches import curved_stitches
from hoopwright.needle.grounds import GROUNDS, GroundWish, ground_lines
from hoopwright.needle.joining import joined
from hoopwright.needle.lettering.sew import lettering_rows
from hoopwright.needle.lines import even_stitches, kept_apart, locked, repeated
from hoopwright.needle.numerals import numeral_lines
from hoopwright.needle.ornament_site import EDGE, Ornament
from hoopwright.needle.routing import one_walk
from hoopwright.needle.seam_stitches import sew_seam_stitch
from hoopwright.needle.shapes import Run, Step
from hoopwright.needle.tour import in_short_order
from hoopwright.needle.unsewn import is_left_out
from hoopwright.operations.vocabulary import (
    DrawnStyle,
    EdgeStyle,
    GroundStyle,
    HandWork,
    LetteringStyle,
    Numeral,
    Operation,
    OrnamentStyle,
    Role,
    RunStyle,
    Stitch,
)
from hoopwright.project.schema import MachineModel, Project, StitchingModel

ROUTED = (Role.LAYOUT, Role.GROUND)
"""Blocks whose lines may be sewn in any way that covers them. What holds the work is sewn line by line, each locked at its ends."""


def steps_of(
    operations: Sequence[Operation], stitching: StitchingModel, machine: MachineModel
) -> tuple[tuple[Step, ...], tuple[HandWork, ...]]:
    """Return the steps of one hooping in order, and the handwork left after the last block. A block to be seen of which nothing
    is left is no step.
    """
    steps: list[Step] = []
    hands: list[HandWork] = []
    for operation in operations:
        if isinstance(operation, Stitch):
            runs = sew(operation, stitching, machine)
            if is_left_out(operation, runs):
                continue
            steps.append(Step(len(steps) + 1, operation, tuple(hands), runs))
            hands = []
        else:
            hands.append(operation)
    return tuple(steps), tuple(hands)


def ornament_steps(rows: Sequence[Ornament], project: Project) -> tuple[Step, ...]:
    """Return the blocks of seam stitches alone, for a screen that shows them while the drawing is moved."""
    first = next(iter(project.threads))
    blocks = [
        Stitch(
            Role.ORNAMENT,
            o.title,
            o.thread or first,
            (o.path,),
            o.style,
            o.title,
            seam=None if o.seam == EDGE else o.seam,
        )
        for o in rows
    ]
    return tuple(Step(i, b, (), sew(b, project.stitching, project.machine)) for i, b in enumerate(blocks, 1))


def sew(stitch: Stitch, stitching: StitchingModel, machine: MachineModel) -> tuple[Run, ...]:
    """Return the runs of one block, locked at both ends, in an order that keeps the travel between them short."""
    longest, shortest = machine.longest_stitch, machine.shortest_stitch
    match stitch.style:
        case OrnamentStyle() as style:
            rows = in_short_order([p for line in stitch.paths for p in _ornament(line, style, shortest, longest)])
        case EdgeStyle() as style:
            rows = in_short_order([satin_edge(line, style, shortest) for line in stitch.paths])
        case GroundStyle() as style:
            rows = _ground(stitch, style, shortest, longest)
        case DrawnStyle() as style:
            return _drawn(style, stitching.lock)
        case LetteringStyle() as style:
            return _letters(stitch, style, stitching.lock, shortest)
        case RunStyle() as style:
            rows = _plain(stitch, style, stitching, shortest, longest)
    return tuple(Run(locked(row, stitching.lock)) for row in rows if len(row) > 1)


def _drawn(style: DrawnStyle, lock: Mm) -> tuple[Run, ...]:
    rows = (frozen_points(np.array(row, dtype=np.float64)) for row in style.rows if len(row) > 1)
    return tuple(Run(row if style.locked else locked(row, lock)) for row in rows)


def _letters(stitch: Stitch, style: LetteringStyle, lock: Mm, shortest: Mm) -> tuple[Run, ...]:
    """Sew letters in the order of reading, each locked at its ends."""
    if not isinstance(stitch.region, Polygon):
        return ()
    return tuple(Run(locked(row, lock)) for row in lettering_rows(stitch.region, style, shortest) if len(row) > 1)


def _ground(stitch: Stitch, style: GroundStyle, shortest: Mm, longest: Mm) -> list[Points]:
    if stitch.region is None:
        return []
    length = min(style.length, longest)
    rows = in_short_order([repeated(r, style.times) for r in _ground_rows(stitch.region.wkb, style, length, shortest)])
    return joined(rows, length, shortest, stitch.hidden_under, stitch.along)


@lru_cache(maxsize=256)
def _ground_rows(region: bytes, style: GroundStyle, length: Mm, shortest: Mm) -> tuple[Points, ...]:
    """Draw and sew a ground; kept, so that planning again after a small change draws only where something changed."""
    shape = shapely.from_wkb(region)
    assert isinstance(shape, Polygon | MultiPolygon)
    angle = GROUNDS[style.kind].angle if style.angle is None else style.angle
    wish = GroundWish(style.spacing, angle, style.seed, style.motif)
    lines = ground_lines(shape, style.kind, style.margin, wish)
    return tuple(kept_apart(curved_stitches(line, length, shortest), shortest) for line in lines)


@lru_cache(maxsize=1024)
def _ornament(line: LineString, style: OrnamentStyle, shortest: float, longest: float) -> tuple[Points, ...]:
    """Sew one seam stitch; kept, so that planning again after a small change sews only what changed."""
    return sew_seam_stitch(line, style, shortest, longest)


def _plain(stitch: Stitch, style: RunStyle, stitching: StitchingModel, shortest: float, longest: float) -> list[Points]:
    """Return the rows of a plain block, its numerals last: nothing is sewn from one numeral to the next, it could not be read."""
    length = min(style.length, longest)
    paths = one_walk(stitch.paths) if stitch.role in ROUTED else stitch.paths
    lines = [LineString(row) for row in in_short_order([np.array(line.coords)[:, :2] for line in paths])]
    rows = in_short_order([repeated(even_stitches(line, length, shortest), style.times) for line in lines])
    if stitch.role in ROUTED:
        rows = joined(rows, length, shortest, stitch.hidden_under, stitch.along)
    numerals = [row for n in stitch.numerals for row in _numeral(n, stitching.numeral_height, length, shortest)]
    end = (float(rows[-1][-1, 0]), float(rows[-1][-1, 1])) if rows else None
    return rows + in_short_order(numerals, end)


@lru_cache(maxsize=1024)
def _numeral(numeral: Numeral, height: Mm, length: Mm, shortest: Mm) -> tuple[Points, ...]:
    """Sew a numeral; kept, so that planning again after a small change sews only what changed."""
    lines = numeral_lines(numeral, height)
    return tuple(even_stitches(line, min(length, 2.0), min(shortest, 1.0)) for line in lines)
