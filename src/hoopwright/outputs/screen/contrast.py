"""What is hard to tell apart on a panel: neighbouring cloths, and the threads of seam stitches on the cloths beside them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from hoopwright.core.colour import difference, lab_of
from hoopwright.items.plan import Plan
from hoopwright.needle.thread_seen import WEAKLY, hardly_seen_on
from hoopwright.operations.vocabulary import Role
from hoopwright.outputs.pictures.inks import cloth_paint
from hoopwright.piecing.colours import PLAIN_DIFFERENCE
from hoopwright.piecing.shapes import PatchMap, PiecedPanel
from hoopwright.plane.subdivision import OUTSIDE, Edge


def contrast(plan: Plan, panel: PiecedPanel) -> list[dict[str, Any]]:
    """Return what is hard to tell apart, as plain data: cloths of neighbours ("cloths"), threads on a cloth ("thread").

    ``apart`` is the difference CIEDE2000, ``plain`` the one from which two can be told apart, ``at`` where to mark it (mm).
    """
    return [*_cloths(plan, panel), *_threads(plan, panel)]


def _cloths(plan: Plan, panel: PiecedPanel) -> Iterator[dict[str, Any]]:
    cloths = dict(panel.cloths)
    for (one, other), edges in _borders(panel.map).items():
        a, b = cloths.get(one, ""), cloths.get(other, "")
        apart = _apart(cloth_paint(plan, a), cloth_paint(plan, b))
        if apart < PLAIN_DIFFERENCE:
            yield {
                "way": "cloths",
                "patches": [one, other],
                "cloths": [a, b],
                "apart": round(apart, 1),
                "plain": PLAIN_DIFFERENCE,
                "at": _middle(panel.map, edges),
            }


def _threads(plan: Plan, panel: PiecedPanel) -> Iterator[dict[str, Any]]:
    cloths = dict(panel.cloths)
    for number, thread in sorted(set(_sewn(plan, panel.key))):
        alike = hardly_seen_on(plan.project, panel, thread, number)
        edges = _edges(panel.map, number) if alike else []
        beside = sorted({panel.map.letters[f] for e in edges for f in (e.left, e.right) if f != OUTSIDE})
        for cloth, by in alike.items():
            on = [n for n in beside if cloths.get(n, "") == cloth]
            yield {
                "way": "thread",
                "seam": number,
                "thread": thread,
                "patches": on,
                "cloths": [cloth],
                "apart": round(by, 1),
                "plain": WEAKLY,
                "at": _middle(panel.map, [e for e in edges if {e.left, e.right} & {panel.map.face(n) for n in on}]),
            }


def _edges(map_: PatchMap, number: int) -> list[Edge]:
    """Return the edges of a seam."""
    line = next(s for s in map_.seams if s.number == number)
    return [map_.plane.edges[e] for e in map_.plane.chains[line.chain].edges]


def _sewn(plan: Plan, key: str) -> Iterator[tuple[int, str]]:
    """Yield the seam and the thread of every seam stitch of a panel."""
    for hooping in plan.hoopings:
        for step in hooping.steps if hooping.panel == key else ():
            if step.stitch.role is Role.ORNAMENT and step.stitch.seam is not None:
                yield step.stitch.seam, step.stitch.thread


def _borders(map_: PatchMap) -> dict[tuple[str, str], list[Edge]]:
    """Return the edges between each two neighbours, by their letters."""
    found: dict[tuple[str, str], list[Edge]] = {}
    for edge in map_.plane.edges:
        if OUTSIDE not in (edge.left, edge.right):
            one, other = sorted((edge.left, edge.right))
            found.setdefault((map_.letters[one], map_.letters[other]), []).append(edge)
    return found


def _middle(map_: PatchMap, edges: list[Edge]) -> list[float]:
    """Return the middle of the longest edge."""
    ends = [(map_.plane.vertices[e.start], map_.plane.vertices[e.end]) for e in edges]
    (ax, ay), (bx, by) = max(ends, key=lambda pair: math.dist(*pair))
    return [round((ax + bx) / 2.0, 3), round((ay + by) / 2.0, 3)]


def _apart(one: str, other: str) -> float:
    return difference(lab_of(one), lab_of(other))
