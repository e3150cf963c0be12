"""The turned item seen from both sides, against what its recipe promises."""

from __future__ import annotations

from pathlib import Path

import pytest

from hoopwright.items.plan import Plan
from hoopwright.outputs.drawing.shapes import Area
from hoopwright.outputs.pictures.turned import turned_drawings
from hoopwright.pipeline import plan
from hoopwright.project.load import load

EXAMPLES = Path(__file__).parents[2] / "examples"


def example(name: str) -> Plan:
    loaded = load(EXAMPLES / name / "project.toml")
    return plan(loaded.project, dict(loaded.drawings))


def _paints(made: Plan, name: str) -> set[str | None]:
    drawing = dict(turned_drawings(made))[name]
    return {s.fill for s in drawing.shapes if isinstance(s, Area)}


def test_the_mat_shows_its_patches_in_front_and_its_backs_behind() -> None:
    made = example("tide-mat")
    patches = {made.project.cloths[p.cloth].colour for p in made.panels[0].patches if p.made_of is None}
    backs = {made.project.cloths[p.cloth].colour for p in made.making.pieces}
    assert patches <= _paints(made, "mat-turned-front")
    assert backs <= _paints(made, "mat-turned-back")
    assert not patches & _paints(made, "mat-turned-back")


@pytest.mark.parametrize("name", ["tide-mill-flap", "sluice-key-tab"])
def test_what_is_not_turned_has_no_such_picture(name: str) -> None:
    assert turned_drawings(example(name)) == ()


@pytest.mark.parametrize("side", ["front", "back"])
def test_a_ribbon_caught_in_the_seam_hangs_out_of_it(side: str) -> None:
    """It lay inwards when it was sewn in, and comes out of the seam as long as it lay inside."""
    made = example("reed-bookmark")
    ribbon = made.project.cloths[str(made.project.make["ribbon"])].colour
    drawing = dict(turned_drawings(made))[f"bookmark-turned-{side}"]
    top = made.panels[0].outline.bounds[3]
    tails = [s for s in drawing.shapes if isinstance(s, Area) and s.fill == ribbon and len(s.rings[0]) == 4]
    assert len(tails) == 2
    for tail in tails:
        heights = [y for _, y in tail.rings[0]]
        assert min(heights) == pytest.approx(top, abs=0.1)
        assert max(heights) - min(heights) == pytest.approx(float(made.project.make["tail"]), abs=0.5)  # type: ignore[arg-type]
