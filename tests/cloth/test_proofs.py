from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import LineString, Polygon, box

from hoopwright.cloth.proofs import prove_panel
from hoopwright.cloth.stitching import thickness_at
from hoopwright.cloth.thick import under_the_foot
from hoopwright.cloth.trial import trial_of
from hoopwright.core.findings import Finding, Severity
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Face, Turn
from hoopwright.piecing.laying import mirrored
from hoopwright.plane.half_plane import left_of
from tests.cloth.flap import (
    cut_more,
    early_lay,
    flap,
    longer_seam,
    moved_seam,
    notched,
    other_order,
    shifted,
    swapped_lays,
    with_face,
    with_pose,
    without_clips,
    without_flip,
    without_seam,
)


def found(change: Callable[[Hooping], Hooping] = lambda h: h) -> tuple[Finding, ...]:
    made = flap()
    return prove_panel(made.panels[0], change(made.hoopings[0]), made.project)


def no_allowance(hooping: Hooping, piece: str) -> Hooping:
    patch = next(p for p in flap().panels[0].patches if p.label == piece)
    return with_pose(hooping, piece, lambda _: mirrored(patch.area, patch.seam))


def beyond(piece: str, later: str) -> Polygon:
    """The allowance of a patch past the seam of a later one."""
    seam = next(p.seam for p in flap().panels[0].patches if p.label == later)
    assert seam is not None
    return left_of(seam.start, seam.end, -0.5)


def test_the_demo_is_proved() -> None:
    assert found() == ()


SPOILT: tuple[tuple[str, str, str, Callable[[Hooping], Hooping]], ...] = (
    ("a flip lost", "HW511", "E", lambda h: without_flip(h, "E")),
    ("a patch laid right side up", "HW512", "D", lambda h: with_face(h, "D", Face.UP)),
    ("the first patch laid right side down", "HW512", "A", lambda h: with_face(h, "A", Face.DOWN)),
    ("shifted off the seam", "HW504", "D", lambda h: shifted(h, "D", 0.0, -8.0)),
    ("shifted over the seam", "HW513", "D", lambda h: shifted(h, "D", 0.0, 8.0)),
    ("shifted along the seam", "HW504", "E", lambda h: shifted(h, "E", 8.0, 0.0)),
    ("a template without allowance", "HW515", "G", lambda h: no_allowance(h, "G")),
    ("a seam 5 mm beside its line", "HW503", "B", lambda h: moved_seam(h, "B", 5.0)),
    ("a seam 5 mm beside its line, the other way", "HW503", "F", lambda h: moved_seam(h, "F", -5.0)),
    ("two lays swapped", "HW502", "F", lambda h: swapped_lays(h, "F", "E")),
    ("a seam left out", "HW501", "C", lambda h: without_seam(h, "C")),
    ("an earlier cloth cut too short", "HW505", "B", lambda h: cut_more(h, "E", beyond("E", "B"), "B")),
    ("a cloth laid a halt too early", "HW506", "E", lambda h: early_lay(h, "B", "E")),
    ("two patches sewn in the other order", "HW506", "G", lambda h: other_order(h, "G", "D")),
    ("a hole cut into a patch", "HW516", "D", lambda h: cut_more(h, "D", box(-10, -35, 0, -30), "C")),
)


@pytest.mark.parametrize(("title", "code", "patch", "change"), SPOILT, ids=[row[0] for row in SPOILT])
def test_every_fault_has_its_own_finding(
    title: str, code: str, patch: str, change: Callable[[Hooping], Hooping]
) -> None:
    findings = found(change)
    about = [f for f in findings if f.code == code and f.where.patch == patch]
    assert about, [str(f) for f in findings]
    assert all(f.severity is Severity.BLOCKS and f.cure and f.where.point for f in about)


def test_only_causes_are_told_not_what_follows_from_them() -> None:
    """A lost flip also leaves later seams without the cloth they should catch; it is told once."""
    assert [f.code for f in found(lambda h: without_flip(h, "E"))] == ["HW511"]


def test_thick_cloth_is_told_once_at_its_worst_place() -> None:
    made = flap()
    cloths = {key: cloth.model_copy(update={"thickness": 0.9}) for key, cloth in made.project.cloths.items()}
    project = made.project.model_copy(update={"cloths": cloths})
    (finding,) = prove_panel(made.panels[0], made.hoopings[0], project)
    assert (finding.code, finding.severity) == ("HW520", Severity.WARNS)
    trial = trial_of(made.panels[0], made.hoopings[0], project)
    assert finding.where.operation is not None and finding.where.point is not None
    stack = trial.stacks[finding.where.operation - 1]
    assert f"{thickness_at(stack, np.array([finding.where.point]))[0]:.1f} mm" in finding.message
    assert under_the_foot(trial, 6.0) == ()


@pytest.mark.parametrize("pair", ["GF", "DE", "BC"])
def test_patches_that_do_not_depend_on_each_other_may_change_places(pair: str) -> None:
    assert found(lambda h: other_order(h, *pair)) == ()


def in_towers(change: Callable[[Hooping], Hooping] = lambda h: h) -> list[tuple[str, str | None]]:
    made = notched()
    findings = prove_panel(made.panels[0], change(made.hoopings[0]), made.project)
    return [(f.code, f.where.patch) for f in findings]


def test_a_slot_narrower_than_two_allowances_is_proved_when_the_allowance_is_cut_back() -> None:
    assert in_towers() == []
    assert ("HW514", "B") in in_towers(lambda h: without_clips(h, "C"))


def test_a_seam_sewn_on_across_the_slot_shows_on_the_other_tower() -> None:
    assert in_towers(lambda h: longer_seam(h, "C", 20.0)) == [("HW507", "C")]


def test_turning_through_a_sewn_seam_is_refused_with_the_words_of_the_hand_work() -> None:
    turn = Turn(LineString([(-10, 0), (10, 0)]), "A", "D", "Turn it right side out.")
    (finding,) = found(lambda h: replace(h, after=(*h.after, turn)))
    assert (finding.code, finding.severity) == ("HW530", Severity.BLOCKS)
    assert "Turn it right side out" in finding.message
