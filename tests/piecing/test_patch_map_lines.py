from __future__ import annotations

from typing import Any

import pytest

from hoopwright.core.findings import Finding, Severity, blocking
from hoopwright.piecing.patch_map import patch_map
from hoopwright.piecing.shapes import PatchMap
from hoopwright.project.schema import PanelModel

SQUARE = {"shape": "rectangle", "width": 100, "height": 100}
PAGE = '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" viewBox="0 0 200 200">{}</svg>'
FRAME = '<path id="frame" d="M50 50H150V150H50Z"/>'


def made(work: dict[str, Any], outline: dict[str, Any] = SQUARE, svg: str = "") -> tuple[PatchMap, tuple[Finding, ...]]:
    drawings = {"mill.svg": PAGE.format(svg).encode()}
    patches, findings = patch_map(PanelModel.model_validate({"outline": outline, "patchwork": work}), drawings)
    assert patches is not None, findings
    return patches, findings


def areas(patches: PatchMap) -> dict[str, int]:
    return {name: round(patches.polygon(name).area) for name in patches.letters}


def test_lines_in_any_order_give_faces_in_reading_order() -> None:
    patches, findings = made(
        {"way": "lines", "lines": [[[0, 50], [0, 10]], [[50, 10], [-50, 10]], [[20, 10], [20, -50]]]}
    )
    assert findings == ()
    assert areas(patches) == {"A": 2000, "B": 2000, "C": 4200, "D": 1800}
    assert [s.number for s in patches.seams] == [1, 2, 3]


def test_a_polygon_and_its_lines_share_their_numbers() -> None:
    corner = {"shape": "polygon", "points": [[0, 0], [100, 0], [100, 100], [0, 100]]}
    patches, findings = made({"way": "lines", "lines": [[[0, 60], [100, 60]]]}, corner)
    assert findings == ()
    assert areas(patches) == {"A": 4000, "B": 6000}


def test_a_loose_end_blocks_and_says_where() -> None:
    _, findings = made({"way": "lines", "lines": [[[-50, 0], [50, 0]], [[10, 50], [10, 4]]]})
    assert [(f.code, f.severity, f.where.point) for f in findings] == [("HW261", Severity.BLOCKS, (10.0, 4.0))]
    assert "4 mm ahead" in findings[0].message


def test_gaps_are_told_in_the_units_of_the_maker() -> None:
    work = {"way": "lines", "lines": [[[-50, 0], [50, 0]], [[10, 50], [10, 6.35]]]}
    panel = PanelModel.model_validate({"outline": SQUARE, "patchwork": work})
    _, findings = patch_map(panel, {}, "in")
    assert "6.35 mm (1/4 in) ahead" in findings[0].message


def test_a_line_that_parts_nothing_blocks() -> None:
    loop = [[[-50, 0], [0, 0]], [[0, 0], [20, 20]], [[20, 20], [20, -20]], [[20, -20], [0, 0]]]
    _, findings = made({"way": "lines", "lines": loop})
    assert [(f.code, f.where.point) for f in findings] == [("HW264", (-25.0, 0.0))]


def test_lines_drawn_often_are_noted_once() -> None:
    patches, findings = made({"way": "lines", "lines": [[[-50, 0], [50, 0]]] * 5, "gap": 0})
    assert [f.code for f in findings] == ["HW260"]
    assert areas(patches) == {"A": 5000, "B": 5000}


def test_a_sliver_blocks() -> None:
    _, findings = made({"way": "lines", "lines": [[[-50, 0], [50, 0]], [[-50, 0.4], [50, 0.4]]], "gap": 0})
    assert [f.code for f in blocking(findings)] == ["HW263"]


@pytest.mark.parametrize(
    ("outline", "svg"),
    [
        (SQUARE, FRAME),
        (SQUARE, ""),
        ({"shape": "drawing", "file": "mill.svg", "path": "frame"}, FRAME),
    ],
)
def test_a_drawing_lies_where_its_outline_lies(outline: dict[str, Any], svg: str) -> None:
    lines = '<path d="M50 90H150"/><path d="M100.2 90.1V50"/>'
    patches, findings = made({"way": "drawing", "file": "mill.svg"}, outline, svg + lines)
    assert not blocking(findings)
    assert {f.code for f in findings} <= {"HW260"}
    assert areas(patches) == {"A": 2008, "B": 1992, "C": 6000}


def test_the_frame_may_lie_anywhere_on_the_page() -> None:
    svg = '<rect id="f" x="10" y="20" width="100" height="100"/><line x1="10" y1="40" x2="110" y2="40"/>'
    patches, findings = made({"way": "drawing", "file": "mill.svg"}, SQUARE, svg)
    assert findings == ()
    assert areas(patches) == {"A": 2000, "B": 8000}


def test_curved_lines_are_kept_and_refused_as_seams() -> None:
    patches, findings = made(
        {"way": "drawing", "file": "mill.svg"}, SQUARE, FRAME + '<path d="M50 100Q100 50 150 100"/>'
    )
    assert [f.code for f in blocking(findings)] == ["HW262"]
    # the area under a quadratic arc is two thirds of width times sagitta: 2/3 * 100 * 25 (Archimedes)
    assert areas(patches)["B"] == pytest.approx(5000 + 2 / 3 * 100 * 25, abs=3)


def test_a_curve_that_is_nearly_straight_is_made_straight() -> None:
    patches, findings = made(
        {"way": "drawing", "file": "mill.svg"}, SQUARE, FRAME + '<path d="M50 100Q100 99.4 150 100"/>'
    )
    assert not blocking(findings)
    assert areas(patches) == {"A": 5000, "B": 5000}


def test_texts_are_noted_and_files_missed() -> None:
    _, findings = made({"way": "drawing", "file": "mill.svg"}, SQUARE, FRAME + "<text>tide</text>")
    assert [(f.code, f.severity) for f in findings] == [("HW209", Severity.NOTES)]
    panel = PanelModel.model_validate({"outline": SQUARE, "patchwork": {"way": "drawing", "file": "sea.svg"}})
    assert [f.code for f in patch_map(panel, {})[1]] == ["HW208"]
    assert [f.code for f in patch_map(panel, {"sea.svg": b"<svg/><svg/>"})[1]] == ["HW207"]
