from __future__ import annotations

from hoopwright.checks.field import inside_field
from hoopwright.checks.holes import holes_not_too_dense
from hoopwright.checks.lengths import stitch_lengths
from hoopwright.checks.numerals import numbers_can_be_read
from hoopwright.checks.rules import RULES, check
from hoopwright.core.findings import Severity
from hoopwright.operations.vocabulary import Role
from tests.checks.hand_made import patch_number, plan_of


def straight(length: float, count: int = 8) -> list[tuple[float, float]]:
    """A run with locks at both ends and ``count`` stitches of ``length``."""
    end = length * count
    middle = [(length * i, 0.0) for i in range(1, count)]
    return [(0, 0), (0.5, 0), (0, 0), *middle, (end, 0), (end - 0.5, 0), (end, 0)]


def test_a_sound_run_has_no_finding() -> None:
    assert check(plan_of(straight(2.5))) == ()


def test_the_field_less_its_margin_is_the_limit() -> None:
    assert inside_field(plan_of([(47.0, 0), (0, -47.0)])) == ()
    (finding,) = inside_field(plan_of([(0, 0), (30, 0)], [(0, 0), (47.2, 0), (0, -48.5)]))
    assert finding.code == "HW601"
    assert finding.severity is Severity.BLOCKS
    assert finding.where.operation == 2
    assert finding.where.point == (0, -48.5)
    assert "1.5 mm past" in finding.message


def test_long_and_short_stitches_are_found_but_locks_are_not() -> None:
    assert stitch_lengths(plan_of(straight(7.0))) == ()
    assert [f.code for f in stitch_lengths(plan_of(straight(7.2)))] == ["HW602"]
    assert [f.code for f in stitch_lengths(plan_of(straight(0.8)))] == ["HW603"]


def test_dense_holes_are_found_and_repeated_holes_are_not() -> None:
    square = [(0.3 * i, 0.3 * j) for i in range(12) for j in range(12)]
    (finding,) = holes_not_too_dense(plan_of(square))
    assert finding.code == "HW604"
    over_and_over = [(2.5 * (i % 2), 0.0) for i in range(400)]
    assert holes_not_too_dense(plan_of(over_and_over)) == ()


def test_four_holes_a_square_millimetre_is_the_limit() -> None:
    spaced = [(0.5 * i + 0.2, 0.5 * j + 0.2) for i in range(20) for j in range(20)]
    assert holes_not_too_dense(plan_of(spaced)) == ()
    closer = [(0.4 * i, 0.4 * j) for i in range(20) for j in range(20)]
    assert holes_not_too_dense(plan_of(closer)) != ()


def test_a_patch_without_room_for_its_number_is_named() -> None:
    numerals = (patch_number("1", 40, 40), patch_number("2", 40, 4))
    (finding,) = numbers_can_be_read(plan_of(straight(2.5), role=Role.LAYOUT, numerals=numerals))
    assert "Patch 2" in finding.message
    assert finding.severity is Severity.NOTES


def test_every_rule_accepts_an_empty_plan() -> None:
    empty = plan_of()
    assert [rule(empty) for rule in RULES] == [()] * len(RULES)


def test_the_cure_of_a_short_stitch_speaks_of_its_block() -> None:
    (finding,) = stitch_lengths(plan_of(straight(0.8)))
    assert "seam stitch" not in finding.cure
