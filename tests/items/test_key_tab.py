from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, box

from hoopwright.cloth.shapes import united
from hoopwright.items.key_tab import SEAT, KeyTabSettings, tab_outlines, tail_length
from hoopwright.items.parts.edge import PULL, edge_of
from hoopwright.operations.vocabulary import Close, EdgeStyle, Face, Fold, HandWork, Lay, Release, Role, Side, Trim
from tests.cloth.flap import with_face, with_hands
from tests.items.small_items import (
    blocks,
    findings_of,
    finished,
    lays,
    planned,
    project_of,
    sheets_shown,
    stacks,
    step_of,
)

SIZES: tuple[tuple[object, dict[str, object]], ...] = (
    ("130x180", {}),
    ("100x100", {"count": 1, "length": 45, "loop": 10}),
    ("200x200", {"count": 4, "width": 36, "length": 80, "ring": 25, "edge": 4, "corner": 0}),
    ("150x240", {"count": 2, "width": "2 in", "length": "4 in", "ring": "1 in", "edge": 3, "corner": "1 in"}),
)


@pytest.mark.parametrize(("field", "make"), SIZES, ids=[str(s[0]) for s in SIZES])
def test_it_builds_in_many_sizes(field: object, make: dict[str, object]) -> None:
    assert blocks(project_of("key-tab", field, **make)) == []


def test_the_back_is_laid_tacked_trimmed_and_edged_in_this_order() -> None:
    hooping = planned("key-tab").hoopings[-1]
    tack, edge = hooping.steps[-2:]
    (under,) = [h for h in tack.hands if isinstance(h, Lay)]
    assert (under.piece, under.side, under.face) == ("back", Side.UNDER, Face.DOWN)
    assert (tack.stitch.role, edge.stitch.role) == (Role.TACK, Role.EDGE)
    patches = {h.piece for s in hooping.steps for h in s.hands if isinstance(h, Lay)}
    assert {h.piece for h in edge.hands if isinstance(h, Trim)} == patches
    assert [type(h) for h in hooping.after] == [Release, Trim]


def test_every_tab_is_held_cut_and_covered() -> None:
    """From the finished edge inwards: satin over the cut edge, and under the satin the line that holds all layers."""
    made = planned("key-tab", count=2, edge=3.5)
    hooping = made.hoopings[-1]
    tack, edge = hooping.steps[-2:]
    outlines = tab_outlines(KeyTabSettings(count=2))
    assert len(edge.runs) == len(tack.runs) == len(outlines) == 2
    for outline in outlines:
        lines = edge_of(outline, 3.5)
        assert lines.cut.exterior.distance(outline.exterior) == pytest.approx(0.875)
        assert lines.tack.distance(outline.exterior) == pytest.approx(2.1)
        column = next(LineString(r.points) for r in edge.runs if LineString(r.points).intersects(outline))
        covered = column.buffer(0.2)
        for line in (lines.cut.exterior, lines.tack):
            assert shapely.difference(line, covered).length < 0.02 * line.length
        assert shapely.difference(column, outline.buffer(PULL, join_style="mitre")).length < 0.01 * column.length


def test_no_cut_edge_is_left_outside_the_satin() -> None:
    """After the trims every sheet ends inside the column, front and back alike."""
    made = planned("key-tab")
    stack = stacks(made)[-1]
    outlines = shapely.union_all(tab_outlines(KeyTabSettings()))
    inside = outlines.buffer(-3.5)
    front = united(layer.region for p in made.panels[0].patches for layer in stack.of(p.label))
    back = united(layer.region for layer in stack.of("back"))
    for cloth in (front, back):
        assert shapely.difference(cloth, outlines).area < 0.01
        assert shapely.difference(inside, cloth).area < 0.01


def test_a_back_laid_with_its_right_side_to_the_hoop_shows_its_wrong_side() -> None:
    made = planned("key-tab")
    inside = tab_outlines(KeyTabSettings())[0].buffer(-4)
    assert set(sheets_shown(stacks(made)[-1], Side.UNDER, inside)) == {("back", True)}
    spoilt = replace(made, hoopings=(with_face(made.hoopings[-1], "back", Face.UP),))
    assert set(sheets_shown(stacks(spoilt)[-1], Side.UNDER, inside)) == {("back", False)}


@pytest.mark.parametrize("piece", ["back", "A"])
def test_a_cloth_that_is_not_trimmed_stands_out_of_the_satin(piece: str) -> None:
    made = planned("key-tab")

    def forgets(hand: HandWork) -> HandWork | None:
        return None if isinstance(hand, Trim) and hand.piece == piece and hand.away is not None else hand

    spoilt = replace(made, hoopings=(with_hands(made.hoopings[-1], forgets),))
    outlines = shapely.union_all(tab_outlines(KeyTabSettings()))
    for plan, bare in ((made, False), (spoilt, True)):
        cloth = united(layer.region for layer in stacks(plan)[-1].of(piece))
        assert (shapely.difference(cloth, outlines).area > 1) is bare


def test_the_tack_line_holds_the_back_and_every_patch() -> None:
    made = planned("key-tab")
    tack = stacks(made)[-3].joins[-1]
    held = {h.sheet for h in tack.held}
    assert held >= {"back", *(p.label for p in made.panels[0].patches)}
    back = shapely.union_all([h.line for h in tack.held if h.sheet == "back"])
    assert shapely.difference(tack.path, back.buffer(0.01)).length < 0.01


def test_the_folded_tail_makes_a_loop_and_lies_on_the_back() -> None:
    """Folded to the back at the loop's height, the tail's end comes to lie SEAT below the shoulders."""
    settings = KeyTabSettings(count=1, loop=16, length=60)
    assert tail_length(16) == 2 * 16 + SEAT
    made = planned("key-tab", count=1, loop=16, length=60)
    assert [type(h) for h in made.making.assembly] == [Fold, Close]
    (outline,) = tab_outlines(settings)
    whole, shoulder = outline.bounds[3] - outline.bounds[1], outline.bounds[1] + 60
    assert whole == pytest.approx(60 + tail_length(16))
    stack = finished(made)
    top = max(layer.region.bounds[3] for layer in stack.layers)
    assert top == pytest.approx(shoulder + 16, abs=0.01)
    under = [layer for layer in stack.of("back") if layer.side is Side.UNDER and layer.face is Face.UP]
    assert under and min(p.region.bounds[1] for p in under) == pytest.approx(shoulder - SEAT + 0.875, abs=0.05)
    close = stack.joins[-1]
    assert sum(h.sheet == "back" for h in close.held) == 2


def test_the_tail_passes_the_ring_and_the_tab_does_not() -> None:
    (outline,) = tab_outlines(KeyTabSettings(count=1, ring=20, width=34))
    top, middle = (outline.intersection(box(-50, y, 50, y + 0.1)).bounds for y in (40.0, 0.0))
    assert top[2] - top[0] == pytest.approx(18)
    assert middle[2] - middle[0] == pytest.approx(34)


def test_the_satin_is_sewn_in_its_own_thread_and_a_little_wider_than_it_comes_out() -> None:
    edge = step_of(planned("key-tab", edge=4, thread="chalk").hoopings[-1], Role.EDGE).stitch
    assert edge.thread == "chalk"
    assert isinstance(edge.style, EdgeStyle) and edge.style.width == pytest.approx(4.3)
    assert 0.2 <= edge.style.width - 4 <= 0.4  # common practice; the range stands in docs/sources.md


def test_stitches_of_the_satin_suit_the_machine() -> None:
    found = [f for f in findings_of(project_of("key-tab")) if f.code in ("HW602", "HW603", "HW604")]
    assert not [str(f) for f in found if "edge" in str(f)]
    (run, *_) = step_of(planned("key-tab").hoopings[-1], Role.EDGE).runs
    steps = np.hypot(*np.diff(run.points[3:-3], axis=0).T)
    assert steps.min() >= 1.0


@pytest.mark.parametrize(
    ("code", "make"),
    [
        ("HW463", {"count": 4}),
        ("HW464", {"ring": 32}),
        ("HW464", {"ring": 12, "edge": 4}),
        ("HW465", {"corner": 20}),
        ("HW466", {"thread": "madder"}),
        ("HW411", {"back": "indig"}),
        ("HW402", {"edge": 6}),
    ],
)
def test_what_cannot_be_is_refused_with_a_cure(code: str, make: dict[str, object]) -> None:
    found = [f for f in findings_of(project_of("key-tab", **make)) if f.severity == "blocks"]
    assert [f.code for f in found] == [code]
    assert found[0].cure


def test_a_ring_of_the_size_the_cure_names_is_taken() -> None:
    found = next(f for f in findings_of(project_of("key-tab", ring=32)) if f.code == "HW464")
    assert "12 mm to 29 mm" in found.cure
    assert blocks(project_of("key-tab", ring=29)) == []


def test_lays_name_piece_cloth_side_and_place() -> None:
    under = lays(planned("key-tab").hoopings[-1])[-1]
    for words in ("back, indigo twill", "under the hoop", "right side away from the hoop", "tape"):
        assert words in under.sentence, words
