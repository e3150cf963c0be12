from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
import shapely
from shapely.affinity import scale, translate
from shapely.geometry import LineString

from hoopwright.cloth.shapes import Stack
from hoopwright.cloth.topology import topology
from hoopwright.cloth.turning import Opening
from hoopwright.core.findings import Severity, blocking
from hoopwright.core.types import Point
from hoopwright.items.flap_pouch import FLAP_POUCH, PROMISE
from hoopwright.items.flap_pouch_sizes import FlapPouchSettings, body_size, draft, opening_needed, strap_loop
from hoopwright.items.plan import Plan
from hoopwright.items.settings import read_settings
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Close, Face, Flip, HandWork, Lay, Role, Side, Turn
from hoopwright.pipeline import build
from hoopwright.project.load import load
from tests.items.bags import caught, finished, lays, project, shows, size, stacks

EXAMPLE = Path(__file__).parents[2] / "examples" / "quay-pouch" / "project.toml"

WIDE = {"hoop": {"field": "200x300"}}
CRAZY = {"panel": {"patchwork": {"way": "crazy-centre", "patches": 6, "seed": 4}}}

SIZES: dict[str, tuple[dict[str, object], dict[str, object]]] = {
    "defaults": ({}, {}),
    "small": ({"contents": [58, 62, 5], "strap": 80}, {}),
    "inches, flat contents": ({"contents": ["3 in", "3 1/2 in", 0], "ease": "1/4 in"}, {"units": "in"}),
    "large, crazy flap": ({"contents": [120, 140, 15], "ease": 10, "flap": 95}, {**WIDE, **CRAZY}),
    "by its body": ({"body": [105, 90], "flap": 70, "flap_radius": 0, "corner": 0}, {}),
    "opening in the lining": ({"opening": "lining"}, {}),
    "plain, soft, no strap": ({"ground": 0, "stiffened": False, "strap": 0}, {}),
    "strap on the left, deep pocket": ({"strap_side": "left", "pocket": 88, "strap": 90}, {}),
    "sides whose halves are not exact": (
        {"body": [142.0, 102.2], "flap": 51.7, "flap_radius": 3.9, "corner": 13.8},
        {"hoop": {"field": "360x200"}},
    ),
    "flap round from the fold on": ({"flap": 47, "flap_radius": 47}, {}),
    "low pocket, round corners": ({"corner": 15, "pocket": 20}, {}),
    "short loop": ({"strap": 45}, {}),
}


@cache
def made(name: str = "defaults") -> Plan:
    make, more = SIZES[name]
    done = build(project("flap-pouch", make, **more))
    assert blocking(done.findings) == (), [str(f) for f in done.findings]
    return done.plan


def settings(plan: Plan) -> FlapPouchSettings:
    read, findings = read_settings(FLAP_POUCH, plan.project.make)
    assert isinstance(read, FlapPouchSettings), findings
    return read


every_size = pytest.mark.parametrize("name", SIZES)


@every_size
def test_every_size_builds_without_a_blocking_finding(name: str) -> None:
    assert made(name).hoopings[-1].key == "pouch"


def test_each_hooping_has_its_own_file() -> None:
    assert [h.key for h in made().hoopings] == ["flap", "stiffener", "pouch"]
    assert [h.key for h in made("plain, soft, no strap").hoopings] == ["flap", "pouch"]


def test_blocks_come_in_the_order_of_the_work() -> None:
    """Stiffener, back, ground, flap, strap, pocket, lining (common practice, no source)."""
    rows = [(s.stitch.role, s.stitch.piece) for s in made().hoopings[-1].steps]
    assert rows == [
        (Role.PLACEMENT, None),
        (Role.TACK, None),
        (Role.TACK, "outer"),
        (Role.GROUND, None),
        (Role.PLACEMENT, "flap"),
        (Role.SEAM, "flap"),
        (Role.BASTE, "flap"),
        (Role.PLACEMENT, "strap"),
        (Role.BASTE, "strap"),
        (Role.SEAM, "pocket"),
        (Role.CLOSING, None),
    ]


@every_size
def test_blocks_without_hands_between_have_another_role(name: str) -> None:
    for hooping in made(name).hoopings:
        for one, other in pairwise(hooping.steps):
            assert other.halt or one.stitch.role is not other.stitch.role or one.stitch.role is Role.ORNAMENT


@every_size
def test_the_closing_seam_catches_what_it_must_and_nothing_else(name: str) -> None:
    plan = made(name)
    before = stacks(plan)[-2]
    one = draft(settings(plan), plan.project)
    ring = one.outline.exterior.length
    opening = one.opening or 0.0
    assert (
        caught(before, "lining") + caught(before, "lining-lower") + caught(before, "lining-upper") >= ring - opening - 1
    )
    assert caught(before, "outer") >= 2 * one.height + one.width - opening - 10.0
    assert caught(before, "flap") >= one.flap.up(one.flap.worn).exterior.length - one.width - 1.0
    sides = 2 * one.depth + one.width - opening - 2 * (2 - 1.5708) * one.corner
    assert caught(before, "pocket") == pytest.approx(2 * sides, abs=2.0), "both layers, at both sides and the bottom"
    assert caught(before, "strap") == pytest.approx(2 * one.strap.width if one.strap else 0.0, abs=0.1), (
        "only its two ends"
    )
    assert caught(before, "stiffener-body") == caught(before, "stiffener-flap") == 0.0


@every_size
def test_turned_and_flipped_only_right_sides_show(name: str) -> None:
    end = finished(made(name))
    top, under = shows(end, Side.TOP), shows(end, Side.UNDER)
    strap = {("strap", True)} if strap_loop(settings(made(name))) else set()
    assert top == {("outer", True), ("flap", True)} | strap
    linings = {n for n in ("lining", "lining-lower", "lining-upper") if end.of(n)}
    assert ("pocket", True) in under
    assert under <= {("pocket", True), *((n, True) for n in linings)}


@every_size
def test_the_front_ends_below_the_flap_and_the_strap_keeps_clear(name: str) -> None:
    plan = made(name)
    one, before = draft(settings(plan), plan.project), stacks(plan)[-2]
    fold = max(layer.region.bounds[3] for layer in before.of("pocket"))
    assert fold == pytest.approx(one.low + one.depth)
    assert fold <= one.hinge - 10.0 + 1e-9
    far_seam = LineString([(-one.width / 2, one.low), (-one.width / 2, one.hinge)])
    near_seam = translate(far_seam, one.width)
    if one.strap and one.strap.side < 0:
        far_seam, near_seam = near_seam, far_seam
    for layer in before.of("strap"):
        assert layer.region.distance(far_seam) >= 10.0 - 1e-9
        assert one.low + 10.0 - 1e-9 <= layer.region.bounds[1]
        assert layer.region.bounds[3] <= one.hinge - 4.0 + 1e-9


def test_the_work_is_one_bag_with_one_hole() -> None:
    """Strap and pocket hang on it and do not count."""
    plan = made()
    turn = next(h for h in plan.making.assembly if isinstance(h, Turn))
    opening = Opening(turn.line, "outer", turn.above)
    shell = ("outer", "flap", "lining")
    sewn = {Role.CLOSING, Role.SEAM}
    for closed, loops, euler in (
        (False, PROMISE.rims, PROMISE.euler),
        (True, PROMISE.closed_rims, PROMISE.closed_euler),
    ):
        found = topology(stacks(plan)[-1], [opening], closed=closed, roles=sewn, sheets=shell)
        assert (found.components, found.loops, found.euler) == (PROMISE.parts, loops, euler)


@every_size
def test_the_opening_is_straight_and_wide_enough(name: str) -> None:
    plan = made(name)
    turn = next(h for h in plan.making.assembly if isinstance(h, Turn))
    first, last = turn.line.coords[0], turn.line.coords[-1]
    assert turn.line.hausdorff_distance(LineString([first, last])) < 1e-6
    assert turn.line.length >= opening_needed(settings(plan), plan.project)


def test_cutting_sizes_carry_the_allowance() -> None:
    plan = made()
    pieces = {p.key: p for p in plan.making.pieces}
    one, s = draft(settings(plan), plan.project), plan.project.piecing.allowance
    assert size(pieces["outer"].cut) == pytest.approx((one.width + 2 * s, one.height + 2 * s))
    assert size(pieces["pocket"].cut) == pytest.approx((one.width + 2 * s, 2 * (one.depth + s)))
    assert size(pieces["lining"].cut) == pytest.approx((one.width + 2 * s, one.height + one.flap.height + 2 * s))
    assert size(pieces["strap"].cut) == pytest.approx((2 * (140 + s), 10))


@every_size
def test_the_stiffener_reaches_no_seam_and_leaves_the_fold_free(name: str) -> None:
    plan = made(name)
    parts = [p for p in plan.making.pieces if p.key.startswith("stiffener")]
    one = draft(settings(plan), plan.project)
    hinge = LineString(one.flap.seam)
    for piece in parts:
        assert one.outline.contains(piece.cut)
        assert piece.cut.distance(one.outline.exterior) >= 2.0 - 0.02
        assert piece.cut.distance(hinge) >= 2.0 - 1e-9
    if parts:
        assert parts[0].cut.distance(parts[1].cut) >= 3 * 1.2


def test_the_file_of_the_stiffener_sews_its_cutting_lines() -> None:
    plan = made()
    (step,) = plan.hoopings[1].steps
    cuts = [p.cut.exterior for p in plan.making.pieces if p.key.startswith("stiffener")]
    assert [shapely.equals(a, b) for a, b in zip(step.stitch.paths, cuts, strict=True)] == [True, True]


@every_size
def test_every_lay_names_piece_cloth_and_side(name: str) -> None:
    plan = made(name)
    for hooping in plan.hoopings[1:]:
        for piece, lay in lays(hooping).items():
            cloth = plan.project.cloths[lay.cloth].name if lay.cloth else "pieced flap"
            assert cloth in lay.sentence
            assert any(w in lay.sentence for w in ("right side UP", "right side DOWN", "right side OUT", "flat"))
            assert piece.split("-")[-1].replace("outer", "back") in lay.sentence.lower()


@every_size
def test_the_closing_seam_is_the_border_of_body_and_flap(name: str) -> None:
    one = draft(settings(made(name)), made(name).project)
    parts = shapely.union_all([one.body, one.flap.up(one.flap.worn)])
    assert one.outline.is_valid
    assert one.outline.symmetric_difference(parts).area < 1e-3


def test_the_example_builds_without_a_warning() -> None:
    done = build(load(EXAMPLE).project)
    assert [str(f) for f in done.findings if f.severity is not Severity.NOTES] == []
    assert [h.key for h in done.plan.hoopings] == ["flap", "stiffener", "pouch"]


def test_contents_give_the_size() -> None:
    assert body_size(FlapPouchSettings(contents=(90, 120, 12), ease=5)) == (107, 137)
    assert body_size(FlapPouchSettings(body=(100, 90))) == (100, 90)


REFUSED: tuple[tuple[str, dict[str, object]], ...] = (
    ("HW420", {"contents": [100, 130, 10]}),
    ("HW420", {"contents": [120, 60, 10]}),
    ("HW421", {"body": [40, 80]}),
    ("HW421", {"contents": [60, 20, 5]}),
    ("HW422", {"contents": [90, 80, 20], "body": [105, 100]}),
    ("HW422", {"contents": [80, 95, 10], "body": [95, 100]}),
    ("HW423", {"body": [90, 60], "flap": 61}),
    ("HW424", {"flap": 40, "flap_radius": 41}),
    ("HW424", {"body": [90, 90], "corner": 46}),
    ("HW425", {"body": [90, 90], "pocket": 81}),
    ("HW426", {"body": [75, 90], "strap": 121}),
    ("HW427", {"body": [80, 60], "strap_width": 21}),
    ("HW411", {"outer": "indgo"}),
    ("HW413", {"opening_width": 20}),
    ("HW414", {"opening_width": 90}),
    ("HW414", {"stiffener_rolls": False}),
)


@pytest.mark.parametrize(("code", "make"), REFUSED, ids=[f"{c} {m}" for c, m in REFUSED])
def test_impossible_sizes_are_refused_with_a_cure(code: str, make: dict[str, object]) -> None:
    done = build(project("flap-pouch", make))
    found = blocking(done.findings)
    assert code in {f.code for f in found}, [str(f) for f in done.findings]
    assert all(f.cure and f.where.path for f in found)
    assert done.plan.hoopings == ()


@pytest.mark.parametrize("name", ["flap", "flap_radius", "corner", "pocket", "strap", "strap_width"])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_what_a_cure_offers_is_made(name: str, units: str) -> None:
    """The limit told, written into the file as it is told, is not refused for the same reason."""
    high = {"corner": 60.0, "strap_width": 40.0}.get(name, 200.0)
    body: dict[str, object] = {"body": [83.33, 77.77], name: high}
    done = build(project("flap-pouch", dict(body), units=units, hoop={"field": "200x300"}))
    (told,) = [f for f in blocking(done.findings) if f.where.path == f"make.{name}"]
    body[name] = told.cure.removeprefix("Make it at most ")
    again = build(project("flap-pouch", dict(body), units=units, hoop={"field": "200x300"}))
    assert told.code not in {f.code for f in again.findings}


def test_a_flap_that_hardly_reaches_the_front_is_told() -> None:
    done = build(project("flap-pouch", {"flap": 24}))
    assert [f.code for f in done.findings if f.where.path == "make.flap"] == ["HW429"]


@pytest.mark.parametrize(
    "make", [{"pocket": 80, "body": [90, 90]}, {"flap": 60, "body": [90, 60]}, {"body": [75, 90], "strap": 120}]
)
def test_sizes_at_the_limit_are_made(make: dict[str, object]) -> None:
    assert blocking(build(project("flap-pouch", make)).findings) == ()


def test_a_mistyped_cloth_gets_the_nearest_offered() -> None:
    (finding,) = blocking(build(project("flap-pouch", {"lining": "sailclot"})).findings)
    assert 'Did you mean "sailcloth"?' in finding.cure


def test_cloths_left_out_are_told_in_one_note() -> None:
    (note,) = [f for f in build(project("flap-pouch")).findings if f.code == "HW412"]
    for words in ("indigo twill for the back", "unbleached sailcloth for the lining", "herringbone tape for the strap"):
        assert words in note.message


def test_a_project_without_a_stiffener_gets_a_soft_pouch_and_a_note() -> None:
    cloths = {"indigo": {"name": "indigo", "colour": "#2f4468"}}
    done = build(project("flap-pouch", cloths=cloths))
    assert "HW428" in {f.code for f in done.findings}
    assert not done.blocked
    assert [h.key for h in done.plan.hoopings] == ["flap", "pouch"]


# --- spoilt: one thing changed, and what the stack then shows -----------------------------------------------------------


def with_lay(hooping: Hooping, piece: str, change: Callable[[Lay], Lay]) -> Hooping:
    steps = tuple(
        replace(s, hands=tuple(change(h) if isinstance(h, Lay) and h.piece == piece else h for h in s.hands))
        for s in hooping.steps
    )
    return replace(hooping, steps=steps)


def shifted(line: tuple[Point, Point], x: float, y: float) -> tuple[Point, Point]:
    (ax, ay), (bx, by) = line
    return (ax + x, ay + y), (bx + x, by + y)


def moved(piece: str, x: float, y: float) -> Callable[[Hooping], Hooping]:
    return lambda h: with_lay(
        h, piece, lambda lay: replace(lay, pose=translate(lay.pose, x, y), fold=lay.fold and shifted(lay.fold, x, y))
    )


def faced(piece: str, face: Face) -> Callable[[Hooping], Hooping]:
    return lambda h: with_lay(h, piece, lambda lay: replace(lay, face=face))


def unfolded_strap(hooping: Hooping) -> Hooping:
    """The loop is not folded back: it lies across the opposite seam."""
    return replace(
        hooping,
        steps=tuple(replace(s, hands=tuple(h for h in s.hands if type(h).__name__ != "Fold")) for s in hooping.steps),
    )


def catches_stiffener(stack: Stack) -> bool:
    return caught(stack, "stiffener-body") > 0.0


def strap_caught_too_long(stack: Stack) -> bool:
    return caught(stack, "strap") > 20.1


def pocket_free_at_the_bottom(stack: Stack) -> bool:
    return sum(h.length for j in stack.joins for h in j.held if h.sheet == "pocket" and j.role is Role.SEAM) < 1.0


def flap_misses(stack: Stack) -> bool:
    return caught(stack, "flap") < 150.0


def wrong_side_shows(stack: Stack) -> bool:
    end = finished_stack(stack)
    return any(not right for side in Side for _, right in shows(end, side))


def finished_stack(stack: Stack) -> Stack:
    from hoopwright.cloth.replay import after_hands, bench_of

    plan = made()
    hands: tuple[HandWork, ...] = (*plan.hoopings[-1].after, *plan.making.assembly)
    return after_hands(stack, hands, bench_of(plan.project))


SPOILT: tuple[tuple[str, Callable[[Hooping], Hooping], Callable[[Stack], bool]], ...] = (
    ("stiffener under the seam", moved("stiffener-body", 4.0, 0.0), catches_stiffener),
    ("strap lying across the opposite seam", unfolded_strap, strap_caught_too_long),
    ("pocket laid inside out", faced("pocket", Face.UP), wrong_side_shows),
    ("pocket laid too high for its line", moved("pocket", 0.0, 12.0), pocket_free_at_the_bottom),
    ("lining right side up", faced("lining", Face.UP), wrong_side_shows),
    ("back right side down", faced("outer", Face.DOWN), wrong_side_shows),
    ("flap right side up", faced("flap", Face.UP), wrong_side_shows),
    (
        "flap too narrow for its seams",
        lambda h: with_lay(h, "flap", lambda lay: replace(lay, pose=scale(lay.pose, 0.8, 1.0))),
        flap_misses,
    ),
)


@pytest.mark.parametrize(("title", "spoil", "fault"), SPOILT, ids=[row[0] for row in SPOILT])
def test_the_stack_shows_every_fault(
    title: str, spoil: Callable[[Hooping], Hooping], fault: Callable[[Stack], bool]
) -> None:
    plan = made()
    assert not fault(stacks(plan)[-2]), "the sound pouch has it too"
    assert fault(stacks(plan, spoil(plan.hoopings[-1]))[-2])


def test_a_strap_above_the_pocket_would_end_up_inside() -> None:
    """Laid after the pocket, the strap lies between front and lining: the front cannot leave the back without it."""
    plan = made()
    hooping = plan.hoopings[-1]
    strap = next(s for s in hooping.steps if s.stitch.role is Role.BASTE and s.stitch.piece == "strap")
    pocket = next(s for s in hooping.steps if s.stitch.piece == "pocket")
    steps = [s for s in hooping.steps if s is not strap]
    steps.insert(steps.index(pocket) + 1, strap)
    layers = [p.sheet for p in stacks(plan, replace(hooping, steps=tuple(steps)))[-1].layers]
    assert layers.index("strap") > layers.index("pocket")
    flips = [h for h in plan.making.assembly if isinstance(h, Flip)]
    assert [f.piece for f in flips] == ["pocket"]
    sound = [p.sheet for p in stacks(plan)[-1].layers]
    assert sound.index("strap") < sound.index("pocket")


def test_the_opening_is_closed_without_sewing_the_pocket_shut() -> None:
    """The pocket still hangs at the opening when it is closed: a machine's edge stitch would go through it."""
    (close,) = [h for h in made("defaults").making.assembly if isinstance(h, Close)]
    assert "edge stitch" not in close.sentence
    assert "hold the pocket clear" in close.sentence


def test_a_width_of_an_opening_in_the_lining_is_said_to_be_unused() -> None:
    done = build(project("flap-pouch", {"opening": "lining", "opening_width": 60}))
    assert [f.code for f in done.findings if f.where.path == "make.opening_width"] == ["HW416"]
