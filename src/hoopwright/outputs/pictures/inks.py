"""Colours of the pictures and what is mixed from them; everything also differs in lightness or pattern."""

from __future__ import annotations

from typing import Final

from hoopwright.core.colour import channels_of
from hoopwright.items.plan import Plan
from hoopwright.outputs.drawing.shapes import Paint

INK: Final = "#22262b"
"""Outlines, numbers, words."""
FAINT: Final = "#7c828a"
"""What was sewn before."""
WHITE: Final = "#ffffff"
HOOP: Final = "#c9cdd2"
FOUNDATION: Final = "#f6f3ea"
FIELD: Final = "#a9aeb5"
CUT: Final = "#c02626"
"""Scissors and what they cut away."""
HAND: Final = "#0b5c8f"
"""Arrows: what hands fold."""


def mix(one: Paint, other: Paint, share: float) -> Paint:
    """Return ``one`` with a ``share`` (0-1) of ``other`` in it."""
    parts = (round(a + (b - a) * share) for a, b in zip(channels_of(one), channels_of(other), strict=True))
    return "#" + "".join(f"{p:02x}" for p in parts)


def lightness(paint: Paint) -> float:
    """Return the relative luminance of a colour by the sRGB weights without gamma, 0 black to 1 white."""
    r, g, b = channels_of(paint)
    return (0.2126 * r + 0.7152 * g + 0.0722 * b) / 255.0


def edge_of(paint: Paint) -> Paint:
    """Return a darker relative of a cloth's colour for its edge."""
    return mix(paint, INK, 0.62)


def wrong_side(paint: Paint) -> Paint:
    """Return the pale tint a cloth's wrong side is drawn in."""
    return mix(paint, WHITE, 0.68)


def cloth_paint(plan: Plan, key: str) -> Paint:
    """Return the colour of a cloth; a pieced section has no cloth of its own and is drawn in a neutral tone."""
    cloth = plan.project.cloths.get(key)
    return cloth.colour.lower() if cloth else "#cfc8bb"


def thread_paint(plan: Plan, key: str) -> Paint:
    """Return the colour of a thread, ink for one the project does not know."""
    thread = plan.project.threads.get(key)
    return thread.colour.lower() if thread else INK
