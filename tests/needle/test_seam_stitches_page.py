"""docs/seam-stitches.md names every stitch with its true figures, and its picture is the one the program draws."""

from __future__ import annotations

import re

import numpy as np
import pytest
from scipy.spatial import KDTree
from shapely.geometry import LineString

from hoopwright.core.types import Points
from hoopwright.estimate.time import sewing_minutes
from hoopwright.needle.seam_stitches import OTHER_NAMES, SEAM_STITCHES, sew_seam_stitch
from hoopwright.operations.vocabulary import OrnamentStyle
from hoopwright.outputs.drawing.svg import to_svg
from tests.docs.papers import DOCS, drawer, same_picture

PAGE = (DOCS / "seam-stitches.md").read_text(encoding="utf-8")
PICTURE = DOCS / "pictures" / "seam-stitches.svg"
ROWS = {
    cells[0].strip("`"): cells[1:]
    for line in PAGE.splitlines()
    if len(cells := [c.strip() for c in line.strip("|").split("|")]) == 6 and cells[0].startswith("`")
}


def test_every_stitch_stands_on_the_page_and_nothing_else() -> None:
    assert list(ROWS) == list(SEAM_STITCHES)


@pytest.mark.parametrize("name", sorted(SEAM_STITCHES))
def test_its_figures_and_words_are_those_of_the_table(name: str) -> None:
    stitch = SEAM_STITCHES[name]
    words, width, least, _, sides = ROWS[name]
    assert words == f"{stitch.title}. {stitch.description}"
    assert float(width) == stitch.width
    assert float(least) == stitch.least_width
    assert sides == (", ".join(stitch.sides) or "-")


@pytest.mark.parametrize("name", sorted(SEAM_STITCHES))
def test_its_two_sides_are_as_the_page_says(name: str) -> None:
    """The middle of a long row, reflected over the seam, lies on the row itself or on the row moved along."""
    stitch = SEAM_STITCHES[name]
    style = OrnamentStyle(name, stitch.width)
    (points,) = sew_seam_stitch(LineString([(0, 0), (12 * stitch.proportion * stitch.width, 0)]), style, 1.0, 7.0)
    length, repeat = points[:, 0].max(), stitch.proportion * stitch.width
    inner = points[(points[:, 0] > 3 * repeat) & (points[:, 0] < length - 3 * repeat)] * [1, -1]
    row = KDTree(points)
    off = [_farthest(row, inner + np.array([d, 0.0])) for d in np.arange(0.0, 1.2 * repeat, 0.02)]
    sides = "equal" if off[0] < 0.1 else "equal in turn" if min(off) < 0.1 else "different"
    assert ROWS[name][3] == sides


def _farthest(row: KDTree, places: Points) -> float:
    gaps, _ = row.query(places)
    return float(np.max(gaps))


def test_other_names_on_the_page_lead_where_the_program_leads() -> None:
    said = dict(re.findall(r"^- ([a-z ]+): `([a-z-]+)`", PAGE, re.MULTILINE))
    assert len(said) >= 8
    for other, ours in said.items():
        assert OTHER_NAMES[other.replace(" ", "-")][0] == ours


def test_the_picture_is_what_the_program_draws() -> None:
    """Words are the same and numbers within a hundredth of a millimetre; ``make pictures`` draws it anew."""
    module = drawer()
    drawing = module.seam_stitches()
    fresh = to_svg(drawing, width_mm=drawing.width * module.ENLARGED)
    kept = PICTURE.read_text(encoding="utf-8")
    assert same_picture(kept, fresh)
    assert all(f">{name}</text>" in kept for name in SEAM_STITCHES)


def test_the_picture_of_rows_is_what_the_program_draws() -> None:
    module = drawer()
    kept = (DOCS / "pictures" / "seam-rows.svg").read_text(encoding="utf-8")
    assert same_picture(kept, module.seam_rows_svg())
    assert all(f">{words}</text>" in kept for words in ("fine", "bold", "corded", "left", "both"))


def test_the_page_says_how_long_corded_seams_take() -> None:
    """Its table says two to four minutes for 100 mm at 650 stitches a minute; knotted lines alone are quicker."""
    assert "two minutes, up to four" in PAGE
    for name in ("feather", "herringbone", "cretan", "fan", "wheatear", "detached-chain-fan"):
        style = OrnamentStyle(name, SEAM_STITCHES[name].usual("corded"), weight="corded")
        (points,) = sew_seam_stitch(LineString([(0, 0), (100, 0)]), style, 1.0, 7.0)
        lengths = np.hypot(*np.diff(points, axis=0).T)
        assert 1.5 <= sewing_minutes(lengths, len(points), 1, 650.0) <= 4.2


def test_page_readme_and_project_file_lead_to_each_other() -> None:
    assert "pictures/seam-stitches.svg" in PAGE and "pictures/seam-rows.svg" in PAGE
    assert "(seam-stitches.md)" in (DOCS / "project-file.md").read_text(encoding="utf-8")
    assert "(docs/seam-stitches.md)" in (DOCS.parent / "README.md").read_text(encoding="utf-8")
