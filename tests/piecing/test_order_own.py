from __future__ import annotations

from shapely.geometry import Point, box

from hoopwright.core.findings import Severity
from hoopwright.piecing.order import sewing_order
from hoopwright.piecing.shapes import PatchMap, SewingOrder
from tests.piecing.drawings import FOUR_SQUARES, GAPPED, STRIPS, T_OF_THREE, drawn


def letters(order: SewingOrder) -> str:
    return "".join(order.sections[-1].letters)


def test_a_valid_order_is_followed_to_the_letter() -> None:
    for own in ("CBDAE", "ABCDE", "EDCBA", "DCBEA"):
        order = sewing_order(STRIPS, own=tuple(own))
        assert letters(order) == own
        assert order.findings == ()
        assert order.count == 16


def test_a_patch_that_touches_nothing_sewn_before_is_named_with_what_must_come_before() -> None:
    order = sewing_order(STRIPS, own=tuple("ACBDE"))
    (finding,) = order.findings
    assert (finding.code, finding.severity, finding.where.patch) == ("HW221", Severity.BLOCKS, "C")
    assert "shares no seam" in finding.message
    assert "Sew B before C; this order works: A, B, C, D, E" in finding.cure
    assert letters(order) == "ABCDE"


def test_a_bent_boundary_is_refused_with_its_corner_and_seams() -> None:
    order = sewing_order(T_OF_THREE, own=tuple("CBA"))
    (finding,) = order.findings
    assert (finding.code, finding.where.patch, finding.where.point) == ("HW222", "A", (30.0, 30.0))
    assert "number 3: it meets B and C along 2 straight lines (seams 1 and 2)" in finding.message
    assert sewing_order(T_OF_THREE, own=("A", "B", "C")).findings == ()
    assert set(letters(order)) == set("ABC")
    assert sewing_order(T_OF_THREE, own=tuple(letters(order))).findings == ()


def test_a_seam_interrupted_by_a_notch_is_refused_with_the_place() -> None:
    towers = [n for n in GAPPED.letters if GAPPED.polygon(n).bounds[3] > 30]
    (base,) = set(GAPPED.letters) - set(towers)
    order = sewing_order(GAPPED, own=(towers[0], base, towers[1]))
    assert order.findings == ()
    (finding,) = sewing_order(GAPPED, own=(*towers, base)).findings
    assert (finding.code, finding.where.patch) == ("HW221", towers[1])


def test_a_seam_whose_middle_is_still_missing_is_refused() -> None:
    """The stem's two neighbours lie there, the patch between them does not."""
    five = _tee_with_three()
    own = _by_place(five, [(10, 10), (10, 50), (50, 50), (30, 50)])
    codes = [f.code for f in sewing_order(five, own=tuple(own)).findings]
    assert codes == ["HW222"]
    own = _by_place(five, [(10, 50), (30, 50), (50, 50), (10, 10)])
    assert sewing_order(five, own=tuple(own)).findings == ()


def _tee_with_three() -> PatchMap:
    return drawn(box(0, 0, 60, 60), ((0, 30), (60, 30)), ((20, 30), (20, 60)), ((40, 30), (40, 60)))


def _by_place(patch_map: PatchMap, places: list[tuple[float, float]]) -> list[str]:
    return [next(n for n in patch_map.letters if patch_map.polygon(n).contains(Point(p))) for p in places]


def test_wrong_letters_are_all_told_at_once() -> None:
    order = sewing_order(STRIPS, own=("A", "A", "X", "C", "D"))
    (finding,) = order.findings
    assert finding.code == "HW220"
    assert "names patch X, which the panel does not have" in finding.message
    assert "leaves out patches B and E" in finding.message
    assert "names patch A more than once" in finding.message
    assert order.sewable


def test_no_order_helps_where_sections_are_needed() -> None:
    order = sewing_order(FOUR_SQUARES, own=tuple("ABCD"))
    assert order.findings[0].code == "HW222"
    assert "leave the order out" in order.findings[0].cure
    assert len(order.sections) == 2


def test_an_own_order_goes_before_a_wished_first_patch() -> None:
    order = sewing_order(STRIPS, own=tuple("ABCDE"), first="C")
    assert [f.code for f in order.findings] == ["HW228"]
    assert letters(order) == "ABCDE"
    assert sewing_order(STRIPS, own=tuple("CDEBA"), first="C").findings == ()


def test_a_line_that_is_interrupted_by_a_missing_patch_is_refused_with_its_place() -> None:
    """Three patches in a row between a strip above and a strip below; the middle one is left for later."""
    between = drawn(
        box(0, 0, 60, 60), ((0, 20), (60, 20)), ((0, 40), (60, 40)), ((20, 20), (20, 40)), ((40, 20), (40, 40))
    )
    left, middle, right, above, below = _by_place(between, [(10, 30), (30, 30), (50, 30), (30, 50), (30, 10)])
    finding = sewing_order(between, own=(left, above, right, below, middle)).findings[0]
    assert (finding.code, finding.where.patch, finding.where.point) == ("HW223", below, (20.0, 20.0))
    assert f"patch {middle} is not there yet" in finding.message
    assert f"Sew {middle} before {below}" in finding.cure
