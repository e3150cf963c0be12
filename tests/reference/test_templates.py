"""Template sizes against the cutting rules of patchwork books, in inches (1/4 in allowance).

Sources: karencombs.com page 31 (square: finished + 1/2; half-square triangle + 7/8; quarter-square + 1 1/4);
north-hampshire-quilters.org.uk block 402b (the same for 3 in: 3 7/8 and 4 1/4). The rules are rounded up to 1/8 in; the exact
values follow from the geometry: allowance times 2 + sqrt 2, and allowance times 2 + 2 sqrt 2.
"""

from __future__ import annotations

import math

import pytest
from shapely.affinity import rotate
from shapely.geometry import Polygon, box

from hoopwright.piecing.templates import pointed_template, template_of

INCH = 25.4
QUARTER = INCH / 4
EIGHTH = 1 / 8
SIZES = [1.0, 2.0, 3.0, 4.5, 6.0]


def wide(shape: Polygon) -> float:
    """Return the width of a shape in inches."""
    left, _, right, _ = shape.bounds
    return (right - left) / INCH


@pytest.mark.parametrize("size", SIZES)
def test_square_is_cut_half_an_inch_larger(size: float) -> None:
    square = box(0, 0, size * INCH, size * INCH)
    for template in (pointed_template(square, QUARTER), template_of(square, QUARTER)):
        assert wide(template) == pytest.approx(size + 0.5)
        assert len(template.exterior.coords) - 1 == 4


@pytest.mark.parametrize("size", SIZES)
def test_half_square_triangle_is_cut_seven_eighths_larger(size: float) -> None:
    leg = size * INCH
    template = pointed_template(Polygon([(0, 0), (leg, 0), (0, leg)]), QUARTER)
    assert wide(template) == pytest.approx(size + (2 + math.sqrt(2)) / 4)
    assert math.ceil(wide(template) / EIGHTH) * EIGHTH == pytest.approx(size + 7 / 8)


@pytest.mark.parametrize("size", SIZES)
def test_quarter_square_triangle_is_cut_one_and_a_quarter_larger(size: float) -> None:
    base = size * INCH
    template = pointed_template(Polygon([(0, 0), (base, 0), (base / 2, base / 2)]), QUARTER)
    assert wide(template) == pytest.approx(size + (2 + 2 * math.sqrt(2)) / 4)
    assert math.ceil(wide(template) / EIGHTH) * EIGHTH == pytest.approx(size + 5 / 4)


def test_the_rules_do_not_depend_on_how_the_triangle_is_turned() -> None:
    leg = 3 * INCH
    triangle = Polygon([(0, 0), (leg, 0), (0, leg)])
    turned = rotate(pointed_template(rotate(triangle, 33, origin=(0, 0)), QUARTER), -33, origin=(0, 0))
    assert wide(turned) == pytest.approx(3.8536, abs=5e-5)


def test_blunted_half_square_triangle_has_five_corners_and_the_finished_side_plus_half_an_inch() -> None:
    """Cut off one allowance past the corner, the long edge's tips give way; the straight edges stay where they are."""
    leg = 3 * INCH
    triangle = Polygon([(0, 0), (leg, 0), (0, leg)])
    template = template_of(triangle, QUARTER)
    assert len(template.exterior.coords) - 1 == 5
    assert template.bounds[0] == pytest.approx(-QUARTER)
    assert template.covers(triangle.buffer(QUARTER - 1e-6))
