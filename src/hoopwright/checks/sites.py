"""Whose stitches a finding is about, and what can be done about them."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from hoopwright.core.findings import Where
from hoopwright.core.types import Point
from hoopwright.items.plan import Plan
from hoopwright.needle.needlework import Needlework
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Role

LOOSER: Final = {
    Role.ORNAMENT: "Choose a wider or more open seam stitch there, or leave one of the seams that meet there plain.",
    Role.GROUND: "Choose a wider spacing for the ground, or a larger margin.",
    Role.LETTERING: "Make the letters larger, or choose a font with broader strokes.",
    Role.PLACED: "Move the stitch file off what is sewn there, or have it made with fewer stitches.",
    Role.ACCENT: "Make the accent larger, or move it off what is sewn there.",
    Role.EDGE: "Give the satin edge a wider spacing, or rounder corners.",
}
"""What to do where too much is sewn on one spot, by what most of it is for."""

PLAIN: Final = "Move the lines that meet there apart; longer stitches help too."


def looser(role: Role) -> str:
    """Return what to do about too much on one spot when most of it has this role."""
    return LOOSER.get(role, PLAIN)


def on_cloth(plan: Plan) -> tuple[Hooping, ...]:
    """Return the hoopings in which cloth lies that holes could cut: accents are sewn on a base that is taken away."""
    return tuple(h for h in plan.hoopings if any(s.stitch.role is not Role.ACCENT for s in h.steps))


def where(work: Needlework, positions: NDArray[np.intp], place: Point) -> tuple[Where, Role]:
    """Return a place with the step that most of these needle positions belong to, the last of several, and its role."""
    counts = np.bincount(work.step[positions], minlength=len(work.hooping.steps))
    number = len(counts) - 1 - int(np.argmax(counts[::-1]))
    step = work.hooping.steps[number]
    at = (round(place[0], 1), round(place[1], 1))
    return Where(operation=step.index, point=at, hooping=work.hooping.key), step.stitch.role
