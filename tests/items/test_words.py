from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import Point

from hoopwright.items.plan import Plan
from hoopwright.items.words import beside_seam, seam_between
from hoopwright.operations.vocabulary import Role
from hoopwright.piecing.shapes import SeamLine
from hoopwright.pipeline import plan
from hoopwright.project.load import load

EXAMPLE = Path(__file__).parents[2] / "examples" / "tide-mill-flap" / "project.toml"


@pytest.fixture(scope="module")
def flap() -> Plan:
    return plan(load(EXAMPLE).project)


def _numbers(words: str) -> set[int]:
    return {int(n) for n in re.findall(r"\d+", words)}


def _beside(made: Plan, seam: SeamLine, side: float) -> set[int]:
    """The patches found by looking half a millimetre beside many places of a seam."""
    start, end = np.array(seam.start), np.array(seam.end)
    along = (end - start) / np.linalg.norm(end - start)
    off = side * 0.5 * np.array([-along[1], along[0]])
    places = [Point(start + t * (end - start) + off) for t in np.linspace(0.02, 0.98, 97)]
    return {p.number for p in made.panels[0].patches if p.made_of is None for q in places if p.area.contains(q)}


def test_a_seam_is_told_by_the_patches_on_its_two_sides(flap: Plan) -> None:
    panel = flap.panels[0]
    for seam in panel.map.seams:
        words = beside_seam(panel, seam.number)
        assert words.startswith("between ")
        left, right = words.split(" and patch") if " and patch" in words else words.split(" and ")
        assert [_numbers(left), _numbers(right)] in (
            [_beside(flap, seam, 1.0), _beside(flap, seam, -1.0)],
            [_beside(flap, seam, -1.0), _beside(flap, seam, 1.0)],
        )


def test_the_seam_of_a_patch_is_told_by_the_earlier_ones_it_borders(flap: Plan) -> None:
    panel = flap.panels[0]
    for patch in panel.patches[1:]:
        earlier = [p for p in panel.patches if p.number < patch.number]
        border = {p.number for p in earlier if p.area.boundary.intersection(patch.area.boundary).length > 1.0}
        assert _numbers(seam_between(patch, panel)) == border | {patch.number}


def test_only_seam_stitches_speak_of_seam_numbers(flap: Plan) -> None:
    for step in flap.hoopings[0].steps:
        said = " ".join([step.stitch.title, step.stitch.sentence, *(h.sentence for h in step.hands)])
        assert bool(re.search(r"seam (line )?\d", said)) is (step.stitch.role is Role.ORNAMENT)
        if step.stitch.role is Role.ORNAMENT:
            assert re.search(r" on seam \d+, between patch", said)
