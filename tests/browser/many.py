"""A panel of 60 pieces of about the size of two thumbs: slices cut off round a middle, one after the other."""

from __future__ import annotations

import math
from typing import Final

WIDE: Final = 260.0
HIGH: Final = 160.0
PIECES: Final = 60
GOLDEN: Final = math.pi * (3 - math.sqrt(5))

Point = tuple[float, float]


def cuts(pieces: int = PIECES) -> list[tuple[Point, Point]]:
    """Return cuts that take slices of one size off the middle, each turned by the golden angle from the one before.

    The middle stays on the left-hand side of every cut, so each slice is done when the next is cut off: a panel that can be
    sewn from the middle outwards.
    """
    middle: list[Point] = [(-WIDE / 2, -HIGH / 2), (WIDE / 2, -HIGH / 2), (WIDE / 2, HIGH / 2), (-WIDE / 2, HIGH / 2)]
    found = []
    for k in range(pieces - 1):
        angle = GOLDEN * k
        along = (-math.sin(angle), math.cos(angle))
        near, far = 0.0, WIDE
        while far - near > 1e-6:
            off = (near + far) / 2
            kept, _ = sliced(middle, (off * math.cos(angle), off * math.sin(angle)), along)
            near, far = (off, far) if area(middle) - area(kept) > WIDE * HIGH / pieces else (near, off)
        middle, cut = sliced(middle, (near * math.cos(angle), near * math.sin(angle)), along)
        found.append(cut)
    return found


def area(shape: list[Point]) -> float:
    """Return the area of a shape (shoelace formula)."""
    return (
        abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(shape, shape[1:] + shape[:1], strict=True))) / 2
        if shape
        else 0.0
    )


def sliced(shape: list[Point], at: Point, along: Point) -> tuple[list[Point], tuple[Point, Point]]:
    """Return what lies to the left of a line across a shape without hollows, and the line from edge to edge of it."""

    def off(p: Point) -> float:
        return along[0] * (p[1] - at[1]) - along[1] * (p[0] - at[0])

    kept: list[Point] = []
    met: list[Point] = []
    for a, b in zip(shape, shape[1:] + shape[:1], strict=True):
        if off(a) >= 0:
            kept.append(a)
        if off(a) * off(b) < 0:
            part = off(a) / (off(a) - off(b))
            met.append((a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part))
            kept.append(met[-1])
    if not met:
        return kept, (at, at)
    one, two = sorted(met, key=lambda p: along[0] * p[0] + along[1] * p[1])
    return kept, (one, two)


def text() -> str:
    """Return the project file."""
    rows = ",\n".join(f"  [[{a[0]:.2f}, {a[1]:.2f}], [{b[0]:.2f}, {b[1]:.2f}]]" for a, b in cuts())
    return f"""schema = 1
title = "Sixty slices"

[hoop]
field = "360x200"

[cloths.sailcloth]
name = "unbleached sailcloth"
colour = "#d9ccae"

[cloths.indigo]
name = "indigo twill"
colour = "#2f4468"

[threads.chalk]
name = "chalk white"
colour = "#f4f1e6"

[threads.slate]
name = "slate"
colour = "#56606b"

[panel.outline]
shape = "rectangle"
width = {WIDE:g}
height = {HIGH:g}

[panel.patchwork]
way = "cuts"
cuts = [
{rows},
]
"""


SIXTY: Final = text()
