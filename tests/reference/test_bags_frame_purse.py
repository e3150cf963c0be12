"""Drafting a frame purse and boxing its corners against published instructions and plain geometry."""

from __future__ import annotations

import math

import pytest

from hoopwright.items.frame_purse import FramePurseSettings, frame_of, opening_of, shell_of, shell_thickness
from hoopwright.items.parts.frame_draft import BodyShape, FrameShape, bow, draft
from hoopwright.pipeline import plan
from hoopwright.project.lengths import INCH
from tests.items.bags import project


def inches(value: float) -> float:
    return value * INCH


@pytest.mark.parametrize(("width", "arm", "radius", "half"), [(85, 45, 12, 164.70), (100, 50, 0, 200.0)])
def test_half_the_perimeter_of_a_frame(width: float, arm: float, radius: float, half: float) -> None:
    """(w - 2r) + 2(a - r) + pi r, worked out by hand: 61 + 66 + 37.70; a frame with square corners: 100 + 2 x 50."""
    assert FrameShape(width, arm, radius).edge == pytest.approx(half, abs=0.005)


def test_half_the_perimeter_of_a_half_round_frame() -> None:
    """Half a circle 80 wide: 125.66; a bow 80 wide and 20 high: radius 50, arc 100 x atan2(40, 30) = 92.73."""
    assert bow(80, 40).edge == pytest.approx(125.664, abs=0.001)
    assert bow(80, 20).edge == pytest.approx(100 * math.atan2(40, 30), abs=0.001)


def test_boxed_corners_of_two_inches_make_a_bottom_of_four() -> None:
    """Cut 2 in: depth 4 in; 19 x 16 becomes 15 wide and 14 high (lazygirldesigns.com, box the bottom corners of a bag)."""
    made = draft(FrameShape(inches(19), inches(4), 0), 0.0, 0.0, BodyShape(inches(16), 0.0, 0.0, inches(2)))
    side, bottom, _ = made.seams
    assert bottom.length == pytest.approx(inches(15)) and side.length == pytest.approx(inches(14))
    top, end = side.coords[-1], bottom.coords[0]
    assert (2 * (top[0] - end[0]), 2 * (top[1] - end[1])) == pytest.approx((inches(4), inches(4)))


def test_a_panel_cut_for_a_boxed_bag_gives_its_width_height_and_depth() -> None:
    """2w + 2d + 1 by h + d/2 + 1 with allowances of 1/2 in: 13, 4, 12 1/2 are cut 35 x 15 1/2 (ktgreendesign.com, let's
    calculate). Here front and back are two panels, each half the way round.
    """
    around, high = (35 - 1) / 2, 15.5 - 1
    made = draft(FrameShape(inches(around), inches(4), 0), 0.0, 0.0, BodyShape(inches(high), 0.0, 0.0, inches(4 / 2)))
    side, bottom, _ = made.seams
    assert bottom.length == pytest.approx(inches(13)) and side.length == pytest.approx(inches(12.5))


def test_the_usual_purse_keeps_to_the_published_rules() -> None:
    """Swing the sides out about an inch, less for frames under 4 in (guthrie-ghani.co.uk, metal frame purse); the pattern's
    edge is as long as half the frame's perimeter, at most 5 to 10 mm longer (from memory).
    """
    usual = FramePurseSettings()
    assert usual.frame_width < inches(4) and 0 < usual.flare < inches(1)
    frame, shell = frame_of(usual), shell_of(usual)
    assert 0.0 <= shell.opening.length - frame.edge <= 5.0
    low, high = shell.hinges
    assert (high[0] - low[0] - usual.frame_width) / 2 == pytest.approx(usual.flare, abs=0.01)


def test_the_opening_lets_the_shell_through_and_is_like_published_ones() -> None:
    """Turning opening: 3 in on 8 x 9 in (upstyledaily.com, eyeglass case): a third of the width or a little more."""
    made = plan(project("frame-purse", {}))
    usual = FramePurseSettings()
    width = shell_of(usual).outline.bounds[2] * 2
    assert 0.33 <= opening_of(usual, made.project) / width <= 0.5
    girth = 2 * math.sqrt(math.pi * width * shell_thickness(usual, made.project))
    assert 2 * opening_of(usual, made.project) > girth, "half the girth of the rolled shell passes"
