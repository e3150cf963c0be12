from __future__ import annotations

import math
import time

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import split

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
    patches, found = made(panel, order)
    assert codes(found) == ["HW241"]
    assert found[0].severity is Severity.WARNS
    assert patches[1].rough is patches[1].exact
    assert patches[1].raw_edge == ((-ALLOWANCE, ALLOWANCE), (50 - ALLOWANCE, ALLOWANCE))


@pytest.mark.parametrize("bend", [0.02, -0.02])
def test_a_seam_that_bends_by_less_than_a_machine_step_counts_as_straight(bend: float) -> None:
    panel = patch_map(box(-50, -40, 50, 40), [((-50, 0), (0, bend)), ((0, bend), (50, 0)), ((0, bend), (0, 40))])
    right, left, low = (letter_at(panel, x, y) for x, y in ((20, 20), (-20, 20), (0, -20)))
    assert not made(panel, order_of(panel, (left, right, low)))[1]


def random_slices(seed: int, count: int) -> tuple[PatchMap, SewingOrder]:
    """Cut slices off a rounded panel with chords, always from what remains; sewn in the opposite order."""
    dice = np.random.default_rng(seed)
    outline = box(-30, -20, 30, 20).buffer(15)
    rest: BaseGeometry = outline
    cuts, places = [], []
    for _ in range(count):
        way = dice.random() * 2 * math.pi
        along, middle = np.array([math.cos(way), math.sin(way)]), shapely.get_coordinates(rest.centroid)[0]
        foot = middle + np.array([-along[1], along[0]]) * math.sqrt(rest.area) * dice.uniform(0.1, 0.35)
        line = LineString([foot - 300 * along, foot + 300 * along])
        chord = shapely.get_coordinates(rest.intersection(line))
        reach = (chord[1] - chord[0]) / np.hypot(*(chord[1] - chord[0])) * 5e-4
        cuts.append((tuple((chord[0] - reach).tolist()), tuple((chord[1] + reach).tolist())))
        parts = sorted(split(rest, line).geoms, key=lambda p: p.contains(rest.centroid))
        places.append(parts[0].representative_point())
        rest = parts[1]
    panel = patch_map(outline, cuts)
    return panel, order_of(panel, [letter_at(panel, p.x, p.y) for p in (rest.representative_point(), *places[::-1])])


@pytest.mark.parametrize("seed", range(12))
def test_random_slices_are_covered_by_both_cuts_and_hide_nothing(seed: int) -> None:
    panel, order = random_slices(seed, 5)
    patches, found = made(panel, order, shift=1.5, turn=2.0)
    assert len(patches) == 6
    assert not {"HW240", "HW241"} & set(codes(found))
    for patch in patches:
        flipped = mirrored(patch.lay_template, patch.seam).buffer(0.01)
        assert flipped.covers(patch.area.buffer(ALLOWANCE))
        assert patch.rough.outline.buffer(0.01).covers(patch.template)
        assert patch.rough.cover.chance <= patch.exact.cover.chance
        assert patch.rough.cover.worst <= patch.exact.cover.worst + 1e-6


@pytest.mark.bench
def test_seven_patches_take_less_than_fifteen_milliseconds() -> None:
    panel, order = random_slices(3, 6)
    times = []
    for _ in range(30):
        start = time.perf_counter()
        made(panel, order)
        times.append(time.perf_counter() - start)
    print(f"seven patches with both cuts: {min(times) * 1000:.1f} ms")
    assert min(times) < 0.015


def test_narrow_patch_is_told_with_its_width() -> None:
    panel = patch_map(box(-50, -40, 50, 40), [((-60, 0), (60, 0)), ((-60, 5), (60, 5))])
    order = order_of(panel, tuple(letter_at(panel, 0, y) for y in (-20, 2, 20)))
    found = made(panel, order)[1]
    assert codes(found) == ["HW242"]
    assert found[0].message.startswith(f"Patch {order.sections[0].letters[1]} is only 5 mm wide")


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


def test_sentences_for_makers_who_use_inches_say_both() -> None:
    panel, order = teeth(2.0)
    found = patches_of(panel, order, all_of(panel), CLOTHS, PiecingModel(), "in")[1]
    (hidden,) = [f for f in found if f.code == "HW240"]
    assert "6.35 mm (1/4 in)" in hidden.message
    (plain,) = [f for f in made(panel, order)[1] if f.code == "HW240"]
    assert "6.35 mm" in plain.message
    assert "in)" not in plain.message
