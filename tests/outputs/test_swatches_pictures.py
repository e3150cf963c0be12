from __future__ import annotations

import io
from functools import cache
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image

from hoopwright.core.colour import channels_of
from hoopwright.items.swatches.wish import MARKS, SWATCHES, THREADS
from hoopwright.outputs.swatches.pictures import AROUND, SCALE, sheet_drawing, sheet_pictures
from tests.outputs.swatch_builds import sheets_of

KEYS = [h.key for h in sheets_of()[0].plan.hoopings]


@cache
def drawn() -> dict[str, bytes]:
    return sheet_pictures(sheets_of()[1])


def test_every_sheet_has_both_pictures() -> None:
    assert set(drawn()) == {f"{k}.{end}" for k in KEYS for end in ("png", "svg")}


@pytest.mark.parametrize("key", KEYS)
def test_the_drawing_is_true_to_size_and_has_every_run(key: str) -> None:
    _, sheets = sheets_of()
    drawing = sheet_drawing(sheets, key)
    svg = ElementTree.fromstring(drawn()[f"{key}.svg"])
    assert svg.get("width") == f"{round(drawing.width, 3):g}mm"
    lines = [p for p in svg.iter("{http://www.w3.org/2000/svg}path") if p.get("fill") == "none"]
    hooping = next(h for h in sheets.plan.hoopings if h.key == key)
    assert len(lines) == sum(len(s.runs) for s in hooping.steps)


@pytest.mark.parametrize("key", KEYS)
def test_thread_lies_in_the_picture_where_it_is_sewn(key: str) -> None:
    """Along every stitch of the second thread the picture is dark and bluish, away from all stitches it is cloth."""
    _, sheets = sheets_of()
    with Image.open(io.BytesIO(drawn()[f"{key}.png"])) as image:
        pixels = np.asarray(image.convert("RGB"), dtype=float)
        assert image.info["dpi"][0] == pytest.approx(SCALE * 25.4, rel=1e-3)
    left, _, _, top = sheet_drawing(sheets, key).extent
    light = channels_of(THREADS[SWATCHES].colour)
    for swatch in sheets.on(key):
        points = np.concatenate([(r.points[:-1] + r.points[1:]) / 2 for r in swatch.runs])
        rows, columns = ((top - points[:, 1]) * SCALE).astype(int), ((points[:, 0] - left) * SCALE).astype(int)
        found = np.median(pixels[rows, columns], axis=0)
        assert found[2] > found[0] and found.mean() < 110, swatch.name
        assert np.abs(found - light).max() < 75, swatch.name
    assert pixels[: int(AROUND * SCALE / 2)].mean() > 200


def test_numbers_have_the_thread_of_the_marks() -> None:
    _, sheets = sheets_of()
    drawing = sheet_drawing(sheets, KEYS[0])
    colours = [s.colour for s in drawing.shapes if hasattr(s, "colour")]
    wanted = [
        c for w in sheets.on(KEYS[0]) for c in [THREADS[MARKS].colour] * len(w.marks) + [THREADS[SWATCHES].colour]
    ]
    assert colours == wanted
