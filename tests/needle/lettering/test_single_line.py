from __future__ import annotations

import unicodedata

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString

from hoopwright.core.types import Points
from hoopwright.needle.lettering.pen_thread import LONGEST, TINY, pen_rows
from hoopwright.needle.lettering.single_line import Sign, sign

LATIN = "ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÐÑÒÓÔÕÖØÙÚÛÜÝÞßàáâãäåæçèéêëìíîïðñòóôõöøùúûüýþÿ"
ASCII = "".join(chr(c) for c in range(33, 127))
MORE = "ŠšŽžČčŁłŒœŐőŰűĘęĀāĞğ€£§°×«»‘’“”„–—¿¡"


def of(character: str) -> Sign:
    found = sign(character)
    assert found is not None
    return found


@pytest.mark.parametrize("character", ASCII + LATIN + MORE)
def test_every_letter_a_maker_of_europe_writes_can_be_sewn(character: str) -> None:
    found = of(character)
    left, low, right, high = found.bounds
    assert found.strokes or found.dots
    assert 0.0 < found.advance < 2.2
    assert -0.5 <= low < high + 1e-9 <= 1.62
    assert -0.25 < left <= right < found.advance + 0.25


@pytest.mark.parametrize("character", "漢Жα♥\u0301")
def test_other_signs_are_known_to_be_lacking(character: str) -> None:
    assert sign(character) is None


@pytest.mark.parametrize("character", [c for c in LATIN if len(unicodedata.normalize("NFD", c)) == 2])
def test_a_letter_with_a_mark_is_the_letter_and_its_mark_apart(character: str) -> None:
    """The mark clears what is below it, so that the thread of the two does not run together."""
    base, mark = tuple(unicodedata.normalize("NFD", character))
    plain, marked = of({"i": "ı"}.get(base, base)), of(character)
    assert marked.advance == plain.advance
    assert len(marked.strokes) + len(marked.dots) > len(plain.strokes) + len(plain.dots)
    if mark != "\u0327":
        top = plain.bounds[3]
        added = [*marked.strokes[len(plain.strokes) :], *(np.array([d]) for d in marked.dots[len(plain.dots) :])]
        assert min(float(row[:, 1].min()) for row in added) >= top + 0.1


def test_marks_stand_above_the_middle_of_their_letter() -> None:
    for character in "ÄËÖÜäëöü":
        left, _, right, _ = of(unicodedata.normalize("NFD", character)[0]).bounds
        assert np.mean([x for x, _ in of(character).dots]) == pytest.approx((left + right) / 2, abs=0.005)


def test_rounds_are_round() -> None:
    """No bend of an O is sharper than 12 degrees, where the data's own corners are 20 and more."""
    (ring,) = of("O").strokes
    ways = np.diff(ring, axis=0)
    angles = np.unwrap(np.arctan2(ways[:, 1], ways[:, 0]))
    assert np.degrees(np.abs(np.diff(angles))).max() < 12.0


@pytest.mark.parametrize("character", "AEXk48")
def test_corners_stay_corners(character: str) -> None:
    whole = shapely.union_all([LineString(s) for s in of(character).strokes])
    hull = whole.convex_hull
    assert hull.area > 0.2


def rows_of(character: str, height: float, times: int = 2) -> list[Points]:
    return list(pen_rows(of(character), 0.0, 0.0, height, times))


def length(rows: list[Points]) -> float:
    return sum(float(np.hypot(*np.diff(row, axis=0).T).sum()) for row in rows)


@pytest.mark.parametrize("height", [4.5, 8.0, 15.0])
@pytest.mark.parametrize("character", "ABEHMSTagkmtxß&8")
def test_every_line_is_sewn_twice_in_one_thread(character: str, height: float) -> None:
    """Stitches are chords, so a little of the rounds is lost; never is a line sewn once or thrice."""
    lines = shapely.union_all([LineString(s * height) for s in of(character).strokes])
    rows = rows_of(character, height)
    assert 1.82 * lines.length < length(rows) <= 2.001 * lines.length
    parts = shapely.get_parts(shapely.line_merge(lines).buffer(1e-6))
    assert len(rows) == len(parts)
    assert all(np.allclose(row[0], row[-1]) for row in rows)


@pytest.mark.parametrize("character", ASCII + LATIN + MORE)
def test_small_letters_keep_the_limits_and_their_shape(character: str) -> None:
    height = 5.0
    found, rows = of(character), rows_of(character, height)
    steps = np.concatenate([np.hypot(*np.diff(row, axis=0).T) for row in rows])
    assert steps.max() < LONGEST * 1.5
    assert steps.min() >= TINY
    drawn = [LineString(s * height) for s in found.strokes]
    thread = shapely.union_all([LineString(row) for row in rows])
    assert all(line.hausdorff_distance(shapely.intersection(line, thread.buffer(0.45))) < 0.6 for line in drawn)


def test_sewn_once_a_letter_is_one_walk_and_thrice_it_is_bean_stitched() -> None:
    lines = shapely.union_all([LineString(s * 10) for s in of("l").strokes])
    assert length(rows_of("l", 10.0, 1)) == pytest.approx(lines.length, rel=0.01)
    assert length(rows_of("l", 10.0, 3)) == pytest.approx(3 * lines.length, rel=0.01)


def test_dots_are_large_enough_to_be_sewn() -> None:
    for character in ".iü:!":
        found = of(character)
        dots = rows_of(character, 5.0)[-len(found.dots) :]
        for row in dots:
            assert np.hypot(*np.diff(row, axis=0).T).min() >= 1.0 - 1e-9
