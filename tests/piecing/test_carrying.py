from __future__ import annotations

from shapely.geometry import box

from hoopwright.piecing.carrying import carried, heirs, seam_heirs
from hoopwright.piecing.shapes import PatchMap
from hoopwright.project.schema import PanelModel
from tests.piecing.drawings import drawn

Line = tuple[tuple[float, float], tuple[float, float]]
LINES: list[Line] = [((40, 0), (40, 80)), ((40, 40), (100, 40)), ((70, 40), (70, 80))]


def panel(*lines: Line) -> PatchMap:
    return drawn(box(0, 0, 100, 80), *lines)


def at(patches: PatchMap, *ends: tuple[float, float]) -> int:
    """Return the number of the seam between two places."""
    return next(s.number for s in patches.seams if {s.start, s.end} == set(ends))


def test_a_seam_that_is_moved_far_goes_on() -> None:
    old, new = panel(*LINES), panel(((20, 0), (20, 80)), ((20, 40), (100, 40)), LINES[2])
    found = seam_heirs(old, new)
    assert found[at(old, *LINES[0])] == (at(new, (20, 0), (20, 80)),)
    assert found[at(old, *LINES[1])] == (at(new, (20, 40), (100, 40)),)
    assert found[at(old, *LINES[2])] == (at(new, *LINES[2]),)


def test_a_seam_taken_away_has_no_heir() -> None:
    old, new = panel(*LINES), panel(*LINES[:2])
    assert seam_heirs(old, new)[at(old, *LINES[2])] == ()
    assert len(heirs(old, new)) == 3


def test_a_seam_of_its_own_keeps_its_stitch_where_it_is_moved_to() -> None:
    old, new = panel(*LINES), panel(*LINES[:2], ((85, 40), (85, 80)))
    number = at(old, *LINES[2])
    wish = {"stitch": "herringbone", "over": {"stitch": "coral"}}
    model = PanelModel.model_validate({"seams": {str(number): wish}})
    assert carried(model, {}, old, new)["seams"] == {str(at(new, (85, 40), (85, 80))): wish}
