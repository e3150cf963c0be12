"""Every seam stitch at one size, compared with a readable text file.

``pytest tests/golden --write-goldens`` writes the files anew; look at the difference before keeping it.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import LineString

from hoopwright.core.types import Points
from hoopwright.needle.seam_stitches import SEAM_STITCHES, sew_seam_stitch
from hoopwright.operations.vocabulary import OrnamentStyle

FOLDER = Path(__file__).parent / "seam_stitches"
LENGTH = 36.0
TOLERANCE = 0.011
"""Files keep hundredths of a millimetre; one machine step is ten of them."""


def sewn(name: str) -> Points:
    path = LineString([(0, 0), (LENGTH, 0)])
    (points,) = sew_seam_stitch(path, OrnamentStyle(name, SEAM_STITCHES[name].width), 1.0, 7.0)
    return points


def text_of(name: str, points: Points) -> str:
    head = f"{name}: {SEAM_STITCHES[name].width:g} mm wide on a seam from 0 to {LENGTH:g} mm, stitches of 1 to 7 mm"
    rows = (f"{x + 0.0:8.2f} {y + 0.0:8.2f}" for x, y in np.round(points, 2))
    return "\n".join((f"# {head}", "#  along   across", *rows, ""))


def differences(points: Points, text: str) -> list[str]:
    """Return in words where the stitches are not those of the file."""
    kept = np.array([line.split() for line in text.splitlines() if not line.startswith("#")], dtype=float)
    if len(kept) != len(points):
        return [f"{len(points)} needle positions, the file has {len(kept)}"]
    off = np.flatnonzero(np.abs(points - kept).max(axis=1) > TOLERANCE)
    return [f"position {i + 1} is {points[i]}, the file has {kept[i]}" for i in off]


@pytest.mark.parametrize("name", sorted(SEAM_STITCHES))
def test_stitches_are_those_of_the_file(name: str, write_goldens: bool) -> None:
    file = FOLDER / f"{name}.txt"
    if write_goldens:
        file.write_text(text_of(name, sewn(name)), encoding="utf-8", newline="\n")
    assert differences(sewn(name), file.read_text(encoding="utf-8")) == []


def test_every_file_belongs_to_a_stitch() -> None:
    assert {f.stem for f in FOLDER.glob("*.txt")} == set(SEAM_STITCHES)


def test_a_wrong_file_fails() -> None:
    points = sewn("feather")
    moved = points.copy()
    moved[7, 1] += 0.03
    assert len(differences(points, text_of("feather", moved))) == 1
    assert differences(points, text_of("feather", points[:-1]))
    assert differences(points, text_of("feather", points)) == []
