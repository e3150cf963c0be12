"""A pieced panel that is laid like one cloth in a later hooping: how its own frame comes to lie in the hoop."""

from __future__ import annotations

from typing import Final

from shapely.geometry import Polygon

from hoopwright.cloth.placing import AS_LAID, Placing
from hoopwright.core.types import Mm2
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Face, Lay
from hoopwright.piecing.shapes import PiecedPanel

TURNS: Final = (
    Placing(1.0, 0.0, 0.0, 1.0, 0.0, 0.0),
    Placing(-1.0, 0.0, 0.0, -1.0, 0.0, 0.0),
    Placing(0.0, -1.0, 1.0, 0.0, 0.0, 0.0),
    Placing(0.0, 1.0, -1.0, 0.0, 0.0, 0.0),
)
"""As it was pieced, upside down, a quarter to the left, a quarter to the right."""

OVER: Final = Placing(1.0, 0.0, 0.0, -1.0, 0.0, 0.0)
"""Turned over like a page of a wall calendar."""

ALIKE: Final = 0.1
"""A panel is recognized when its outline misses the laid one by less than this share of the area."""


def laid_panel(plan: Plan, hooping: Hooping, piece: str) -> tuple[PiecedPanel, Placing] | None:
    """Return the pieced panel laid as ``piece``, and how its frame lay in the hoop when it was laid.

    The way it was turned is found by its outline; None when ``piece`` is no panel or lies in no such way.
    """
    panel = next((p for p in plan.panels if p.key == piece and p.key != hooping.panel), None)
    lay = next((h for s in hooping.steps for h in s.hands if isinstance(h, Lay) and h.piece == piece), None)
    if panel is None or lay is None:
        return None
    cut = panel.outline.buffer(plan.project.piecing.allowance, join_style="mitre", mitre_limit=2.0)
    first = OVER if lay.face is Face.DOWN else AS_LAID
    found = [_moved_to(turn.after(first), cut, lay.pose) for turn in TURNS]
    misses = [_miss(p, cut, lay.pose) for p in found]
    best = min(range(len(found)), key=lambda k: (round(misses[k], 3), k))
    return (panel, found[best]) if misses[best] < ALIKE * lay.pose.area else None


def _moved_to(turn: Placing, cut: Polygon, pose: Polygon) -> Placing:
    """Return a turn followed by the move that lays the middle of the box of ``cut`` on that of ``pose``."""
    (x, y), (u, v) = _middle(turn.shape(cut)), _middle(pose)
    return Placing(turn.a, turn.b, turn.c, turn.d, turn.x0 + u - x, turn.y0 + v - y)


def _middle(shape: Polygon) -> tuple[float, float]:
    left, low, right, high = shape.bounds
    return (left + right) / 2, (low + high) / 2


def _miss(placing: Placing, cut: Polygon, pose: Polygon) -> Mm2:
    return float(placing.shape(cut).symmetric_difference(pose).area)
