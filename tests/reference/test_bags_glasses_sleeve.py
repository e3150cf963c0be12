"""Sizes of a glasses sleeve against published sizes and plain geometry; the sources stand in docs/sources.md."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad

from hoopwright.items.glasses_sleeve_sizes import (
    GlassesSleeveSettings,
    body_size,
    half_girth_of_ellipse,
    inside_half_girth,
)


def test_half_girth_of_an_ellipse_with_axes_60_and_40() -> None:
    """79.33 mm, computed from the arc length of an ellipse."""
    assert half_girth_of_ellipse(60, 40) == pytest.approx(79.33, abs=0.01)
    assert half_girth_of_ellipse(40, 60) == pytest.approx(79.33, abs=0.01)


@pytest.mark.parametrize(("one", "other"), [(60.0, 40.0), (42.0, 28.0), (100.0, 5.0), (30.0, 30.0)])
def test_half_girth_agrees_with_the_arc_length_summed_up(one: float, other: float) -> None:
    a, b = one / 2, other / 2
    arc, _ = quad(lambda t: math.hypot(a * math.sin(t), b * math.cos(t)), 0, math.pi)
    assert half_girth_of_ellipse(one, other) == pytest.approx(arc, rel=1e-9)


def test_flat_width_is_width_plus_thickness_plus_ease() -> None:
    """A published pouch for electronics is flat W + H + 4 cm wide: 12.7 + 0.7 + 4 = 17.4 cm (littlelionpatterns.com, 2025)."""
    across = GlassesSleeveSettings(way="across", width=127, height=60, thickness=7, ease=40)
    assert body_size(across)[0] == pytest.approx(174)


def test_glasses_that_go_in_upright_swap_width_and_height() -> None:
    settings = GlassesSleeveSettings(width=140, height=45, thickness=30, ease=8)
    assert body_size(settings) == pytest.approx((45 + 30 + 8, 140 + 30 + 8))
    assert body_size(settings.model_copy(update={"way": "across"})) == pytest.approx((140 + 30 + 8, 45 + 30 + 8))


def test_the_inside_of_a_round_sleeve_is_a_circle_smaller_by_its_wall() -> None:
    """A tube whose wall's middle has the girth 2 w is 2 w / pi wide; inside it is one wall narrower."""
    width, wall = 90.0, 2.5
    inner = np.pi * (2 * width / np.pi - wall) / 2
    assert inside_half_girth(width, wall) == pytest.approx(inner)


def test_every_sleeve_from_its_glasses_lets_them_in() -> None:
    """Half the girth of a box, width + thickness (60 x 40: 100), is more than that of the ellipse in it (79.33)."""
    assert 60 + 40 == 100
    for height in (20, 42, 60):
        for thick in (5, 20, 40):
            width, _ = body_size(GlassesSleeveSettings(height=height, thickness=thick, ease=4))
            assert inside_half_girth(width, 2.0) > half_girth_of_ellipse(height, thick)
