"""Patch maps from cuts: one straight cut after the other, each across one existing piece."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from shapely.geometry import Polygon

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import CUT_REACH, DIGITS, MACHINE_STEP, MERGE, SLIVER
from hoopwright.core.types import Mm, Point
from hoopwright.piecing.patch_map_basics import letter
from hoopwright.piecing.seam_lines import chain_numbers, map_with
from hoopwright.piecing.shapes import PatchMap
from hoopwright.plane.pieces import Box, Crossing, Ring, box_of, boxes_near, crossings, mean_width, split, with_vertex
from hoopwright.plane.subdivision import subdivision_of

CUTS = "panel.patchwork.cuts"


@dataclass(frozen=True, slots=True)
class _State:
    """Pieces, their boxes and letters after some cuts, with the two ends of every cut as it was made, by cut number."""

    rings: tuple[Ring, ...]
    boxes: tuple[Box, ...]
    names: tuple[str, ...]
    made: tuple[tuple[int, Point, Point], ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def failed(self) -> bool:
        return any(f.severity is Severity.BLOCKS for f in self.findings)


class _RefusedError(Exception):
    """Carries what is wrong with a cut."""

    def __init__(self, code: str, message: str, cure: str, point: Point | None = None) -> None:
        self.code, self.message, self.cure, self.point = code, message, cure, point


def map_from_cuts(
    outline: Polygon, cuts: Sequence[tuple[Point, Point]], path: str = CUTS
) -> tuple[PatchMap | None, tuple[Finding, ...]]:
    """Cut the outline (centred, mm) along ``cuts`` in their order.

    An end that misses the edge of its piece by up to CUT_REACH is moved onto it and reported when the move can be
    seen. The n-th cut keeps the letter on its left and gives the next letter to its right; seam n is its line (where
    several cuts lie in one line, the lowest number counts). The map is None when a cut cannot be made.
    """
    rim = tuple((float(x), float(y)) for x, y in outline.exterior.coords[:-1])
    state = _State((rim,), (box_of(rim),), (letter(0),))
    for index, (start, end) in enumerate(cuts):
        state = _after(state, index, start, end, path)
    return (None if state.failed else _finished(outline, state)), state.findings


def _after(state: _State, index: int, start: Point, end: Point, path: str) -> _State:
    """Return the state after one cut; a cut that cannot be made leaves everything but the findings as it was."""
    where = f"{path}[{index + 1}]"  # counted from 1, as everywhere in a project file
    try:
        crossing, notes = _chord(state, index, start, end, where)
        return _cut(state, index, start, end, crossing, notes)
    except _RefusedError as no:
        cure = f"{no.cure} (an earlier cut failed too: mend that one first)" if state.failed else no.cure
        finding = Finding(no.code, Severity.BLOCKS, no.message, cure, Where(path=where, point=no.point))
        return replace(state, findings=(*state.findings, finding))


def _chord(state: _State, index: int, start: Point, end: Point, where: str) -> tuple[Crossing, tuple[Finding, ...]]:
    """Return the one piece the cut goes across, and notes about ends that had to be moved."""
    length = math.dist(start, end)
    if not math.isfinite(length) or length <= MERGE:
        raise _RefusedError("HW211", f"Cut {index + 1} has no length", "Give two different ends, each as [x, y] in mm")
    near = boxes_near(state.boxes, start, end)
    met = [c for c in crossings(state.rings, start, end, near) if min(c.leave, length) - max(c.enter, 0.0) > MERGE]
    meant = [c for c in met if min(c.leave, length) - max(c.enter, 0.0) > min(CUT_REACH, (c.leave - c.enter) / 2.0)]
    if not meant:
        raise _RefusedError(
            "HW211",
            f"Cut {index + 1} crosses no patch",
            "Draw it from edge to edge across one patch, not along an edge or outside the outline",
            start,
        )
    if len(meant) > 1:
        raise _crosses_more(state, index, start, end, meant)
    crossing = meant[0]
    _check_reach(state, index, start, end, crossing)
    return crossing, tuple(_notes(index, start, end, crossing, where))


def _crosses_more(state: _State, index: int, start: Point, end: Point, met: Sequence[Crossing]) -> _RefusedError:
    names = [state.names[c.piece] for c in met]
    at = _on(start, end, met[0].leave)
    if len(set(names)) == 1:
        return _RefusedError(
            "HW212",
            f"Cut {index + 1} leaves patch {names[0]} and enters it again",
            f"Make it two cuts, the first ending at {_words(at)}",
            at,
        )
    return _RefusedError(
        "HW212",
        f"Cut {index + 1} crosses more than one patch: {', '.join(names)}",
        f"End it on the edge at {_words(at)}, and make the rest a cut of its own",
        at,
    )


def _check_reach(state: _State, index: int, start: Point, end: Point, crossing: Crossing) -> None:
    length = math.dist(start, end)
    for gap, place, edge in ((-crossing.enter, start, crossing.enter), (crossing.leave - length, end, crossing.leave)):
        if gap > CUT_REACH:
            raise _RefusedError(
                "HW213",
                f"Cut {index + 1} ends inside patch {state.names[crossing.piece]}, {gap:.1f} mm before its edge",
                f"Draw it on to the edge, at {_words(_on(start, end, edge))}",
                place,
            )


def _notes(index: int, start: Point, end: Point, crossing: Crossing, where: str) -> list[Finding]:
    """Say which ends were moved, when the move can be seen."""
    length = math.dist(start, end)
    notes = []
    for name, place, missed, edge in (
        ("start", start, crossing.enter, crossing.enter),
        ("end", end, length - crossing.leave, crossing.leave),
    ):
        if abs(missed) > MACHINE_STEP:
            done = "shortened" if missed > 0 else "drawn on"
            target = _on(start, end, edge)
            notes.append(
                Finding(
                    "HW214",
                    Severity.NOTES,
                    f"Cut {index + 1} was {done} by {abs(missed):.1f} mm at its {name} to end on the edge",
                    f"Nothing to do; to have it exact, give {_words(target)}",
                    Where(path=where, point=place),
                )
            )
    return notes


def _cut(state: _State, index: int, start: Point, end: Point, crossing: Crossing, notes: tuple[Finding, ...]) -> _State:
    rings, first = with_vertex(state.rings, crossing.piece, _on(start, end, crossing.enter), MACHINE_STEP)
    rings, last = with_vertex(rings, crossing.piece, _on(start, end, crossing.leave), MACHINE_STEP)
    if first == last:
        raise _RefusedError(
            "HW211", f"Cut {index + 1} has no length", "Draw it from edge to edge across one patch", start
        )
    left, right = split(rings[crossing.piece], first, last)
    for part, side in ((left, "left"), (right, "right")):
        if len(part) < 3 or mean_width(part) < SLIVER:
            raise _RefusedError(
                "HW215",
                f"Cut {index + 1} leaves a sliver on its {side}, too narrow to sew",
                "Move the cut away from the edge it nearly touches",
                first,
            )
    names = (*state.names, letter(index + 1))
    kept = (*rings[: crossing.piece], left, *rings[crossing.piece + 1 :], right)
    boxes = (*state.boxes[: crossing.piece], box_of(left), *state.boxes[crossing.piece + 1 :], box_of(right))
    return _State(kept, boxes, names, (*state.made, (index, first, last)), (*state.findings, *notes))


def _finished(outline: Polygon, state: _State) -> PatchMap:
    rim = frozenset(outline.exterior.coords)
    plane = subdivision_of([Polygon([_kept(p, rim) for p in r]) for r in state.rings])
    made = tuple((number, _kept(start, rim), _kept(end, rim)) for number, start, end in state.made)
    return map_with(outline, plane, state.names, chain_numbers(plane, made))


def _kept(place: Point, rim: frozenset[tuple[float, ...]]) -> Point:
    """Round a place that a cut made, once all are made: rounded earlier, each would carry the rounding of those it lies between."""
    return place if place in rim else (round(place[0], DIGITS) + 0.0, round(place[1], DIGITS) + 0.0)


def _on(start: Point, end: Point, along: Mm) -> Point:
    t = along / math.dist(start, end)
    return start[0] + (end[0] - start[0]) * t, start[1] + (end[1] - start[1]) * t


def _words(point: Point) -> str:
    return f"[{point[0]:.1f}, {point[1]:.1f}]"
