"""The proofs of a whole item: every hooping and the handwork after it, carried out on the stack."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from hoopwright.cloth.course import Course, courses_of
from hoopwright.cloth.item_foot import goes_under_the_foot
from hoopwright.cloth.item_halts import halts_are_right, zips_are_open
from hoopwright.cloth.item_laying import caught_at_its_ends_only, fits_the_hoop, folds_stay_free, held_below
from hoopwright.cloth.item_opening import handwork_can_be_done, openings_are_fit
from hoopwright.cloth.item_outside import edges_are_bound, looks_right
from hoopwright.cloth.item_seams import (
    cloth_past_the_seam,
    holds_nothing_else,
    holds_what_it_must,
    no_stiffener_in_a_seam,
)
from hoopwright.cloth.item_topology import keeps_its_promise
from hoopwright.core.findings import Finding
from hoopwright.items.plan import Plan

ItemProof = Callable[[Course], tuple[Finding, ...]]

SEWING: Final[tuple[ItemProof, ...]] = (
    handwork_can_be_done,
    halts_are_right,
    zips_are_open,
    holds_what_it_must,
    holds_nothing_else,
    no_stiffener_in_a_seam,
    cloth_past_the_seam,
    fits_the_hoop,
    caught_at_its_ends_only,
    folds_stay_free,
    held_below,
    openings_are_fit,
    edges_are_bound,
    goes_under_the_foot,
)
"""Proofs of how it is sewn."""

OUTCOME: Final[tuple[ItemProof, ...]] = (keeps_its_promise, looks_right)
"""Proofs of what comes of it, each left out when one before shows that nothing can come of it."""

ROOTS: Final = frozenset({"HW530", "HW540", "HW541", "HW550", "HW573", "HW574"})
"""Something is not held at all or cannot be turned: what is wrong with the look of such work only follows from that."""


def prove_item(plan: Plan) -> tuple[Finding, ...]:
    """Return what is wrong with an item, found by carrying out every hooping and its assembly on the sheet stack.

    What pieces a panel is left to prove_panel. What only follows from a seam that misses its piece, or from work that cannot be
    turned, is left out.
    """
    return tuple(finding for course in courses_of(plan) for finding in _proved(course))


def _proved(course: Course) -> tuple[Finding, ...]:
    found = tuple(finding for proof in SEWING for finding in proof(course))
    for proof in OUTCOME:
        if not any(f.code in ROOTS for f in found):
            found = (*found, *proof(course))
    return found
