from __future__ import annotations

import itertools

import numpy as np
import pytest
from shapely.geometry import box

from hoopwright.core.colour import difference, lab_of
from hoopwright.piecing.colour_search import Task, best_choice
from hoopwright.piecing.colours import CLEAR_DIFFERENCE, choose_cloths, lightness_of
from hoopwright.project.schema import ClothModel
from tests.piecing.patch_makers import CLOTHS, TWO_CUTS, patch_map, regular

STRIPS = [((-50.0 + 10 * i, -60.0), (-50.0 + 10 * i, 60.0)) for i in range(1, 10)]


def cloths(**colours: str) -> dict[str, ClothModel]:
    return {key: ClothModel(name=f"{key} cloth", colour=colour) for key, colour in colours.items()}


def codes(found: tuple[object, ...]) -> list[str]:
    return [str(f)[:5] for f in found]


def random_task(seed: int, patches: int, kinds: int, given: int) -> Task:
    dice = np.random.default_rng(seed)
    near: list[set[int]] = [set() for _ in range(patches)]
    for i, j in itertools.combinations(range(patches), 2):
        if dice.random() < 0.5:
            near[i].add(j)
            near[j].add(i)
    places = dice.random((kinds, 3)) * 60
    apart = np.linalg.norm(places[:, None] - places, axis=2)
    fixed = tuple(int(dice.integers(kinds)) if i < given else None for i in range(patches))
    return Task(tuple(tuple(sorted(n)) for n in near), tuple(tuple(map(float, row)) for row in apart), fixed)


def least(task: Task, choice: tuple[int, ...]) -> float:
    free = [(i, j) for i, j in task.pairs() if task.given[i] is None or task.given[j] is None]
    return min((task.differences[choice[i]][choice[j]] for i, j in free), default=1e9)


@pytest.mark.parametrize("seed", range(40))
def test_the_least_difference_is_as_large_as_trying_everything_finds(seed: int) -> None:
    task = random_task(seed, 6, 4, seed % 3)
    options = [range(4) if g is None else (g,) for g in task.given]
    best = max(least(task, choice) for choice in itertools.product(*options))
    choice, complete = best_choice(task, 1e6)
    assert complete
    assert least(task, choice) == pytest.approx(best)
    assert all(g is None or g == c for g, c in zip(task.given, choice, strict=True))


def test_strips_use_all_cloths_evenly() -> None:
    panel = patch_map(box(-50, -50, 50, 50), STRIPS)
    kinds = cloths(sail="#ffffff", tar="#000000", tide="#0000ff", rust="#cc2200", reed="#00bb00")
    chosen, found = choose_cloths(panel, {}, kinds)
    assert sorted(c for _, c in chosen) == sorted(list(kinds) * 2)
    assert not found


def test_differences_below_clear_are_still_maximised() -> None:
    panel = patch_map(box(-50, -50, 50, 50), STRIPS[4:5])
    kinds = cloths(one="#808080", two="#8a8a8a", three="#959595")
    chosen, _ = choose_cloths(panel, {}, kinds)
    assert {c for _, c in chosen} == {"one", "three"}
    assert difference(lab_of("#808080"), lab_of("#959595")) < CLEAR_DIFFERENCE


def test_given_cloths_are_kept() -> None:
    panel = patch_map(box(-50, -50, 50, 50), STRIPS)
    chosen, _ = choose_cloths(panel, {"C": "reed", "H": "tide"}, CLOTHS)
    assert dict(chosen)["C"] == "reed"
    assert dict(chosen)["H"] == "tide"
    assert [n for n, _ in chosen] == list(panel.letters)


def test_neighbours_of_one_cloth_are_named() -> None:
    panel = patch_map(box(-50, -50, 50, 50), STRIPS[4:5])
    _, found = choose_cloths(panel, {"A": "tide", "B": "tide"}, CLOTHS)
    assert codes(found) == ["HW252"]
    assert all(word in found[0].message for word in ("A and B", "Tide blue"))


def test_neighbours_that_look_alike_are_named_with_their_difference() -> None:
    panel = patch_map(box(-50, -50, 50, 50), STRIPS[4:5])
    kinds = cloths(one="#808080", two="#8a8a8a")
    _, found = choose_cloths(panel, {"A": "one", "B": "two"}, kinds)
    apart = difference(lab_of("#808080"), lab_of("#8a8a8a"))
    assert codes(found) == ["HW253"]
    assert f"{apart:.1f}" in found[0].message
    assert "A (one cloth) and B (two cloth)" in found[0].message


def test_three_patches_round_a_corner_need_three_cloths() -> None:
    panel = patch_map(box(-50, -40, 50, 40), TWO_CUTS)
    _, found = choose_cloths(panel, {}, cloths(one="#ffffff", two="#000000"))
    assert codes(found) == ["HW252", "HW254"]
    assert "2 cloths" in found[1].message
    _, found = choose_cloths(panel, {}, cloths(one="#ffffff", two="#000000", three="#3355ff"))
    assert not found


def test_one_patch_and_one_cloth_are_no_trouble() -> None:
    panel = patch_map(box(-50, -40, 50, 40), [])
    assert choose_cloths(panel, {}, cloths(one="#ffffff")) == ((("A", "one"),), ())


def test_choices_for_strangers_are_reported_and_left_out() -> None:
    panel = patch_map(box(-50, -40, 50, 40), STRIPS[4:5])
    chosen, found = choose_cloths(panel, {"Q": "tide", "A": "hemp"}, CLOTHS)
    assert codes(found) == ["HW250", "HW251"]
    assert {c for _, c in chosen} <= set(CLOTHS)


def test_no_cloth_at_all_is_the_callers_mistake() -> None:
    with pytest.raises(ValueError, match="at least one cloth"):
        choose_cloths(patch_map(box(0, 0, 10, 10), []), {}, {})


def test_a_wheel_with_an_odd_rim_needs_four_cloths() -> None:
    """A hub with an odd ring round it has chromatic number 4 (graph theory, odd wheels)."""
    outer, inner = regular(5, 50, 18), regular(5, 15, 18)
    rim, hub = ([(x, y) for x, y in shape.exterior.coords] for shape in (outer, inner))
    panel = patch_map(outer, [*itertools.pairwise(hub), *zip(hub, rim, strict=True)])
    colours = ["#ffffff", "#000000", "#ff0000", "#0000ff"]
    kinds = {f"c{i}": ClothModel(name=f"cloth {i}", colour=c) for i, c in enumerate(colours)}
    assert "HW254" in codes(choose_cloths(panel, {}, dict(list(kinds.items())[:3]))[1])
    assert not choose_cloths(panel, {}, kinds)[1]


def test_a_search_that_is_cut_short_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("hoopwright.piecing.colour_search.WORK", 1)
    panel = patch_map(box(-50, -50, 50, 50), STRIPS)
    chosen, found = choose_cloths(panel, {}, CLOTHS)
    assert codes(found) == ["HW255"]
    assert all(a != b for (_, a), (_, b) in itertools.pairwise(chosen))


@pytest.mark.parametrize("seed", range(60))
def test_no_patch_could_move_to_a_cloth_that_is_used_less(seed: int) -> None:
    task = random_task(seed, 9, 5, seed % 4)
    choice, _ = best_choice(task, 20.0)
    fence = min(20.0, least(task, choice))
    for patch, cloth in enumerate(choice):
        beside = [choice[n] for n in task.neighbours[patch]]
        others = [c for c in range(5) if all(task.differences[c][o] >= fence for o in beside)]
        if task.given[patch] is None and fence > 0:
            assert all(choice.count(cloth) <= choice.count(c) + 1 for c in others if c != cloth)


def test_the_same_again_gives_the_same() -> None:
    panel = patch_map(box(-50, -50, 50, 50), STRIPS)
    assert choose_cloths(panel, {"D": "sail"}, CLOTHS) == choose_cloths(panel, {"D": "sail"}, CLOTHS)


def test_lightness_of_black_white_and_grey() -> None:
    assert lightness_of("#000000") == pytest.approx(0.0, abs=1e-9)
    assert lightness_of("#ffffff") == pytest.approx(100.0, abs=1e-6)
    assert lightness_of("#777777") == pytest.approx(50.0, abs=0.1)  # sRGB 119 is L* 50.03, from the formula


@pytest.mark.parametrize("seed", range(40))
def test_inside_the_fence_the_most_used_cloth_is_used_as_little_as_trying_everything_finds(seed: int) -> None:
    task = random_task(seed, 6, 4, seed % 3)
    options = [range(4) if g is None else (g,) for g in task.given]
    choice, _ = best_choice(task, 20.0)
    fence = min(20.0, least(task, choice))
    if fence > 0.0:
        inside = [c for c in itertools.product(*options) if least(task, c) >= fence]
        assert max(map(choice.count, choice)) == min(max(map(c.count, c)) for c in inside)


FIVE = cloths(sail="#d9ccae", indigo="#2f4468", madder="#a2412f", reed="#7d8a52", ochre="#c6923b")


@pytest.mark.parametrize("cuts", [STRIPS, STRIPS[:6], TWO_CUTS])
def test_usual_cloths_that_differ_clearly_are_all_used(
    cuts: list[tuple[tuple[float, float], tuple[float, float]]],
) -> None:
    """Each pair of the five differs by more than 20, so nothing speaks against using all of them."""
    colours = [lab_of(c.colour) for c in FIVE.values()]
    assert min(difference(a, b) for a, b in itertools.combinations(colours, 2)) > 20.0
    panel = patch_map(box(-50, -50, 50, 50), cuts)
    chosen, found = choose_cloths(panel, {}, FIVE)
    used = [[c for _, c in chosen].count(k) for k in FIVE]
    assert not found
    assert max(used) - min(used) <= 1


def test_cloths_that_look_alike_are_kept_apart_rather_than_all_used() -> None:
    panel = patch_map(box(-50, -50, 50, 50), STRIPS)
    chosen, found = choose_cloths(panel, {}, cloths(one="#202020", two="#262626", three="#f0f0f0", four="#e8e8e8"))
    assert not found
    dark = [c in ("one", "two") for _, c in chosen]
    assert all(a != b for a, b in itertools.pairwise(dark))
