"""The record of a build, build.json: an interface, described in docs/build-record.md."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Final

import shapely
from shapely.geometry import LinearRing, Polygon

from hoopwright import __version__
from hoopwright.build import Build
from hoopwright.core.findings import Finding
from hoopwright.core.types import Minutes, Point
from hoopwright.core.words import whole_minutes
from hoopwright.estimate.shapes import StepEstimate
from hoopwright.items.recipe import Piece
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import HandWork
from hoopwright.piecing.shapes import Cut, Member, Patch, PiecedPanel, Section, SewingOrder

RECORD_VERSION: Final = 1
DIGITS: Final = 3
"""Decimals of a millimetre kept in the record."""

Json = dict[str, object]


def record_json(build: Build, files: Iterable[str]) -> bytes:
    """Return build.json as UTF-8 bytes; ``files`` are the names of all other files of the build."""
    text = json.dumps(record(build, files), ensure_ascii=False, indent=1, allow_nan=False)
    return (text + "\n").encode()


def record(build: Build, files: Iterable[str]) -> Json:
    """Return the record as plain values: lengths in mm, minutes, metres."""
    plan, names = build.plan, sorted(files)
    return {
        "made_by": f"hoopwright {__version__}",
        "record": RECORD_VERSION,
        "title": plan.project.title,
        "item": plan.project.item,
        "blocked": build.blocked,
        "units": plan.project.units,
        "field": {"width": plan.field[0], "height": plan.field[1], "margin": plan.project.hoop.margin},
        "panels": [_panel(p) for p in plan.panels],
        "pieces": [_piece(p) for p in plan.making.pieces],
        "hoopings": [_hooping(build, h, names) for h in plan.hoopings],
        "assembly": [_hand(h) for h in plan.making.assembly],
        "care": list(plan.making.care),
        "findings": [_finding(f) for f in build.findings],
        "totals": _totals(build),
        "files": names,
    }


def _panel(panel: PiecedPanel) -> Json:
    return {
        "key": panel.key,
        "outline": _polygon(panel.outline),
        "patches": [_patch(p) for p in panel.patches],
        "seams": [{"number": s.number, "start": _place(s.start), "end": _place(s.end)} for s in panel.map.seams],
        "order": _order(panel.order),
    }


def _patch(patch: Patch) -> Json:
    seam = patch.seam
    return {
        "number": patch.number,
        "label": patch.label,
        "letters": list(patch.letters),
        "section": patch.section,
        "made_of_section": patch.made_of,
        "cloth": patch.cloth,
        "area": _polygon(patch.area),
        "area_mm2": round(patch.area.area, 1),
        "template": _polygon(patch.template),
        "seam": None if seam is None else {"number": seam.number, "start": _place(seam.start), "end": _place(seam.end)},
        "lay_pose": {"template": _polygon(patch.lay_template), "rough": _polygon(patch.lay_rough)},
        "raw_edge": None if patch.raw_edge is None else [_place(p) for p in patch.raw_edge],
        "exact_cut": _cut(patch.exact),
        "rough_cut": _cut(patch.rough),
        "grain_degrees": round(patch.grain, 2),
        "cut_away": [_polygon(p) for p in patch.clips],
        "cut_away_over": list(patch.clip_covers),
    }


def _cut(cut: Cut) -> Json:
    return {
        "outline": _polygon(cut.outline),
        "width": round(cut.width, DIGITS),
        "height": round(cut.height, DIGITS),
        "worst_shortfall": round(cut.cover.worst, DIGITS),
        "chance_of_failing": round(cut.cover.chance, 6),
        "trials": cut.cover.trials,
    }


def _piece(piece: Piece) -> Json:
    return {
        "key": piece.key,
        "title": piece.title,
        "cloth": piece.cloth,
        "cut": _polygon(piece.cut),
        "sewn": None if piece.sewn is None else _polygon(piece.sewn),
        "grain_degrees": round(piece.grain, 2),
        "count": piece.count,
        "note": piece.note,
    }


def _order(order: SewingOrder) -> Json:
    return {
        "sections": [_section(s) for s in order.sections],
        "count": order.count,
        "count_exact": order.count_exact,
        "wishes": [{"wish": w.wish, "weight": w.weight, "value": w.value, "why": w.sentence} for w in order.wishes],
        "stuck": list(order.stuck),
        "search_bounded": order.bounded,
    }


def _section(section: Section) -> Json:
    return {"number": section.number, "members": [_member(m) for m in section.members]}


def _member(member: Member) -> Json:
    seam = None if member.seam is None else member.seam.number
    return {"letters": list(member.letters), "section": member.section, "seam": seam, "why": member.why}


def _hooping(build: Build, hooping: Hooping, names: list[str]) -> Json:
    times = {e.index: e for e in build.estimate.steps if e.hooping == hooping.key}
    return {
        "key": hooping.key,
        "title": hooping.title,
        "panel": hooping.panel,
        "section": hooping.section,
        "whole_minutes": _whole(build.estimate.machine_of(hooping.key), build.estimate.hands_of(hooping.key)),
        "steps": [_step(s, times.get(s.index)) for s in hooping.steps],
        "after": [_hand(h) for h in hooping.after],
        "files": [n for n in names if n.startswith(f"machine/{hooping.key}.")],
    }


def _step(step: Step, times: StepEstimate | None) -> Json:
    return {
        "index": step.index,
        "role": str(step.stitch.role),
        "title": step.stitch.title,
        "patch": step.stitch.piece,
        "seam": step.stitch.seam,
        "thread": step.stitch.thread,
        "halt": step.halt,
        "hands": [_hand(h) for h in step.hands],
        "sewn": step.stitch.sentence,
        "stitches": step.count,
        "minutes": round(times.machine, 2) if times else None,
        "hand_minutes": round(times.hands, 2) if times else None,
        "runs": [_places(r.points.tolist()) for r in step.runs],
    }


def _hand(hand: HandWork) -> Json:
    return {"kind": type(hand).__name__.lower(), "piece": getattr(hand, "piece", None), "text": hand.sentence}


def _finding(finding: Finding) -> Json:
    where = finding.where
    return {
        "code": finding.code,
        "severity": str(finding.severity),
        "message": finding.message,
        "cure": finding.cure,
        "where": {
            "path": where.path,
            "patch": where.patch,
            "line": where.line,
            "hooping": where.hooping,
            "step": where.operation,
            "point": None if where.point is None else _place(where.point),
        },
    }


def _totals(build: Build) -> Json:
    e = build.estimate
    return {
        "stitches": e.stitches,
        "halts": sum(1 for h in build.plan.hoopings for s in h.steps if s.halt),
        "machine_minutes": round(e.machine, 2),
        "hand_minutes": round(e.hands, 2),
        "assembly_minutes": round(e.assembly, 2),
        "whole_minutes": _whole(e.machine, e.hands),
        "threads": [{"thread": t.thread, "metres": round(t.metres, 2)} for t in e.threads],
        "cloths": [
            {"cloth": c.cloth, "pieces": c.pieces, "width": round(c.width, 1), "length": round(c.length, 1)}
            for c in e.cloths
        ],
    }


def _whole(machine: Minutes, hands: Minutes) -> Json:
    """Return minutes as the booklet and the command line show them."""
    return {"machine": whole_minutes(machine), "hands": whole_minutes(hands), "all": whole_minutes(machine + hands)}


def _place(point: Point) -> list[float]:
    return [round(point[0], DIGITS) + 0.0, round(point[1], DIGITS) + 0.0]


def _places(points: Iterable[Iterable[float]]) -> list[list[float]]:
    return [[round(v, DIGITS) + 0.0 for v in p] for p in points]


def _polygon(polygon: Polygon) -> Json:
    return {"outer": _ring(polygon.exterior), "holes": [_ring(r) for r in polygon.interiors]}


def _ring(ring: LinearRing) -> list[list[float]]:
    return _places(shapely.get_coordinates(ring)[:-1].tolist())
