"""Swatches and contrast as plain data for a screen."""

from __future__ import annotations

import re
import time
from xml.etree import ElementTree

import numpy as np
import pytest

from hoopwright.core.colour import difference, lab_of
from hoopwright.core.errors import HoopwrightError
from hoopwright.needle.grounds.table import GROUNDS
from hoopwright.needle.seam_stitches import SEAM_STITCHES
from hoopwright.outputs.screen.draft import draft_view
from hoopwright.outputs.screen.swatches import (
    PLOT,
    ROW,
    SEEDED,
    GroundSwatch,
    StitchSwatch,
    catalogue,
    swatch_svg,
)
from hoopwright.pipeline import build
from hoopwright.project.load import parse

RUST, FOAM = "#9d4632", "#a9c4b8"
SVG = "{http://www.w3.org/2000/svg}"
QUICK_S = 0.05
"""What a swatch may take; the machine is shared, so the best of a few tries counts."""

PROJECT = f"""
schema = 1
title = "Two strips"
[cloths.foam]
name = "foam"
colour = "{FOAM}"
[cloths.mist]
name = "mist"
colour = "#afc8bd"
[cloths.tar]
name = "tar"
colour = "#3a3b40"
[threads.slate]
name = "slate"
colour = "#3f4147"
[threads.chalk]
name = "chalk"
colour = "#f4f1e6"
[panel.outline]
shape = "rectangle"
width = 90
height = 60
[panel.patchwork]
way = "lines"
lines = [[[-15, -30], [-15, 30]], [[15, -30], [15, 30]]]
[panel.cloths]
A = "foam"
B = "mist"
C = "tar"
[panel.seam_stitch]
stitch = "feather"
thread = "chalk"
[panel.seams.2]
stitch = "feather"
thread = "slate"
"""


def places(svg: bytes) -> np.ndarray:
    """Return the needle positions of the thread in a picture."""
    root = ElementTree.fromstring(svg)
    path = next(p for p in root.iter(f"{SVG}path") if p.get("stroke") == RUST)
    return np.array([float(n) for n in re.findall(r"-?\d+\.\d+", path.get("d", ""))]).reshape(-1, 2)


@pytest.mark.parametrize("name", sorted(SEAM_STITCHES))
@pytest.mark.parametrize("weight", ["fine", "bold", "corded"])
def test_every_seam_stitch_lies_on_its_cloth_in_its_width(name: str, weight: str) -> None:
    found = places(swatch_svg(StitchSwatch(name, weight), RUST, FOAM))  # type: ignore[arg-type]
    assert np.all(np.abs(found) <= np.array(ROW) / 2.0)
    assert np.ptp(found[:, 1]) <= SEAM_STITCHES[name].usual(weight) + 0.6
    assert np.ptp(found[:, 0]) >= 0.6 * ROW[0]


@pytest.mark.parametrize("name", sorted(GROUNDS))
def test_every_ground_fills_its_cloth(name: str) -> None:
    found = places(swatch_svg(GroundSwatch(name), RUST, FOAM))
    assert np.all(np.abs(found) <= np.array(PLOT) / 2.0)
    assert np.all(np.ptp(found, axis=0) >= 0.5 * np.array(PLOT))


@pytest.mark.parametrize("swatch", [*map(StitchSwatch, SEAM_STITCHES), *map(GroundSwatch, GROUNDS)], ids=str)
def test_a_swatch_is_quick(swatch: StitchSwatch | GroundSwatch) -> None:
    """The second time, as in another colour, it is at hand."""
    swatch_svg(swatch, RUST, FOAM)
    begun = time.perf_counter()
    swatch_svg(swatch, FOAM, RUST)
    assert time.perf_counter() - begun < QUICK_S


def test_the_mirrored_stitch_is_the_other_one_upside_down() -> None:
    plain, other = (places(swatch_svg(StitchSwatch("blanket", mirror=m), RUST, FOAM)) for m in (False, True))
    assert np.allclose(sorted(plain[:, 1]), sorted(-other[:, 1]), atol=0.02)
    assert not np.allclose(plain, other)


def test_a_seed_draws_anew_where_the_catalogue_says_so() -> None:
    drawn = {n: [swatch_svg(GroundSwatch(n, seed), RUST, FOAM) for seed in (1, 2, 3)] for n in GROUNDS}
    assert {n for n, rows in drawn.items() if len(set(rows)) > 1} == SEEDED


def test_unknown_names_and_colours_are_refused() -> None:
    for swatch in (StitchSwatch('x" onload="'), GroundSwatch("none")):
        with pytest.raises(HoopwrightError):
            swatch_svg(swatch, RUST, FOAM)
    for colour in ("red", "#12345", '#000000"/><script>'):
        with pytest.raises(ValueError):
            swatch_svg(StitchSwatch("fly"), colour, FOAM)


def test_the_catalogue_tells_of_every_name() -> None:
    found = catalogue()
    assert [s["name"] for s in found["stitches"]] == list(SEAM_STITCHES)
    assert [g["name"] for g in found["grounds"]] == list(GROUNDS)
    assert all(least <= usual for s in found["stitches"] for least, usual in s["widths"].values())
    assert all(g["spacing"][0] <= g["spacing"][1] for g in found["grounds"])
    assert [g["name"] for g in found["grounds"] if g["own"]] == ["drawing", "drawing-rows"]


def test_what_is_hard_to_tell_apart() -> None:
    """Foam and mist are nearly one colour; slate thread on tar is dark on dark, on mist it is plain."""
    view = draft_view(build(parse(PROJECT, None).project, prove=False))
    panel = view["panels"][0]
    alike, thread = panel["contrast"]
    assert (alike["way"], alike["patches"], alike["cloths"]) == ("cloths", ["A", "B"], ["foam", "mist"])
    assert alike["apart"] == round(difference(lab_of(FOAM), lab_of("#afc8bd")), 1) < alike["plain"] == 15.0
    right = next(s["number"] for s in panel["seams"] if s["from"][0] > 0)
    assert (thread["way"], thread["seam"], thread["thread"]) == ("thread", right, "slate")
    assert thread["patches"] == ["C"] and thread["cloths"] == ["tar"]
    assert abs(alike["at"][0] + 15.0) < 0.01 and abs(thread["at"][0] - 15.0) < 0.01
