from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, box

from hoopwright.cloth.replay import after_hands, bench_of, replay
from hoopwright.cloth.shapes import Stack
from hoopwright.core.errors import GeometryError
from hoopwright.core.findings import blocking
from hoopwright.items.plan import Plan
from hoopwright.items.zip_pouch import ZipPouchSettings, least_zip, seam_heights, strap_of
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import Close, Face, Flip, Fold, HandWork, Hoop, Lay, Open, Role, Side, Trim, Turn
from hoopwright.pipeline import build, plan
from hoopwright.project.load import load
from hoopwright.project.schema import Project
from tests.items.bags import CLOTHS, project, shows, size

PATCHWORK = {"patchwork": {"way": "strips", "patches": 4, "angle": 15, "seed": 3}}
COIL = {"name": "coil zip", "colour": "#8f9aa3", "thickness": 0.8, "kind": "zip"}
MADE: tuple[dict[str, object], ...] = (
    {},
    {"pieced": True},
    {"width": 80, "height": 90, "strap": "none", "corner": 0},
    {"width": "4 1/2 in", "height": "6 1/2 in", "zip_below_top": "2 in", "corner": 30, "zip_tape": 30, "strap": "left"},
    {"strap_loop": 150, "strap_width": 12, "zip_length": 180},
)
S = 6.35


def pouch(**make: object) -> Project:
    return project("zip-pouch", make, cloths={**CLOTHS, "coil": COIL}, panel=PATCHWORK)


def planned(**make: object) -> Plan:
    return plan(pouch(**make))


def settings(**make: object) -> ZipPouchSettings:
    return ZipPouchSettings.model_validate(make)


def hooping(made: Plan) -> Hooping:
    return made.hoopings[-1]


def steps(made: Plan, role: Role) -> list[Step]:
    return [s for s in hooping(made).steps if s.stitch.role is role]


def lays(made: Plan) -> list[Lay]:
    return [h for s in hooping(made).steps for h in s.hands if isinstance(h, Lay)]


def stacks(made: Plan, changed: Hooping | None = None) -> tuple[Stack, ...]:
    return replay(changed or hooping(made), bench_of(made.project))


def through(made: Plan, turns: int, changed: Hooping | None = None) -> Stack:
    """The stack when the work is out of the hoop and turned ``turns`` times."""
    hands: Sequence[HandWork] = [h for h in made.making.assembly if isinstance(h, Turn)][:turns]
    return after_hands(stacks(made, changed)[-1], tuple(hands), bench_of(made.project))


def changed(made: Plan, change: Callable[[HandWork], HandWork | None]) -> Hooping:
    """The hooping with every piece of hand work replaced by what ``change`` makes of it; None leaves it out."""

    def all_of(hands: tuple[HandWork, ...]) -> tuple[HandWork, ...]:
        return tuple(new for h in hands if (new := change(h)) is not None)

    whole = hooping(made)
    return replace(whole, steps=tuple(replace(s, hands=all_of(s.hands)) for s in whole.steps))


def zip_y(**make: object) -> float:
    made = settings(**make)
    return made.height / 2 - made.zip_below_top


@pytest.mark.parametrize("make", MADE, ids=str)
def test_it_builds_without_a_blocking_finding(make: dict[str, object]) -> None:
    assert [str(f) for f in blocking(build(pouch(**make)).findings)] == []


@pytest.mark.no_cover
def test_a_large_pouch_builds_in_a_large_hoop() -> None:
    make: dict[str, object] = {"width": 200, "height": 150, "pieced": True, "corner": 15}
    made = build(
        project("zip-pouch", make, cloths={**CLOTHS, "coil": COIL}, panel=PATCHWORK, hoop={"field": "240x360"})
    )
    assert [str(f) for f in blocking(made.findings)] == []


REFUSED: tuple[tuple[str, dict[str, object], dict[str, object]], ...] = (
    ("HW450", {"width": 160}, {"width": 115}),
    ("HW451", {"zip_made_of": "metal"}, {"zip_made_of": "coil"}),
    ("HW452", {"zip_tape": 22}, {"zip_tape": 23.7}),
    ("HW453", {"zip_length": 130}, {"zip_length": 132.7}),
    ("HW453", {"zip_length": 120}, {"width": 97.3}),
    ("HW454", {"zip_below_top": 14}, {"zip_below_top": 18.65}),
    ("HW454", {"height": 80, "corner": 0}, {"height": 82.65}),
    ("HW455", {"corner": 40, "height": 120}, {"corner": 27, "height": 120}),
    ("HW457", {"strap_loop": 250}, {"strap_loop": 190}),
    ("HW458", {"strap_width": 38, "height": 84, "corner": 8}, {"strap_width": 24.65}),
    ("HW411", {"zip": "brass"}, {"zip": "coil"}),
)


@pytest.mark.parametrize(("code", "make", "cured"), REFUSED, ids=[f"{r[0]}-{i}" for i, r in enumerate(REFUSED)])
def test_what_cannot_be_is_refused_and_its_cure_helps(
    code: str, make: dict[str, object], cured: dict[str, object]
) -> None:
    found = blocking(plan(pouch(**make)).findings)
    assert [f.code for f in found] == [code] and found[0].where.path is not None
    assert blocking(plan(pouch(**{**make, **cured})).findings) == ()


def test_a_thick_narrow_pouch_cannot_be_turned() -> None:
    thick = {**CLOTHS, "indigo": {"name": "quilted indigo", "colour": "#2f4468", "thickness": 4.5}}
    make: dict[str, object] = {"width": 60, "outer": "indigo", "strap": "none"}
    found = blocking(plan(project("zip-pouch", make, cloths={**thick, "coil": COIL})).findings)
    assert [f.code for f in found] == ["HW456"]
    assert blocking(plan(pouch(**make)).findings) == ()


def test_the_sequence_is_the_one_of_the_trade() -> None:
    """Common practice, no source: lines, zip, each side with its lining and top stitching, tab, zip opened, back, closing."""
    made = planned()
    assert [s.stitch.role for s in hooping(made).steps] == [
        Role.PLACEMENT,
        Role.TACK,
        *(Role.SEAM, Role.TOPSTITCH) * 2,
        Role.PLACEMENT,
        Role.BASTE,
        Role.BASTE,
        Role.CLOSING,
    ]
    assert [(h.piece, h.face, h.side) for h in lays(made)] == [
        ("zip", Face.UP, Side.TOP),
        ("front-upper", Face.DOWN, Side.TOP),
        ("front-lining-upper", Face.UP, Side.UNDER),
        ("front-lower", Face.DOWN, Side.TOP),
        ("front-lining-lower", Face.UP, Side.UNDER),
        ("strap", Face.DOWN, Side.TOP),
        ("back", Face.DOWN, Side.TOP),
        ("lining-upper", Face.UP, Side.UNDER),
        ("lining-lower", Face.UP, Side.UNDER),
    ]


def test_the_zip_is_opened_after_the_last_seam_beside_it_and_before_its_ends_and_the_back() -> None:
    made = planned()
    (at,) = [s.index for s in hooping(made).steps for h in s.hands if isinstance(h, Open)]
    held = [s.index for s in hooping(made).steps if s.stitch.title == "Basting of the zip's ends"]
    assert max(s.index for s in steps(made, Role.TOPSTITCH)) < at == held[0] < steps(made, Role.CLOSING)[0].index
    (hand,) = [h for s in hooping(made).steps for h in s.hands if isinstance(h, Open)]
    assert hand.piece == "zip" and "half way" in hand.sentence and "cannot be turned" in hand.sentence


def test_a_pieced_front_has_its_own_hooping_and_is_laid_like_a_piece() -> None:
    made = planned(pieced=True)
    assert [h.key for h in made.hoopings] == ["front", "pouch"]
    (panel,) = made.panels
    _, lower = seam_heights(settings(), S)
    assert size(panel.outline) == pytest.approx((110, lower))
    (front,) = [h for h in lays(made) if h.piece == "front"]
    assert front.face is Face.DOWN and size(front.pose) == pytest.approx((110 + 2 * S, lower + 2 * S))
    assert "front-lower" not in [p.key for p in made.making.pieces]
    (flip,) = [h for s in hooping(made).steps for h in s.hands if isinstance(h, Flip) and h.piece == "front"]
    assert flip.line[0][1] == pytest.approx(zip_y() - 13 + S)


@pytest.mark.parametrize("make", MADE, ids=str)
def test_each_seam_joins_panel_zip_and_lining_and_nothing_else(make: dict[str, object]) -> None:
    made = planned(**make)
    after = stacks(made)
    lower = "front" if make.get("pieced") else "front-lower"
    for step, side, panel in zip(steps(made, Role.SEAM), ("upper", "lower"), ("front-upper", lower), strict=True):
        join = after[step.index - 1].joins[-1]
        held = {h.sheet: h.length for h in join.held}
        backing = {"front backing"} if panel == "front" else set()
        assert set(held) - backing == {f"front-lining-{side}", made.project.foundation.name, "zip", panel}
        width = settings(**make).width
        assert all(length >= width for length in held.values())


@pytest.mark.parametrize("make", MADE, ids=str)
def test_the_seams_run_an_allowance_inside_both_tape_edges_and_clear_of_the_teeth(make: dict[str, object]) -> None:
    made = planned(**make)
    chosen = settings(**make)
    for way, step in zip((1, -1), steps(made, Role.SEAM), strict=True):
        ys = np.concatenate([r.points for r in step.runs])[:, 1]
        assert ys == pytest.approx(zip_y(**make) + way * (chosen.zip_tape / 2 - S))
    for step in hooping(made).steps:
        if step.stitch.role in (Role.TACK, Role.SEAM, Role.TOPSTITCH):
            ys = np.concatenate([r.points for r in step.runs])[:, 1]
            assert (np.abs(ys - zip_y(**make)) >= chosen.zip_teeth / 2 + 3.0 - 1e-9).all()


def test_a_seam_at_the_zip_never_runs_off_its_cloth() -> None:
    """A tack-down far outside and a narrow allowance: the seam's ends still lie on the front, between seam and cut edge."""
    one = project("zip-pouch", piecing={"allowance": 3.0}, stitching={"tack_outside": 5.0})
    made = plan(one)
    fronts = [p.cut for p in made.making.pieces if p.key.startswith("front-")]
    seams = [s for s in steps(made, Role.SEAM) if "front" in s.stitch.title]
    assert len(seams) == 2 and fronts
    reach = max(f.bounds[2] for f in fronts)
    assert all(abs(x) <= reach for s in seams for line in s.stitch.paths for x, _ in line.coords)
    assert all(max(x for x, _ in line.coords) > 55.0 for s in seams for line in s.stitch.paths)


@pytest.mark.parametrize("make", MADE, ids=str)
def test_stops_and_pull_lie_outside_every_stitch_until_the_zip_is_opened(make: dict[str, object]) -> None:
    made = planned(**make)
    (zipper,) = [h for h in lays(made) if h.piece == "zip"]
    points = np.concatenate([r.points for s in hooping(made).steps for r in s.runs])
    assert np.abs(points[:, 0]).max() + 5.0 <= zipper.pose.bounds[2]
    assert zipper.pose.bounds[2] * 2 >= least_zip(settings(**make).width, S) - 1e-9


@pytest.mark.parametrize("make", MADE, ids=str)
def test_the_closing_seam_catches_all_four_walls_all_round(make: dict[str, object]) -> None:
    made = planned(**make)
    stack = stacks(made)[len(hooping(made).steps) - 1]
    closing = stack.joins[-1]
    once = shapely.union_all([closing.path])
    total = once.length
    lower = "front" if make.get("pieced") else "front-lower"
    walls = (
        ("back",),
        ("lining-lower", "lining-upper"),
        ("front-upper", "zip", lower),
        ("front-lining-upper", "front-lining-lower", "zip"),
    )
    for wall in walls:
        held = shapely.union_all([h.line for h in closing.held if h.sheet in wall])
        assert held.length == pytest.approx(total, abs=0.2), wall


@pytest.mark.parametrize("make", [m for m in MADE if m.get("strap") != "none"], ids=str)
def test_the_closing_seam_crosses_the_strap_at_its_ends_only(make: dict[str, object]) -> None:
    made = planned(**make)
    chosen = settings(**make)
    strap = strap_of(chosen, S)
    assert strap is not None
    closing = stacks(made)[len(hooping(made).steps) - 1].joins[-1]
    held = [h.line for h in closing.held if h.sheet == "strap"]
    assert len(held) == 2, "both ends of the loop"
    for line in held:
        assert line.length == pytest.approx(chosen.strap_width, abs=0.05)
        assert {round(x, 3) for x, _ in shapely.get_coordinates(line)} == {round(strap.seam, 3)}


@pytest.mark.parametrize("make", MADE, ids=str)
def test_nothing_but_zip_back_and_lining_lies_at_the_open_zip(make: dict[str, object]) -> None:
    """Else the pouch could not be turned through it: the foundation is cut away there, the linings are folded away."""
    made = planned(**make)
    _, turn = [h for h in made.making.assembly if isinstance(h, Turn)]
    before = stacks(made)[len(hooping(made).steps) - 1]
    there = [p.sheet for p in before.layers if p.region.intersects(turn.line.buffer(1.0))]
    assert set(there) <= {"zip", "back", "lining-upper", "lining-lower"}
    assert turn.line.length >= settings(**make).width / 2 - 10.0 - 1e-9


@pytest.mark.parametrize("make", MADE, ids=str)
def test_turned_twice_every_right_side_is_where_it_belongs(make: dict[str, object]) -> None:
    made = planned(**make)
    front = {("zip", True), ("front-upper", True), ("front" if make.get("pieced") else "front-lower", True)}
    strap = set() if make.get("strap") == "none" else {("strap", True)}
    once = through(made, 1)
    assert shows(once, Side.UNDER) >= {("front-lining-upper", True), ("front-lining-lower", True)}
    assert {(s, r) for s, r in shows(once, Side.TOP) if s.startswith("lining")} == {
        ("lining-lower", True),
        ("lining-upper", True),
    }
    twice = through(made, 2)
    assert shows(twice, Side.TOP) - strap == front
    assert shows(twice, Side.UNDER) == {("back", True)}
    walls = [
        p for p in twice.layers if "lining" in p.sheet and p.region.contains(shapely.Point(0, inside_y(made, p.sheet)))
    ]
    assert [(p.sheet, p.face) for p in walls] == [
        ("lining-lower", Face.UP),
        ("lining-upper", Face.UP),
        ("front-lining-lower", Face.DOWN),
        ("front-lining-upper", Face.DOWN),
    ], "the right sides of back and front lining look at each other"
    slit = shapely.Point(0, made.making.assembly[0].line.coords[0][1])  # type: ignore[union-attr]
    inside = [p.sheet for p in twice.layers if p.sheet in ("lining-upper", "lining-lower") and p.region.covers(slit)]
    assert inside[-1] == "lining-upper", (
        "inside the pouch the upper part covers the slit, which opens away from the zip"
    )


def inside_y(made: Plan, sheet: str) -> float:
    """A height well inside a sheet of the lining, away from hems and seam allowances."""
    _, low, _, high = next(p for p in made.making.pieces if p.key == sheet).cut.bounds
    if sheet == "lining-lower":
        return low + 15
    if sheet == "lining-upper":
        return high - 15
    seam = {"front-lining-upper": low + (high - low) - S, "front-lining-lower": low + S}[sheet]
    return seam + (8 if sheet == "front-lining-upper" else -8)


def test_a_lining_laid_the_wrong_way_up_shows_its_wrong_side_inside() -> None:
    made = planned()
    wrong = changed(
        made, lambda h: replace(h, face=Face.DOWN) if isinstance(h, Lay) and h.piece == "front-lining-lower" else h
    )
    assert ("front-lining-lower", False) in shows(through(made, 1, wrong), Side.UNDER)


def test_a_back_laid_right_side_up_shows_its_wrong_side() -> None:
    made = planned()
    wrong = changed(made, lambda h: replace(h, face=Face.UP) if isinstance(h, Lay) and h.piece == "back" else h)
    assert ("back", False) in shows(through(made, 2, wrong), Side.UNDER)


def test_a_foundation_left_behind_the_zip_bars_the_way() -> None:
    made = planned()
    kept = changed(made, lambda h: None if isinstance(h, Trim) and h.away is not None else h)
    _, turn = [h for h in made.making.assembly if isinstance(h, Turn)]
    last = replay(kept, bench_of(made.project))[len(kept.steps) - 1]
    barring = [p for p in last.layers if p.foundation and p.region.intersects(turn.line)]
    assert [p.sheet for p in barring] == [made.project.foundation.name]


def test_a_lining_that_is_not_folded_away_is_not_held_by_its_top_stitching() -> None:
    made = planned()
    kept = changed(made, lambda h: None if isinstance(h, Fold) else h)
    for step, side in zip(steps(made, Role.TOPSTITCH), ("upper", "lower"), strict=True):
        for whole, holds in ((hooping(made), 2), (kept, 1)):
            join = replay(whole, bench_of(made.project))[step.index - 1].joins[-1]
            assert len([h for h in join.held if h.sheet == f"front-lining-{side}"]) == holds


def test_a_seam_across_the_slit_cannot_be_turned() -> None:
    made = planned()
    whole = hooping(made)
    slit, _ = [h.line for h in made.making.assembly if isinstance(h, Turn)]
    last = whole.steps[-1]
    across = replace(last.runs[0], points=np.array([(0.0, slit.coords[0][1] - 20), (0.0, slit.coords[0][1] + 20)]))
    spoilt = replace(whole, steps=(*whole.steps[:-1], replace(last, runs=(*last.runs, across))))
    with pytest.raises(GeometryError, match="sewn shut"):
        through(made, 1, spoilt)


@pytest.mark.parametrize("make", MADE, ids=str)
def test_the_slit_of_the_back_lining_lies_behind_the_lower_front_clear_of_corners_and_zip(
    make: dict[str, object],
) -> None:
    made = planned(**make)
    chosen = settings(**make)
    (close,) = [h for h in made.making.assembly if isinstance(h, Close)]
    y = close.line.coords[0][1]
    assert -chosen.height / 2 + chosen.corner + 10 <= y <= zip_y(**make) - chosen.zip_tape / 2
    folds = {h.pieces[0]: h for s in hooping(made).steps for h in s.hands if isinstance(h, Fold)}
    lower, upper = folds["lining-lower"].line, folds["lining-upper"].line
    assert folds["lining-lower"].onto is folds["lining-upper"].onto is Side.UNDER
    assert lower[0][1] - upper[0][1] == pytest.approx(12.0) and (lower[0][1] + upper[0][1]) / 2 == pytest.approx(y)


@pytest.mark.parametrize("make", MADE, ids=str)
def test_panels_cover_the_pouch_with_an_allowance_when_they_are_flipped(make: dict[str, object]) -> None:
    made = planned(**make)
    chosen = settings(**make)
    cut = box(-chosen.width / 2 - S, -chosen.height / 2 - S, chosen.width / 2 + S, chosen.height / 2 + S)
    end = stacks(made)[len(hooping(made).steps) - 1]
    cloth = shapely.union_all(
        [p.region for p in end.layers if p.sheet in ("zip", "front-upper", "front-lower", "front")]
    )
    missing = shapely.difference(cut, cloth)
    corners = (1 - math.pi / 4) * 2 * (chosen.corner + S) ** 2
    assert missing.area <= (corners + 1.0 if make.get("pieced") else 0.01)
    for p in made.making.pieces:
        if p.key.startswith("front"):
            assert size(p.cut)[0] == pytest.approx(chosen.width + 2 * S)
    heights = sum(size(p.cut)[1] for p in made.making.pieces if p.key.startswith("front-lining"))
    gap = chosen.zip_tape - 2 * S
    assert heights == pytest.approx(chosen.height - gap + 4 * S)


@pytest.mark.parametrize("make", MADE, ids=str)
def test_the_words_name_piece_cloth_and_side(make: dict[str, object]) -> None:
    made = planned(**make)
    pieces = {p.key: p for p in made.making.pieces}
    ways = {
        (Face.UP, Side.TOP): "right side UP",
        (Face.DOWN, Side.TOP): "right side DOWN",
        (Face.UP, Side.UNDER): "right side towards the hoop",
    }
    for h in lays(made):
        if h.piece in pieces:
            assert pieces[h.piece].title.lower() in h.sentence
            assert made.project.cloths[pieces[h.piece].cloth].name in h.sentence
        if h.piece != "strap":
            assert ways[h.face, h.side] in h.sentence
        assert ("under the hoop" in h.sentence) == (h.side is Side.UNDER)
    words = " ".join(h.sentence for h in (*hooping(made).after, *made.making.assembly))
    for word in ("slit", "through the open zip", "iron off the zip", "by hand"):
        assert word in words


def test_only_the_foundation_is_cut_behind_the_zip_and_only_between_the_seams() -> None:
    made = plan(
        pouch().model_copy(update={"foundation": pouch().foundation.model_copy(update={"batting": "thin batting"})})
    )
    cuts = [h for s in hooping(made).steps for h in s.hands if isinstance(h, Trim)]
    assert [c.piece for c in cuts] == [made.project.foundation.name, "thin batting"]
    (hoop,) = [h for s in hooping(made).steps for h in s.hands if isinstance(h, Hoop)]
    assert hoop.layers == (made.project.foundation.name, "thin batting")
    for cut in cuts:
        assert cut.away is not None
        assert all(cut.away.distance(LineString(r.points)) >= 2.9 for s in hooping(made).steps for r in s.runs)


def test_the_example_pouch_has_no_doubts() -> None:
    made = build(load(Path(__file__).parents[2] / "examples" / "ferry-zip-pouch" / "project.toml").project)
    assert [str(f) for f in made.findings] == []
