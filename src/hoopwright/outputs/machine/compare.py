"""Is what was written what was planned? The file, read back, held against the hooping, stitch by stitch."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.catalog.kinds import kind_named
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MACHINE_STEP, SAME_PLACE
from hoopwright.core.types import Mm, Point, Points
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.outputs.machine.kinds import KINDS, Colours
from hoopwright.outputs.machine.steps import divided
from hoopwright.stitchfiles.record import FileBlock, StitchFile

ROUNDING = MACHINE_STEP / 2 + SAME_PLACE
"""How far rounding may move a needle position along x or y, in mm."""


@dataclass(frozen=True, slots=True, eq=False)
class Expected:
    """What a step should be in a file: needle positions (mm) and the numbers of those reached without sewing."""

    points: Points
    starts: tuple[int, ...]


def expected_block(step: Step) -> Expected:
    """Return what a step should be in a file."""
    rows = [divided(run.points) for run in step.runs if run.count]
    if not rows:
        return Expected(np.empty((0, 2)), ())
    starts = np.cumsum([0, *(len(r) for r in rows[:-1])])
    return Expected(np.concatenate(rows), tuple(int(s) for s in starts))


def largest_error(plan: Hooping, read: StitchFile) -> Mm:
    """Return how far a needle position of the file is at most from the plan's, along x or y, in mm.

    Infinite when the file has other blocks or other numbers of needle positions than the plan.
    """
    wanted = [expected_block(s) for s in plan.steps]
    if [len(w.points) for w in wanted] != [len(b.points) for b in read.blocks]:
        return float("inf")
    pairs = zip(wanted, read.blocks, strict=True)
    return max((float(np.abs(w.points - b.points).max(initial=0.0)) for w, b in pairs), default=0.0)


def compare(plan: Hooping, read: StitchFile, field: tuple[Mm, Mm], kind: str, margin: Mm = 0.0) -> tuple[Finding, ...]:
    """Return every difference between a hooping and its stitch file read back; none means the file can be trusted.

    ``field`` is the hoop's (width, height), of which ``margin`` is kept clear on every side, in mm; ``kind`` is one of
    KINDS. Checked: every needle position, every halt and its place, every travel, colours of neighbouring blocks, the
    field, the longest stitch.
    """
    halts = _halts(plan, read, kind)
    if halts:
        return (*halts, *_outside(plan, read, field, kind, margin))
    rows = zip(plan.steps, read.blocks, strict=True)
    return (
        *(f for step, block in rows for f in _block(plan, step, block, kind)),
        *_merged(plan, read, kind),
        *_outside(plan, read, field, kind, margin),
        *_too_long(plan, read, kind),
    )


def _blocks_it(
    code: str, kind: str, what: str, plan: Hooping, step: int | None = None, at: Point | None = None, cure: str = ""
) -> Finding:
    where = Where(hooping=plan.key, operation=step, point=at)
    cure = (
        cure or f"Do not sew this file: leave the kind {kind} out of machine.kinds and use another your machine reads"
    )
    return Finding(code, Severity.BLOCKS, f"The {kind} file, read back, {what}", cure, where)


def _halts(plan: Hooping, read: StitchFile, kind: str) -> list[Finding]:
    wanted = len(plan.steps) - 1
    if read.halts == wanted and len(read.blocks) == len(plan.steps):
        return []
    what = f"halts {read.halts} times between its {len(read.blocks)} blocks; the plan needs {wanted} halts"
    return [_blocks_it("HW810", kind, what, plan)]


def _block(plan: Hooping, step: Step, block: FileBlock, kind: str) -> list[Finding]:
    wanted = expected_block(step)
    many, few = len(block.points), len(wanted.points)
    shared = min(many, few)
    errors = np.abs(block.points[:shared] - wanted.points[:shared]).max(axis=1, initial=0.0)
    wrong = np.flatnonzero(errors > ROUNDING)
    at = _place(wanted.points, int(wrong[0]) if len(wrong) else shared)
    if many != few:
        what = f"has {many} stitches in the block '{step.stitch.title}'; the plan has {few}"
        return [_blocks_it("HW811", kind, what, plan, step.index, at)]
    if len(wrong):
        what = f"has {len(wrong)} stitches in the wrong place, by up to {errors.max():.2f} mm, in '{step.stitch.title}'"
        return [_blocks_it("HW812", kind, what, plan, step.index, at)]
    if block.starts != wanted.starts:
        odd = min(set(block.starts) ^ set(wanted.starts))
        what = f"sews where '{step.stitch.title}' should travel, or travels where it should sew"
        return [_blocks_it("HW813", kind, what, plan, step.index, _place(wanted.points, odd))]
    return []


def _place(points: Points, index: int) -> Point | None:
    if not len(points):
        return None
    x, y = points[min(index, len(points) - 1)]
    return float(x), float(y)


def _merged(plan: Hooping, read: StitchFile, kind: str) -> list[Finding]:
    """Find neighbouring blocks that a machine could take for one."""
    how = KINDS[kind].colours
    asked = {
        Colours.NONE: (),
        Colours.EXACT: ("colour",),
        Colours.PALETTE: ("number",),
        Colours.BOTH: ("colour", "number"),
        Colours.NEEDLES: ("number",),
    }[how]
    found = []
    for step, a, b in zip(plan.steps[1:], read.blocks[:-1], read.blocks[1:], strict=True):
        if any(getattr(b, what) is None or getattr(a, what) == getattr(b, what) for what in asked):
            what = f"gives '{step.stitch.title}' the same thread as the block before, so a machine may not halt"
            found.append(_blocks_it("HW814", kind, what, plan, step.index))
    return found


def _outside(plan: Hooping, read: StitchFile, field: tuple[Mm, Mm], kind: str, margin: Mm) -> list[Finding]:
    room = np.array(field) / 2 - margin + ROUNDING
    waits = [b.waits_at for b in read.blocks if b.waits_at is not None]
    places = np.concatenate([read.points, np.array(waits, dtype=np.float64).reshape(-1, 2)])
    beyond = np.abs(places) - room
    worst = int(np.argmax(beyond.max(axis=1)))
    if beyond[worst].max() <= 0:
        return []
    clear = f" less {margin:g} mm on every side" if margin else ""
    what = f"leaves the field of {field[0]:g} x {field[1]:g} mm{clear} by {beyond[worst].max() + ROUNDING:.1f} mm"
    cure = "Use a hoop with a larger field (hoop.field), or make the panel smaller"
    return [_blocks_it("HW815", kind, what, plan, None, _place(places, worst), cure)]


def _too_long(plan: Hooping, read: StitchFile, kind: str) -> list[Finding]:
    limit = kind_named(kind).largest_stitch
    longest = max(float(b.stitch_lengths.max(initial=0.0)) for b in read.blocks)
    reach = limit * 2**0.5 + SAME_PLACE  # the limit holds along x and along y
    if longest <= reach:
        return []
    return [_blocks_it("HW816", kind, f"has a stitch of {longest:.1f} mm; the kind holds {limit:.1f} mm", plan)]
