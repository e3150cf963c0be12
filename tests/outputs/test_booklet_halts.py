from __future__ import annotations

from dataclasses import replace
from typing import Any, cast

from shapely.geometry import LineString, Point, box

from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import Face, Lay, OrnamentStyle, Role, Side, Stitch
from hoopwright.outputs.booklet.halts import bench_of, ending, grouped, halt, hand_row
from hoopwright.plane.half_plane import left_of
from hoopwright.project.schema import ClothModel
from tests.outputs.paper_builds import build_of, hooping_of, small_panel

PANEL = small_panel()
SVG = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 158 118"/>'


def _decorated() -> Hooping:
    hooping = hooping_of(PANEL)
    path = LineString([(0, 0), (30, 0)])
    style = OrnamentStyle("feather", 6.0)
    seams = [
        Stitch(Role.ORNAMENT, f"Feather stitch on seam {n}", "cream", (path,), style, f"Feather {n}.", seam=n)
        for n in (1, 2, 3)
    ]
    last = len(hooping.steps)
    steps = [*hooping.steps, *(Step(last + k, s, (), ()) for k, s in enumerate(seams, start=1))]
    outline = replace(hooping.steps[-1], index=last + 4, hands=())
    return replace(hooping, steps=(*steps, outline))


def _halts(hooping: Hooping, pictures: dict[str, bytes] | None = None) -> list[dict[str, Any]]:
    build = build_of(PANEL, hoopings=(hooping,))
    bench = bench_of(build, hooping, pictures or {})
    return [cast("dict[str, Any]", halt(bench, g)) for g in grouped(hooping.steps)]


def test_each_halt_opens_a_group_and_seam_stitches_stand_together() -> None:
    groups = [[s.index for s in g] for g in grouped(_decorated().steps)]
    assert groups == [[1], [2], [3], [4], [5], [6, 7, 8], [9]]


def test_seam_stitches_have_a_small_picture_each() -> None:
    group = _halts(_decorated(), {f"flap-step-{k:02}.svg": SVG for k in range(1, 11)})[5]
    assert group["title"] == "Steps 6 to 8: 3 seam stitches"
    assert [s["title"] for s in group["stitches"]] == [f"Feather stitch on seam {n}" for n in (1, 2, 3)]
    assert [s["picture"]["file"] for s in group["stitches"]] == [f"flap-step-{k:02}.svg" for k in (6, 7, 8)]
    assert not group["halt"]


def test_what_lies_already_is_told() -> None:
    said = [h["lies"] for h in _halts(hooping_of(PANEL))]
    assert said == [
        "",
        "Only the foundation is in the hoop.",
        "Patch 1 (A) lies open.",
        "Patch 1 (A) lies open; patch 2 (B) is sewn on and still folded over.",
        "Patches 1 (A) and 2 (B) lie open; patch 3 (C) is sewn on and still folded over.",
    ]


def test_laying_tells_side_and_edge() -> None:
    first, second = _halts(hooping_of(PANEL))[1:3]
    assert first["panes"][0]["hands"][0]["facts"] == ["right side UP"]
    facts = second["panes"][0]["hands"][0]["facts"]
    assert facts == ["right side DOWN: you see the wrong side", "raw edge 6.4 mm past the placement line"]


def test_opening_and_laying_stand_apart_when_both_have_pictures() -> None:
    pictures = {"flap-step-04.svg": SVG, "flap-step-04-hands.svg": SVG}
    panes = _halts(hooping_of(PANEL), pictures)[3]["panes"]
    assert [[h["verb"] for h in p["hands"]] for p in panes] == [["Trim", "Flip", "Press"], ["Lay"]]
    assert [p["picture"]["file"] for p in panes] == ["flap-step-04-hands.svg", "flap-step-04.svg"]
    assert "Flip patch B open." in panes[0]["picture"]["alt"]
    assert [len(p["sews"]) for p in panes] == [0, 1]


def test_a_block_that_runs_on_has_its_own_picture() -> None:
    """A placement line is sewn without a halt after the tack-down: its picture shows where the next piece goes."""
    first, second, *rest = hooping_of(PANEL).steps
    hooping = replace(hooping_of(PANEL), steps=(first, second, *(replace(s, hands=()) for s in rest)))
    rest = [second, *rest]
    pictures = {f"flap-step-{k:02}.svg": SVG for k in range(1, len(hooping.steps) + 1)}
    panes = _halts(hooping, pictures)[1]["panes"]
    assert [p["picture"]["file"] for p in panes] == [f"flap-step-{s.index:02}.svg" for s in rest]
    assert [[s["step"] for s in p["sews"]] for p in panes] == [[s.index] for s in rest]
    without = _halts(hooping)[1]["panes"]
    assert [[s["step"] for s in p["sews"]] for p in without] == [[s.index for s in rest]]


def test_the_end_tells_how_the_work_leaves_the_hoop() -> None:
    hooping = hooping_of(PANEL)
    (end,) = cast("list[dict[str, Any]]", ending(bench_of(build_of(PANEL), hooping, {"flap-step-06.svg": SVG})))
    assert [h["verb"] for h in end["hands"]] == ["Release"]
    assert end["picture"]["file"] == "flap-step-06.svg"


def test_without_placement_lines_the_seam_is_named_by_the_numbers_beside_it() -> None:
    hooping = hooping_of(PANEL)
    build = build_of(PANEL, hoopings=(hooping,))
    piecing = build.plan.project.piecing.model_copy(update={"placement_lines": False})
    project = build.plan.project.model_copy(update={"piecing": piecing})
    bench = bench_of(replace(build, plan=replace(build.plan, project=project)), hooping, {})
    said = cast("dict[str, Any]", halt(bench, grouped(hooping.steps)[2]))["panes"][0]["hands"][0]["facts"]
    assert said[1] == "raw edge 6.4 mm past the seam between 1 and 2"


def _threads(keys: str) -> list[dict[str, Any]]:
    hooping = _decorated()
    names = {"c": "cream", "s": "slate"}
    steps = [replace(s, stitch=replace(s.stitch, thread=names[k])) for s, k in zip(hooping.steps, keys, strict=True)]
    return _halts(replace(hooping, steps=tuple(steps)))


def test_every_change_of_thread_is_told_once_where_it_happens() -> None:
    """The needle is threaded before the first block, and again wherever the thread is another than before."""
    said = []
    for group in _threads("sccccsccs"):
        rows = [h["text"] for p in group["panes"] for h in p["hands"] if h["verb"] == "Thread"]
        rows += [s["change"] for p in group["panes"] for s in p["sews"]] + [s["change"] for s in group["stitches"]]
        said.append([r for r in rows if r])
    assert said == [
        ["Thread the needle with slate."],
        ["Change the thread to cream rayon."],
        [],
        [],
        [],
        ["Change the thread to slate.", "Change the thread to cream rayon."],
        ["Change the thread to slate."],
    ]


def test_a_change_of_thread_without_other_hand_work_is_the_only_thing_to_do() -> None:
    last = _threads("sccccsccs")[-1]
    assert [h["verb"] for h in last["panes"][0]["hands"]] == ["Thread"]
    assert last["change"]
    assert not last["halt"]


def _laid(fold: float | None, cloth: str, face: Face) -> list[str]:
    """The facts of laying a piece of 20 by 100 mm, ``fold`` mm of it folded on top."""
    project = build_of(PANEL).plan.project
    ends = None if fold is None else ((20.0, 100.0 - fold), (0.0, 100.0 - fold))
    ends = ends if ends is None or left_of(*ends).contains(Point(10, 99)) else (ends[1], ends[0])
    lay = Lay("pocket", cloth, box(0, 0, 20, 100), face, Side.TOP, None, None, "Lay it.", ends)
    felt = ClothModel(name="felt", colour="#808080", kind="stiffener")
    project = project.model_copy(update={"cloths": {**project.cloths, "felt": felt}})
    bench = bench_of(build_of(PANEL), hooping_of(PANEL), {})
    return cast("list[str]", hand_row(replace(bench, project=project), lay)["facts"])


def test_which_side_of_a_folded_piece_shows() -> None:
    """Folded in half with its right side out, the right side shows above and below; a hem shows only itself."""
    linen = next(iter(build_of(PANEL).plan.project.cloths))
    assert _laid(None, linen, Face.DOWN) == ["right side DOWN: you see the wrong side"]
    assert _laid(50.0, linen, Face.DOWN) == ["folded", "right side OUT: you see the right side"]
    assert _laid(50.0, linen, Face.UP) == ["folded", "right side IN: you see the wrong side"]
    assert _laid(8.0, linen, Face.DOWN) == ["right side DOWN, its hem folded on top"]


def test_a_stiffener_has_no_right_side() -> None:
    assert _laid(None, "felt", Face.UP) == ["flat"]


def test_a_raw_edge_an_allowance_away_is_told_as_the_allowance() -> None:
    """6.35 mm is told as 6.4 mm everywhere, also when it was reckoned from places and came out a hair less."""
    lay = Lay(
        "x", "y", box(0, 0, 1, 1), Face.DOWN, Side.TOP, ((0, -49.35), (9, -49.35)), ((0, -43), (9, -43)), "Lay it."
    )
    facts = hand_row(bench_of(build_of(PANEL), hooping_of(PANEL), {}), lay)["facts"]
    assert cast("list[str]", facts)[1] == "raw edge 6.4 mm past the seam line"
