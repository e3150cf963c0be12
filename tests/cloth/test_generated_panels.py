"""Panels of every layout come out when they are carried out on the cloth."""

from __future__ import annotations

import pytest

from hoopwright.cloth.columns import visible
from hoopwright.cloth.materials import FOUNDATION_THICKNESS
from hoopwright.cloth.proofs import prove_panel
from hoopwright.cloth.trial import trial_of, worth_mention
from hoopwright.core.findings import Severity
from hoopwright.pipeline import plan
from hoopwright.project.schema import Project

WAYS = ("crazy-centre", "crazy-cuts", "strips", "fan", "rounds")


def project_of(patchwork: dict[str, object], **piecing: object) -> Project:
    cloths = {f"c{i}": {"name": f"cloth {i}", "colour": f"#{30 + 35 * i:02x}{200 - 25 * i:02x}80"} for i in range(6)}
    return Project.model_validate(
        {
            "schema": 1,
            "title": "Trial",
            "hoop": {"field": "200x200"},
            "cloths": cloths,
            "threads": {"slate": {"name": "slate", "colour": "#56606b"}},
            "piecing": piecing,
            "panel": {
                "outline": {"shape": "rectangle", "width": 120, "height": 110, "radius": 15},
                "patchwork": patchwork,
            },
        }
    )


def assert_comes_out(project: Project) -> None:
    made = plan(project)
    assert made.hoopings
    for hooping in made.hoopings:
        findings = prove_panel(made.panels[0], hooping, project)
        assert [f for f in findings if f.severity is Severity.BLOCKS] == []
        trial = trial_of(made.panels[0], hooping, project)
        shown = {s.sheet: s.region for s in visible(trial.end)}
        for patch in trial.patches:
            assert worth_mention(
                shown[patch.label].intersection(trial.region).symmetric_difference(patch.area)
            ).is_empty


@pytest.mark.parametrize("way", WAYS)
def test_every_layout_comes_out(way: str) -> None:
    assert_comes_out(project_of({"way": way, "seed": 3, "patches": 8}))


@pytest.mark.parametrize("cut", ["rough", "templates"])
def test_rough_cuts_and_tacked_flips_come_out(cut: str) -> None:
    assert_comes_out(project_of({"way": "crazy-centre", "seed": 5, "patches": 6}, cut=cut, tack_flipped=True))


def test_a_panel_of_sections_comes_out() -> None:
    """Four squares need two sections; the one made before is laid with the foundation it was pieced on."""
    cuts = [[[0, -55], [0, 55]], [[-60, 0], [0, 0]], [[0, 0], [60, 0]]]
    project = project_of({"way": "cuts", "cuts": cuts})
    assert_comes_out(project)
    made = plan(project)
    trial = trial_of(made.panels[0], made.hoopings[-1], project)
    section = next(p for p in trial.patches if p.made_of is not None)
    (backing,) = trial.end.of(f"{section.label} backing")
    assert backing.region.symmetric_difference(section.area).area == pytest.approx(0.0, abs=1.0)
    assert (backing.thickness, backing.foundation) == (FOUNDATION_THICKNESS, True)


@pytest.mark.soak
@pytest.mark.parametrize("way", WAYS)
def test_many_layouts_come_out(way: str) -> None:
    for seed in range(1, 13):
        for patches in (4, 7, 11, 16):
            assert_comes_out(project_of({"way": way, "seed": seed, "patches": patches}))
