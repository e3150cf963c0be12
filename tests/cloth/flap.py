"""The demo's plan, and ways of spoiling its hooping: each returns the hooping with one thing changed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import shapely
from shapely.affinity import translate
from shapely.geometry import LineString

from hoopwright.core.types import frozen_points
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping, Run, Step
from hoopwright.operations.vocabulary import Face, Flip, HandWork, Lay, Role, Trim
from hoopwright.pipeline import plan
from hoopwright.project.load import load
from hoopwright.project.schema import Project

FLAP = Path(__file__).parents[2] / "examples" / "tide-mill-flap" / "project.toml"


@cache
def flap() -> Plan:
    """Return the plan of the demo's flap."""
    return plan(load(FLAP).project)


@cache
def notched() -> Plan:
    """Return the plan of a panel with a slot between two towers, narrower than two allowances."""
    ring = [(-40, -30), (40, -30), (40, 30), (2.5, 30), (2.5, 0), (-2.5, 0), (-2.5, 30), (-40, 30)]
    cuts = [[(-2.5, 0), (-40, 0)], [(40, 5), (2.5, 5)]]
    project = Project.model_validate(
        {
            "schema": 1,
            "title": "Two towers",
            "cloths": {
                "ochre": {"name": "ochre", "colour": "#cc983d"},
                "indigo": {"name": "indigo", "colour": "#2c4266"},
            },
            "threads": {"slate": {"name": "slate", "colour": "#56606b"}},
            "panel": {
                "outline": {"shape": "polygon", "points": ring},
                "patchwork": {"way": "cuts", "cuts": cuts},
                "order": ["A", "B", "C"],
            },
        }
    )
    return plan(project)


def with_hands(hooping: Hooping, change: Callable[[HandWork], HandWork | None]) -> Hooping:
    """Return the hooping with every piece of hand work changed, or left out where ``change`` gives None."""
    steps = tuple(replace(s, hands=tuple(n for h in s.hands if (n := change(h)) is not None)) for s in hooping.steps)
    return replace(hooping, steps=steps)


def without_flip(hooping: Hooping, piece: str) -> Hooping:
    return with_hands(hooping, lambda h: None if isinstance(h, Flip) and h.piece == piece else h)


def with_face(hooping: Hooping, piece: str, face: Face) -> Hooping:
    return with_hands(hooping, lambda h: replace(h, face=face) if isinstance(h, Lay) and h.piece == piece else h)


def with_pose(hooping: Hooping, piece: str, pose: Callable[[shapely.Polygon], shapely.Polygon]) -> Hooping:
    def change(hand: HandWork) -> HandWork:
        return replace(hand, pose=pose(hand.pose)) if isinstance(hand, Lay) and hand.piece == piece else hand

    return with_hands(hooping, change)


def shifted(hooping: Hooping, piece: str, along: float, across: float) -> Hooping:
    """Move a cloth before it is sewn: along its seam, and across it towards the side it will be flipped to."""
    patch = next(p for p in flap().panels[0].patches if p.label == piece)
    assert patch.seam is not None
    way = np.subtract(patch.seam.end, patch.seam.start)
    way = way / np.hypot(*way)
    move = along * way + across * np.array([-way[1], way[0]])
    return with_pose(hooping, piece, lambda pose: translate(pose, *move))


def with_step(hooping: Hooping, index: int, change: Callable[[Step], Step]) -> Hooping:
    return replace(hooping, steps=tuple(change(s) if s.index == index else s for s in hooping.steps))


def seam_step(hooping: Hooping, piece: str) -> Step:
    return next(s for s in hooping.steps if s.stitch.role is Role.SEAM and s.stitch.piece == piece)


def moved_seam(hooping: Hooping, piece: str, across: float) -> Hooping:
    """Sew a seam beside its line, on the side the patch is flipped to."""
    patch = next(p for p in flap().panels[0].patches if p.label == piece)
    assert patch.seam is not None
    way = np.subtract(patch.seam.end, patch.seam.start)
    off = across * np.array([-way[1], way[0]]) / np.hypot(*way)

    def change(step: Step) -> Step:
        runs = tuple(Run(frozen_points(r.points + off)) for r in step.runs)
        paths = tuple(LineString(np.asarray(p.coords) + off) for p in step.stitch.paths)
        return replace(step, runs=runs, stitch=replace(step.stitch, paths=paths))

    return with_step(hooping, seam_step(hooping, piece).index, change)


def swapped_lays(hooping: Hooping, one: str, other: str) -> Hooping:
    """Lay one cloth where the other should be laid, and the other way round."""
    lays = {h.piece: h for s in hooping.steps for h in s.hands if isinstance(h, Lay)}
    other_of = {one: other, other: one}
    return with_hands(hooping, lambda h: lays[other_of[h.piece]] if isinstance(h, Lay) and h.piece in other_of else h)


def without_clips(hooping: Hooping, piece: str) -> Hooping:
    """Leave out the cutting back of an allowance that would cover a visible patch."""
    return with_hands(hooping, lambda h: None if isinstance(h, Trim) and h.piece == piece and h.away is not None else h)


def early_lay(hooping: Hooping, piece: str, before: str) -> Hooping:
    """Lay a cloth already in the halt before the seam of another."""
    (lay,) = (h for s in hooping.steps for h in s.hands if isinstance(h, Lay) and h.piece == piece)
    left = with_hands(hooping, lambda h: None if h is lay else h)
    return with_step(left, seam_step(hooping, before).index, lambda s: replace(s, hands=(*s.hands, lay)))


def longer_seam(hooping: Hooping, piece: str, by: float) -> Hooping:
    """Sew a seam on past both its ends."""

    def change(step: Step) -> Step:
        points = step.runs[0].points
        way = (points[-1] - points[0]) / np.hypot(*(points[-1] - points[0]))
        longer = np.concatenate([[points[0] - by * way], points, [points[-1] + by * way]])
        return replace(step, runs=(Run(frozen_points(longer)),))

    return with_step(hooping, seam_step(hooping, piece).index, change)


def without_seam(hooping: Hooping, piece: str) -> Hooping:
    return with_step(
        hooping, seam_step(hooping, piece).index, lambda s: replace(s, stitch=replace(s.stitch, role=Role.BASTE))
    )


def cut_more(hooping: Hooping, piece: str, away: shapely.Polygon, before: str) -> Hooping:
    """Cut a region off a cloth in the halt before the seam of another."""
    trim = Trim(piece, away, "Cut.")
    return with_step(hooping, seam_step(hooping, before).index, lambda s: replace(s, hands=(trim, *s.hands)))


def other_order(hooping: Hooping, one: str, other: str) -> Hooping:
    """Do all that concerns one patch where the other's turn is, and the other way round."""
    work: list[HandWork | Step] = [w for s in hooping.steps for w in (*s.hands, replace(s, hands=()))]
    group = {p: [w for w in work if _piece(w) == p] for p in (one, other)}
    swapped: list[HandWork | Step] = []
    for w in work:
        piece = _piece(w)
        if piece not in group:
            swapped.append(w)
        elif w is group[piece][0]:
            swapped += group[other if piece == one else one]
    return _in_steps(hooping, swapped)


def _piece(work: HandWork | Step) -> str | None:
    if isinstance(work, Step):
        return work.stitch.piece
    return getattr(work, "piece", None)


def _in_steps(hooping: Hooping, work: list[HandWork | Step]) -> Hooping:
    steps: list[Step] = []
    hands: list[HandWork] = []
    for w in work:
        if isinstance(w, Step):
            steps.append(replace(w, index=len(steps) + 1, hands=tuple(hands)))
            hands = []
        else:
            hands.append(w)
    return replace(hooping, steps=tuple(steps), after=(*hands, *hooping.after))
