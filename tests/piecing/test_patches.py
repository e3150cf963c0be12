from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Polygon, box

from hoopwright.core.findings import Finding, Severity
from hoopwright.piecing.laying import mirrored
from hoopwright.piecing.patches import patches_of
from hoopwright.piecing.shapes import Patch, PatchMap, SewingOrder
from hoopwright.project.schema import PiecingModel
from tests.piecing.patch_makers import CLOTHS, TWO_CUTS, all_of, letter_at, order_of, patch_map

ALLOWANCE = 6.35


def made(
    panel: PatchMap, order: SewingOrder, cloth: str = "sail", **piecing: float
) -> tuple[tuple[Patch, ...], tuple[Finding, ...]]:
    return patches_of(panel, order, all_of(panel, cloth), CLOTHS, PiecingModel.model_validate(piecing))


def codes(found: tuple[Finding, ...]) -> list[str]:
    return [f.code for f in found]


@pytest.fixture
def three() -> tuple[PatchMap, SewingOrder]:
    """A panel of 100 x 80 mm: a slanting cut, and another from it to the right; the left patch is sewn last."""
    panel = patch_map(box(-50, -40, 50, 40), TWO_CUTS)
    low, top, left = letter_at(panel, 20, -20), letter_at(panel, 0, 30), letter_at(panel, -45, 0)
    return panel, order_of(panel, (low, top, left))


def grid() -> tuple[PatchMap, SewingOrder]:
    """Four squares: two rows pieced apart, the second laid on the first as one."""
    panel = patch_map(box(-40, -40, 40, 40), [((0, -50), (0, 50)), ((-50, 0), (50, 0))])
    a, b, c, d = (letter_at(panel, x, y) for y in (20, -20) for x in (-20, 20))
    return panel, order_of(panel, (a, b), (c, d, 1))


def teeth(gap: float) -> tuple[PatchMap, SewingOrder]:
    """A spine with two teeth, ``gap`` mm apart; the right tooth is sewn last."""
    right = 40 + gap
    outline = Polygon(
        [(0, -30), (right + 40, -30), (right + 40, 40), (right, 40), (right, 0), (40, 0), (40, 40), (0, 40)]
    )
    panel = patch_map(outline, [((0, 0), (40, 0)), ((right, 0), (right + 40, 0))])
    spine, one, two = letter_at(panel, 20, -15), letter_at(panel, 20, 20), letter_at(panel, right + 20, 20)
    return panel, order_of(panel, (spine, one, two))


def test_numbers_and_letters_follow_the_order(three: tuple[PatchMap, SewingOrder]) -> None:
    patches, found = made(*three)
    assert [p.number for p in patches] == [1, 2, 3]
    assert tuple(p.label for p in patches) == three[1].sections[0].letters
    assert {p.cloth for p in patches} == {"sail"}
    assert not found


def test_flipped_cloth_covers_area_and_allowance(three: tuple[PatchMap, SewingOrder]) -> None:
    for patch in made(*three)[0]:
        for laid in (patch.lay_template, patch.lay_rough):
            opened = mirrored(laid, patch.seam).buffer(0.01)
            assert opened.covers(patch.area.buffer(ALLOWANCE))


def test_before_flipping_the_cloth_lies_on_the_earlier_patches_but_for_its_allowance(
    three: tuple[PatchMap, SewingOrder],
) -> None:
    for patch in made(*three)[0][1:]:
        assert patch.seam is not None
        start, end = np.array(patch.seam.start), np.array(patch.seam.end)
        along = (end - start) / np.hypot(*(end - start))
        heights = (shapely.get_coordinates(patch.lay_rough.exterior) - start) @ np.array([-along[1], along[0]])
        assert heights.max() == pytest.approx(ALLOWANCE)
        assert heights.min() < -ALLOWANCE
        assert patch.raw_edge is not None
        assert patch.lay_rough.exterior.buffer(1e-6).covers(LineString(patch.raw_edge))


def test_first_patch_lies_as_it_is(three: tuple[PatchMap, SewingOrder]) -> None:
    first = made(*three)[0][0]
    assert first.lay_template is first.template
    assert first.raw_edge is None
    assert first.seam is None


def test_grain_runs_along_the_seam_and_up_where_the_cloth_has_an_up(three: tuple[PatchMap, SewingOrder]) -> None:
    plain, velvet = made(*three)[0], made(*three, cloth="reed")[0]
    assert [p.grain for p in velvet] == [90.0, 90.0, 90.0]
    assert plain[0].grain == 90.0
    assert plain[1].grain == pytest.approx(math.degrees(math.atan2(20, 81)), abs=1e-3)
    assert plain[2].grain == pytest.approx(math.degrees(math.atan2(120, 20)), abs=1e-3)


def test_exact_cut_is_the_template_with_its_size_along_the_seam(three: tuple[PatchMap, SewingOrder]) -> None:
    for patch in made(*three)[0]:
        assert patch.exact.outline is patch.template
        assert patch.rough.width >= patch.exact.width
        assert patch.rough.height >= patch.exact.height


def test_a_section_is_laid_as_one_with_number_0() -> None:
    panel, order = grid()
    patches, _ = made(panel, order)
    assert [p.number for p in patches] == [1, 2, 3, 4, 0]
    whole = patches[-1]
    assert (whole.label, whole.made_of, whole.section, whole.cloth) == ("S1", 1, 2, "")
    assert whole.letters == order.sections[0].letters
    assert whole.area.equals(box(-40, 0, 40, 40))
    assert whole.template.bounds == pytest.approx((-46.35, -6.35, 46.35, 46.35))
    assert whole.rough is whole.exact
    assert whole.grain == 0.0
    assert all(p.made_of is None for p in patches[:-1])


def test_allowance_over_a_visible_patch_is_marked_and_told() -> None:
    panel, order = teeth(gap=2.0)
    patches, found = made(panel, order)
    last = patches[-1]
    assert codes(found) == ["HW240"]
    assert last.clip is not None
    assert last.clip.bounds == pytest.approx((42 - ALLOWANCE, 0, 40, 40))
    assert last.clip_covers == (patches[1].label,)
    assert last.clips == (last.clip,)
    assert f"patch {patches[1].label}" in found[0].cure
    assert all(p.clip is None for p in patches[:-1])


def test_wide_gap_needs_no_trimming() -> None:
    patches, found = made(*teeth(gap=2 * ALLOWANCE))
    assert not found
    assert all(p.clip is None for p in patches)


def test_patch_behind_its_own_seam_line_is_to_be_snipped() -> None:
    """An L-shaped patch round the end of an earlier one that stops at a notch of the outline."""
    outline = Polygon([(0, -30), (40, -30), (40, 0), (50, 0), (50, -30), (80, -30), (80, 40), (0, 40)])
    panel = patch_map(outline, [((0, 0), (40, 0))])
    order = order_of(panel, (letter_at(panel, 20, -15), letter_at(panel, 20, 20)))
    _, found = made(panel, order)
    assert "HW241" in codes(found)
    assert all(f.severity is Severity.WARNS for f in found)


def test_narrow_patch_is_told_with_its_width() -> None:
    panel = patch_map(box(-50, -40, 50, 40), [((-60, 0), (60, 0)), ((-60, 5), (60, 5))])
    order = order_of(panel, tuple(letter_at(panel, 0, y) for y in (-20, 2, 20)))
    found = made(panel, order)[1]
    assert codes(found) == ["HW242"]
    assert "5.0 mm" in found[0].message


def test_careless_laying_is_told_for_the_cut_that_is_wanted(three: tuple[PatchMap, SewingOrder]) -> None:
    panel, order = three
    for cut, wanted in (("templates", {"HW243"}), ("rough", {"HW244"}), ("both", {"HW243", "HW244"})):
        model = PiecingModel.model_validate({"shift": 6.0, "turn": 5.0, "cut": cut})
        assert set(codes(patches_of(panel, order, all_of(panel), CLOTHS, model)[1])) == wanted


def test_the_same_again_gives_the_same(three: tuple[PatchMap, SewingOrder]) -> None:
    one, other = (made(*three, shift=3.0, turn=3.0)[0] for _ in range(2))
    assert [p.rough.outline.wkb for p in one] == [p.rough.outline.wkb for p in other]
    assert [p.rough.cover.chance for p in one] == [p.rough.cover.chance for p in other]


def test_a_patch_without_cloth_is_the_callers_mistake(three: tuple[PatchMap, SewingOrder]) -> None:
    with pytest.raises(KeyError):
        patches_of(*three, {}, CLOTHS, PiecingModel())
