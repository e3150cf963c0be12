"""What spoils cloth or thread is told, each fault by its own finding; what only nearly does is not."""

from __future__ import annotations

import math

import pytest

from hoopwright.checks.rules import check
from hoopwright.core.findings import Severity
from tests.checks.drawn import CASES, Case
from tests.checks.hand_made import plan_of

ALSO = {"HW615": {"HW612"}, "HW614": {"HW604"}, "HW609": {"HW604"}, "HW611": set[str]()}
"""What a fault brings with it: threads over a wide column are long, too."""


@pytest.mark.parametrize("case", [c for c in CASES if c.code], ids=lambda c: c.title)
def test_a_fault_is_told(case: Case) -> None:
    findings = check(plan_of(*case.rows, role=case.role))
    assert case.code in {f.code for f in findings}
    assert {f.code for f in findings} - ALSO.get(case.code or "", set()) == {case.code}
    (found,) = (f for f in findings if f.code == case.code)
    assert found.severity in (Severity.WARNS, Severity.BLOCKS)
    assert found.cure and found.where.hooping == "panel" and found.where.operation is not None
    if case.at is not None:
        assert found.where.point is not None and math.dist(found.where.point, case.at) <= case.near


@pytest.mark.parametrize("case", [c for c in CASES if c.code is None], ids=lambda c: c.title)
def test_a_near_miss_is_not_told(case: Case) -> None:
    assert check(plan_of(*case.rows, role=case.role)) == ()


def test_every_rule_about_stitches_has_a_case() -> None:
    assert {c.code for c in CASES if c.code} >= {f"HW6{n:02d}" for n in (4, 8, 9, 10, 11, 12, 13, 14, 15)}
