from __future__ import annotations

import pytest
from shapely.geometry import box

from hoopwright.core.errors import GeometryError
from hoopwright.piecing.carrying import heirs, seam_heirs
from hoopwright.piecing.layouts.generate import generate
from hoopwright.piecing.layouts.keeping import Kept, keeping
from hoopwright.piecing.order import sewing_order
from hoopwright.piecing.patch_map_lines import map_from_lines
from hoopwright.piecing.shapes import PatchMap
from hoopwright.plane.strokes import Stroke
from hoopwright.project.schema import GeneratedPatchwork
from tests.piecing.drawings import STRIPS, WINDMILL

CRAZY = generate(box(-60, -50, 60, 50), GeneratedPatchwork(way="crazy-centre", seed=4, patches=7))[0]


def remade(patches: PatchMap, kept: Kept) -> PatchMap:
    strokes = [Stroke(((round(a[0], 2), round(a[1], 2)), (round(b[0], 2), round(b[1], 2)))) for a, b in kept.lines]
    made, findings = map_from_lines(patches.outline, strokes, 0.5, "lines")
    assert not [f for f in findings if f.severity.value == "blocks"], findings
    return made


@pytest.mark.parametrize("way", ["crazy-centre", "crazy-cuts", "strips"])
@pytest.mark.parametrize("letters", ["A", "B", "AB", "FG", "AG"])
def test_chosen_pieces_stay_and_the_whole_can_be_sewn(way: str, letters: str) -> None:
    wish = GeneratedPatchwork.model_validate({"way": way, "seed": 2, "patches": 5})
    kept = keeping(CRAZY, letters, wish)
    assert kept is not None
    made = remade(CRAZY, kept)
    assert sewing_order(made).sewable
    to = heirs(CRAZY, made)
    for letter in letters:
        old, new = CRAZY.polygon(letter), made.polygon(to[letter])
        assert old.symmetric_difference(new).area < 0.02 * old.area, letter
    assert kept == keeping(CRAZY, letters, wish)


def test_seeds_give_different_drawings() -> None:
    drawn = {keeping(CRAZY, "A", GeneratedPatchwork(way="crazy-cuts", seed=s, patches=6)).lines for s in range(5)}  # type: ignore[union-attr]
    assert len(drawn) > 2


def test_something_must_be_left() -> None:
    with pytest.raises(GeometryError, match="nothing is left"):
        keeping(STRIPS, "ABCDE", GeneratedPatchwork(way="strips", patches=2))


def test_what_holds_its_own_pieces_is_not_offered() -> None:
    """The four arms of a windmill and its middle cannot be sewn; keeping all but one of them never gives a drawing with the knot."""
    kept = keeping(WINDMILL, "ABC", GeneratedPatchwork(way="strips", patches=2))
    assert kept is None or sewing_order(remade(WINDMILL, kept)).sewable


def test_seams_are_found_again_where_they_lie() -> None:
    assert seam_heirs(STRIPS, STRIPS) == {s.number: (s.number,) for s in STRIPS.seams}
    assert heirs(STRIPS, STRIPS) == {n: n for n in STRIPS.letters}
