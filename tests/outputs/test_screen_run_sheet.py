"""The run sheet for a screen, against the stack asked place by place: which layer lies highest there, which lowest, how thick all are."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely
from shapely.geometry import Point, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.build import Build
from hoopwright.cloth.placing import Placing, mirror
from hoopwright.cloth.replay import bench_of, replay
from hoopwright.cloth.shapes import Layer, Stack
from hoopwright.needle.maps import hole_map
from hoopwright.operations.vocabulary import Face, Flip, Fold, Lay, Release, Trim, Turn
from hoopwright.outputs.screen.moments import NEVER_FOLDED, Moment, moments
from hoopwright.outputs.screen.needles import NEVER, NOWHERE, needles
from hoopwright.outputs.screen.run_sheet import holes, run_sheet, thickness
from hoopwright.pipeline import build
from hoopwright.project.load import load, parse
from hoopwright.project.save import set_value

EXAMPLES = Path(__file__).parents[2] / "examples"
CASES = (("tide-mill-flap", "panel"), ("quay-pouch", "pouch"), ("ferry-zip-pouch", "pouch"), ("tide-mat", "mat"))
QUARTERS = {"way": "lines", "lines": [[[-55, 0], [55, 0]], [[0, -46], [0, 46]]]}
"""Four patches about one point: no order sews them on one foundation, two sections do."""
CLEAR = 0.05
"""Places nearer than this to an edge, mm, are not asked: rounding may decide there."""


@cache
def made(name: str) -> Build:
    loaded = load(EXAMPLES / name / "project.toml")
    return build(loaded.project, dict(loaded.drawings), prove=False)


@cache
def in_sections() -> Build:
    text = (EXAMPLES / "tide-mill-flap" / "project.toml").read_text(encoding="utf-8")
    for place, value in (("panel.patchwork", QUARTERS), ("panel.cloths", None), ("panel.seams", None)):
        text = set_value(text, place, value)
    return build(parse(text, None).project, prove=False)


@cache
def sheet(name: str, key: str) -> dict[str, Any]:
    return run_sheet(made(name), key, 13)


def area(rings: list[list[list[float]]]) -> BaseGeometry:
    """Fill rings by the even-odd rule, as a screen does."""
    found: BaseGeometry = Polygon()
    for ring in rings:
        found = found.symmetric_difference(Polygon(ring).buffer(0))
    return found


def at(stack: Stack, x: float, y: float) -> list[Layer] | None:
    """Return the layers at a place, lowest first; None too near to an edge."""
    place = Point(x, y)
    if any(layer.region.boundary.distance(place) < CLEAR for layer in stack.layers):
        return None
    return [layer for layer in stack.layers if layer.region.contains(place)]


def places(stack: Stack, count: int, seed: int) -> np.ndarray[Any, Any]:
    rng = np.random.default_rng(seed)
    left, low, right, high = shapely.total_bounds([layer.region for layer in stack.layers])
    return np.column_stack([rng.uniform(left, right, count), rng.uniform(low, high, count)])


@pytest.mark.parametrize(("name", "key"), CASES)
def test_each_view_shows_the_outermost_layer_everywhere(name: str, key: str) -> None:
    said, asked = sheet(name, key), 0
    for row, moment in list(zip(said["moments"], moments(made(name).plan, key), strict=True))[::6]:
        stack = moment.after
        shown = {side: [(r, area(r["rings"])) for r in said["views"][row["lies"]][side]] for side in ("top", "under")}
        for x, y in places(stack, 25, row["number"]):
            layers = at(stack, x, y)
            if layers is None:
                continue
            for side, layer, face in (("top", layers[-1:], Face.UP), ("under", layers[:1], Face.DOWN)):
                over = [r for r, region in shown[side] if region.contains(Point(x, y))]
                assert {(r["piece"], r["right"]) for r in over} == {(p.sheet, p.face is face) for p in layer}
            asked += bool(layers)
    assert asked > 60


@pytest.mark.parametrize(("name", "key"), CASES)
def test_the_cloth_lies_as_the_replay_says(name: str, key: str) -> None:
    plan = made(name).plan
    hooping = next(h for h in plan.hoopings if h.key == key)
    ends = [m for m in moments(plan, key) if m.step is not None]
    for moment, stack in zip(ends, replay(hooping, bench_of(plan.project)), strict=False):
        assert moment.after.sheets == stack.sheets
        for mine, other in zip(moment.after.layers, stack.layers, strict=True):
            assert mine.region.equals(other.region)
    assert all(m.done for m in moments(plan, key))


@pytest.mark.parametrize(("name", "key"), CASES)
def test_moments_hold_all_blocks_in_order_with_their_minutes(name: str, key: str) -> None:
    plan, needs = made(name).plan, made(name).estimate
    hooping = next(h for h in plan.hoopings if h.key == key)
    blocks = [m for m in sheet(name, key)["moments"] if m["kind"] == "sew"]
    assert [b["number"] for b in blocks] == [s.index for s in hooping.steps]
    assert [b["first"] for b in blocks] == [sum(s.count for s in hooping.steps[:k]) for k in range(len(blocks))]
    assert [b["run"] for b in blocks] == [sum(len(s.runs) for s in hooping.steps[:k]) for k in range(len(blocks))]
    assert sum(b["minutes"] for b in blocks) == pytest.approx(needs.machine_of(key), abs=0.01)
    hands = [m["sentence"] for m in sheet(name, key)["moments"] if m["kind"] == "hand"]
    last = hooping is plan.hoopings[-1]
    own = [h for s in hooping.steps for h in s.hands] + [*hooping.after, *(plan.making.assembly if last else ())]
    assert hands == [h.sentence for h in own]


def decoded(data: bytes) -> tuple[np.ndarray[Any, Any], ...]:
    """Read the bytes as their description says, by hand."""
    form, runs, count, _ = np.frombuffer(data, "<u4", 4).tolist()
    assert form == 1
    starts = np.frombuffer(data, "<u4", runs + 1, 16)
    begin = 16 + 4 * (runs + 1)
    xy = np.frombuffer(data, "<i2", 2 * count, begin).reshape(-1, 2) / 100.0
    top = np.frombuffer(data, "<u2", count, begin + 4 * count)
    under = np.frombuffer(data, "<u2", count, begin + 6 * count)
    gone = [np.frombuffer(data, "<u2", count, begin + k * count) for k in (8, 10)]
    assert begin + 12 * count == len(data)
    return starts, xy, top, under, *gone


@pytest.mark.parametrize(("name", "key"), CASES)
def test_needle_positions_travel_true_to_half_a_hundredth(name: str, key: str) -> None:
    starts, xy, *_ = decoded(needles(made(name), key))
    hooping = next(h for h in made(name).plan.hoopings if h.key == key)
    runs = [run.points for step in hooping.steps for run in step.runs]
    assert np.diff(starts).tolist() == [len(r) for r in runs]
    assert float(np.abs(np.concatenate(runs) - xy).max()) <= 0.005 + 1e-9


@pytest.mark.parametrize(("name", "key"), CASES)
def test_stitches_lie_on_the_outermost_layer_below_them(name: str, key: str) -> None:
    """Seen from above that is the highest layer at the stitch's ends, from under the lowest."""
    starts, xy, top, under, *_ = decoded(needles(made(name), key))
    said, rng, asked = sheet(name, key), np.random.default_rng(7), 0
    rows = list(zip(said["moments"], moments(made(name).plan, key), strict=True))
    first_of_run = set(starts.tolist())
    for row, moment in rows:
        if row["kind"] != "sew":
            continue
        for i in rng.integers(row["first"], row["first"] + row["count"], 6).tolist():
            ends = [i] if i in first_of_run else [i - 1, i]
            found = [at(moment.before, *xy[k]) for k in ends]
            if any(layers is None or not layers for layers in found):
                continue
            ranks = [[moment.before.layers.index(p) for p in layers or ()] for layers in found]
            high = moment.before.layers[max(r[-1] for r in ranks)]
            low = moment.before.layers[min(r[0] for r in ranks)]
            assert said["surfaces"][top[i]]["piece"] == high.sheet
            assert said["surfaces"][top[i]]["right"] == (high.face is Face.UP)
            assert said["surfaces"][under[i]]["piece"] == low.sheet
            asked += 1
    assert asked > 40
    assert not (top == NOWHERE).any()


def test_stitches_go_with_the_cloth_that_is_cut_off() -> None:
    """Key tabs are cut out one by one: of what was sewn before, all that lies between them is gone at the end, and the foundation
    keeps what lies on them.
    """
    name, key = "sluice-key-tab", "key-tab"
    starts, xy, _, _, top_gone, under_gone = decoded(needles(made(name), key))
    found = moments(made(name).plan, key)
    flipped = max(k for k, m in enumerate(found) if isinstance(m.hand, Flip))
    last = next(k for k, m in enumerate(found) if k > flipped and isinstance(m.hand, Trim))
    sewn = sum(m.step.count for m in found[:last] if m.step is not None)
    opens = np.isin(np.arange(len(xy)), starts)
    middles = np.where(opens[:, None], xy, (xy + np.roll(xy, 1, axis=0)) / 2)[:sewn]
    cut = found[max(k for k, m in enumerate(found) if isinstance(m.hand, Trim))].after
    cloth = shapely.union_all([p.region for p in cut.layers])
    base = shapely.union_all([p.region for p in cut.layers if p.foundation])
    out = ~opens[:sewn] & ~shapely.intersects_xy(cloth.buffer(CLEAR), middles[:, 0], middles[:, 1])
    within = shapely.contains_xy(base.buffer(-CLEAR), middles[:, 0], middles[:, 1])
    assert out.sum() > 100 and within.sum() > 500
    assert (top_gone[:sewn][out] < len(found)).all() and (under_gone[:sewn][out] < len(found)).all()
    assert (under_gone[:sewn][within] == NEVER).all()


@pytest.mark.parametrize(("name", "key"), CASES)
def test_a_block_catches_what_its_needle_goes_through(name: str, key: str) -> None:
    """Oracle: the positions one by one. Lines may catch a little more, between two positions or under a fold."""
    plan = made(name).plan
    for moment in moments(plan, key):
        if moment.step is None:
            continue
        points = shapely.points(np.concatenate([r.points for r in moment.step.runs]))
        pierced = {p.sheet for p in moment.before.layers if shapely.contains(p.region, points).any()}
        if moment.step.stitch.role in NEVER_FOLDED:
            assert moment.caught >= pierced
        elif moment.step.stitch.role.value != "seam stitch":
            assert pierced <= moment.caught


def test_seams_of_patches_catch_their_patch() -> None:
    said = sheet("tide-mill-flap", "panel")
    seams = [m for m in said["moments"] if m["kind"] == "sew" and m["role"] == "seam"]
    assert len(seams) == 6
    for m in seams:
        names = {said["names"][piece]["words"] for piece, _ in m["catches"]}
        assert m["title"].removeprefix("Seam of patch ") in names


def folds(name: str, key: str) -> list[tuple[dict[str, Any], Moment]]:
    rows = zip(sheet(name, key)["moments"], moments(made(name).plan, key), strict=True)
    return [(r["fold"], m) for r, m in rows if r.get("fold")]


@pytest.mark.parametrize(("name", "key"), CASES)
def test_what_is_folded_lay_before_on_the_other_side_of_the_line(name: str, key: str) -> None:
    for fold, moment in folds(name, key):
        x1, y1, x2, y2 = fold["line"]
        back = mirror((x1, y1), (x2, y2))
        for side in ("top", "under"):
            parts = [area(r["rings"]) for r in fold[side]]
            came_from = back.shape(shapely.union_all(parts))
            was = shapely.union_all([p.region for s in {r["piece"] for r in fold[side]} for p in moment.before.of(s)])
            assert came_from.difference(was.buffer(0.05)).area < 0.5


def test_every_flip_and_fold_in_the_hoop_moves_something() -> None:
    for name, key in CASES:
        rows = list(zip(sheet(name, key)["moments"], moments(made(name).plan, key), strict=True))
        for row, moment in rows:
            if isinstance(moment.hand, Flip | Fold) and not moment.before.turned:
                assert row["fold"] is not None


@pytest.mark.parametrize(("name", "key"), CASES)
def test_what_a_trim_cuts_is_gone_afterwards(name: str, key: str) -> None:
    said = sheet(name, key)
    for row, moment in zip(said["moments"], moments(made(name).plan, key), strict=True):
        if not isinstance(moment.hand, Trim):
            continue
        cut = sum(area(said["shapes"][k]).area for k in row["cut"])
        sheets = moment.before.sheets
        size = [
            sum(shapely.union_all([p.region for p in s.of(k)]).area for k in sheets)
            for s in (moment.before, moment.after)
        ]
        assert cut == pytest.approx(size[0] - size[1], abs=0.5)


def test_assembly_goes_on_with_the_last_hooping() -> None:
    said = sheet("quay-pouch", "pouch")
    hands = [m.hand for m in moments(made("quay-pouch").plan, "pouch")]
    turn = next(k for k, h in enumerate(hands) if isinstance(h, Turn))
    assert any(isinstance(h, Release) for h in hands[:turn])
    shown = {r["piece"] for r in said["views"][said["moments"][turn]["lies"]]["top"]}
    assert shown and not any(said["names"][p]["foundation"] for p in shown)
    assert not said["moments"][turn]["hooped"] and said["moments"][0]["hooped"]


def test_asked_again_it_is_the_same() -> None:
    """A browser keeps what it was sent by a print of the whole sheet."""
    first = json.dumps(run_sheet(made("tide-mill-flap"), "panel"))
    assert json.dumps(run_sheet(made("tide-mill-flap"), "panel")) == first


def test_each_different_view_is_sent_once_and_all_stays_small() -> None:
    for name, key in CASES:
        said = sheet(name, key)
        numbers = [m["lies"] for m in said["moments"]] + [m["fold"]["rest"] for m in said["moments"] if m.get("fold")]
        assert sorted(set(numbers)) == list(range(len(said["views"])))
        assert len(json.dumps(said, separators=(",", ":"))) < 150_000


def test_thickness_is_the_sum_over_the_layers() -> None:
    name, key = "quay-pouch", "pouch"
    found, asked = moments(made(name).plan, key), 0
    for number in range(0, len(found), 7):
        rows = [(r["mm"], area(r["rings"])) for r in thickness(made(name), key, number)]
        assert [mm for mm, _ in rows] == sorted(mm for mm, _ in rows)
        for x, y in places(found[number].after, 20, number):
            layers = at(found[number].after, x, y)
            if not layers:
                continue
            thick = [mm for mm, region in rows if region.contains(Point(x, y))]
            assert thick == [pytest.approx(sum(p.thickness for p in layers), abs=0.006)]
            asked += 1
    assert asked > 40


def test_holes_are_those_of_the_map() -> None:
    said = sheet("tide-mill-flap", "panel")["holes"]
    hooping = made("tide-mill-flap").plan.hoopings[0]
    counts = np.frombuffer(holes(made("tide-mill-flap"), "panel"), np.uint8).reshape(said["size"])
    assert np.array_equal(counts, hole_map(hooping).counts)
    assert said["cuts"] == 13 and said["area"] == pytest.approx(np.pi)


def test_what_is_not_there_is_told() -> None:
    for ask in (run_sheet, needles, holes):
        with pytest.raises(KeyError):
            ask(made("tide-mill-flap"), "nowhere")
    with pytest.raises(KeyError):
        thickness(made("tide-mill-flap"), "nowhere", 0)
    for number in (-1, 10_000):
        with pytest.raises(IndexError):
            thickness(made("tide-mill-flap"), "panel", number)


def test_a_laid_panel_shows_the_cloths_it_was_pieced_from() -> None:
    said, plan = sheet("quay-pouch", "pouch"), made("quay-pouch").plan
    row = next(k for k, m in enumerate(said["moments"]) if m.get("laid") and m["piece"] == "flap")
    rows = [r for r in said["views"][said["moments"][row]["lies"]]["top"] if r["piece"] == "flap"]
    cloths = {dict(p.cloths)[k] for p in plan.panels for k in dict(p.cloths)}
    right = [r for r in rows if r["right"]]
    assert not right or {r["paint"] for r in right} >= {plan.project.cloths[c].colour.lower() for c in cloths}
    assert sum("surface" in r for r in rows) >= 1


def test_a_laid_panel_brings_its_stitches_along() -> None:
    """Its own outline, led by the placing that is told, is the outline of what was laid, less the allowance."""
    said, plan = sheet("quay-pouch", "pouch"), made("quay-pouch").plan
    assert said["pieced"] == {"flap": "flap"}
    assert sheet("tide-mill-flap", "panel")["pieced"] == {}
    laid = next(m for m in said["moments"] if m.get("laid") and m["piece"] == "flap")
    outline = next(p.outline for p in plan.panels if p.key == "flap")
    pose = area(said["shapes"][laid["laid"]["shape"]])
    there = Placing(*said["frames"]["flap"]).shape(outline).buffer(plan.project.piecing.allowance, join_style="mitre")
    assert there.symmetric_difference(pose).area < 0.02 * pose.area


def numbers(p: Placing) -> list[float]:
    return [p.a, p.b, p.c, p.d, p.x0, p.y0]


def open_at_the_end(said: dict[str, Any]) -> dict[str, list[dict[str, Any]]]:
    """The rows of cloth that shows its right side from above when all is sewn, by piece."""
    found: dict[str, list[dict[str, Any]]] = {}
    for row in said["views"][said["moments"][-1]["lies"]]["top"]:
        if "cloth" in row:
            found.setdefault(row["piece"], []).append(row)
    return found


@pytest.mark.parametrize("key", ["section-1", "panel"])
def test_a_laid_section_brings_its_stitches_along_and_prints_stand_upright_when_all_is_open(key: str) -> None:
    """What lies open at the end lies as it was drawn: the cloth's own frame has come to be the hoop's, whichever way it was laid."""
    plan = in_sections().plan
    said = run_sheet(in_sections(), key, 13)
    panel = plan.panels[0]
    assert said["pieced"] == {p.label: "section-1" for p in panel.patches if p.made_of == 1 and key == "panel"}
    rows = open_at_the_end(said)
    assert set(rows) == {p.label for p in panel.patches if p.section == (1 if key == "section-1" else 2)}
    for piece, shown in rows.items():
        frame = Placing(*said["frames"].get(piece, numbers(Placing(1, 0, 0, 1, 0, 0))))
        for row in shown:
            placing = Placing(*said["surfaces"][row["on"]]["placing"])
            assert numbers(placing.after(frame)) == pytest.approx([1, 0, 0, 1, 0, 0], abs=1e-6)
    cloths = {r["cloth"] for pieces in rows.values() for r in pieces}
    section = panel.order.sections[0]
    letters = panel.map.letters if key == "panel" else [x for m in section.members for x in m.letters]
    assert cloths == {dict(panel.cloths)[x] for x in letters}


@pytest.mark.parametrize(("name", "key"), CASES)
def test_cloth_is_named_only_where_its_right_side_shows(name: str, key: str) -> None:
    said, cloths = sheet(name, key), made(name).plan.project.cloths
    rows = [r for view in said["views"] for side in ("top", "under") for r in view[side]]
    for row in rows:
        surface = said["surfaces"][row["on"]] if "cloth" in row else None
        assert surface is None or (row["right"] and surface["right"] and surface["piece"] == row["piece"])
        assert surface is None or row["paint"].lower() == cloths[row["cloth"]].colour.lower()
    assert sum("cloth" in r for r in rows) > 5


def test_cloth_laid_face_down_is_turned_over_like_a_page() -> None:
    """Left and right change places, above and below do not: a print that has an up stands upright when it is turned back."""
    said, plan = sheet("quay-pouch", "pouch"), made("quay-pouch").plan
    hands = [h for s in plan.hoopings[-1].steps for h in s.hands]
    patches = {p.label for panel in plan.panels for p in panel.patches} | {p.key for p in plan.panels}
    turned = [h for h in hands if isinstance(h, Lay) and h.face is Face.DOWN and h.piece not in patches]
    assert turned
    for lay in turned:
        left, low, right, high = lay.pose.bounds
        at = Placing(*said["frames"][lay.piece])
        x, y = at.points(np.array([[left, low], [left, high]])).T
        assert x == pytest.approx([right, right]) and y == pytest.approx([low, high])
