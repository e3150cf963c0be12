from __future__ import annotations

import pytest
from shapely.geometry import box

from hoopwright.core.errors import GeometryError
from hoopwright.piecing.patch_map_basics import letter, map_of
from hoopwright.plane.subdivision import subdivide


def test_letters_go_on_after_z_as_columns_of_a_sheet_do() -> None:
    assert [letter(i) for i in (0, 25, 26, 51, 52, 701, 702)] == ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]
    assert len({letter(i) for i in range(2000)}) == 2000


def test_seam_lines_cover_every_chain_once() -> None:
    region = box(0, 0, 30, 20)
    patch_map = map_of(region, subdivide(region, [((0, 10), (30, 10)), ((10, 10), (10, 20)), ((20, 10), (20, 20))]))
    assert patch_map.letters == ("A", "B", "C", "D")
    assert [s.number for s in patch_map.seams] == [1, 2, 3]
    assert sorted(s.chain for s in patch_map.seams) == list(range(len(patch_map.plane.chains)))
    assert sorted(round(s.line.length) for s in patch_map.seams) == [10, 10, 30]


def test_letters_must_fit_the_faces() -> None:
    region = box(0, 0, 30, 20)
    plane = subdivide(region, [((0, 10), (30, 10))])
    assert map_of(region, plane, ("K", "M")).face("M") == 1
    with pytest.raises(GeometryError, match="2 patches"):
        map_of(region, plane, ("K",))
    with pytest.raises(GeometryError, match="1 different"):
        map_of(region, plane, ("K", "K"))
