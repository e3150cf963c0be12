"""Proofs that every patch of a pieced panel is held by its own seam, and that the seam holds nothing else."""

from __future__ import annotations

import math

import shapely
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring

from hoopwright.cloth.shapes import Join, Stack
from hoopwright.cloth.trial import Fault, Trial, following, is_flipped
from hoopwright.core.tolerances import BEHIND, COVER, MERGE, ON_SEAM
from hoopwright.core.types import Mm
from hoopwright.core.words import listed
from hoopwright.needle.shapes import Step
from hoopwright.operations.vocabulary import Role
from hoopwright.piecing.shapes import Patch


def held_by_its_seam(trial: Trial) -> tuple[Fault, ...]:
    """HW501 to HW504: no seam, sewn without the cloth, beside its line, or missing the cloth it must hold."""
    return tuple(f for patch in trial.patches for f in _held(trial, patch))


def _held(trial: Trial, patch: Patch) -> tuple[Fault, ...]:
    sewing = trial.holding(patch)
    if sewing is None:
        return (_no_seam(trial, patch),)
    step, stack, join = sewing
    if not stack.of(patch.label):
        return (_not_there(trial, patch, step, stack),)
    beside = _beside(trial, patch, step, join)
    return beside or (*_slips(trial, patch, step, stack, join), *_misses(trial, patch, step, join))


def _no_seam(trial: Trial, patch: Patch) -> Fault:
    line = "tack-down line" if patch.seam is None else "seam"
    return trial.fault(
        "HW501",
        f"No {line} is sewn for {trial.name(patch.label)}, so nothing holds it",
        f"Sew its {line} before the next patch is laid.",
        patch,
        patch.area,
    )


def _not_there(trial: Trial, patch: Patch, step: Step, stack: Stack) -> Fault:
    waiting = [
        p.label for p in trial.patches if stack.of(p.label) and p.seam is not None and not is_flipped(stack, p.label)
    ]
    instead = f"; {listed(tuple(trial.name(w) for w in waiting))} lies there instead" if waiting else ""
    return trial.fault(
        "HW502",
        f"The seam of {trial.name(patch.label)} is sewn when its cloth is not there{instead}",
        "Lay each patch in the halt before its own seam.",
        patch,
        join_line(patch),
        step,
    )


def join_line(patch: Patch) -> BaseGeometry:
    """Return the line that should hold a patch: its seam, or the border of its area."""
    return LineString([patch.seam.start, patch.seam.end]) if patch.seam else patch.area.exterior


def _beside(trial: Trial, patch: Patch, step: Step, join: Join) -> tuple[Fault, ...]:
    if patch.seam is None:
        return ()
    line = LineString([patch.seam.start, patch.seam.end])
    off = max(join.path.distance(line.interpolate(t, normalized=True)) for t in (0.0, 0.25, 0.5, 0.75, 1.0))
    if off <= ON_SEAM:
        return ()
    message = f"The seam of {trial.name(patch.label)} is sewn {trial.length(off)} beside its line"
    return (trial.fault("HW503", message, "Sew it on the line that the layout shows.", patch, line, step),)


def _along_seam(patch: Patch, path: BaseGeometry) -> BaseGeometry:
    """Return the part of a sewn line between the ends of the patch's seam; all of it for a tack-down."""
    if patch.seam is None:
        return path
    places = shapely.get_coordinates(path).tolist()
    end = max(places, key=lambda p: math.dist(p, places[0]))
    start = max(places, key=lambda p: math.dist(p, end))
    chord = LineString([start, end])
    a, b = sorted(chord.project(Point(p)) for p in (patch.seam.start, patch.seam.end))
    return substring(chord, a, b)


def _slips(trial: Trial, patch: Patch, step: Step, stack: Stack, join: Join) -> tuple[Fault, ...]:
    """HW504 for the patch's own cloth."""
    cloth = shapely.union_all([p.region for p in stack.of(patch.label)])
    bare = shapely.difference(_along_seam(patch, join.path), cloth.buffer(COVER))
    if bare.length <= COVER:
        return ()
    line = "tack-down line" if patch.seam is None else "seam"
    message = f"The {line} of {trial.name(patch.label)} misses its cloth over {trial.length(bare.length)}"
    cure = "Lay the cloth further over the line, or cut it larger."
    return (trial.fault("HW504", message, cure, patch, bare, step),)


def _misses(trial: Trial, patch: Patch, step: Step, join: Join) -> tuple[Fault, ...]:
    """HW505: the earlier patches that the seam must be sewn to."""
    found = []
    line = join_line(patch)
    near = (o for o in _before(trial, patch) if patch.seam and line.dwithin(o.area, ON_SEAM))
    for other in near:
        shared = shapely.intersection(line, other.area.buffer(ON_SEAM))
        if shared.length <= 2.0 * BEHIND + MERGE:
            continue
        holds = shapely.union_all([h.line.buffer(ON_SEAM) for h in join.held if h.sheet == other.label])
        bare = _inner(shapely.difference(shared, holds))
        if bare.length > BEHIND:
            found.append(_missed(trial, patch, other, step, bare))
    return tuple(found)


def _inner(line: BaseGeometry) -> BaseGeometry:
    """Return a line without its parts of no more than twice ON_SEAM: round the ends of what is shared."""
    return shapely.union_all([p for p in shapely.get_parts(line) if p.length > 2.0 * ON_SEAM + MERGE])


def _missed(trial: Trial, patch: Patch, other: Patch, step: Step, bare: BaseGeometry) -> Fault:
    fault = trial.fault(
        "HW505",
        f"The seam of {trial.name(patch.label)} does not catch {trial.name(other.label)} over {trial.length(bare.length)} "
        "where the two meet",
        f"Let the cloth of {trial.name(other.label)} reach past the seam, or trim less of it.",
        patch,
        bare,
        step,
    )
    return following(fault, other.label)


def _before(trial: Trial, patch: Patch) -> tuple[Patch, ...]:
    return trial.patches[: trial.patches.index(patch)]


def free_of_others(trial: Trial) -> tuple[Fault, ...]:
    """HW506, HW507: a seam or tack-down catches what should be free, or is sewn where its thread will show."""
    found: list[Fault] = []
    for patch in trial.patches:
        sewing = trial.holding(patch)
        if sewing is not None:
            step, _, join = sewing
            found += [*_catches(trial, patch, step, join), *_shows(trial, patch, step, join)]
    return tuple(found)


def _catches(trial: Trial, patch: Patch, step: Step, join: Join) -> tuple[Fault, ...]:
    fit = {p.label for p in _before(trial, patch)} | {patch.label}
    known = {p.label for p in trial.patches}
    wrong = dict.fromkeys(h.sheet for h in join.held if h.sheet in known - fit)
    return tuple(_caught_too(trial, patch, step, join, sheet) for sheet in wrong)


def _caught_too(trial: Trial, patch: Patch, step: Step, join: Join, sheet: str) -> Fault:
    at = shapely.union_all([h.line for h in join.held if h.sheet == sheet])
    return trial.fault(
        "HW506",
        f"The {join.role} of {trial.name(patch.label)} also catches {trial.name(sheet)}, which should still be free, "
        f"over {trial.length(at.length)}",
        f"Lay {trial.name(sheet)} after this line is sewn.",
        patch,
        at,
        step,
    )


def _shows(trial: Trial, patch: Patch, step: Step, join: Join) -> tuple[Fault, ...]:
    if join.role is not Role.SEAM or step.stitch.piece is None:
        return ()
    inside: Mm = 2.0 * BEHIND
    crossed = (o for o in (*_before(trial, patch), patch) if join.path.intersects(o.area))
    for other in crossed:
        part = shapely.intersection(join.path, other.area.buffer(-inside))
        if part.length > COVER:
            return (_thread_shows(trial, patch, other, step, part),)
    return ()


def _thread_shows(trial: Trial, patch: Patch, other: Patch, step: Step, part: BaseGeometry) -> Fault:
    fault = trial.fault(
        "HW507",
        f"The seam of {trial.name(patch.label)} runs {trial.length(part.length)} through {trial.name(other.label)}, "
        "where its thread shows",
        "End the seam where the visible patch begins.",
        patch,
        part,
        step,
    )
    return following(fault)
