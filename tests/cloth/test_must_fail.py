from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

import hoopwright.cloth
from hoopwright.checks.cloth import comes_out
from hoopwright.cloth.item_topology import impossible_to_turn
from hoopwright.cloth.sheet_error import SheetError, in_words
from hoopwright.cloth.topology import topology
from hoopwright.core.errors import GeometryError
from hoopwright.core.findings import blocking
from hoopwright.operations.vocabulary import Fold, Turn
from tests.cloth.must_fail import VARIANTS, Variant
from tests.cloth.spoiling import assembled, changed, sound
from tests.cloth.test_topology import ARMHOLES, NECK, garment, loose

CLOTH = Path(hoopwright.cloth.__file__).parent


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


def test_every_finding_about_items_is_provoked() -> None:
    """HW530 and HW574 are provoked elsewhere: a fold without a line, and a garment."""
    text = "".join(path.read_text(encoding="utf-8") for path in sorted(CLOTH.glob("item_*.py")))
    codes = set(re.findall(r'"(HW5\d\d)"', text)) - {"HW530", "HW574"}
    assert codes - {v.code for v in VARIANTS} == set()


def test_handwork_that_cannot_be_done_is_told() -> None:
    """A line without length cannot be folded about."""
    spoil = changed("pouch", lambda o: replace(o, line=(o.line[0], o.line[0])) if isinstance(o, Fold) else o)
    assert {f.code for f in comes_out(spoil(sound("quay-pouch")))} >= {"HW530"}


def test_a_lined_dress_machined_at_neck_and_both_armholes_is_refused() -> None:
    """Published negative case: Stewart, "Topological Dressmaker"."""
    (found,) = blocking(impossible_to_turn(topology(garment(NECK, ARMHOLES), loose(3))))
    assert found.code == "HW574"
    assert impossible_to_turn(topology(garment(NECK), loose(3, *ARMHOLES))) == ()


def test_sheets_are_called_by_their_names_in_what_cannot_be_done() -> None:
    """Both openings of the purse named the wrong way round: no key of a piece is left in a sentence."""
    spoil = assembled(lambda h: replace(h, below=h.above, above=h.below) if isinstance(h, Turn) else h)
    made = sound("lockkeeper-purse")
    said = [f.message for f in comes_out(spoil(made)) if f.code == "HW550"]
    assert any("the lining front does not lie over the lining back" in message for message in said)
    keys = [p.key for p in made.making.pieces if "-" in p.key]
    assert [m for m in said for key in keys if key in m] == []


def test_a_piece_without_area_is_called_by_its_name() -> None:
    error = SheetError("{} has no area", ("back-lower",), "Give it an outline")
    assert error.message == "back-lower has no area"
    assert in_words(error, {"back-lower": "the lower back"}.__getitem__) == "the lower back has no area"
    assert in_words(GeometryError("a seam has no length"), str.upper) == "a seam has no length"
