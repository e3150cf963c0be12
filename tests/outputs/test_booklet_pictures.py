from __future__ import annotations

import base64
import io

import pytest
from PIL import Image

from hoopwright.outputs.booklet.pictures import as_text, files_of, picture, proportion, step_file


def _svg(width: float, height: float) -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}"/>'.encode()


def _png(width: int, height: int) -> bytes:
    data = io.BytesIO()
    Image.new("RGB", (width, height), "#5f8a6b").save(data, "PNG")
    return data.getvalue()


def test_proportions_come_from_the_view_box_or_the_pixels() -> None:
    assert proportion(_svg(158, 118.5)) == pytest.approx(158 / 118.5)
    assert proportion(_png(140, 70)) == 2.0
    assert proportion(b"<svg/>") == 1.0


def test_pictures_fill_their_room_without_leaving_it() -> None:
    wide = picture({"a.svg": _svg(200, 50)}, ("a.svg",), "wide", (74.0, 49.0))
    tall = picture({"a.svg": _svg(50, 100)}, ("b.svg", "a.svg"), "tall", (74.0, 49.0))
    assert wide is not None and tall is not None
    assert wide["width"] == 74.0
    assert tall["width"] == 24.5
    assert picture({}, ("a.svg",), "none", (74.0, 49.0)) is None


def test_pixels_are_packed_into_text() -> None:
    found = picture({"finished.png": _png(30, 20)}, ("finished.png",), "done", (60.0, 60.0))
    assert found is not None
    text = as_text(str(found["file"]), {"finished.png": _png(30, 20)}).decode()
    code = text.split("base64,")[1].split('"')[0]
    with Image.open(io.BytesIO(base64.b64decode(code))) as image:
        assert image.size == (30, 20)


def test_files_are_found_in_nested_data() -> None:
    data = {"a": [{"file": "x.svg"}, None, {"p": {"file": "y.svg"}}], "b": {"file": "x.svg"}}
    assert files_of(data) == ("x.svg", "y.svg")


def test_names_of_step_pictures() -> None:
    assert step_file("panel", 3) == "panel-step-03.svg"
    assert step_file("section-1", 112, hands=True) == "section-1-step-112-hands.svg"
