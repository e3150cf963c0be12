from __future__ import annotations

from dataclasses import replace

import pytest
import shapely
from shapely.geometry import LineString, box

from hoopwright.cloth.replay import after_hands, bench_of, replay
from hoopwright.cloth.shapes import Stack
from hoopwright.cloth.stitching import caught
from hoopwright.core.errors import GeometryError
from hoopwright.core.findings import blocking
from hoopwright.items.glasses_sleeve_sizes import Draft, GlassesSleeveSettings, body_size, draft
from hoopwright.items.plan import Plan
from hoopwright.operations.vocabulary import Close, Face, Flip, Lay, Role, Side, Turn
from hoopwright.pipeline import build
from tests.cloth.flap import with_face, with_hands
from tests.items.small_items import findings_of, finished, lays, planned, project_of, sheets_shown, stacks, step_of

ITEM = "glasses-sleeve"
SIZES: tuple[tuple[object, dict[str, object]], ...] = (
    ("130x180", {}),
    ("150x240", {"flap": 50, "pocket": 60, "corner": 15}),
    ("200x300", {"width": 145, "height": 55, "thickness": 40, "strap": 100, "pocket": 80, "below": 10}),
    ("240x360", {"way": "across", "width": "5 1/2 in", "thickness": "1 1/4 in"}),
    ("160x260", {"body": (90, 170), "ground": 0, "stiffened": False, "opening": "lining"}),
)
NAMES = ["usual", "flap and pocket", "strap", "across", "soft"]


def drafted(made: Plan) -> Draft:
    return draft(GlassesSleeveSettings.model_validate(made.project.make), made.project)


@pytest.mark.parametrize(("field", "make"), SIZES, ids=NAMES)
def test_it_builds_in_many_sizes(field: object, make: dict[str, object]) -> None:
    made = build(project_of(ITEM, field, **make))
    assert [str(f) for f in blocking(made.findings)] == []


@pytest.mark.parametrize(("field", "make"), SIZES, ids=NAMES)
def test_turned_and_flipped_it_shows_right_sides_only(field: object, make: dict[str, object]) -> None:
    made = planned(ITEM, field, **make)
    plan = drafted(made)
    stack = finished(made)
    back, front = (sheets_shown(stack, side, plan.outline.buffer(-0.5)) for side in (Side.TOP, Side.UNDER))
    assert all(right for _, right in (*back, *front))
    assert {sheet for sheet, _ in back} == {"back", *(n for n in ("pocket", "strap") if make.get(n))}
    assert front["front", True] == pytest.approx(plan.front.intersection(plan.outline.buffer(-0.5)).area, abs=2)


def test_the_front_is_finished_along_its_upper_edge_only() -> None:
    """Its lining is caught by one seam, at the upper edge; folded behind, right sides lie outside and the edge is a fold."""
    made = planned(ITEM)
    outline = made.panels[0].outline
    stack = stacks(made, 0)[-1]
    holding = [j for j in stack.joins if any(h.sheet == "front-lining" for h in j.held)]
    assert len(holding) == 1
    assert holding[0].path.bounds[1] == holding[0].path.bounds[3] == pytest.approx(outline.bounds[3])
    inner = outline.buffer(-0.5)
    assert {right for _, right in sheets_shown(stack, Side.TOP, inner)} == {True}
    assert set(sheets_shown(stack, Side.UNDER, inner)) == {("front-lining", True)}
    assert max(layer.region.bounds[3] for layer in stack.layers) == pytest.approx(outline.bounds[3], abs=0.01)


def closing_of(made: Plan) -> tuple[Stack, LineString]:
    hooping = made.hoopings[-1]
    before = replay(hooping, bench_of(made.project))[-2]
    return before, step_of(hooping, Role.CLOSING).stitch.paths[0]


def test_the_closing_seam_catches_the_front_at_three_sides_and_never_its_finished_edge() -> None:
    made = planned(ITEM, "150x240", below=6)
    plan = drafted(made)
    stack, path = closing_of(made)
    assert plan.hinge - plan.rim == pytest.approx(6)
    front = shapely.union_all([h.line for h in caught(stack, path) if h.sheet == "front"])
    assert front.bounds[3] == pytest.approx(plan.rim, abs=0.05)
    outline = LineString(plan.front.exterior.coords)
    sides = outline.difference(box(-500, plan.rim - 0.01, 500, plan.rim + 1))
    assert shapely.difference(sides, front.buffer(0.01)).length < 0.05
    assert front.intersection(box(-plan.width / 2 + 0.1, plan.rim - 1, plan.width / 2 - 0.1, 500)).is_empty


def test_the_stiffener_reaches_no_seam_and_no_fold() -> None:
    for make in ({}, {"flap": 50}):
        made = planned(ITEM, "150x240", stiffener_inset=3, **make)
        stack, path = closing_of(made)
        (piece,) = [p for p in made.making.pieces if p.key == "stiffener"]
        assert piece.cut.distance(path) == pytest.approx(3, abs=0.01)
        assert "stiffener" not in {h.sheet for h in caught(stack, path)}
        assert piece.cut.bounds[3] <= drafted(made).hinge - 1.5


def test_at_the_opening_only_back_and_lining_meet() -> None:
    made = planned(ITEM)
    turn = next(h for h in made.making.assembly if isinstance(h, Turn))
    stack, path = closing_of(made)
    foundation = made.project.foundation.name
    assert {h.sheet for h in caught(stack, turn.line)} - {foundation} == {"back", "lining"}
    assert turn.line.length == pytest.approx(path.convex_hull.length - path.length, abs=0.3)
    assert len(set(turn.line.coords)) == 2, "straight"


def test_a_pocket_stays_on_the_back_open_at_its_fold() -> None:
    made = planned(ITEM, "150x240", pocket=70)
    plan = drafted(made)
    stack, path = closing_of(made)
    line = shapely.union_all([h.line for h in caught(stack, path) if h.sheet == "pocket"])
    assert line.bounds[1] == pytest.approx(plan.low, abs=0.01)
    assert line.bounds[3] == pytest.approx(plan.low + 70, abs=0.05)
    folded = [e for layer in stack.of("pocket") for e in layer.folds]
    assert folded and all(e.bounds[1] == pytest.approx(plan.low + 70) for e in folded)
    top = sheets_shown(finished(made), Side.TOP, plan.outline)
    assert top["pocket", True] > 0.9 * plan.width * 68


def test_the_straps_length_is_free_of_every_seam_but_its_own() -> None:
    made = planned(ITEM, "200x300", width=145, height=55, thickness=40, strap=120)
    plan = drafted(made)
    stack, path = closing_of(made)
    held = [h.line for h in caught(stack, path) if h.sheet == "strap"]
    assert held and all(line.bounds[0] == pytest.approx(plan.width / 2) for line in held)
    loop = shapely.union_all([layer.region for layer in stack.of("strap")])
    others = path.difference(box(plan.width / 2 - 1, -500, 500, 500))
    assert loop.distance(others) >= 9.9


def test_after_turning_there_is_one_halt_free_closing_and_the_front_is_flipped_last() -> None:
    kinds = [type(h) for h in planned(ITEM).making.assembly]
    assert kinds.index(Turn) < kinds.index(Close) < kinds.index(Flip)


@pytest.mark.parametrize("piece", ["front", "lining"])
def test_a_piece_laid_with_its_wrong_side_down_is_seen(piece: str) -> None:
    """Front wall and lining laid right side up would show wrong sides after turning."""
    made = planned(ITEM)
    face = Face.DOWN if piece == "back" else Face.UP
    spoilt = replace(made, hoopings=(*made.hoopings[:-1], with_face(made.hoopings[-1], piece, face)))
    inside = drafted(made).outline.buffer(-0.5)
    shown = {**sheets_shown(finished(spoilt), Side.UNDER, inside), **sheets_shown(finished(spoilt), Side.TOP, inside)}
    assert (piece, False) in shown


def test_a_front_that_reaches_the_upper_seam_is_caught_there() -> None:
    """Laid 12 mm too high the finished edge crosses the seam, and the sleeve has no mouth."""
    made = planned(ITEM)
    plan = drafted(made)

    def higher(hand: object) -> object:
        if not isinstance(hand, Lay) or hand.piece != "front" or hand.fold is None:
            return hand
        (ax, ay), (bx, by) = hand.fold
        return replace(hand, pose=shapely.affinity.translate(hand.pose, 0, 12), fold=((ax, ay + 12), (bx, by + 12)))

    hooping = with_hands(made.hoopings[-1], higher)  # type: ignore[arg-type]
    stack = replay(hooping, bench_of(made.project))[-2]
    line = step_of(hooping, Role.CLOSING).stitch.paths[0]
    top = line.intersection(box(-500, plan.hinge - 0.1, 500, plan.hinge + 0.1))
    assert any(h.sheet == "front" for h in caught(stack, top))
    assert not any(h.sheet == "front" for h in caught(closing_of(made)[0], top))


def test_a_seam_without_a_gap_cannot_be_turned() -> None:
    made = planned(ITEM)
    hooping = made.hoopings[-1]
    whole = LineString(drafted(made).outline.exterior.coords)
    closing = step_of(hooping, Role.CLOSING)
    from hoopwright.needle.sewing import sew

    stitch = replace(closing.stitch, paths=(whole,))
    runs = sew(stitch, made.project.stitching, made.project.machine)
    shut = replace(hooping, steps=(*hooping.steps[:-1], replace(closing, stitch=stitch, runs=runs)))
    bench = bench_of(made.project)
    with pytest.raises(GeometryError, match="sewn shut"):
        after_hands(replay(shut, bench)[-1], made.making.assembly, bench)


@pytest.mark.parametrize(
    ("code", "field", "make"),
    [
        ("HW430", "100x100", {}),
        ("HW431", "150x240", {"body": (60, 150), "height": 60, "thickness": 40}),
        ("HW431", "150x240", {"body": (100, 120)}),
        ("HW433", "150x240", {"corner": 60}),
        ("HW434", "200x300", {"flap": 30, "flap_radius": 35}),
        ("HW434", "240x360", {"way": "across", "height": 20, "thickness": 20, "flap": 60}),
        ("HW435", "150x240", {"pocket": 165}),
        ("HW436", "150x240", {"strap": 200}),
        ("HW434", "200x300", {"flap": 3, "flap_radius": 0}),
        ("HW435", "150x240", {"pocket": 1.6}),
        ("HW436", "150x240", {"strap": 2}),
        ("HW439", "150x240", {"height": 15, "thickness": 5}),
        ("HW413", "150x240", {"opening_width": 20}),
        ("HW414", "150x240", {"opening_width": 70}),
        ("HW414", "150x240", {"stiffener_rolls": False}),
        ("HW411", "150x240", {"outer": "indgo"}),
        ("HW402", "150x240", {"below": 2}),
    ],
)
def test_what_cannot_be_is_refused_with_a_cure(code: str, field: object, make: dict[str, object]) -> None:
    found = [f for f in findings_of(project_of(ITEM, field, **make)) if f.severity == "blocks"]
    assert [f.code for f in found] == [code]
    assert found[0].cure


def test_without_a_stiffener_in_the_project_it_becomes_soft_and_says_so() -> None:
    project = project_of(ITEM)
    soft = project.model_copy(update={"cloths": {k: c for k, c in project.cloths.items() if c.kind != "stiffener"}})
    made = build(soft, prove=False)
    assert [f.code for f in made.findings if f.code == "HW438"] == ["HW438"]
    assert [h.key for h in made.plan.hoopings] == ["front", "sleeve"]
    assert not any(p.key == "stiffener" for p in made.plan.making.pieces)


def test_pieces_are_cut_with_the_allowance() -> None:
    made = planned(ITEM)
    width, height = body_size(GlassesSleeveSettings())
    s = made.project.piecing.allowance
    cut = {p.key: p.cut.bounds for p in made.making.pieces}
    for key, high in (("back", height), ("lining", height), ("front-lining", height - 7)):
        left, low, right, top = cut[key]
        assert right - left == pytest.approx(width + 2 * s), key
        assert top - low == pytest.approx(high + 2 * s), key
    left, low, right, top = cut["stiffener"]
    assert right - left == pytest.approx(width - 4)


def test_files_are_named_after_what_they_make() -> None:
    assert [h.key for h in planned(ITEM).hoopings] == ["front", "stiffener", "sleeve"]


def test_lays_name_piece_cloth_side_and_edge() -> None:
    made = planned(ITEM, "150x240", pocket=60)
    told = {h.piece: h.sentence for h in lays(made.hoopings[-1])}
    assert set(told) == {"stiffener", "back", "pocket", "front", "lining"}
    for piece, words in {
        "back": ("indigo twill", "right side UP", "6.4 mm"),
        "pocket": ("indigo twill", "right side OUT", "fold upwards"),
        "front": ("right side DOWN", "lining up", "13.3 mm below the raw upper edge of the back"),
        "lining": ("Take off all tape", "unbleached lawn", "right side DOWN", "6.4 mm"),
    }.items():
        assert all(word in told[piece] for word in words), piece


@pytest.mark.parametrize(("field", "make"), SIZES[:2], ids=NAMES[:2])
def test_the_front_is_laid_by_edges_that_can_be_seen(field: object, make: dict[str, object]) -> None:
    """All is cut with the same allowance, so raw edges meet; the rim is measured from the back's raw upper edge."""
    made = planned(ITEM, field, **make)
    told = lays(made.hoopings[-1])
    before = next(s for s in stacks(made) if s.of("front"))
    front, back = (shapely.union_all([p.region for p in before.of(n)]) for n in ("front", "back"))
    for side in (0, 1, 2):
        assert front.bounds[side] == pytest.approx(back.bounds[side])
    seen = next(h for h in told if h.piece == "front").sentence
    distance = back.bounds[3] - front.bounds[3]
    assert f"{round(distance, 1):g} mm below the raw upper edge" in seen


def test_under_a_flap_the_width_of_the_opening_is_said_to_be_unused() -> None:
    (note,) = [f for f in findings_of(project_of(ITEM, "150x240", flap=50, opening_width=60)) if f.code == "HW416"]
    assert "flap" in note.message
