"""A panel as a screen draws it while it is being drafted: outline, patches, seams, stitches, as plain data.

All places are those of the hoop in mm, x to the right, y up, rounded to PLACES decimals; ``frame`` brings the places of the
project file there (see hoopwright.piecing.frame).
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any, Final

import shapely
from shapely.geometry import Polygon

from hoopwright.build import Build
from hoopwright.core.findings import Finding, blocking
from hoopwright.core.types import Mm
from hoopwright.items.plan import Plan
from hoopwright.operations.vocabulary import IN_SIGHT, Role
from hoopwright.outputs.pictures.inks import cloth_paint, thread_paint
from hoopwright.outputs.screen.contrast import contrast
from hoopwright.outputs.screen.laid import laid
from hoopwright.outputs.screen.places import PLACES, hundredths, ring
from hoopwright.piecing.cures import Cure
from hoopwright.piecing.shapes import Frame, PiecedPanel
from hoopwright.plane.inscribed import pole_of_inaccessibility

MOST_DRAWN: Final = 60_000
"""Needle positions of stitches sent with a draft; a ground beyond it is left to the player."""

MOST_ORDERS: Final = 1_000_000
"""Orders of sewing are counted for a screen up to here; sixty pieces have more than a page can hold as a number."""


def draft_view(build: Build, files: Mapping[str, bytes] | None = None) -> dict[str, Any]:
    """Return what a screen needs to draw the panels of a build, their findings and the totals; ``files`` are those the project names."""
    plan = build.plan
    return {
        "title": plan.project.title,
        "item": plan.project.item,
        "field": plan.field,
        "panels": [{**_panel(plan, p), "laid": laid(plan, p, files or {})} for p in plan.panels],
        "findings": [finding_row(f) for f in build.findings],
        "totals": totals(build),
    }


def hand_view(plan: Plan) -> dict[str, Any]:
    """Return the part of a draft view that a hand sees while it moves a line; findings only when the work cannot be sewn."""
    view: dict[str, Any] = {"panels": [_panel(plan, p) for p in plan.panels]}
    if blocking(plan.findings) or not all(p.order.sewable for p in plan.panels):
        view["findings"] = [finding_row(f) for f in plan.findings]
    return view


def cure_row(key: str, cure: Cure) -> dict[str, Any]:
    """Return a cure of the panel ``key`` as plain data."""
    return {
        "panel": key,
        "sentence": cure.sentence,
        "changes": [{"kind": c.kind.value, "letters": c.letters, "by": round(c.by, PLACES)} for c in cure.changes],
        "lines": [[_rounded(a), _rounded(b)] for a, b in cure.lines],
    }


def finding_row(finding: Finding) -> dict[str, Any]:
    """Return a finding as plain data."""
    where = finding.where
    return {
        "code": finding.code,
        "severity": finding.severity.value,
        "message": finding.message,
        "cure": finding.cure,
        "path": where.path,
        "patch": where.patch,
        "step": where.operation,
        "point": where.point,
        "hooping": where.hooping,
        "line": where.line,
    }


def totals(build: Build) -> dict[str, Any]:
    """Return the figures that stay in view: size, minutes, stitches, halts, cloth, thread."""
    needs, plan = build.estimate, build.plan
    sizes = [p.outline.bounds for p in plan.panels]
    return {
        "sizes": [[round(b[2] - b[0], 1), round(b[3] - b[1], 1)] for b in sizes],
        "stitches": needs.stitches,
        "halts": sum(s.halt for h in plan.hoopings for s in h.steps),
        "hoopings": len(plan.hoopings),
        "machine": round(needs.machine, 1),
        "hands": round(needs.hands, 1),
        "threads": [[t.thread, round(t.metres, 2)] for t in needs.threads],
        "cloths": [[c.cloth, c.pieces, round(c.width, 1), round(c.length, 1)] for c in needs.cloths],
    }


def _panel(plan: Plan, panel: PiecedPanel) -> dict[str, Any]:
    map_, cloths = panel.map, dict(panel.cloths)
    laid = (m.letters[0] for s in panel.order.sections for m in s.members if m.section is None)
    numbers = {letter: number for number, letter in enumerate(laid, 1)}
    return {
        "key": panel.key,
        "outline": ring(panel.outline),
        "frame": _frame(panel.frame),
        "patches": [
            {
                "letter": letter,
                "number": numbers.get(letter),
                "cloth": cloths.get(letter),
                "colour": cloth_paint(plan, cloths.get(letter, "")),
                "area": ring(map_.polygon(letter)),
                "at": _middle(map_.polygon(letter).wkb),
                "stuck": letter in panel.order.stuck,
            }
            for letter in map_.letters
        ],
        "seams": [{"number": s.number, "from": _rounded(s.start), "to": _rounded(s.end)} for s in map_.seams],
        "order": {
            "sewable": panel.order.sewable,
            "drawn": panel.order.sewable or not panel.order.bounded,
            "count": min(panel.order.count, MOST_ORDERS),
            "exact": panel.order.count_exact and panel.order.count <= MOST_ORDERS,
            "sections": [[m.letters for m in s.members] for s in panel.order.sections],
            "why": [[m.letters[0], m.why] for s in panel.order.sections for m in s.members],
        },
        "contrast": contrast(plan, panel),
        "stitches": _stitches(plan, panel),
    }


def _stitches(plan: Plan, panel: PiecedPanel) -> list[dict[str, Any]]:
    """Return the stitches that show, in sewing order: role, seam, colour, and runs as flat rows of hundredths of a mm."""
    rows: list[dict[str, Any]] = []
    left = MOST_DRAWN
    for hooping in plan.hoopings:
        for step in hooping.steps if hooping.panel == panel.key else ():
            left -= step.count if step.stitch.role in IN_SIGHT else 0
            if step.stitch.role not in IN_SIGHT or (left < 0 and step.stitch.role is Role.GROUND):
                continue
            rows.append(
                {
                    "role": step.stitch.role.value,
                    "seam": step.stitch.seam,
                    "colour": thread_paint(plan, step.stitch.thread),
                    "runs": [hundredths(r.points) for r in step.runs],
                }
            )
    return rows


@lru_cache(maxsize=2000)
def _middle(area: bytes) -> list[Mm]:
    """Return the place for the name of an area, given as WKB: most of them stay while one line is moved."""
    shape = shapely.from_wkb(area)
    assert isinstance(shape, Polygon)  # it was written as one
    return _rounded(pole_of_inaccessibility(shape)[0])


def _frame(frame: Frame) -> dict[str, Any]:
    return {"shift": frame.shift, "turn": frame.turn, "back": frame.back}


def _rounded(place: tuple[Mm, Mm]) -> list[Mm]:
    return [round(place[0], PLACES), round(place[1], PLACES)]
