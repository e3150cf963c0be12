from __future__ import annotations

from typing import Any

import pytest
import shapely
from shapely.geometry import LineString, box

from hoopwright.core.findings import blocking
from hoopwright.operations.vocabulary import Press, Role, Trim
from hoopwright.pipeline import build
from hoopwright.project.lengths import INCH
from hoopwright.project.schema import Project


def block(make: dict[str, Any], **changes: Any) -> Project:
    return Project.model_validate(
        {
            "schema": 1,
            "title": "Weir block",
            "item": "block",
            "make": make,
            "cloths": {
                "ochre": {"name": "ochre", "colour": "#cc983d"},
                "indigo": {"name": "indigo", "colour": "#2c4266"},
            },
            "threads": {"slate": {"name": "slate", "colour": "#56606b"}},
            "panel": {"patchwork": {"way": "strips", "patches": 3}},
            **changes,
        }
    )


def test_the_finished_size_is_the_one_asked_for_and_a_quarter_inch_is_left_all_round() -> None:
    """A 4 inch block is cut 4 1/2 inch (finished size + 1/2 inch: karencombs.com/page.php?ID=31)."""
    made = build(block({"width": "4 in", "height": "4 in"}, piecing={"allowance": "1/4 in"})).plan
    (panel,) = made.panels
    assert panel.outline.bounds == pytest.approx((-2 * INCH, -2 * INCH, 2 * INCH, 2 * INCH))
    (cut,) = [h.keep for h in made.hoopings[-1].after if isinstance(h, Trim) and h.keep is not None]
    left, low, right, high = cut.bounds
    assert (right - left, high - low) == pytest.approx((4.5 * INCH, 4.5 * INCH))


def test_nothing_decorative_is_sewn_in_the_allowance() -> None:
    made = build(block({"width": 100, "height": 80})).plan
    steps = [s for s in made.hoopings[-1].steps if s.stitch.role is Role.ORNAMENT]
    assert len(steps) == 2
    reach = shapely.union_all([LineString(r.points) for s in steps for r in s.runs])
    assert box(-50, -40, 50, 40).buffer(0.01).covers(reach)


def test_a_block_too_large_for_the_hoop_is_refused_with_the_largest_size() -> None:
    """Field 130, margin 3, tack-down 1.5 outside: 130 - 2 (3 + 1.5) = 121 mm."""
    made = build(block({"width": 130, "height": 80}))
    (found,) = blocking(made.findings)
    assert (found.code, found.where.path) == ("HW410", "make.width")
    assert "121 mm" in found.cure
    assert made.plan.hoopings == ()


def test_the_last_thing_is_to_press_and_measure() -> None:
    making = build(block({"width": 100, "height": 80})).plan.making
    (press,) = making.assembly
    assert isinstance(press, Press)
    assert "100 × 80 mm" in press.sentence
    assert making.care
