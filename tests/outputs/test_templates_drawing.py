from __future__ import annotations

import pytest
import shapely
from shapely.geometry import LineString, Polygon, box

from hoopwright.outputs.templates.drawing import draw, grain_arrow
from hoopwright.outputs.templates.marks import Area, Drawing, Line, Words, box_of, words_box
from hoopwright.outputs.templates.pieces import ENGLISH, Piece, quarter_turned


def _piece(width: float, height: float, clip: Polygon | None = None, grain: float | None = -62.0) -> Piece:
    sew = box(0, 0, width, height)
    cut = box(-6, -6, width + 6, height + 6)
    seam = LineString([(0, height), (width, height)])
    return Piece("p", "3 · C", ("reed green linen", "right side up"), cut, sew, seam, clip, grain)


def _words(drawing: Drawing) -> list[Words]:
    return [m for m in drawing.marks if isinstance(m, Words)]


@pytest.mark.parametrize("size", [(90, 60), (40, 30), (30, 70), (30, 26)])
def test_words_lie_inside_the_sewing_line_and_apart(size: tuple[float, float]) -> None:
    drawing = draw(_piece(*size))
    words = _words(drawing)
    assert drawing.notes == 0
    assert {"3 · C", "reed green linen", "right side up"} <= {w.text for w in words}
    boxes = [box(*words_box(w)) for w in words]
    assert all(box(0, 0, *size).contains(b) for b in boxes)
    assert shapely.union_all(boxes).area == pytest.approx(sum(b.area for b in boxes))


def test_a_tiny_piece_has_its_name_beside_it_with_a_leader() -> None:
    drawing = draw(_piece(7, 7))
    assert drawing.notes == 1
    for words in _words(drawing):
        assert words_box(words)[0] > 13
    leader = next(m for m in drawing.marks if isinstance(m, Line) and m.style == "leader")
    assert box(0, 0, 7, 7).contains(shapely.Point(leader.points[-1]))


def test_the_box_holds_every_mark() -> None:
    for piece in (_piece(7, 7), _piece(60, 40, box(0, -6, 8, 4))):
        drawing = draw(piece)
        assert drawing.box == box_of(drawing.marks)
        assert box(*drawing.box).covers(piece.cut)


def test_what_is_cut_away_is_hatched_and_named() -> None:
    clip = box(-6, -6, 5, 5)
    drawing = draw(_piece(60, 40, clip))
    assert ENGLISH.clip in [w.text for w in _words(drawing)]
    hatch = [LineString(m.points) for m in drawing.marks if isinstance(m, Line) and m.style == "hatch"]
    assert hatch
    assert all(clip.buffer(1e-6).covers(line) for line in hatch)


def test_without_something_to_cut_away_nothing_is_hatched() -> None:
    assert not [m for m in draw(_piece(60, 40)).marks if isinstance(m, Line) and m.style == "hatch"]


def test_the_grain_arrow_points_along_the_warp() -> None:
    import math

    line = next(m for m in draw(_piece(90, 60)).marks if isinstance(m, Line) and m.style == "grain")
    (a, b), (c, d) = line.points
    assert math.degrees(math.atan2(d - b, c - a)) % 180 == pytest.approx(118.0)
    turned = draw(quarter_turned(_piece(90, 60)))
    line = next(m for m in turned.marks if isinstance(m, Line) and m.style == "grain")
    (a, b), (c, d) = line.points
    assert math.degrees(math.atan2(d - b, c - a)) % 180 == pytest.approx(28.0)


def test_cloth_with_an_up_has_one_arrow_head() -> None:
    heads = [
        len([m for m in grain_arrow((0, 0), (20, 0), one_way=way) if isinstance(m, Area)]) for way in (True, False)
    ]
    assert heads == [1, 2]


def test_words_on_an_arrow_are_never_upside_down() -> None:
    for end in ((20, 0), (-20, 0), (0, 20), (0, -20), (-10, 15), (10, -15)):
        (words,) = (m for m in grain_arrow((0, 0), end, one_way=False) if isinstance(m, Words))
        assert -90 <= words.turn <= 90


def test_a_pieced_section_has_no_grain_arrow() -> None:
    assert not [m for m in draw(_piece(60, 40, grain=None)).marks if isinstance(m, Line) and m.style == "grain"]
