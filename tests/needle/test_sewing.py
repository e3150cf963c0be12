from __future__ import annotations

import math

import numpy as np
import pytest
from shapely.geometry import LineString, box

from hoopwright.needle.lines import LOCK_STITCHES
from hoopwright.needle.sewing import sew, steps_of
from hoopwright.needle.unsewn import left_out
from hoopwright.operations.vocabulary import (
    GroundStyle,
    Hoop,
    Numeral,
    OrnamentStyle,
    Press,
    Release,
    Role,
    RunStyle,
    Stitch,
)
from hoopwright.project.schema import MachineModel, StitchingModel

STITCHING, MACHINE = StitchingModel(), MachineModel()


def block(*paths: LineString, role: Role = Role.SEAM, length: float = 2.5, times: int = 1, number: str = "") -> Stitch:
    numerals = (Numeral(number, box(0, 0, 40, 40)),) if number else ()
    return Stitch(role, "Trial", "slate", paths, RunStyle(length, times), "", numerals=numerals)


def test_handwork_goes_before_the_block_that_follows_it_and_the_rest_after_the_last() -> None:
    hoop, press, out = Hoop(("film",), "Hoop."), Press("A", "Press."), Release("Take out.")
    seam = block(LineString([(0, 0), (20, 0)]))
    steps, after = steps_of((hoop, seam, seam, press, seam, out), STITCHING, MACHINE)
    assert [s.index for s in steps] == [1, 2, 3]
    assert [s.hands for s in steps] == [(hoop,), (), (press,)]
    assert [s.halt for s in steps] == [True, False, True]
    assert after == (out,)


def test_a_block_to_be_seen_of_which_nothing_is_left_is_no_step_and_is_told() -> None:
    """Channels 20 mm apart have no line in a strip that is all margin; the handwork before it waits for the next block."""
    press = Press("A", "Press.")
    style = GroundStyle("channels", 20.0, 4.0, None, 1, 2.5, 1, ())
    ground = Stitch(Role.GROUND, "Ground of the panel", "slate", (), style, "", region=box(0, 0, 30, 6))
    seam = block(LineString([(0, 0), (20, 0)]))
    steps, after = steps_of((press, ground, seam), STITCHING, MACHINE)
    assert [(s.index, s.stitch, s.hands) for s in steps] == [(1, seam, (press,))]
    (found,) = left_out((press, ground, seam), [s.stitch for s in steps], "panel")
    assert (found.code, found.where.point, found.where.hooping) == ("HW397", (15.0, 3.0), "panel")
    assert not after
    assert not left_out((seam,), [seam], "panel")


def test_a_seam_is_locked_at_both_ends_and_reaches_them() -> None:
    (run,) = sew(block(LineString([(0, 0), (20, 0)])), STITCHING, MACHINE)
    assert run.points[0].tolist() == [0.0, 0.0]
    assert run.points[-1].tolist() == [20.0, 0.0]
    gaps = np.hypot(*np.diff(run.points, axis=0).T)
    tiny = [*gaps[: LOCK_STITCHES - 1], *gaps[1 - LOCK_STITCHES :]]
    assert tiny == pytest.approx([STITCHING.lock] * (2 * (LOCK_STITCHES - 1)))
    assert gaps[LOCK_STITCHES - 1 : 1 - LOCK_STITCHES] == pytest.approx(2.5)


def test_no_stitch_is_longer_than_the_machine_allows() -> None:
    slow = MachineModel(longest_stitch=3.0)
    (run,) = sew(block(LineString([(0, 0), (60, 0)]), length=6.0), STITCHING, slow)
    assert np.hypot(*np.diff(run.points, axis=0).T).max() <= 3.0 + 1e-9


def test_lines_are_sewn_from_the_end_that_is_near() -> None:
    """The first line ends at x = 20; of the others the nearer comes next, begun at its near end."""
    rows = [LineString([(0, 0), (20, 0)]), LineString([(90, 0), (80, 0)]), LineString([(50, 0), (25, 0)])]
    runs = sew(block(*rows, role=Role.TACK), STITCHING, MACHINE)
    ends = [(run.points[0][0], run.points[-1][0]) for run in runs]
    assert ends == [(0.0, 20.0), (25.0, 50.0), (80.0, 90.0)]


def test_a_layout_is_one_walk_and_its_number_follows() -> None:
    frame = LineString(box(0, 0, 40, 40).exterior.coords)
    cut = LineString([(20, 0), (20, 40)])
    plain = sew(block(frame, cut, role=Role.LAYOUT), STITCHING, MACHINE)
    assert len(plain) == 1
    assert LineString(plain[0].points).buffer(1e-3).covers(cut)
    numbered = sew(block(frame, cut, role=Role.LAYOUT, number="7"), STITCHING, MACHINE)
    assert len(numbered) == len(plain) + 1
    assert LineString(numbered[1].points).within(box(1.5, 1.5, 38.5, 38.5).buffer(1e-6))


def test_an_open_line_sewn_twice_comes_back_to_its_start() -> None:
    (run,) = sew(block(LineString([(0, 0), (20, 0)]), times=2), STITCHING, MACHINE)
    assert math.dist(run.points[0], run.points[-1]) == pytest.approx(0.0)


def test_a_seam_stitch_is_sewn_by_its_name() -> None:
    style = OrnamentStyle("herringbone", 6.0)
    stitch = Stitch(Role.ORNAMENT, "Trial", "slate", (LineString([(0, 0), (60, 0)]),), style, "")
    runs = sew(stitch, STITCHING, MACHINE)
    heights = np.concatenate([r.points[:, 1] for r in runs])
    assert np.ptp(heights) == pytest.approx(6.0, abs=0.01)
