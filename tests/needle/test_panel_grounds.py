"""Grounds on panels: where they lie, what they leave free, what is said of a wish that cannot be met."""

from __future__ import annotations

from typing import Any

import pytest
import shapely
from shapely.geometry import MultiPoint, box

from hoopwright.core.findings import Severity
from hoopwright.needle.grounds.table import GROUNDS
from hoopwright.needle.panel_grounds import plan_grounds
from hoopwright.needle.sewing import sew
from hoopwright.operations.vocabulary import GroundStyle, Stitch
from hoopwright.piecing.patch_map import patch_map
from hoopwright.piecing.shapes import PatchMap
from hoopwright.project.schema import MachineModel, PanelModel, StitchingModel

SVG = b'<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm" viewBox="0 0 10 10"><path d="M0 5 L5 8 L10 5"/></svg>'


def panel(**more: Any) -> tuple[PatchMap, PanelModel]:
    model = PanelModel.model_validate(
        {
            "outline": {"shape": "rectangle", "width": 100, "height": 60},
            "patchwork": {"way": "cuts", "cuts": (((0.0, -30.0), (0.0, 30.0)),)},
            **more,
        }
    )
    patches, _ = patch_map(model, {})
    assert patches is not None
    return patches, model


def sewn(block: Stitch) -> MultiPoint:
    runs = sew(block, StitchingModel(), MachineModel())
    return MultiPoint([p for r in runs for p in r.points.tolist()])


def test_a_plain_panel_has_no_ground() -> None:
    assert plan_grounds(*panel(), (), 2.5, {}) == ((), ())


def test_the_large_ground_leaves_free_what_is_taken_and_patches_with_their_own() -> None:
    patches, model = panel(ground={"kind": "crosshatch", "margin": 2}, grounds={"A": {"kind": "none"}})
    label = box(10, -10, 30, 10)
    blocks, findings = plan_grounds(patches, model, (label,), 2.5, {})
    assert findings == ()
    (block,) = blocks
    needles = sewn(block)
    assert len(needles.geoms) > 100
    assert patches.polygon("B").buffer(-2 + 1e-6).covers(needles)
    assert needles.distance(label) > 2 - 1e-6
    assert needles.distance(patches.polygon("A")) > 2 - 1e-6


def test_a_patch_may_have_a_ground_of_its_own_in_its_own_thread() -> None:
    patches, model = panel(grounds={"B": {"kind": "crosshatch", "thread": "gold", "spacing": 5}})
    (block,), _ = plan_grounds(patches, model, (), 2.5, {})
    assert block.thread == "gold"
    assert isinstance(block.style, GroundStyle) and block.style.spacing == 5
    assert patches.polygon("B").covers(sewn(block))


@pytest.mark.parametrize(
    ("more", "code", "path"),
    [
        ({"ground": {"kind": "crosshach"}}, "HW391", "panel.ground.kind"),
        ({"ground": {"kind": "drawing"}}, "HW392", "panel.ground.file"),
        ({"ground": {"kind": "crosshatch", "spacing": 1.5}}, "HW393", "panel.ground.spacing"),
        ({"grounds": {"Q": {"kind": "crosshatch"}}}, "HW394", "panel.grounds.Q"),
        ({"ground": {"kind": "drawing", "file": "bad.svg"}}, "HW396", "panel.ground.file"),
        ({"ground": {"kind": "drawing", "file": "empty.svg"}}, "HW396", "panel.ground.file"),
    ],
)
def test_a_wish_that_cannot_be_met_is_named(more: dict[str, Any], code: str, path: str) -> None:
    patches, model = panel(**more)
    files = {"bad.svg": b"<svg", "empty.svg": b'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"/>'}
    _, findings = plan_grounds(patches, model, (), 2.5, files)
    assert [(f.code, f.where.path) for f in findings] == [(code, path)]
    assert all(f.cure for f in findings)


def test_the_nearest_name_is_offered() -> None:
    _, findings = plan_grounds(*panel(ground={"kind": "crosshach"}), (), 2.5, {})
    assert '"crosshatch"' in findings[0].cure


def test_no_closer_than_the_least_spacing() -> None:
    patches, model = panel(ground={"kind": "crosshatch", "spacing": 1.5})
    (block,), _ = plan_grounds(patches, model, (), 2.5, {})
    assert isinstance(block.style, GroundStyle)
    assert block.style.spacing == GROUNDS["crosshatch"].least_spacing


def test_a_panel_that_is_all_taken_gets_a_note() -> None:
    patches, model = panel(ground={"kind": "crosshatch"})
    blocks, findings = plan_grounds(patches, model, (shapely.box(-60, -60, 60, 60),), 2.5, {})
    assert blocks == ()
    assert [(f.code, f.severity) for f in findings] == [("HW395", Severity.NOTES)]
