"""The list of rules, and the function that carries them all out."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from hoopwright.checks.field import inside_field
from hoopwright.checks.holes import holes_not_too_dense
from hoopwright.checks.lengths import stitch_lengths
from hoopwright.checks.numerals import numbers_can_be_read, numbers_do_not_show_through
from hoopwright.checks.threads import threads_are_seen
from hoopwright.core.findings import Finding
from hoopwright.items.plan import Plan

Rule = Callable[[Plan], tuple[Finding, ...]]

RULES: Final[tuple[Rule, ...]] = (
    inside_field,
    stitch_lengths,
    holes_not_too_dense,
    numbers_can_be_read,
    numbers_do_not_show_through,
    threads_are_seen,
)


def check(plan: Plan) -> tuple[Finding, ...]:
    """Return what every rule finds, in the order of the rules."""
    return tuple(finding for rule in RULES for finding in rule(plan))
