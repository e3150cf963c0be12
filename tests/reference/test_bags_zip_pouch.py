"""Sizes of a zip pouch against plain geometry, worked out by hand for one pouch."""

from __future__ import annotations

import math

import pytest
import shapely

from hoopwright.items.plan import Plan
from hoopwright.items.zip_pouch import ZipPouchSettings, layers_thickness, least_zip, seam_heights, zip_opening
from hoopwright.needle.working_lines import largest
from hoopwright.operations.vocabulary import Lay, Role
from hoopwright.pipeline import plan
from tests.items.bags import project, size

MAKE: dict[str, object] = {
    "width": 100,
    "height": 120,
    "corner": 0,
    "zip_below_top": 30,
    "zip_tape": 26,
    "strap": "none",
}
MORE: dict[str, object] = {"piecing": {"allowance": 6}}


def pouch() -> Plan:
    return plan(project("zip-pouch", MAKE, **MORE))


def test_heights_beside_the_zip() -> None:
    """Tape 26, allowance 6: each seam 7 from the middle of the zip; 30 - 7 = 23 above and 120 - 30 - 7 = 83 below."""
    assert seam_heights(ZipPouchSettings.model_validate(MAKE), 6.0) == pytest.approx((23.0, 83.0))


def test_cutting_sizes() -> None:
    """Every piece is 100 + 2 x 6 wide; panels 23 + 12 and 83 + 12 high, the back 120 + 12; each part of the back lining covers
    its half at the slit, which lies 83 / 2 above the bottom, half the overlap of 12, a hem of 10 and its allowance.
    """
    sizes = {p.key: size(p.cut) for p in pouch().making.pieces if p.key != "zip"}
    assert all(width == pytest.approx(112) for width, _ in sizes.values())
    heights = {key: high for key, (_, high) in sizes.items()}
    assert heights == pytest.approx(
        {
            "front-upper": 35,
            "front-lining-upper": 35,
            "front-lower": 95,
            "front-lining-lower": 95,
            "back": 132,
            "lining-lower": 41.5 + 6 + 10 + 6,
            "lining-upper": 120 - 41.5 + 6 + 10 + 6,
        }
    )


def test_the_finished_pouch_has_its_size() -> None:
    closing = next(s for s in pouch().hoopings[-1].steps if s.stitch.role is Role.CLOSING)
    assert size(largest(shapely.polygonize([closing.stitch.paths[0]]))) == pytest.approx((100, 120))


def test_a_zip_reaches_past_the_allowances_on_both_sides() -> None:
    """Common practice, no source: stops clear of the needle, here 5 mm beyond the allowance."""
    assert least_zip(100, 6) == 100 + 2 * 6 + 2 * 5


def test_the_zip_is_laid_where_its_middle_should_be() -> None:
    (zipper,) = [h for s in pouch().hoopings[-1].steps for h in s.hands if isinstance(h, Lay) and h.piece == "zip"]
    assert zipper.pose.bounds[1::2] == pytest.approx((60 - 30 - 13, 60 - 30 + 13))


def test_the_open_zip_lets_the_rolled_pouch_through() -> None:
    """A sheet w wide and t thick rolls up to a rod of girth 2 sqrt(pi w t) (plain geometry); a slit opens to twice its length."""
    made, settings = pouch(), ZipPouchSettings.model_validate(MAKE)
    thick = layers_thickness(settings, made.project)
    assert thick == pytest.approx(2 * (0.3 + 0.3) + 0.3 + 0.3)
    assert 2 * zip_opening(settings, made.project) >= 2 * math.sqrt(math.pi * 100 * thick)
    assert zip_opening(settings, made.project) >= 50.0, "half way"
