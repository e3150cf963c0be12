from __future__ import annotations

import pytest

from hoopwright.checks.cloth import comes_out
from hoopwright.cloth.item_topology import impossible_to_turn
from hoopwright.cloth.topology import topology
from hoopwright.core.findings import blocking
from tests.cloth.must_fail import VARIANTS, Variant
from tests.cloth.spoiling import sound
from tests.cloth.test_topology import ARMHOLES, NECK, garment, loose


@pytest.mark.parametrize("variant", VARIANTS, ids=[v.title for v in VARIANTS])
def test_each_variant_is_caught_by_its_own_finding(variant: Variant) -> None:
    codes = {f.code for f in comes_out(variant.spoil(sound(variant.example)))}
    assert variant.code in codes


@pytest.mark.parametrize("example", sorted({v.example for v in VARIANTS}))
def test_as_it_is_nothing_is_found(example: str) -> None:
    """Else the variants would prove nothing."""
    assert [str(f) for f in comes_out(sound(example))] == []


def test_there_are_many_and_each_has_another_title() -> None:
    assert len({v.title for v in VARIANTS}) == len(VARIANTS) >= 20


def test_a_lined_dress_machined_at_neck_and_both_armholes_is_refused() -> None:
    """Published negative case: Stewart, "Topological Dressmaker"."""
    (found,) = blocking(impossible_to_turn(topology(garment(NECK, ARMHOLES), loose(3))))
    assert found.code == "HW574"
    assert impossible_to_turn(topology(garment(NECK), loose(3, *ARMHOLES))) == ()
