from __future__ import annotations

from pathlib import Path

import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Face, Flip, Lay, Role, Trim
from hoopwright.pipeline import plan
from hoopwright.project.load import load
from hoopwright.project.schema import Project

FLAP = Path(__file__).parents[2] / "examples" / "tide-mill-flap" / "project.toml"


@pytest.fixture(scope="module")
def flap() -> Plan:
    return plan(load(FLAP).project)


def grid() -> Project:
    """Two by two: impossible on one foundation, two sections."""
    return Project.model_validate(
        {
            "schema": 1,
            "title": "Four squares",
            "cloths": {
                "ochre": {"name": "ochre", "colour": "#cc983d"},
                "indigo": {"name": "indigo", "colour": "#2c4266"},
            },
            "threads": {"slate": {"name": "slate", "colour": "#56606b"}},
            "panel": {
                "outline": {"shape": "rectangle", "width": 80, "height": 80},
                "patchwork": {"way": "cuts", "cuts": [[[0, -40], [0, 40]], [[-40, 0], [0, 0]], [[0, 0], [40, 0]]]},
            },
        }
    )


def roles(hooping: Hooping) -> list[Role]:
    return [s.stitch.role for s in hooping.steps]


def test_the_steps_come_in_the_order_of_the_trade(flap: Plan) -> None:
    """Layout, tack-down of the first patch, placement line and seam of each other patch, holding line, seam stitches,
    outline last (common practice, no source).
    """
    (hooping,) = flap.hoopings
    count = len(flap.panels[0].patches)
    expected = [Role.LAYOUT, Role.TACK, *[Role.PLACEMENT, Role.SEAM] * (count - 1), Role.HOLD]
    assert roles(hooping)[: len(expected)] == expected
    assert set(roles(hooping)[len(expected) : -1]) == {Role.ORNAMENT}
    assert roles(hooping)[-1] is Role.OUTLINE


def test_every_patch_is_laid_once_and_flipped_before_the_next(flap: Plan) -> None:
    hands = [h for s in flap.hoopings[0].steps for h in s.hands]
    laid = [h.piece for h in hands if isinstance(h, Lay)]
    assert laid == [p.label for p in flap.panels[0].patches]
    flipped = [h.piece for h in hands if isinstance(h, Flip)]
    assert flipped == laid[1:]
    for piece in flipped:
        order = [type(h) for h in hands if isinstance(h, (Lay, Trim, Flip)) and h.piece == piece]
        assert order[:3] == [Lay, Trim, Flip]


def test_only_the_first_patch_lies_right_side_up(flap: Plan) -> None:
    lays = [h for s in flap.hoopings[0].steps for h in s.hands if isinstance(h, Lay)]
    assert [h.face for h in lays] == [Face.UP, *[Face.DOWN] * (len(lays) - 1)]


def test_flipped_patches_show_exactly_their_areas(flap: Plan) -> None:
    """Stacked in sewing order and cut at the outline, what shows of each cloth is its patch."""
    panel = flap.panels[0]
    lying: dict[str, BaseGeometry] = {panel.patches[0].label: panel.patches[0].template}
    for step in flap.hoopings[0].steps:
        for hand in step.hands:
            if isinstance(hand, Flip):
                lying = {k: shapely.difference(v, hand.pose) for k, v in lying.items()}
                lying[hand.piece] = hand.pose
    for patch in panel.patches:
        shown = lying[patch.label].intersection(panel.outline)
        assert shown.symmetric_difference(patch.area).area < 0.5, patch.label


def test_the_seam_of_every_patch_is_sewn_along_its_edge(flap: Plan) -> None:
    patches = {p.label: p for p in flap.panels[0].patches}
    for step in flap.hoopings[0].steps:
        if step.stitch.role is Role.SEAM:
            seam = patches[str(step.stitch.piece)].seam
            assert seam is not None
            sewn = shapely.LineString(step.runs[0].points)
            assert sewn.buffer(0.01).covers(shapely.LineString([seam.start, seam.end]))


def test_a_grid_is_made_of_sections_laid_like_patches() -> None:
    made = plan(grid())
    assert [h.key for h in made.hoopings] == ["section-1", "panel"]
    section, panel = made.hoopings
    assert roles(section) == [Role.LAYOUT, Role.TACK, Role.PLACEMENT, Role.SEAM, Role.HOLD, Role.OUTLINE]
    laid = [h for s in panel.steps for h in s.hands if isinstance(h, Lay)]
    assert any(h.piece == "S1" for h in laid)
    whole = next(p for p in made.panels[0].patches if p.made_of == 1)
    assert whole.area.area == pytest.approx(3200)
    assert "section S1" in next(h.sentence for h in laid if h.piece == "S1")


def test_sentences_name_number_cloth_side_and_distance(flap: Plan) -> None:
    lay = next(h for s in flap.hoopings[0].steps for h in s.hands if isinstance(h, Lay) and h.face is Face.DOWN)
    for words in ("patch 2 (", "right side DOWN", "6.4 mm", "raw edge", "number 2"):
        assert words in lay.sentence, words


def test_every_block_without_hands_is_a_seam_stitch_or_the_outline(flap: Plan) -> None:
    free = {s.stitch.role for s in flap.hoopings[0].steps if not s.halt}
    assert free == {Role.PLACEMENT, Role.ORNAMENT, Role.OUTLINE}


def test_without_placement_lines_the_layout_alone_guides() -> None:
    project = load(FLAP).project
    bare = project.piecing.model_copy(update={"placement_lines": False})
    made = plan(project.model_copy(update={"piecing": bare}))
    assert Role.PLACEMENT not in roles(made.hoopings[0])


def test_a_placement_line_shows_the_seam_and_the_raw_edge(flap: Plan) -> None:
    patches = {p.label: p for p in flap.panels[0].patches}
    for step in flap.hoopings[0].steps:
        if step.stitch.role is Role.PLACEMENT:
            patch = patches[str(step.stitch.piece)]
            assert patch.seam is not None
            assert patch.raw_edge is not None
            (line,) = step.stitch.paths
            assert line.covers(shapely.LineString([patch.seam.start, patch.seam.end]))
            edge = shapely.LineString(patch.raw_edge).buffer(0.01)
            strokes = [c for c in line.coords if c not in (patch.seam.start, patch.seam.end)]
            assert strokes
            assert all(edge.covers(shapely.Point(c)) for c in strokes)


def test_a_laid_section_says_how_its_patches_lie_seen_from_behind() -> None:
    laid = [h for s in plan(grid()).hoopings[-1].steps for h in s.hands if isinstance(h, Lay) and h.piece == "S1"]
    assert "Seen from its wrong side, " in laid[0].sentence
