"""Accents on a panel: made first, then laid and tacked when all else is sewn."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from shapely.geometry import LineString, MultiPoint

from hoopwright.build import Build
from hoopwright.cloth.replay import bench_of, replay
from hoopwright.core.findings import Severity
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import Lay, Role
from hoopwright.outputs.pictures.finished import strands_of
from hoopwright.outputs.pictures.laid_lace import laid_lace
from hoopwright.pipeline import build
from hoopwright.project.load import load
from hoopwright.project.schema import Project

EXAMPLE = Path(__file__).parents[3] / "examples" / "tide-mill-flap" / "project.toml"
ACCENTS = (
    {"motif": "blossom", "size": 40, "at": (-18, 8), "thread": "chalk"},
    {"motif": "leaf", "size": 34, "at": (22, -4), "turn": -50, "seed": 3, "thread": "foam"},
)


def with_accents(*accents: dict[str, object], **panel: object) -> Project:
    project = load(EXAMPLE).project
    table = project.model_dump(by_alias=True)
    table["panel"] |= {"accents": accents, **panel}
    return Project.model_validate(table)


@cache
def made() -> Build:
    return build(with_accents(*ACCENTS))


def panel() -> Hooping:
    return made().plan.hoopings[-1]


def steps(role: Role) -> list[Step]:
    return [s for s in panel().steps if s.stitch.role is role and "blossom" in s.stitch.title + str(s.stitch.piece)]


def lays() -> dict[str, Lay]:
    return {h.piece: h for s in panel().steps for h in s.hands if isinstance(h, Lay) and h.lace is not None}


def test_nothing_is_found_wrong_with_them() -> None:
    plain = build(load(EXAMPLE).project).findings
    before = {(f.code, f.message) for f in plain}
    assert [
        str(f) for f in made().findings if (f.code, f.message) not in before and f.severity is not Severity.NOTES
    ] == []


def test_they_are_made_first_in_a_hooping_of_their_own() -> None:
    first, second = made().plan.hoopings
    assert (first.key, second.key) == ("accents", "panel")
    assert [s.stitch.role for s in first.steps] == [Role.ACCENT, Role.ACCENT]


def test_placed_laid_and_tacked_after_the_seam_stitches_and_before_the_outline() -> None:
    (place,), (tack,) = steps(Role.PLACEMENT), steps(Role.TACK)
    ornaments = [s.index for s in panel().steps if s.stitch.role is Role.ORNAMENT]
    (outline,) = [s.index for s in panel().steps if s.stitch.role is Role.OUTLINE]
    assert max(ornaments) < place.index < tack.index < outline
    assert tack.halt and [h.piece for h in tack.hands if isinstance(h, Lay)] == ["blossom", "leaf"]


def test_the_rim_hides_the_placement_line_and_the_spine_is_tacked_in_its_own_thread() -> None:
    (place,), (tack,), laid = steps(Role.PLACEMENT), steps(Role.TACK), lays()["blossom"]
    edge = laid.pose.exterior
    away = [edge.distance(p) for p in MultiPoint(place.runs[0].points).geoms]
    assert min(away) > 0.3 and max(away) < 1.6
    assert laid.lace is not None and tack.stitch.thread == laid.lace.thread == "chalk"
    assert all(laid.pose.buffer(-2.0).covers(LineString(r.points)) for r in tack.runs)


def test_what_is_laid_is_what_was_sewn_moved_and_turned() -> None:
    sewn = [run.points[2:-2] for s in made().plan.hoopings[0].steps for run in s.runs]
    for (name, lay), points in zip(lays().items(), sewn, strict=True):
        assert lay.lace is not None
        line, other = LineString(lay.lace.row), LineString(points)
        assert line.length == pytest.approx(other.length)
        assert lay.pose.buffer(0.1).covers(line)
        at = dict(zip(("blossom", "leaf"), ((-18, 8), (22, -4)), strict=True))[name]
        assert lay.pose.envelope.centroid.distance(LineString([at, (at[0], at[1] + 0.1)])) < 4.0


def test_on_the_cloth_it_lies_on_top_and_its_tack_down_catches_it() -> None:
    stacks = replay(panel(), bench_of(made().plan.project))
    (tack,) = steps(Role.TACK)
    stack = stacks[tack.index - 1]
    assert stack.sheets[-2:] == ("blossom", "leaf")
    join = stack.joins[-1]
    assert join.length_of("blossom") > 10.0 and join.length_of("leaf") == 0.0
    assert not any(s.endswith("backing") for s in stack.sheets)


def test_pictures_show_its_thread() -> None:
    lace = laid_lace(made().plan, panel(), "leaf")
    assert lace is not None and lace.thread == "foam"
    assert laid_lace(made().plan, panel(), "A") is None
    longest = sorted(len(s.points) for s in strands_of(made().plan, made().plan.panels[0]))[-2:]
    assert longest == sorted(len(h.lace.row) for h in lays().values() if h.lace)


def test_the_ground_leaves_them_free() -> None:
    ground = build(with_accents(ACCENTS[0], ground={"kind": "crosshatch"}), prove=False)
    (step,) = [s for s in ground.plan.hoopings[-1].steps if s.stitch.role is Role.GROUND]
    laid = [h for s in ground.plan.hoopings[-1].steps for h in s.hands if isinstance(h, Lay) and h.lace]
    assert all(laid[0].pose.buffer(-0.5).disjoint(LineString(r.points)) for r in step.runs)


def test_accents_on_two_bases_have_two_hoopings() -> None:
    two = build(with_accents(ACCENTS[0], {**ACCENTS[1], "base": "net"}), prove=False)
    assert [h.key for h in two.plan.hoopings] == ["accents-1", "accents-2", "panel"]
