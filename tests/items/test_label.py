from __future__ import annotations

from typing import Any

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, box

from hoopwright.core.findings import Severity, blocking
from hoopwright.operations.vocabulary import Hand, Release, Role, Trim
from hoopwright.pipeline import build, new_project
from hoopwright.project.load import parse
from tests.items.small_items import findings_of, lays, planned, project_of, step_of
from tests.needle.lettering.fonts import font


def label(**make: Any) -> Any:
    return planned("label", **{"cloth": "indigo", **make}).hoopings[0]


def codes(**make: Any) -> list[str]:
    return [f.code for f in findings_of(project_of("label", **{"cloth": "indigo", **make}))]


def test_a_label_with_usual_settings_can_be_sewn_without_a_word() -> None:
    project = project_of("label", cloth="indigo")
    assert blocking(build(project).findings) == ()
    assert codes() == []


def test_the_first_project_of_a_label_holds() -> None:
    found = build(parse(new_project("label", "Label of the tide mill"), None).project).findings
    assert [f for f in found if f.severity is Severity.BLOCKS] == []


def test_the_blocks_come_in_order() -> None:
    roles = [s.stitch.role for s in label().steps]
    assert roles == [Role.PLACEMENT, Role.BASTE, Role.LETTERING, Role.TOPSTITCH, Role.OUTLINE]
    assert [s.stitch.role for s in label(border="none").steps] == [r for r in roles if r is not Role.TOPSTITCH]
    satin = label(edge="satin", border="chain", border_inside=8)
    assert [s.stitch.role for s in satin.steps] == [
        Role.PLACEMENT,
        Role.TACK,
        Role.LETTERING,
        Role.ORNAMENT,
        Role.EDGE,
    ]


def test_cloth_is_cut_with_what_is_turned_under() -> None:
    made = planned("label", cloth="indigo", width=90, height=50, turned=10)
    (piece,) = made.making.pieces
    assert piece.cut.bounds == pytest.approx((-55, -35, 55, 35))
    (laid,) = lays(made.hoopings[0])
    assert laid.pose.equals(piece.cut)
    (trim,) = [h for h in made.hoopings[0].after if isinstance(h, Trim)]
    assert trim.keep is not None
    assert trim.keep.equals(piece.cut)


@pytest.mark.parametrize("make", [{}, {"border": "feather", "border_inside": 8}, {"edge": "satin"}, {"font": "f.otf"}])
def test_letters_keep_off_border_and_edge(make: dict[str, Any]) -> None:
    project = project_of("label", **{"cloth": "indigo", **make})
    made = build(project, {"f.otf": font("Serif-Semibold.otf")}, prove=False).plan
    letters = step_of(made.hoopings[0], Role.LETTERING)
    thread = shapely.union_all([LineString(r.points) for r in letters.runs])
    assert box(-50, -32.5, 50, 32.5).buffer(-5.0).covers(thread)
    for other in made.hoopings[0].steps:
        if other.stitch.role in (Role.TOPSTITCH, Role.ORNAMENT, Role.EDGE):
            sewn = shapely.union_all([LineString(r.points) for r in other.runs])
            assert sewn.distance(thread) > 2.0


def test_a_satin_edge_is_trimmed_in_the_hoop_before_it_is_covered() -> None:
    hooping = label(edge="satin")
    edge = step_of(hooping, Role.EDGE)
    (trim,) = [h for h in edge.hands if isinstance(h, Trim)]
    assert trim.piece == "label"
    assert trim.away is not None
    points = np.vstack([r.points for r in edge.runs])
    assert np.abs(points).max(axis=0) == pytest.approx([50.15, 32.65])


def test_ironing_is_cautioned_and_sewing_is_not() -> None:
    assert codes(fasten="ironed") == ["HW475"]
    words = " ".join(h.sentence for h in planned("label", cloth="indigo", fasten="ironed").making.assembly)
    for word in ("cotton batting", "polyester", "never leave", "scrap"):
        assert word in words
    plain = " ".join(h.sentence for h in planned("label", cloth="indigo").making.assembly)
    assert "iron" not in plain.lower()
    assert "Fold the long sides" in plain
    assert "before it is bound, and sew it down" in plain


def test_the_foundation_goes_before_the_label_is_finished() -> None:
    (release,) = [h for h in label().after if isinstance(h, Release)]
    assert release.foundation_goes
    assert any(isinstance(h, Hand) for h in planned("label", cloth="indigo").making.assembly)


@pytest.mark.parametrize(
    ("code", "make"),
    [
        ("HW470", {"width": 110}),
        ("HW470", {"height": 170}),
        ("HW471", {"height": 20, "border_inside": 9}),
        ("HW472", {"thread": "gold"}),
        ("HW472", {"border_thread": "gold"}),
        ("HW473", {"border": "fether"}),
        ("HW474", {"edge": "satin", "border_inside": 2}),
        ("HW474", {"border": "feather", "border_inside": 2}),
        ("HW411", {"cloth": "lace"}),
        ("HW360", {"lines": ["♥"]}),
        ("HW361", {"font": "f.otf"}),
        ("HW363", {"lines": ["made with love for the bench in the mill"]}),
        ("HW364", {"capitals": 60}),
        ("HW402", {"lines": []}),
    ],
)
def test_what_cannot_be_is_refused_with_a_cure(code: str, make: dict[str, Any]) -> None:
    found = findings_of(project_of("label", **{"cloth": "indigo", **make}))
    assert code in [f.code for f in found if f.severity is Severity.BLOCKS]
    assert all(f.cure for f in found)


def test_the_largest_label_named_fits() -> None:
    (finding,) = [f for f in findings_of(project_of("label", cloth="indigo", width=120)) if f.code == "HW470"]
    most = float(finding.cure.split("most ")[1].split(" mm")[0])
    assert "HW470" not in codes(width=most)
    assert "HW470" in codes(width=most + 0.5)
