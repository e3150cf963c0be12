from __future__ import annotations

import io
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import shapely
from PIL import Image

from hoopwright.items.plan import Plan
from hoopwright.needle.accents.sew import sewn_accent
from hoopwright.needle.accents.shapes import AccentWish
from hoopwright.outputs.drawing.shapes import Area, Line
from hoopwright.outputs.pictures.finished_lace import AROUND, SLATE, finished_lace_png, lace_strands
from hoopwright.outputs.pictures.lace import lace
from hoopwright.outputs.pictures.pictures import all_pictures
from hoopwright.pipeline import plan
from hoopwright.project.load import load
from tests.items.small_items import project_of

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def leaf() -> Plan:
    return plan(project_of("accent", size=34, count=1))


def test_a_drawn_accent_covers_what_is_sewn_and_leaves_its_meshes_open() -> None:
    accent = sewn_accent(AccentWish("leaf", 60.0))
    row = shapely.LineString(accent.points)
    shapes = lace([row], "#9c3a2a")
    lines = shapely.union_all([shapely.LineString(s.points).buffer(s.width / 2) for s in shapes if isinstance(s, Line)])
    columns = shapely.union_all([shapely.Polygon(s.rings[0], s.rings[1:]) for s in shapes if isinstance(s, Area)])
    drawn = shapely.union_all([lines, columns])
    assert shapely.difference(row, drawn.buffer(0.3)).length < 0.01 * row.length
    assert 0.4 < drawn.area / accent.outline.area < 0.75
    assert len(shapes) < 120


def test_the_finished_accent_is_a_picture_true_to_size_on_a_dark_sheet() -> None:
    picture = Image.open(io.BytesIO(finished_lace_png(leaf(), 6.0)))
    low, high = (f(np.vstack([s.points for s in lace_strands(leaf())]), axis=0) for f in (np.min, np.max))
    assert picture.size == pytest.approx(tuple((high - low + 2 * AROUND) * 6.0), abs=2)
    corner = np.asarray(picture.convert("RGB"))[2, 2] / 255.0
    assert corner == pytest.approx(np.array(SLATE), abs=0.03)
    shown = np.abs(np.asarray(picture.convert("RGB")) / 255.0 - np.array(SLATE)).max(axis=2) > 0.2
    assert 0.1 < shown.mean() < 0.5


def test_only_accents_made_for_themselves_have_it() -> None:
    flap = plan(load(EXAMPLES / "tide-mill-flap" / "project.toml").project)
    assert lace_strands(flap) == ()
    with pytest.raises(ValueError, match="no accents"):
        finished_lace_png(flap)
    names = [name for name, _ in all_pictures(leaf())]
    assert names == ["finished.png", "accent-step-01.svg", "accent-step-02.svg", "legend.svg"]
