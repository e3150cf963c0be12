"""Proofs of what every block of an item holds: all it must, nothing it must not, and with cloth to spare."""

from __future__ import annotations

from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, MultiPoint
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.course import Course
from hoopwright.cloth.needles import Needles, needles_of
from hoopwright.cloth.shapes import Join, Layer, Stack, united
from hoopwright.core.findings import Finding, Severity
from hoopwright.core.tolerances import COVER, FLAT, MERGE
from hoopwright.core.types import Mm
from hoopwright.needle.shapes import Step
from hoopwright.operations.vocabulary import Lay, Role

LEAST_HELD: Final[Mm] = 4.0
"""A piece held over less than this comes off, mm: two stitches, from memory."""

CLEARANCE: Final[Mm] = 1.5
"""Hands lay a piece about this exactly, mm, from memory: what a needle must miss should be further away."""

LEAST_PAST: Final[Mm] = 3.0
"""Cloth that reaches less past a closing seam frays out of it, mm (common practice, no source)."""

OFF_LINE: Final[Mm] = 0.5
"""A piece whose own seam line lies further off than this does not fit, mm: half of 1 mm in width."""

STRETCH: Final = 4
"""So many neighbouring needle positions make a stretch that is told."""

HOLDING: Final = frozenset({Role.TACK, Role.SEAM, Role.BASTE})
"""Blocks of these roles hold the piece they are sewn for."""

LAY_ON_LINE: Final = "Lay it where its line was sewn, or cut it larger."

UPSETS: Final = frozenset({Role.SEAM, Role.CLOSING, Role.BASTE, Role.EDGE, Role.TOPSTITCH})
"""Lines that a stiffener must stay clear of."""


def holds_what_it_must(course: Course) -> tuple[Finding, ...]:
    """HW540: a block misses a piece that it must hold, or a stretch of it. HW541: the piece does not lie there yet."""
    return tuple(f for step, stack in course.sewn() for f in _misses(course, step, stack))


def must_hold(step: Step) -> tuple[str, ...]:
    """Return what a block must hold: the pieces it names, and the one it is sewn for."""
    own = (step.stitch.piece,) if step.stitch.piece is not None and step.stitch.role in HOLDING else ()
    return tuple(dict.fromkeys((*own, *step.stitch.catches)))


def _misses(course: Course, step: Step, stack: Stack) -> tuple[Finding, ...]:
    join, found = stack.joins[-1], []
    for sheet in must_hold(step):
        name = course.name(sheet)
        if not stack.of(sheet):
            message = f"The block “{step.stitch.title}” must hold {name}, which is not laid yet when it is sewn"
            cure = f"Let the machine halt before this block, and lay {name} there."
            found.append(course.finding("HW541", message, cure, at=join.path, step=step))
        elif join.length_of(sheet) < LEAST_HELD:
            message = f"The block “{step.stitch.title}” must hold {name}, but passes beside it"
            found.append(course.finding("HW540", message, LAY_ON_LINE, at=_lying(stack, sheet), step=step))
        elif (missed := _missed(course, step, stack, sheet)).length > course.allowance / 2.0:
            message = f"The block “{step.stitch.title}” misses {name} over {course.length(missed.length)}"
            found.append(course.finding("HW540", message, LAY_ON_LINE, at=missed, step=step))
    return tuple(found)


def _lying(stack: Stack, sheet: str) -> BaseGeometry:
    return united(p.region for p in stack.of(sheet))


def _missed(course: Course, step: Step, stack: Stack, sheet: str) -> BaseGeometry:
    """Return what of a line misses a piece along the piece's own seam line, or along the whole line when it is sewn for it.

    A seam may run on past both ends of what it holds.
    """
    path, piece = stack.joins[-1].path, course.piece(sheet)
    if path.is_empty:
        return path
    if step.stitch.role is Role.SEAM and step.stitch.piece == sheet:
        ends = (
            path.boundary if not path.boundary.is_empty else shapely.MultiPoint(shapely.get_coordinates(path)[[0, -1]])
        )
        wanted = shapely.difference(path, ends.buffer(course.allowance))
    elif step.stitch.role is Role.CLOSING and piece is not None and piece.sewn is not None:
        wanted = shapely.intersection(path, piece.sewn.exterior.buffer(OFF_LINE))
    else:
        return LineString()
    return shapely.difference(wanted, _lying(stack, sheet).buffer(COVER))


def holds_nothing_else(course: Course) -> tuple[Finding, ...]:
    """HW542: a block holds a piece that must stay free. HW543 (warns): it passes nearer than CLEARANCE to one."""
    return tuple(f for step, stack in course.sewn() for f in _holds_more(course, step, stack))


def _holds_more(course: Course, step: Step, stack: Stack) -> tuple[Finding, ...]:
    join, found = stack.joins[-1], []
    for sheet in (s for s in step.stitch.spares if stack.of(s)):
        name, held = course.name(sheet), join.length_of(sheet)
        if held > MERGE:
            message = (
                f"The block “{step.stitch.title}” catches {name}, which must stay free, over {course.length(held)}"
            )
            found.append(
                course.finding(
                    "HW542", message, f"Lay {name} clear of this line.", at=_held_line(join, sheet), step=step
                )
            )
            continue
        away = join.path.distance(united(p.region for p in stack.of(sheet)))
        if away < CLEARANCE - MERGE:
            message = (
                f"The block “{step.stitch.title}” passes only {course.length(away)} from {name}, which must stay free"
            )
            cure = f"Lay {name} at least {course.length(CLEARANCE)} from this line."
            found.append(course.finding("HW543", message, cure, at=join.path, step=step, severity=Severity.WARNS))
    return tuple(found)


def _held_line(join: Join, sheet: str) -> BaseGeometry:
    return shapely.union_all([h.line for h in join.held if h.sheet == sheet])


def no_stiffener_in_a_seam(course: Course) -> tuple[Finding, ...]:
    """HW565: a stiffener lies under a seam."""
    found = []
    for step, stack in course.sewn():
        if step.stitch.role not in UPSETS:
            continue
        stiff = {p.sheet for p in stack.layers if course.kind(p) == "stiffener"}
        for sheet in sorted({h.sheet for h in stack.joins[-1].held} & stiff):
            message = f"{course.name(sheet)} lies under the needle of “{step.stitch.title}”, where it makes the seam stiff and thick"
            cure = "Cut the stiffener on its line, without allowance, and lay it inside the line that was sewn for it."
            found.append(course.finding("HW565", message, cure, at=_held_line(stack.joins[-1], sheet), step=step))
    return tuple(found)


def cloth_past_the_seam(course: Course) -> tuple[Finding, ...]:
    """HW544: a piece ends too near beside the closing seam. HW545: the own seam line of a pieced part lies beside it.
    HW546: the closing seam joins nothing over a stretch.
    """
    found: list[Finding] = []
    for step, stack in course.sewn():
        if step.stitch.role is Role.CLOSING and step.runs:
            needles = needles_of(step, stack)
            found += [*_bare(course, step, needles), *_edges(course, step, needles), *_off_line(course, step, needles)]
    return tuple(found)


def _bare(course: Course, step: Step, needles: Needles) -> tuple[Finding, ...]:
    counts = [not p.foundation and course.kind(p) != "stiffener" for p in needles.layers]
    sheets = np.array([p.sheet for p in needles.layers], dtype=object)
    here = np.zeros(len(needles.at), dtype=int)
    for sheet in set(sheets[counts].tolist()):
        here += needles.inside[:, (sheets == sheet) & counts].any(axis=1)
    lone = here < 2
    if lone.sum() < STRETCH:
        return ()
    message = f"Over {course.length(needles.spacing * int(lone.sum()))} the closing seam joins nothing: fewer than two pieces lie there"
    cure = "Lay every piece past the seam line all round, as the run sheet says."
    return (course.finding("HW546", message, cure, at=MultiPoint(needles.at[lone]), step=step),)


def _edges(course: Course, step: Step, needles: Needles) -> tuple[Finding, ...]:
    least = min(LEAST_PAST, course.allowance / 2.0)
    worst: dict[str, tuple[Layer, NDArray[np.bool_], BaseGeometry]] = {}
    for number, layer in enumerate(needles.layers):
        if _needs_allowance(course, layer):
            folds = shapely.union_all([f.buffer(FLAT) for f in layer.folds])
            cut = shapely.difference(layer.region.boundary, folds) if layer.folds else layer.region.boundary
            near = needles.beside(number, cut, 0.0, least - MERGE)
            if near.sum() >= STRETCH:
                worst.setdefault(layer.sheet, (layer, near, cut))
    return tuple(_ends_near(course, step, needles, *row) for row in worst.values())


def _needs_allowance(course: Course, layer: Layer) -> bool:
    """Whether a layer is a piece of its own that a seam must hold; patches are proved where they are pieced."""
    laid = course.piece(layer.sheet) is not None or not layer.cloth
    return (
        laid
        and not layer.foundation
        and course.kind(layer) not in ("stiffener", "zip", "ribbon")
        and not course.is_finished(layer.sheet)
    )


def _ends_near(
    course: Course, step: Step, needles: Needles, layer: Layer, near: NDArray[np.bool_], cut: BaseGeometry
) -> Finding:
    away = float(shapely.distance(shapely.points(needles.at[near]), cut).min())
    message = (
        f"{course.name(layer.sheet)} ends only {course.length(away)} past the closing seam, too little for it to hold"
    )
    cure = f"Cut it with {course.length(course.allowance)} all round, and lay it that far past the seam line."
    return course.finding("HW544", message, cure, at=MultiPoint(needles.at[near]), step=step)


def _off_line(course: Course, step: Step, needles: Needles) -> tuple[Finding, ...]:
    pieced = {lay.piece: lay for _, lay in course.lays() if not lay.cloth and lay.lace is None}
    found = {}
    for number, layer in enumerate(needles.layers):
        lay = pieced.get(layer.sheet)
        if lay is not None and not layer.foundation and layer.sheet not in found:
            line = layer.placing.shape(_own_seam_line(lay, course.allowance))
            off = needles.beside(number, line, OFF_LINE, course.allowance)
            if off.sum() >= STRETCH:
                found[layer.sheet] = _does_not_fit(course, step, layer, needles, off, line)
    return tuple(found.values())


def _own_seam_line(lay: Lay, allowance: Mm) -> BaseGeometry:
    """Return the seam line of a pieced part, in its own frame: an allowance inside where it was trimmed."""
    inner: BaseGeometry = lay.pose.buffer(-allowance, join_style="mitre").boundary
    return inner if not inner.is_empty else LineString(lay.pose.exterior.coords)


def _does_not_fit(
    course: Course, step: Step, layer: Layer, needles: Needles, off: NDArray[np.bool_], line: BaseGeometry
) -> Finding:
    away = float(shapely.distance(shapely.points(needles.at[off]), line).max())
    message = (
        f"{course.name(layer.sheet)} does not fit: its own seam line lies {course.length(away)} beside the closing seam"
    )
    cure = "Make it exactly as wide as what it is sewn to, and lay it on its line."
    return course.finding("HW545", message, cure, at=MultiPoint(needles.at[off]), step=step)
