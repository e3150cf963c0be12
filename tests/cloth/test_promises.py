"""Every recipe says what is sewn, and the stack agrees."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest

from hoopwright.checks.cloth import comes_out
from hoopwright.cloth.course import courses_of
from hoopwright.cloth.item_topology import keeps_its_promise
from hoopwright.core.findings import blocking
from hoopwright.items.plan import Plan
from hoopwright.items.recipe import Promise
from hoopwright.items.registry import OWN
from hoopwright.operations.vocabulary import Close, Lay
from hoopwright.pipeline import plan
from tests.cloth.must_fail import MAT, TAB, ZIP
from tests.cloth.spoiling import assembled, left_out, sewn, sound
from tests.items.bags import CLOTHS, project
from tests.items.test_panel import grid

ZIPPED = {**CLOTHS, "zip": {"name": "coil zip", "colour": "#8f9aa3", "thickness": 0.7, "kind": "zip"}}
LARGE: Mapping[str, object] = {"field": "240x360"}

WAYS: tuple[tuple[str, Mapping[str, object]], ...] = (
    *((recipe.name, {}) for recipe in OWN if recipe.name not in ("panel", "accent")),
    ("bookmark", {"count": 3, "width": 36, "length": 120}),
    ("key-tab", {"count": 1}),
    ("flap-pouch", {"opening": "lining"}),
    ("glasses-sleeve", {"opening": "lining"}),
    ("frame-purse", {"boxed": 15}),
)
"""Settings of the recipes that make another surface; an accent is lace, whose holes are wanted."""


def made_of(item: str, make: Mapping[str, object]) -> Plan:
    return plan(project(item, make, cloths=ZIPPED, hoop=LARGE))


def promised(made: Plan) -> Promise:
    promise = made.making.promise
    assert promise is not None
    return promise


def told(made: Plan) -> list[str]:
    """Return the codes of what is found about the surface of the last work."""
    return [f.code for f in keeps_its_promise(courses_of(made)[-1])]


def promising(made: Plan, promise: Promise) -> Plan:
    return replace(made, making=replace(made.making, promise=promise))


@pytest.mark.parametrize(("item", "make"), WAYS, ids=[f"{r[0]}-{r[1]}" for r in WAYS])
def test_every_recipe_says_what_is_sewn_and_another_number_is_found(item: str, make: Mapping[str, object]) -> None:
    made = made_of(item, make)
    promise = promised(made)
    assert promise.shell
    assert told(made) == []
    assert told(promising(made, replace(promise, euler=promise.euler + 1))) == ["HW571"]
    assert told(promising(made, replace(promise, parts=promise.parts + 1))) == ["HW571"]
    assert told(promising(made, replace(promise, closed_euler=promise.closed_euler - 1))) == ["HW572"]


@pytest.mark.parametrize("made", [sound("tide-mill-flap"), plan(grid())], ids=["one hooping", "in sections"])
def test_a_panel_is_one_cloth_without_a_hole(made: Plan) -> None:
    assert (promised(made).parts, promised(made).euler) == (1, 1)
    assert told(made) == []
    assert blocking(comes_out(made)) == ()


@pytest.mark.parametrize(("item", "make"), WAYS, ids=[f"{r[0]}-{r[1]}" for r in WAYS])
def test_a_surface_is_a_possible_one(item: str, make: Mapping[str, object]) -> None:
    """Classification of surfaces: 2 parts - Euler number - rims is twice the number of handles; none of ours has a handle.

    None of it holds where three layers meet.
    """
    promise = promised(made_of(item, make))
    if promise.rims is None:
        assert promise.closed_rims is None
        return
    assert promise.closed_rims is not None
    assert 2 * promise.parts - promise.euler - promise.rims == 0
    assert 2 * promise.parts - promise.closed_euler - promise.closed_rims == 0


def test_a_missing_part_of_the_mats_back_is_told_by_its_seam() -> None:
    """Front and one back are a disc as well (1 + 1 - 1): the Euler number cannot tell."""
    made = left_out("mat", Lay, "back-upper")(sound(MAT))
    assert "HW541" in {f.code for f in comes_out(made)}


def test_a_mat_whose_backs_are_sewn_together_is_found() -> None:
    """A line along the middle of the overlap, short of the side seams and 5 mm clear of both hems: two arcs become one, 1 - 2 + 1."""
    gap = courses_of(sound(MAT))[-1].turnings[0].turn.line
    made = sound(MAT)
    closing = replace(made.making, assembly=(*made.making.assembly, Close(gap, "Sew it shut.")))
    spoilt = replace(made, making=replace(closing, promise=replace(promised(made), shut=("back-lower", "back-upper"))))
    (found,) = keeps_its_promise(courses_of(spoilt)[-1])
    assert found.code == "HW572"
    assert "parts and Euler number are 1, 0 and should be 1, 1" in found.message


def test_bookmarks_of_which_one_is_not_closed_are_found() -> None:
    made = made_of("bookmark", {"count": 3, "width": 36, "length": 120})
    closes = [h for h in made.making.assembly if isinstance(h, Close)]
    assert len(closes) == 3
    spoilt = assembled(lambda h: None if h is closes[-1] else h)(made)
    assert told(spoilt) == ["HW571"], "where nothing is closed nothing tells cloth from allowance"


def test_a_tab_whose_satin_is_not_sewn_round_is_found() -> None:
    """Front and back apart: no satin on one tab of two leaves two discs for a sphere."""
    spoilt = sewn("key-tab", "Satin edge", lambda s: replace(s, paths=s.paths[:1]))(sound(TAB))
    assert told(spoilt) == ["HW571"]


def test_a_zip_pouch_whose_lining_misses_the_zips_seam_is_found() -> None:
    """A front lining caught by the closing seam alone is sewn along an arc, and adds nothing to the Euler number."""
    spoilt = left_out("pouch", Lay, "front-lining-upper")(sound(ZIP))
    assert told(spoilt) == ["HW571"]


def test_a_boxed_purse_whose_corners_are_forgotten_in_the_promise_is_found() -> None:
    made = made_of("frame-purse", {"boxed": 15})
    assert len(promised(made).rests) == 4
    assert told(promising(made, replace(promised(made), rests=()))) == ["HW571"]
