from __future__ import annotations

import pytest
import shapely
from shapely.geometry import LineString, Polygon, box

from hoopwright.outputs.templates import templates_pdf
from hoopwright.outputs.templates.furniture import BAR_WORDS
from hoopwright.outputs.templates.marks import Drawing, Line, Words
from hoopwright.outputs.templates.tiling import OVERLAP, Tiling, tile_marks, tiling
from tests.outputs.paper_builds import build_of, panel_of
from tests.outputs.pdf_reading import opened, texts

ROOM = (198.0, 245.0)
LARGE = Polygon([(0, 0), (520, 40), (480, 610), (60, 560)])


@pytest.mark.parametrize("size", [(300, 300), (190, 900), (199, 246), (700, 60)])
def test_tiles_cover_the_piece_and_overlap_by_ten_mm(size: tuple[float, float]) -> None:
    piece = box(0, 0, *size)
    whole = tiling(piece, ROOM)
    assert shapely.union_all([box(*t.box) for t in whole.tiles]).covers(piece)
    by_place = {(t.row, t.column): t for t in whole.tiles}
    for (row, column), tile in by_place.items():
        assert tile.box[2] - tile.box[0] == pytest.approx(ROOM[0])
        if (row, column + 1) in by_place:
            assert tile.box[2] - by_place[row, column + 1].box[0] == pytest.approx(10.0)
        if (row + 1, column) in by_place:
            assert tile.box[3] - by_place[row + 1, column].box[1] == pytest.approx(10.0)


def test_tiles_without_any_of_the_piece_are_left_out() -> None:
    corner = Polygon([(0, 0), (600, 0), (600, 20), (20, 20), (20, 700), (0, 700)])
    whole = tiling(corner, ROOM)
    assert len(whole.tiles) < whole.rows * whole.columns


def _drawn(piece: Polygon, whole: Tiling) -> list[tuple[object, ...]]:
    line = Line(tuple((x, y) for x, y in piece.exterior.coords[:-1]), "cut", closed=True)
    drawing = Drawing("piece", (line,), piece.bounds, 0)
    return [tile_marks(drawing, whole, t) for t in whole.tiles]


def test_the_parts_of_a_line_make_the_whole_line_again() -> None:
    whole = tiling(LARGE, ROOM)
    parts = [
        LineString(m.points)
        for marks in _drawn(LARGE, whole)
        for m in marks
        if isinstance(m, Line) and m.style == "cut"
    ]
    joined = shapely.union_all(parts)
    assert LARGE.exterior.difference(joined.buffer(1e-6)).length < 1e-3
    assert joined.difference(LARGE.exterior.buffer(1e-6)).length < 1e-3


def test_crosses_of_one_name_lie_on_each_other_and_in_the_overlap() -> None:
    whole = tiling(LARGE, ROOM)
    places: dict[str, list[tuple[float, float]]] = {}
    for marks, tile in zip(_drawn(LARGE, whole), whole.tiles, strict=True):
        for mark in marks:
            if isinstance(mark, Words) and mark.style == "join":
                places.setdefault(mark.text, []).append(mark.at)
                assert box(*tile.box).contains(shapely.Point(mark.at))
    assert places
    for found in places.values():
        assert len(found) == 2
        assert found[0] == pytest.approx(found[1])


def test_a_large_panel_is_printed_in_tiles_with_bars_on_each_page() -> None:
    panel = panel_of(box(-150, -150, 150, 150), [((-200.0, 20.0), (200.0, -30.0))])
    pages = texts(templates_pdf(build_of(panel)))
    tiles = [page for page in pages if "tile" in page]
    assert len(tiles) >= 4
    assert all("4 inches" in page and "100 mm" in page for page in pages)
    assert all("".join(BAR_WORDS.split()) in "".join(page.split()) for page in pages)
    assert OVERLAP == 10.0
    assert len(opened(templates_pdf(build_of(panel)))) == len(pages)


def test_words_beside_a_large_piece_are_printed_too() -> None:
    clip = box(-90.0, -160.0, -80.0, -140.0)
    panel = panel_of(box(-90, -160, 90, 160), [((-100.0, 150.0), (100.0, 140.0))], clips={"B": clip})
    text = "".join("".join(page.split()) for page in texts(templates_pdf(build_of(panel))))
    assert "cutthisawayaftersewing" in text
