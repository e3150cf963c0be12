from __future__ import annotations

import time
from collections.abc import Mapping

import pytest

from hoopwright.checks.cloth import comes_out
from hoopwright.cloth.course import courses_of
from hoopwright.cloth.item_opening import least_width
from hoopwright.core.findings import blocking
from hoopwright.items.registry import recipe_named
from hoopwright.pipeline import plan
from tests.cloth.spoiling import sound
from tests.items.bags import CLOTHS, project

LARGE: Mapping[str, object] = {"hoop": {"field": "240x360"}}
STRIPS: Mapping[str, object] = {"panel": {"patchwork": {"way": "strips", "seed": 0, "patches": 5}}}
LEVEL: Mapping[str, object] = {"panel": {"patchwork": {"way": "strips", "seed": 16, "patches": 5}}}
"""Level strips, whose edges all but coincide with the lines they are cut along."""
ZIP = {"zip": {"name": "coil zip", "colour": "#8f9aa3", "thickness": 0.7, "kind": "zip"}}

SIZES: tuple[tuple[str, Mapping[str, object], Mapping[str, object]], ...] = (
    ("block", {}, {}),
    ("block", {"width": 60, "height": 90}, {}),
    ("block", {"width": 150, "height": 150}, LARGE),
    ("block", {"width": "3 in", "height": "3 in"}, {"units": "in"}),
    ("flap-pouch", {}, {}),
    ("flap-pouch", {"contents": [58, 62, 5]}, {}),
    ("flap-pouch", {"contents": [120, 140, 15], "flap": 95, "opening": "lining"}, LARGE),
    ("flap-pouch", {"stiffened": False, "strap": 0, "ground": 0}, {}),
    ("glasses-sleeve", {}, LARGE),
    ("glasses-sleeve", {"flap": 60}, LARGE),
    ("glasses-sleeve", {"pocket": 60, "strap": 60}, LARGE),
    ("glasses-sleeve", {"corner": 0}, LARGE),
    ("glasses-sleeve", {"corner": 12.7, "flap": 58.7, "strap": 87.9}, {**LARGE, **LEVEL}),
    ("mat", {}, LARGE),
    ("mat", {"width": 90, "height": 120, "corner": 12}, {}),
    ("mat", {"width": 200, "height": 220, "overlap": 60, "hem": 15}, LARGE),
    ("mat", {"width": 80, "height": 110}, {}),
    ("bookmark", {}, LARGE),
    ("bookmark", {"count": 1}, LARGE),
    ("bookmark", {"count": 1, "tail": 0, "corner": 6}, LARGE),
    ("bookmark", {"count": 3, "width": 36, "length": 120}, LARGE),
    ("bookmark", {"count": 1, "width": 55.5, "length": 122.8, "corner": 11.2}, {**LARGE, **STRIPS}),
    ("mat", {"width": 78.8, "height": 201.7, "corner": 22.9, "hem": 12.9}, {**LARGE, **STRIPS}),
    ("key-tab", {}, {}),
    ("key-tab", {"count": 1}, {}),
    ("key-tab", {"count": 3, "width": 40, "corner": 0}, LARGE),
    ("key-tab", {"loop": 24, "ring": 24, "width": 44}, {}),
    ("frame-purse", {}, LARGE),
    ("frame-purse", {"pieced": "none"}, LARGE),
    ("frame-purse", {"pieced": "both"}, LARGE),
    ("frame-purse", {"boxed": 15}, LARGE),
    ("zip-pouch", {}, LARGE),
    ("zip-pouch", {"strap": "none"}, LARGE),
    ("zip-pouch", {"strap": "left", "pieced": False}, LARGE),
    ("zip-pouch", {"width": 160, "height": 150}, LARGE),
)


@pytest.mark.parametrize(("item", "make", "more"), SIZES, ids=[f"{r[0]}-{r[1]}" for r in SIZES])
def test_every_recipe_comes_out_in_many_sizes(
    item: str, make: Mapping[str, object], more: Mapping[str, object]
) -> None:
    made = plan(project(item, make, **{"cloths": {**CLOTHS, **ZIP}, **more}))
    assert [str(f) for f in blocking(made.findings)] == []
    assert made.hoopings
    assert [str(f) for f in blocking(comes_out(made))] == []


def test_every_recipe_of_ours_is_tried() -> None:
    assert all(recipe_named(item)[0] is not None for item, _, _ in SIZES)


def test_a_roll_of_half_the_width_needs_a_narrower_opening() -> None:
    """The opening needs half the girth of the roll (bag arithmetic: half girth of a round bundle, pi d / 2)."""
    course = courses_of(sound("quay-pouch"))[-1]
    (turning,) = course.turnings
    assert 25.0 < least_width(course, turning) < turning.turn.line.length


@pytest.mark.bench
def test_a_flap_pouch_is_proved_quickly() -> None:
    made = sound("quay-pouch")
    times = []
    for _ in range(7):
        start = time.process_time()
        comes_out(made)
        times.append(time.process_time() - start)
    print(f"\nflap pouch: all hoopings, all proofs {1000 * min(times):.0f} ms")
    assert min(times) < 0.150
