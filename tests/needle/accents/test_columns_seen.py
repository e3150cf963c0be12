from __future__ import annotations

import numpy as np
import pytest
from shapely.geometry import LineString, box

from hoopwright.needle.accents.columns import column
from hoopwright.needle.accents.columns_seen import across, closed_round, columns_seen
from hoopwright.needle.accents.sew import grown, ribs_of, sewn_accent
from hoopwright.needle.accents.shapes import AccentWish
from hoopwright.needle.accents.table import MOTIFS
from hoopwright.needle.lines import even_stitches

LINE = LineString([(0.0, 0.0), (20.0, 0.0)])


def test_a_column_is_recognised_with_its_middle_and_width() -> None:
    (seen,) = columns_seen(column(LINE, 2.0, 2.0))
    assert seen.width == pytest.approx(2.0, abs=0.05)
    assert seen.middle.hausdorff_distance(LINE) < 0.3
    assert seen.place().area == pytest.approx(40.0, rel=0.03)


def test_runs_are_no_columns() -> None:
    run = even_stitches(LINE, 2.0, 1.0)
    assert columns_seen(run) == ()
    assert columns_seen(np.vstack([run, run[::-1], run])) == ()


def test_bean_stitches_and_open_zigzags_are_no_columns() -> None:
    bean = np.array([(2.0 * (k // 3 + (k % 3 != 1) * 0 + (k % 3 == 1)), 0.0) for k in range(40)])
    assert columns_seen(bean) == ()
    zigzag = np.array([(1.2 * k, 3.0 * (k % 2)) for k in range(40)])
    assert columns_seen(zigzag) == ()


def test_a_sharp_bend_parts_a_column_unless_it_is_wanted_whole() -> None:
    row = column(LineString([(0.0, 0.0), (20.0, 0.0), (8.0, 15.0)]), 2.0, 2.0)
    assert len(columns_seen(row)) == 2
    assert len(columns_seen(row, parted=False)) == 1


@pytest.mark.parametrize("name", MOTIFS)
def test_every_rib_of_a_motif_is_seen(name: str) -> None:
    """The plan tells how many there are; nothing else of the proof looks at it."""
    wish = AccentWish(name, 60.0)
    seen = columns_seen(sewn_accent(wish).points)
    assert len(ribs_of(grown(wish).tree)) <= len(seen) - 1


def test_across_is_square_to_the_middle_and_as_long_as_asked() -> None:
    cut = across(LINE, 5.0, 1.5)
    assert cut.length == pytest.approx(3.0)
    assert all(x == pytest.approx(5.0) for x, _ in cut.coords)


def test_what_columns_close_round_has_no_holes() -> None:
    frame = box(0, 0, 10, 10).difference(box(2, 2, 8, 8))
    assert closed_round([frame]).area == pytest.approx(100.0)
    assert closed_round([box(0, 0, 10, 2), box(0, 8, 10, 10)]).area == pytest.approx(40.0)
