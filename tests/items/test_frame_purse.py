from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, box
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.columns import visible
from hoopwright.cloth.handling import lay, trim_to
from hoopwright.cloth.shapes import Layer, Stack
from hoopwright.cloth.topology import topology
from hoopwright.cloth.turning import Opening, turned
from hoopwright.core.errors import GeometryError
from hoopwright.core.findings import blocking
from hoopwright.items.frame_purse import FramePurseSettings, lining_pattern, shell_of, shell_thickness
from hoopwright.items.parts.frame_draft import FrameDraft
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import Close, Face, Hand, Hoop, Lay, Press, Release, Role, Side, Trim, Turn
from hoopwright.pipeline import build, plan
from hoopwright.project.load import load
from hoopwright.project.schema import Project
from tests.items.bags import project, shows, size, stacks

PATCHWORK = {"patchwork": {"way": "strips", "patches": 4, "angle": 15, "seed": 3}}
LARGE = {"hoop": {"field": "240x360"}}
MADE: tuple[dict[str, object], ...] = (
    {},
    {"pieced": "both"},
    {"pieced": "none"},
    {"frame_width": 60, "frame_arm": 30, "frame_radius": 8, "flare": 8, "depth": 60, "bottom_radius": 14},
    {"frame_shape": "half-round", "frame_width": 80, "frame_arm": 40, "flare": 10},
    {"frame_shape": "half-round", "frame_width": 82, "frame_arm": 30, "flare": 8, "spread": 5},
    {"boxed": 15},
    {"boxed": "3/4 in", "pieced": "none", "spread": 0, "opening": 60},
)


def purse(**make: object) -> Project:
    return project("frame-purse", make, panel=PATCHWORK)


def planned(**make: object) -> Plan:
    return plan(purse(**make))


def hooping(made: Plan, key: str) -> Hooping:
    return next(h for h in made.hoopings if h.key == key)


def closing(made: Plan, key: str) -> Step:
    return hooping(made, key).steps[-1]


def settings(**make: object) -> FramePurseSettings:
    return FramePurseSettings.model_validate(make)


@pytest.mark.parametrize("make", MADE, ids=str)
def test_it_builds_without_a_blocking_finding(make: dict[str, object]) -> None:
    assert [str(f) for f in blocking(build(purse(**make)).findings)] == []


def test_a_large_purse_builds_in_a_large_hoop() -> None:
    make: dict[str, object] = {
        "frame_width": 150,
        "frame_arm": 60,
        "frame_radius": 15,
        "flare": 20,
        "depth": 110,
        "bottom_radius": 40,
    }
    made = build(project("frame-purse", make, panel=PATCHWORK, **LARGE))
    assert [str(f) for f in blocking(made.findings)] == []


REFUSED = (
    ("HW440", {"frame_radius": 60}, {"frame_radius": 42.5}),
    ("HW441", {"frame_shape": "half-round", "frame_width": 70, "frame_arm": 22, "flare": 14}, {"flare": 7.1}),
    ("HW442", {"bottom_radius": 70}, {"bottom_radius": 20}),
    ("HW442", {"boxed": 72, "depth": 70}, {"boxed": 20}),
    ("HW445", {"spread": 26, "depth": 50, "flare": 5}, {"spread": 15}),
    ("HW443", {"bottom_radius": 45}, {"bottom_radius": 22}),
    ("HW443", {"opening": 80}, {"opening": 60}),
    ("HW413", {"opening": 26}, {"opening": 60}),
    ("HW444", {"depth": 160}, {"depth": 120}),
    ("HW411", {"lining": "indgo"}, {"lining": "indigo"}),
)


@pytest.mark.parametrize(("code", "make", "cured"), REFUSED, ids=[f"{r[0]}-{i}" for i, r in enumerate(REFUSED)])
def test_what_cannot_be_is_refused_and_its_cure_helps(
    code: str, make: dict[str, object], cured: dict[str, object]
) -> None:
    found = blocking(plan(purse(**make)).findings)
    assert [f.code for f in found] == [code] and found[0].where.path is not None
    assert blocking(plan(purse(**{**make, **cured})).findings) == ()


def test_the_flare_offered_in_place_of_one_too_wide_can_be_drawn() -> None:
    make = {"frame_shape": "half-round", "frame_width": 70, "frame_arm": 22, "flare": 14}
    (found,) = blocking(plan(purse(**make)).findings)
    offered = float(found.cure.split("at most ")[1].split(" mm")[0])
    shell_of(settings(**{**make, "flare": offered}))
    with pytest.raises(GeometryError):
        shell_of(settings(**{**make, "flare": offered + 0.2}))


def test_the_corners_offered_in_place_of_too_round_ones_can_be_drawn() -> None:
    (found,) = blocking(plan(purse(bottom_radius=70)).findings)
    offered = float(found.cure.split("at most ")[1].split(" mm")[0])
    lining_pattern(settings(bottom_radius=offered)), shell_of(settings(bottom_radius=offered))
    with pytest.raises(GeometryError):
        lining_pattern(settings(bottom_radius=offered + 0.2)), shell_of(settings(bottom_radius=offered + 0.2))


@pytest.mark.parametrize(
    ("pieced", "keys"),
    [("front", ["shell", "lining"]), ("both", ["back", "shell", "lining"]), ("none", ["shell", "lining"])],
)
def test_the_shell_is_sewn_before_the_lining_and_a_pieced_back_before_both(pieced: str, keys: list[str]) -> None:
    made = planned(pieced=pieced)
    assert [h.key for h in made.hoopings] == keys
    plain = {"front": ["back"], "both": [], "none": ["front", "back"]}[pieced]
    assert [p.key for p in made.making.pieces] == [*plain, "lining-front", "lining-back"]


def test_a_pieced_front_stays_in_the_hoop_until_the_back_is_sewn_on() -> None:
    steps = hooping(planned(), "shell").steps
    roles = [s.stitch.role for s in steps]
    assert roles[0] is Role.LAYOUT and roles[-1] is Role.CLOSING and Role.OUTLINE not in roles
    (last,) = steps[-1].hands
    assert isinstance(last, Lay) and last.piece == "back" and last.face is Face.DOWN and last.side is Side.TOP
    assert not any(isinstance(h, Hoop | Release) for s in steps[1:] for h in s.hands)
    assert [type(h) for h in hooping(planned(), "shell").after] == [Release, Trim, Turn]


def test_boxed_corners_are_sewn_before_the_shell_is_turned() -> None:
    made = planned(boxed=15)
    assert [type(h) for h in hooping(made, "shell").after] == [Release, Trim, Hand, Turn]
    assert "30 mm deep" in hooping(made, "shell").after[2].sentence
    assert [type(h) for h in hooping(made, "lining").after] == [Release, Trim, Hand]


def pattern(made: Plan, key: str, make: dict[str, object]) -> FrameDraft:
    return shell_of(settings(**make)) if key == "shell" else lining_pattern(settings(**make))


@pytest.mark.parametrize("make", MADE, ids=str)
@pytest.mark.parametrize("key", ["shell", "lining"])
def test_the_seam_is_locked_exactly_at_both_hinge_points(make: dict[str, object], key: str) -> None:
    """A lock puts three needle positions on less than half a millimetre; two runs sew every line, one from each end."""
    made = planned(**make)
    runs = [r.points for r in closing(made, key).runs]
    for hinge in pattern(made, key, make).hinges:
        starts = [r for r in runs if math.dist(r[0], hinge) < 1e-6]
        ends = [r for r in runs if math.dist(r[-1], hinge) < 1e-6]
        assert len(starts) == 1 and len(ends) == 1
        assert np.hypot(*(starts[0][:3] - hinge).T).max() <= 0.5 + 1e-9


@pytest.mark.parametrize("make", MADE, ids=str)
def test_every_part_of_the_shell_s_seam_is_sewn_twice_and_nothing_of_the_upper_edge(make: dict[str, object]) -> None:
    made = planned(**make)
    shell = shell_of(settings(**make))
    sewn = [LineString(r.points) for r in closing(made, "shell").runs]
    locks = 2.0 * len(sewn)
    assert sum(line.length for line in sewn) - locks == pytest.approx(2 * sum(s.length for s in shell.seams), abs=0.5)
    inner = shapely.ops.substring(shell.opening, 3, shell.opening.length - 3)
    assert min(line.distance(inner) for line in sewn) > 1.0
    assert all(
        line.hausdorff_distance(shapely.intersection(line, shapely.union_all(shell.seams).buffer(0.1))) < 0.2
        for line in sewn
    )


def test_the_lining_s_opening_is_the_gap_of_its_seam_and_wide_enough() -> None:
    made = planned()
    low = lining_pattern(settings()).bottom.coords[0][1]
    points = np.concatenate([r.points for r in closing(made, "lining").runs])
    bottom = points[np.abs(points[:, 1] - low) < 0.01]
    right, left = bottom[bottom[:, 0] > 0][:, 0].min(), bottom[bottom[:, 0] < 0][:, 0].max()
    gap = next(h.line for h in made.making.assembly if isinstance(h, Close))
    assert right - left == pytest.approx(gap.length) == 50.0
    wide, thick = size(shell_of(settings()).outline)[0], shell_thickness(settings(), made.project)
    assert 2 * (right - left) >= 2 * math.pi * math.sqrt(wide * thick / math.pi), "the girth of the rolled shell"


@pytest.mark.parametrize("make", [{}, {"pieced": "both"}, {"pieced": "none"}, {"boxed": 15}], ids=str)
def test_turned_the_shell_shows_right_sides_on_both_sides(make: dict[str, object]) -> None:
    made = planned(**make)
    after = stacks(made, hooping(made, "shell"))[-1]
    inside = shell_of(settings(**make)).outline.buffer(-3)
    front = {"front"} if make.get("pieced") == "none" else {p.label for p in made.panels[-1].patches}
    assert {sheet for sheet, right in shows(after, Side.TOP) if right} >= front
    assert shows(after, Side.UNDER) == {("back", True)}
    wrong = [s for s in shapely_shown(after, Side.TOP) if not s[1] and s[2].intersection(inside).area > 1.0]
    assert wrong == []


def shapely_shown(stack: Stack, side: Side) -> list[tuple[str, bool, BaseGeometry]]:
    return [(s.sheet, s.right, s.region) for s in visible(stack, side)]


def without_allowances(made: Plan, key: str) -> Stack:
    """The seams end at the hinges, inside the cloth: the allowances are cut off, so that what counts is between the seams."""
    return trim_to(stacks(made, hooping(made, key))[-1], pattern(made, key, {"pieced": "none"}).outline)


def test_the_shell_is_a_bag_and_the_lining_a_bag_with_an_opening() -> None:
    """Euler numbers: two discs sewn along one line are a disc (1, one rim); along two lines a ring (0, two rims); the opening
    closed makes it a disc again.
    """
    made = planned(pieced="none")
    shell = topology(without_allowances(made, "shell"), roles={Role.CLOSING})
    assert (shell.components, shell.loops, shell.euler) == (1, 1, 1)
    lining = without_allowances(made, "lining")
    gap = next(h for h in made.making.assembly if isinstance(h, Turn))
    opening = Opening(gap.line, gap.below, gap.above)
    before = topology(lining, [opening], roles={Role.CLOSING})
    assert (before.components, before.loops, before.euler) == (1, 2, 0)
    closed = topology(lining, [opening], closed=True, roles={Role.CLOSING})
    assert (closed.components, closed.loops, closed.euler) == (1, 1, 1)
    promise = made.making.promise
    assert promise is not None
    joined = shell.euler + before.euler - 0, shell.loops + before.loops - 2
    assert (promise.euler, promise.rims) == joined, "two surfaces glued along a circle, whose own Euler number is 0"
    assert (promise.closed_euler, promise.closed_rims) == (shell.euler + closed.euler, 0)


def test_the_shell_put_into_the_lining_comes_out_right() -> None:
    """The hand work carried out on the stack: the turned shell between the two sides of the lining, right sides together; turned
    through the lining's bottom the lining shows its right sides and the shell hangs outside, ready to be pushed in.
    """
    made = planned(pieced="none")
    shell = stacks(made, hooping(made, "shell"))[-1]
    lining = stacks(made, hooping(made, "lining"))[-1]
    below, above = lining.of("lining-front"), lining.of("lining-back")
    assert (below[0].face, above[0].face) == (Face.UP, Face.DOWN), "the lining lies inside out"
    bag = tuple(p for p in shell.layers if not p.foundation)
    assert [p.sheet for p in bag] == ["back", "front"]
    together = lay(Stack(hooped=False), *(replace(p, side=Side.TOP) for p in (*below, *bag, *above)))
    faces = [(p.sheet, p.face) for p in together.layers]
    assert faces[:2] == [("lining-front", Face.UP), ("back", Face.DOWN)], "right sides together below"
    assert faces[2:] == [("front", Face.UP), ("lining-back", Face.DOWN)], "right sides together above"
    gap = next(h for h in made.making.assembly if isinstance(h, Turn))
    seen = turned(together, Opening(gap.line, gap.below, gap.above))
    assert seen.hanging == ("back", "front")
    away = replace(together, layers=tuple(p for p in together.layers if p.sheet.startswith("lining")))
    plain = turned(away, Opening(gap.line, gap.below, gap.above))
    assert plain.top == (("lining-front", True),) and plain.underside == (("lining-back", True),)


def test_a_shell_laid_wrong_side_down_shows_it() -> None:
    made = planned(pieced="none")
    shell = hooping(made, "shell")
    wrong = tuple(
        replace(h, face=Face.UP) if isinstance(h, Lay) and h.piece == "back" else h for h in shell.steps[-1].hands
    )
    spoilt = replace(shell, steps=(*shell.steps[:-1], replace(shell.steps[-1], hands=wrong)))
    assert ("back", False) in shows(stacks(made, spoilt)[-1], Side.UNDER)


def test_a_seam_all_round_the_shell_cannot_be_turned() -> None:
    made = planned(pieced="none")
    shell = hooping(made, "shell")
    ring = np.array(shell_of(settings(pieced="none")).outline.exterior.coords)
    last = shell.steps[-1]
    spoilt = replace(shell, steps=(*shell.steps[:-1], replace(last, runs=(replace(last.runs[0], points=ring),))))
    with pytest.raises(GeometryError, match="sewn shut"):
        stacks(made, spoilt)


@pytest.mark.parametrize("make", MADE, ids=str)
def test_pieces_are_cut_an_allowance_outside_their_seam_line(make: dict[str, object]) -> None:
    made = planned(**make)
    s = made.project.piecing.allowance
    for piece in made.making.pieces:
        assert piece.sewn is not None
        assert piece.cut.exterior.distance(piece.sewn) == pytest.approx(s, abs=0.02)
        assert piece.sewn.buffer(s).within(piece.cut.buffer(0.02))
        assert size(piece.cut)[1] == pytest.approx(size(piece.sewn)[1] + 2 * s, abs=0.02)
        assert "hinge" in piece.note


def test_everything_of_a_hooping_lies_in_the_middle_of_the_hoop() -> None:
    made = planned()
    for hoop in made.hoopings:
        points = np.concatenate([r.points for s in hoop.steps for r in s.runs])
        half = np.array(made.field) / 2 - made.project.hoop.margin
        assert (np.abs(points) <= half).all()


@pytest.mark.parametrize("make", MADE, ids=str)
def test_the_words_name_piece_cloth_and_side(make: dict[str, object]) -> None:
    made = planned(**make)
    pieces = {p.key: p for p in made.making.pieces}
    lays = [h for g in made.hoopings for s in g.steps for h in s.hands if isinstance(h, Lay) and h.piece in pieces]
    assert {h.piece for h in lays} == set(pieces)
    for h in lays:
        piece = pieces[h.piece]
        side = "right side DOWN" if h.face is Face.DOWN else "right side UP"
        assert piece.title.lower() in h.sentence and side in h.sentence
        assert made.project.cloths[piece.cloth].name in h.sentence
    everything = " ".join(h.sentence for h in made.making.assembly)
    for word in ("hinge point", "from the middle outwards", "air the room", "paper cord", "opening in the lining"):
        assert word in everything
    foundation = made.project.foundation
    thinned = next(h for h in made.making.assembly if "allowance of the shell" in h.sentence)
    assert all(n in thinned.sentence for n in (foundation.name, foundation.batting) if n)


def test_only_pressing_is_called_pressing() -> None:
    """Marking, pinning, sewing and gluing by hand are other work than pressing."""
    pressed = [h.sentence for h in planned().making.assembly if isinstance(h, Press)]
    assert pressed and all("press" in words for words in pressed)


def test_lengths_are_told_in_the_maker_s_units() -> None:
    made = plan(purse().model_copy(update={"units": "in"}))
    words = " ".join(h.sentence for g in made.hoopings for h in g.after)
    assert "1/4 in" in words and " mm outside the seam" not in words


def test_the_example_purse_has_no_doubts() -> None:
    made = build(load(Path(__file__).parents[2] / "examples" / "lockkeeper-purse" / "project.toml").project)
    assert [str(f) for f in made.findings] == []


def test_seams_are_drawn_as_rows_without_repeats() -> None:
    for make in MADE:
        for line in shell_of(settings(**make)).seams:
            assert all(math.dist(a, b) > 1e-3 for a, b in pairwise(line.coords))


def test_layers_between_the_hinges_are_two() -> None:
    made = planned(pieced="none")
    stack = stacks(made, hooping(made, "shell"))[-2]
    held: list[Layer] = [p for p in stack.layers if not p.foundation and p.region.intersects(box(-1, -1, 1, 1))]
    assert [p.sheet for p in held] == ["front", "back"]
    assert {h.sheet for h in stack.joins[-1].held} >= {"front", "back"}
