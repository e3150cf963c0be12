from __future__ import annotations

from dataclasses import replace

import pytest

from hoopwright.outputs.templates.pieces import pieces_of, quarter_turned
from hoopwright.piecing.shapes import Section
from tests.outputs.paper_builds import build_of, small_panel


def test_every_patch_and_the_outline_is_a_piece() -> None:
    heads = [p.head for p in pieces_of(build_of(small_panel()))]
    assert heads == ["1 · A", "2 · B", "3 · C", "Panel flap"]


def test_rough_cutting_leaves_only_the_outline() -> None:
    assert [p.head for p in pieces_of(build_of(small_panel(), piecing={"cut": "rough"}))] == ["Panel flap"]


def test_a_patch_is_not_mirrored_on_paper() -> None:
    panel = small_panel()
    piece = pieces_of(build_of(panel))[1]
    for (x, y), (u, v) in zip(panel.patches[1].template.exterior.coords, piece.cut.exterior.coords, strict=True):
        assert (u, v) == pytest.approx((x, -y))  # y runs down on paper


def test_cloth_grain_and_up_are_told() -> None:
    one, two, three, _ = pieces_of(build_of(small_panel()))
    assert one.lines == ("washed linen, mill blue", "right side up")
    assert (one.has_up, two.has_up) == (False, True)
    assert three.grain == -62.0
    assert quarter_turned(three).grain == 28.0


def test_sections_are_named_and_trimmed_not_cut() -> None:
    panel = small_panel()
    first, last = Section(1, panel.order.sections[0].members), Section(2, panel.order.sections[0].members)
    laid = replace(panel.patches[2], number=0, label="S1", letters=("C",), made_of=1, cloth="", section=2)
    panel = replace(panel, order=replace(panel.order, sections=(first, last)), patches=(*panel.patches[:2], laid))
    pieces = pieces_of(build_of(panel, hoopings=()))
    assert "section 1 of 2" in pieces[0].lines
    assert pieces[2].head == "S1"
    assert "pieced section 1" in pieces[2].lines
    assert pieces[2].grain is None
