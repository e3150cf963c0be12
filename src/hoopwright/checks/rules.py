"""The list of rules, and the function that carries them all out."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from hoopwright.checks.accents import accents_hold_together
from hoopwright.checks.build_up import thread_not_piled_up
from hoopwright.checks.columns import columns_sew_well
from hoopwright.checks.compensation import pull_is_allowed_for
from hoopwright.checks.field import inside_field
from hoopwright.checks.holes import holes_not_too_dense
from hoopwright.checks.lengths import no_rows_of_tiny_stitches, stitch_lengths
from hoopwright.checks.numerals import numbers_can_be_read, numbers_do_not_show_through
from hoopwright.checks.perforation import rows_do_not_tear
from hoopwright.checks.threads import threads_are_seen
from hoopwright.checks.turns import thread_does_not_nest
from hoopwright.core.findings import Finding
from hoopwright.items.plan import Plan

Rule = Callable[[Plan], tuple[Finding, ...]]

RULES: Final[tuple[Rule, ...]] = (
    inside_field,
    stitch_lengths,
    no_rows_of_tiny_stitches,
    holes_not_too_dense,
    rows_do_not_tear,
    thread_not_piled_up,
    thread_does_not_nest,
    columns_sew_well,
    pull_is_allowed_for,
    accents_hold_together,
    numbers_can_be_read,
    numbers_do_not_show_through,
    threads_are_seen,
)


def check(plan: Plan) -> tuple[Finding, ...]:
    """Return what every rule finds, in the order of the rules."""
    return tuple(finding for rule in RULES for finding in rule(plan))
