"""Corded rows, a row over another and a row round corners, compared with readable text files; see test_seam_stitches.py."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import LineString, box

from hoopwright.core.types import Points
from hoopwright.needle.seam_stitches import sew_seam_stitch
from hoopwright.operations.vocabulary import OrnamentStyle
from tests.golden.test_seam_stitches import differences

FOLDER = Path(__file__).parent / "seam_stitches" / "rows"
SEAM = LineString([(0, 0), (36, 0)])
FLAP = LineString(box(-24, -20, 24, 20).buffer(-10).buffer(10, quad_segs=16).union(box(-24, 0, 24, 20)).boundary.coords)
FEATHER, HERRINGBONE = OrnamentStyle("feather", 10.0, weight="corded"), OrnamentStyle("herringbone", 7.0)

ROWS = {
    "corded-feather": (SEAM, FEATHER),
    "corded-chain": (SEAM, OrnamentStyle("chain", 5.0, weight="corded")),
    "knots-over-herringbone": (SEAM, OrnamentStyle("zigzag-coral", 4.5, under=HERRINGBONE)),
    "lacing-over-corded-feather": (SEAM, OrnamentStyle("lacing", 6.0, under=FEATHER)),
    "cretan-round-a-flap": (FLAP, OrnamentStyle("cretan", 6.0)),
    "corded-fern-round-a-flap": (FLAP, OrnamentStyle("fern", 8.0, weight="corded")),
}


def sewn(name: str) -> Points:
    path, style = ROWS[name]
    return np.concatenate(sew_seam_stitch(path, style, 1.0, 7.0))


def text_of(name: str, points: Points) -> str:
    path, style = ROWS[name]
    head = f"{name}: {style.weight} {style.stitch}, {style.width:g} mm wide, on {path.length:.1f} mm, stitches of 1 to 7 mm"
    rows = (f"{x + 0.0:8.2f} {y + 0.0:8.2f}" for x, y in np.round(points, 2))
    return "\n".join((f"# {head}", "#      x        y", *rows, ""))


@pytest.mark.parametrize("name", sorted(ROWS))
def test_rows_are_those_of_the_file(name: str, write_goldens: bool) -> None:
    file = FOLDER / f"{name}.txt"
    if write_goldens:
        FOLDER.mkdir(exist_ok=True)
        file.write_text(text_of(name, sewn(name)), encoding="utf-8", newline="\n")
    assert differences(sewn(name), file.read_text(encoding="utf-8")) == []


def test_every_file_belongs_to_a_row() -> None:
    assert {f.stem for f in FOLDER.glob("*.txt")} == set(ROWS)
