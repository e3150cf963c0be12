from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.core.errors import GeometryError
from hoopwright.plane.drawing import Drawing, DrawnPath, read_drawing

HEAD = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'


def drawing(body: str, page: str = 'width="100mm" height="80mm" viewBox="0 0 100 80"') -> Drawing:
    return read_drawing(f"<svg {HEAD} {page}>{body}</svg>".encode(), "tide.svg")


def only(body: str, page: str = 'width="100mm" height="80mm" viewBox="0 0 100 80"') -> DrawnPath:
    (path,) = drawing(body, page).paths
    return path


def test_points_are_millimetres_y_up_from_the_lower_left_corner() -> None:
    path = only('<line id="a" x1="10" y1="20" x2="60" y2="80"/>')
    assert path.id == "a" and not path.closed and path.curved == (False,)
    assert sum(path.points, ()) == pytest.approx((10, 60, 60, 0), abs=1e-3)


@pytest.mark.parametrize(
    ("page", "length"),
    [
        ('width="96" height="96"', 50 * 25.4 / 96),  # CSS: 96 px are one inch
        ('width="4in" height="4in" viewBox="0 0 100 100"', 50.8),
        ('width="10cm" height="10cm" viewBox="0 0 100 100"', 50.0),
        ('width="72pt" height="72pt" viewBox="0 0 100 100"', 12.7),  # CSS: 72 pt are one inch
        ('viewBox="0 0 96 96"', 50 * 25.4 / 96),
    ],
)
def test_units_of_the_page_scale_the_drawing(page: str, length: float) -> None:
    a, b = only('<path d="M10 10h50"/>', page).points
    assert math.dist(a, b) == pytest.approx(length, abs=1e-3)


def test_groups_move_and_turn_what_is_in_them() -> None:
    body = '<g transform="translate(50,40) rotate(90)"><g transform="scale(2)"><path d="M0 0L5 0"/></g></g>'
    a, b = only(body).points
    assert (*a, *b) == pytest.approx((50, 40, 50, 30), abs=1e-3)


def test_shapes_become_paths() -> None:
    body = """<rect id="r" x="1" y="1" width="20" height="10"/><circle id="c" cx="50" cy="40" r="20"/>
      <polyline id="l" points="0,0 5,5 10,0"/><polygon id="p" points="0,0 5,5 10,0"/>"""
    paths = {p.id: p for p in drawing(body).paths}
    assert [paths[i].closed for i in "rclp"] == [True, True, False, True]
    assert len(paths["r"].points) == 4
    assert all(abs(math.dist(p, (50, 40)) - 20) < 1e-3 for p in paths["c"].points)
    assert all(paths["c"].curved)


def test_curves_stay_within_the_chord_error() -> None:
    # the cubic with controls at 0.5522847498 of the radius leaves a quarter circle by at most 0.027 % (well known)
    r, k = 40.0, 40.0 * 0.5522847498
    path = only(f'<path d="M10 10 C{10 + k} 10 {10 + r} {10 + r - k} {10 + r} {10 + r}"/>')
    middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in zip(path.points, path.points[1:], strict=False)]
    off = [abs(math.dist(m, (10, 80 - 10 - r)) - r) for m in (*middles, *path.points)]
    assert max(off) <= 0.02 + 0.00027 * r
    assert len(path.points) < 60


def test_texts_and_pictures_are_left_out_and_counted() -> None:
    body = '<text>mill</text><text>tide</text><image href="data:image/png;base64,AAAA" width="5" height="5"/>'
    made = drawing(body + '<path d="M0 0L9 9"/>')
    assert made.ignored == (("image", 1), ("text", 2))
    assert len(made.paths) == 1


def test_hidden_things_and_definitions_are_not_lines() -> None:
    body = '<defs><path d="M0 0L9 9"/></defs><path style="display:none" d="M0 0L9 9"/><clipPath id="c"><rect width="9" height="9"/></clipPath>'
    assert drawing(body).paths == ()


def test_copies_inside_the_drawing_are_lines() -> None:
    body = '<defs><path id="s" d="M0 0L9 0"/></defs><use xlink:href="#s" x="10" y="10"/>'
    assert only(body).points[0] == pytest.approx((10, 70), abs=1e-3)


ENTITIES = b'<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "b">]><svg xmlns="http://www.w3.org/2000/svg">&a;</svg>'
REFUSED: dict[str, bytes] = {
    "empty": b"",
    "no xml": b"the tide comes in",
    "half a file": b'<svg xmlns="http://www.w3.org/2000/svg"><g>',
    "another root": b"<html/>",
    "entities": ENTITIES,
    "doctype alone": b'<!DOCTYPE svg SYSTEM "x.dtd"><svg xmlns="http://www.w3.org/2000/svg"/>',
    "script": f"<svg {HEAD}><script>1</script></svg>".encode(),
    "event": f'<svg {HEAD}><path onclick="x()" d="M0 0L1 1"/></svg>'.encode(),
    "foreign content": f"<svg {HEAD}><foreignObject/></svg>".encode(),
    "copy from outside": f'<svg {HEAD}><use href="other.svg#a"/></svg>'.encode(),
    "picture from outside": f'<svg {HEAD}><image href="file:///etc/hosts"/></svg>'.encode(),
    "style sheet": f'<?xml-stylesheet href="a.css"?><svg {HEAD}/>'.encode(),
    "a thousand groups": (f"<svg {HEAD}>" + "<g>" * 1000 + "</g>" * 1000 + "</svg>").encode(),
    "too large": b" " * 2_100_000,
    "too many elements": (f"<svg {HEAD}>" + "<g/>" * 20_001 + "</svg>").encode(),
    "copies of copies": (
        f'<svg {HEAD}><g id="a"><path d="M0 0L1 1"/></g>' + '<use href="#a"/>' * 200 + "</svg>"
    ).encode(),
    "endless page": f'<svg {HEAD} width="1e9mm" height="1mm"><path d="M0 0L1 1"/></svg>'.encode(),
    "endless line": f'<svg {HEAD} width="9mm" height="9mm"><path d="M0 0L1e300 1"/></svg>'.encode(),
    "too many points": (
        f'<svg {HEAD} width="9mm" height="9mm"><path d="M0 0' + "h1v1h-1v-1" * 30_000 + '"/></svg>'
    ).encode(),
    "too many points together": (
        f'<svg {HEAD} width="9mm" height="9mm">' + '<path d="M0 0C99 99 -9000 9000 1 1"/>' * 300 + "</svg>"
    ).encode(),
}


@pytest.mark.parametrize("case", sorted(REFUSED))
def test_what_a_drawing_never_needs_is_refused_in_plain_words(case: str) -> None:
    with pytest.raises(GeometryError) as refused:
        read_drawing(REFUSED[case], "tide.svg")
    assert "tide.svg" in refused.value.message
    assert refused.value.cure


def test_strokes_of_one_id_are_numbered_past_those_that_are_there() -> None:
    body = '<path id="a-3" d="M0 0L1 1"/><path id="a" d="M0 0L1 1M2 2M0 0L1 1M0 0L1 1"/><path id="a" d="M0 0L1 1"/>'
    assert [p.id for p in drawing(body).paths] == ["a-3", "a", "a-2", "a-4", "a-5"]


@pytest.mark.parametrize(
    "d", ["", "M", "M0", "M0 0", "M0 0L", "M nan nan L 1 1", "A", "M0 0A1 1 0 0 0", "M0 0zz z", "L5 5"]
)
def test_broken_path_data_never_breaks_the_reader(d: str) -> None:
    try:
        paths = drawing(f'<path d="{d}"/>').paths
    except GeometryError as refused:
        assert refused.cure
    else:
        assert all(math.isfinite(v) for p in paths for xy in p.points for v in xy)


@settings(max_examples=60, deadline=None)
@given(st.text(alphabet="MmLlHhVvCcSsQqTtAaZz0123456789.,- e", max_size=40))
def test_any_path_data_is_read_or_refused(d: str) -> None:
    try:
        paths = drawing(f'<path d="{d}"/>').paths
    except GeometryError as refused:
        assert refused.cure
    else:
        assert all(math.isfinite(v) for p in paths for xy in p.points for v in xy)
