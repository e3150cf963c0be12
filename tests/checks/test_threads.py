from __future__ import annotations

import pytest
from shapely.geometry import LineString, box

from hoopwright.checks.threads import threads_are_seen
from hoopwright.core.colour import difference, lab_of
from hoopwright.core.findings import Finding, Severity
from hoopwright.core.types import frozen_points
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping, Run, Step
from hoopwright.operations.vocabulary import OrnamentStyle, Role, Stitch
from hoopwright.piecing.shapes import PatchMap, PiecedPanel, SeamLine, SewingOrder
from hoopwright.plane.subdivision import subdivide
from hoopwright.project.schema import Project

SQUARE = box(-30, -30, 30, 30)


def greys(thread: str, *patches: str) -> tuple[Finding, ...]:
    """Findings of a panel of strips in these colours, every seam sewn in one thread."""
    cuts = [
        ((-30.0, 60.0 * i / len(patches) - 30), (30.0, 60.0 * i / len(patches) - 30)) for i in range(1, len(patches))
    ]
    plane = subdivide(SQUARE, cuts)
    at = plane.vertices
    seams = tuple(SeamLine(i + 1, i, at[c.vertices[0]], at[c.vertices[-1]]) for i, c in enumerate(plane.chains))
    letters = tuple(chr(ord("A") + i) for i in range(len(plane.faces)))
    heights = sorted(range(len(letters)), key=lambda f: plane.faces[f].centroid.y)
    cloths = tuple((letters[f], f"c{i}") for i, f in enumerate(heights))
    order = SewingOrder((), 0, True, (), (), False, ())
    panel = PiecedPanel("panel", SQUARE, PatchMap(SQUARE, plane, letters, seams), order, (), cloths, ())
    project = Project.model_validate(
        {
            "schema": 1,
            "title": "Trial",
            "cloths": {f"c{i}": {"name": f"cloth {i}", "colour": c} for i, c in enumerate(patches)},
            "threads": {"silk": {"name": "silk", "colour": thread}},
            "panel": {"outline": {"shape": "rectangle", "width": 60, "height": 60}},
        }
    )
    steps = tuple(_step(i + 1, s) for i, s in enumerate(seams))
    return threads_are_seen(Plan(project, (100.0, 100.0), (panel,), (Hooping("panel", "", "panel", 1, steps),), ()))


def _step(index: int, seam: SeamLine) -> Step:
    stitch = Stitch(
        Role.ORNAMENT,
        "Trial",
        "silk",
        (LineString([seam.start, seam.end]),),
        OrnamentStyle("fly", 6),
        "",
        seam=seam.number,
    )
    return Step(index, stitch, (), (Run(frozen_points([seam.start, seam.end])),))


def apart(a: str, b: str) -> float:
    return difference(lab_of(a), lab_of(b))


def test_gold_on_ochre_is_told_with_seam_thread_and_cloth() -> None:
    (finding,) = greys("#dba632", "#c6923b", "#2f4468")
    assert (finding.code, finding.severity) == ("HW607", Severity.NOTES)
    assert all(
        words in finding.message for words in ("seam 1 ", "silk", "cloth 0", f"({apart('#dba632', '#c6923b'):.1f})")
    )
    assert "cloth 1" not in finding.message
    assert finding.where.path == "panel.seam_stitch" and finding.where.operation == 1


def test_a_thread_that_differs_is_not_told() -> None:
    assert greys("#ffffff", "#c6923b", "#2f4468", "#a2412f") == ()


def test_weak_on_both_sides_is_told_but_weak_on_one_is_not() -> None:
    silk, near, also, far = "#808080", "#9b9b9b", "#626262", "#202020"
    assert 8.0 < apart(silk, near) < 12.0 and 8.0 < apart(silk, also) < 12.0 and apart(silk, far) > 20.0
    assert greys(silk, near, far) == ()
    (finding,) = greys(silk, near, also)
    assert "cloth 0" in finding.message and "cloth 1" in finding.message


def test_seams_with_the_same_thread_and_cloth_are_told_together() -> None:
    (finding,) = greys("#808080", "#202020", "#828282", "#f0f0f0")
    assert "seams 1 and 2 " in finding.message and finding.message.count("cloth 1") == 1


@pytest.mark.parametrize("colour", ["#808080", "#2f4468"])
def test_a_panel_of_one_patch_has_no_seam_to_tell_of(colour: str) -> None:
    assert greys(colour, colour) == ()
