"""Decorative stitches over thick crossings."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from hoopwright.cloth.crossings import CLOTH_LIMIT, decoration_lies_flat
from hoopwright.cloth.proofs import prove_panel
from hoopwright.cloth.trial import Trial, trial_of
from hoopwright.core.findings import Severity
from hoopwright.operations.vocabulary import Role
from hoopwright.project.schema import Project
from tests.cloth.flap import flap


def project_with(thickness: float) -> Project:
    """The demo's project without batting, its cloths of one thickness."""
    made = flap().project
    cloths = {key: cloth.model_copy(update={"thickness": thickness}) for key, cloth in made.cloths.items()}
    foundation = made.foundation.model_copy(update={"batting": None})
    return made.model_copy(update={"cloths": cloths, "foundation": foundation})


def sewn_with(thickness: float) -> Trial:
    """The demo's flap, carried out; at its crossings lie five cloths."""
    return trial_of(flap().panels[0], flap().hoopings[0], project_with(thickness))


def most_cloth(trial: Trial) -> float:
    """Brute force: place by place and layer by layer."""
    most = 0.0
    for step, stack in zip(trial.hooping.steps, trial.stacks, strict=False):
        if step.stitch.role is Role.ORNAMENT:
            for point in np.concatenate([run.points for run in step.runs]):
                here = [p for p in stack.layers if p.region.intersects(shapely.Point(point)) and not p.foundation]
                most = max(most, sum(p.thickness for p in here))
    return most


@pytest.mark.parametrize(("thickness", "told"), [(0.4, False), (0.37, False), (0.42, True)])
def test_the_limit_is_two_millimetres_of_cloth(thickness: float, told: bool) -> None:
    trial = sewn_with(thickness)
    assert (most_cloth(trial) > CLOTH_LIMIT + 1e-6) is told
    assert bool(decoration_lies_flat(trial)) is told


def test_the_finding_names_block_layers_and_place() -> None:
    trial = sewn_with(0.375)
    (fault,) = decoration_lies_flat(trial, 1.8)
    finding = fault.finding
    assert (finding.code, finding.severity) == ("HW521", Severity.WARNS)
    assert "5 layers of cloth, 1.9 mm" in finding.message
    assert finding.where.operation is not None and finding.where.point is not None
    step = trial.hooping.steps[finding.where.operation - 1]
    assert step.stitch.role is Role.ORNAMENT and step.stitch.title in finding.message


def test_it_is_one_of_the_proofs() -> None:
    assert [f.code for f in prove_panel(flap().panels[0], flap().hoopings[0], project_with(0.45))] == ["HW521"]


def test_what_does_not_go_under_the_foot_is_told_once() -> None:
    assert [f.code for f in prove_panel(flap().panels[0], flap().hoopings[0], project_with(0.95))] == ["HW520"]
