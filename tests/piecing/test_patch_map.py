from __future__ import annotations

from typing import Any

import pytest

from hoopwright.core.findings import blocking
from hoopwright.piecing.patch_map import patch_map
from hoopwright.project.schema import PanelModel

FLAP = {"shape": "flap", "width": 108, "height": 100, "radius": 20}


def panel(**fields: Any) -> PanelModel:
    return PanelModel.model_validate({"outline": FLAP} | fields)


def test_a_panel_without_patchwork_is_one_patch() -> None:
    patches, findings = patch_map(panel(), {})
    assert patches is not None
    assert not findings
    assert patches.letters == ("A",)
    assert patches.seams == ()
    assert patches.polygon("A").equals_exact(patches.outline, 0.0)


@pytest.mark.parametrize("turn", [90.0, -90.0, 180.0, 33.0])
def test_turning_keeps_letters_areas_and_the_middle(turn: float) -> None:
    work = {"way": "cuts", "cuts": [[[-54, 20], [54, 10]], [[0, 15], [5, 50]]]}
    plain, _ = patch_map(panel(patchwork=work), {})
    turned, findings = patch_map(panel(patchwork=work, turn=turn), {})
    assert plain is not None and turned is not None
    assert not blocking(findings)
    assert turned.letters == plain.letters
    assert [f.area for f in turned.plane.faces] == pytest.approx([f.area for f in plain.plane.faces])
    left, low, right, high = turned.outline.bounds
    assert (left + right, low + high) == pytest.approx((0.0, 0.0), abs=1e-9)
