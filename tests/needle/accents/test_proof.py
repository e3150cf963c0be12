from __future__ import annotations

import numpy as np
import pytest
from shapely.geometry import LineString

from hoopwright.core.types import Points
from hoopwright.needle.accents.columns import column
from hoopwright.needle.accents.placing import placed_accent
from hoopwright.needle.accents.proof import Flaw, faults_of, faults_of_rows
from hoopwright.needle.accents.sew import sewn_accent
from hoopwright.needle.accents.shapes import AccentWish
from hoopwright.needle.accents.table import MOTIFS
from hoopwright.needle.accents.thread_net import bridges, thread_net
from hoopwright.needle.lines import even_stitches
from tests.needle.accents.growths import plain, rimless, sewn, with_spur, with_twig
from tests.needle.accents.test_thread_net import oracle


def flaws(*rows: Points) -> set[Flaw]:
    return {f.flaw for f in faults_of(rows)}


@pytest.mark.parametrize("name", MOTIFS)
@pytest.mark.parametrize("part", [0.0, 0.3, 1.0])
def test_every_motif_holds_together(name: str, part: float) -> None:
    motif = MOTIFS[name]
    size = motif.least + part * (90.0 - motif.least)
    assert flaws(sewn_accent(AccentWish(name, size)).points) == set()


def test_a_knotted_dot_is_not_taken_for_a_column() -> None:
    assert flaws(sewn_accent(AccentWish("blossom", 40.0, 4, 0.0, 3)).points) == set()


def test_a_plain_square_holds_together() -> None:
    assert flaws(sewn(plain())) == set()


@pytest.mark.parametrize("name", ["leaf", "star"])
def test_bridges_of_a_motif_are_those_that_another_library_finds(name: str) -> None:
    net = thread_net((sewn_accent(AccentWish(name, 40.0)).points,))
    assert set(bridges(net)) == oracle(net)


def test_a_rim_left_out_is_found() -> None:
    assert Flaw.OPEN_RIM in flaws(rimless(plain()))


def test_a_rim_that_stops_short_is_found() -> None:
    points = sewn(plain())
    assert Flaw.OPEN_RIM in flaws(points[: len(points) - 120])


def test_a_line_of_the_net_that_does_not_reach_is_found() -> None:
    """It goes out into a mesh 14 mm wide and back the same way."""
    points = sewn(plain(14.0))
    assert flaws(points) == set()
    spoilt = faults_of((with_spur(points, (9.0, 3.5)),))
    assert [f.flaw for f in spoilt] == [Flaw.FREE_LINE]
    assert spoilt[0].at == pytest.approx((9.0, 3.5), abs=0.01)


def test_a_column_that_hangs_by_one_end_is_found() -> None:
    growth = plain(20.0)
    reaching = with_twig(growth, LineString([(0.0, 0.0), (20.0, 0.0)]))
    assert flaws(sewn(reaching)) == set()
    hanging = with_twig(growth, LineString([(0.0, 0.0), (8.0, 0.0)]))
    spoilt = [f for f in faults_of((sewn(hanging),)) if f.flaw is Flaw.FREE_COLUMN]
    assert len(spoilt) == 1
    assert spoilt[0].at == pytest.approx((8.0, 0.0), abs=1.2)


def test_a_column_without_a_run_below_it_is_no_more_than_a_thread() -> None:
    """Nothing holds the stitches of a zigzag together once the base is gone."""
    line = LineString([(-10.0, 0.0), (10.0, 0.0)])
    zigzag = column(line, 2.0, 2.0)
    assert Flaw.FREE_LINE in flaws(zigzag)
    run = even_stitches(line, 2.0, 1.0)
    assert Flaw.FREE_LINE not in flaws(np.vstack([run, zigzag[::-1]]))


def test_two_accents_on_one_thread_hang_by_it() -> None:
    left = placed_accent(AccentWish("leaf", 34.0), (-20.0, 0.0)).points
    right = placed_accent(AccentWish("leaf", 34.0), (20.0, 0.0)).points
    found = flaws(np.vstack([left, right]))
    assert Flaw.BRIDGE in found and Flaw.PIECES not in found


def test_two_accents_without_a_thread_between_them_are_two_pieces() -> None:
    left = placed_accent(AccentWish("leaf", 34.0), (-20.0, 0.0)).points
    right = placed_accent(AccentWish("leaf", 34.0), (20.0, 0.0)).points
    pieces = [f for f in faults_of((left, right)) if f.flaw is Flaw.PIECES]
    assert len(pieces) == 1 and pieces[0].count == 2


@pytest.mark.no_cover
def test_turned_and_moved_it_holds_as_before_and_in_machine_steps_too() -> None:
    """The files round to a tenth of a millimetre; what holds must not hang on less."""
    for name in MOTIFS:
        points = placed_accent(AccentWish(name, 60.0), (13.7, -4.1), 33.0).points
        assert flaws(points) == set()
        assert flaws(np.round(points, 1)) == set()


def test_rows_of_places_are_proved_like_arrays() -> None:
    points = rimless(plain())
    assert faults_of_rows((tuple((float(x), float(y)) for x, y in points),)) == faults_of((points,))
