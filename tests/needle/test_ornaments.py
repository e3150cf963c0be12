from __future__ import annotations

import math
import statistics
import time
from itertools import combinations, permutations

import pytest
import shapely
import shapely.ops
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon, box

from hoopwright.core.findings import Finding, Severity
from hoopwright.core.tolerances import MERGE
from hoopwright.needle.ornaments import Ornament, plan_ornaments, sewing_order
from hoopwright.needle.seam_stitches import SEAM_STITCHES, sew_seam_stitch
from hoopwright.piecing.shapes import PatchMap, SeamLine
from hoopwright.plane.subdivision import subdivide
from hoopwright.project.lengths import Units
from hoopwright.project.schema import PanelModel, RectangleOutline, SeamStitchModel

Cut = tuple[tuple[float, float], tuple[float, float]]


def map_of(outline: Polygon, cuts: list[Cut]) -> PatchMap:
    """Return a patch map whose seams are numbered in the order of the chains."""
    plane = subdivide(outline, cuts)
    at = plane.vertices
    seams = tuple(SeamLine(i + 1, i, at[c.vertices[0]], at[c.vertices[-1]]) for i, c in enumerate(plane.chains))
    return PatchMap(outline, plane, tuple(f"P{i}" for i in range(len(plane.faces))), seams)


def panel_with(seams: dict[str, SeamStitchModel] | None = None, **wish: object) -> PanelModel:
    outline = RectangleOutline(shape="rectangle", width=100, height=80)
    return PanelModel(outline=outline, seam_stitch=SeamStitchModel(**wish), seams=seams or {})


def plan(outline: Polygon, cuts: list[Cut], panel: PanelModel) -> tuple[tuple[Ornament, ...], tuple[Finding, ...]]:
    return plan_ornaments(map_of(outline, cuts), panel, outline)


SQUARE = box(-50, -40, 50, 40)
T = [((-50.0, 0.0), (50.0, 0.0)), ((10.0, 0.0), (10.0, 40.0))]


def number_at(patches: PatchMap, place: tuple[float, float]) -> int:
    """Return the number of the seam through a place."""
    return next(s.number for s in patches.seams if s.line.distance(Point(place)) < MERGE)


def codes(findings: tuple[Finding, ...]) -> list[str]:
    return [f.code for f in findings]


@st.composite
def crazy_cuts(draw: st.DrawFn) -> list[Cut]:
    """Cuts one after the other, each across one piece: T junctions, and no rings."""
    pieces, cuts = [SQUARE], []
    for _ in range(draw(st.integers(1, 7))):
        piece = pieces.pop(draw(st.integers(0, len(pieces) - 1)))
        angle, centre = draw(st.floats(0, math.pi)), piece.representative_point()
        dx, dy = 300 * math.cos(angle), 300 * math.sin(angle)
        line = LineString([(centre.x - dx, centre.y - dy), (centre.x + dx, centre.y + dy)])
        parts = list(shapely.get_parts(shapely.ops.split(piece, line)))
        inside = piece.intersection(line)
        if len(parts) == 2 and isinstance(inside, LineString):
            (x0, y0), (x1, y1) = inside.coords
            cuts.append(((x0, y0), (x1, y1)))
            pieces += parts
        else:
            pieces.append(piece)
    return cuts


def test_the_ending_seam_comes_before_the_through_one() -> None:
    """Common practice, no source: where one seam ends on another, the ending one is sewn first."""
    patches = map_of(SQUARE, T)
    ornaments, findings = plan_ornaments(patches, panel_with(), SQUARE)
    assert [o.seam for o in ornaments] == [number_at(patches, (10, 20)), number_at(patches, (-20, 0))]
    assert findings == ()


def test_titles_style_and_thread_come_from_the_seams_own_entry() -> None:
    patches = map_of(SQUARE, T)
    stem = number_at(patches, (10, 20))
    own = SeamStitchModel(stitch="fly", thread="blue", width=6, repeat=5, mirror=True, turn=True)
    ornaments, _ = plan_ornaments(patches, panel_with({str(stem): own}, stitch="cretan", thread="red"), SQUARE)
    first, second = ornaments
    assert (first.title, first.thread) == (f"Fly stitch on seam {stem}", "blue")
    style = first.style
    assert (style.stitch, style.width, style.repeat, style.mirror, style.turn) == ("fly", 6.0, 5.0, True, True)
    assert (second.style.stitch, second.thread, second.style.mirror) == ("cretan", "red", False)


def test_a_seam_with_its_own_stitch_but_no_thread_takes_the_thread_of_the_others() -> None:
    patches = map_of(SQUARE, T)
    stem = number_at(patches, (10, 20))
    threads = {}
    for common, own in (("red", None), ("red", "blue"), (None, None), (None, "blue")):
        seams = {str(stem): SeamStitchModel(stitch="fly", thread=own)}
        ornaments, _ = plan_ornaments(patches, panel_with(seams, thread=common), SQUARE)
        threads[common, own] = [o.thread for o in ornaments]
    assert threads == {
        ("red", None): ["red", "red"],
        ("red", "blue"): ["blue", "red"],
        (None, None): [None, None],
        (None, "blue"): ["blue", None],
    }


def test_seams_with_none_stay_plain() -> None:
    patches = map_of(SQUARE, T)
    stem = number_at(patches, (10, 20))
    ornaments, findings = plan_ornaments(patches, panel_with({str(stem): SeamStitchModel(stitch="none")}), SQUARE)
    assert [o.seam for o in ornaments] == [number_at(patches, (-20, 0))]
    assert findings == ()
    assert plan(SQUARE, T, panel_with(stitch="none")) == ((), ())


def test_an_unknown_stitch_blocks_once_and_names_near_ones() -> None:
    ornaments, findings = plan(SQUARE, T, panel_with(stitch="fether"))
    assert ornaments == ()
    (finding,) = findings
    assert (finding.code, finding.severity) == ("HW342", Severity.BLOCKS)
    assert 'Did you mean "feather"' in finding.cure and "docs/seam-stitches.md" in finding.cure
    assert finding.where.path == "panel.seam_stitch.stitch"


def test_a_seam_that_does_not_exist_is_named_with_those_that_do() -> None:
    _, findings = plan(SQUARE, T, panel_with({"9": SeamStitchModel()}))
    (finding,) = findings
    assert finding.code == "HW341" and "1, 2" in finding.cure and finding.where.path == "panel.seams.9"


def test_the_proposed_width_is_at_most_half_the_smallest_patch_beside_the_seam() -> None:
    """A strip of 9 mm lies beside both seams; half of it is 4.5."""
    cuts = [((-50.0, 0.0), (50.0, 0.0)), ((-50.0, 9.0), (50.0, 9.0))]
    ornaments, findings = plan(SQUARE, cuts, panel_with(stitch="feather"))
    assert [o.style.width for o in ornaments] == [4.5, 4.5]
    assert findings == ()


def strips(*heights: float) -> list[Cut]:
    """Seams straight across at these heights above the lower edge."""
    return [((-50.0, h - 40.0), (50.0, h - 40.0)) for h in heights]


def test_a_narrow_strip_does_not_get_a_much_smaller_stitch_than_its_neighbours() -> None:
    """Strips of 9, 20, 20, 31 mm: half of 9 is 4.5; seven tenths of 8 is 5.6, in steps of half a millimetre 5.5."""
    ornaments, findings = plan(SQUARE, strips(9, 29, 49), panel_with(stitch="feather"))
    assert {o.style.width for o in ornaments if o.path.bounds[1] == -31} == {5.5}
    assert sorted(o.style.width for o in ornaments) == [5.5, 8.0, 8.0]
    assert findings == ()


def test_a_strip_that_has_no_room_for_it_gets_three_quarters_of_its_width_at_most() -> None:
    """A strip of 6 mm, where seven tenths of 8 would be 5.6 mm: 4.5 is three quarters."""
    ornaments, _ = plan(SQUARE, strips(6, 29, 49), panel_with(stitch="feather"))
    assert sorted(o.style.width for o in ornaments) == [4.5, 8.0, 8.0]


def test_the_makers_widths_and_other_stitches_do_not_count_as_neighbours() -> None:
    patches = map_of(SQUARE, strips(9, 29, 49))
    low = str(number_at(patches, (0, -31)))
    fixed, _ = plan_ornaments(patches, panel_with({low: SeamStitchModel(width=3.5)}, stitch="feather"), SQUARE)
    assert sorted(o.style.width for o in fixed) == [3.5, 8.0, 8.0]
    other, _ = plan_ornaments(patches, panel_with({low: SeamStitchModel(stitch="coral")}, stitch="feather"), SQUARE)
    assert sorted(o.style.width for o in other) == [SEAM_STITCHES["coral"].width, 8.0, 8.0]


@settings(deadline=None)
@given(crazy_cuts())
def test_no_proposed_width_is_less_than_half_the_middle_one_where_its_patches_have_room(cuts: list[Cut]) -> None:
    patches = map_of(SQUARE, cuts)
    ornaments, _ = plan_ornaments(patches, panel_with(), SQUARE)
    widths = {o.seam: o.style.width for o in ornaments}
    for seam in (s for s in patches.seams if s.number in widths):
        beside = [f for f in patches.plane.faces if f.buffer(MERGE).intersection(seam.line).length > 0.1]
        across = min(2.0 * shapely.maximum_inscribed_circle(f, 0.1).length for f in beside)
        if widths[seam.number] < statistics.median(widths.values()) / 2:
            assert widths[seam.number] > 0.75 * across - 0.7


def test_a_large_patch_gives_the_stitch_its_own_width() -> None:
    ornaments, _ = plan(SQUARE, [((-50.0, 0.0), (50.0, 0.0))], panel_with(stitch="feather"))
    assert ornaments[0].style.width == SEAM_STITCHES["feather"].width


@pytest.mark.parametrize(("width", "said"), [(8.9, []), (9.1, ["HW343", "HW343"]), (2.0, ["HW344", "HW344"])])
def test_the_makers_width_is_kept_and_judged(width: float, said: list[str]) -> None:
    """Common practice, no source: narrower than the smallest patch it borders (here 9 mm across)."""
    cuts = [((-50.0, 0.0), (50.0, 0.0)), ((-50.0, 9.0), (50.0, 9.0))]
    ornaments, findings = plan(SQUARE, cuts, panel_with(stitch="feather", width=width))
    assert codes(findings) == said
    assert {o.style.width for o in ornaments} == {width}
    assert all("4.5 mm" in f.cure for f in findings if f.code == "HW343")


def test_a_sliver_of_a_patch_leaves_its_seam_plain() -> None:
    cuts = [((-50.0, 0.0), (50.0, 0.0)), ((-50.0, 2.5), (50.0, 2.5))]
    ornaments, findings = plan(SQUARE, cuts, panel_with(stitch="feather"))
    assert ornaments == () and codes(findings) == ["HW345", "HW345"]


@pytest.mark.parametrize(("units", "told"), [("mm", "2.5 mm across"), ("in", "2.5 mm (1/8 in) across")])
def test_lengths_are_told_in_the_units_of_the_maker(units: Units, told: str) -> None:
    """2.5 mm are 1.57 sixteenths of an inch: shown to the nearest, 1/8 in."""
    patches = map_of(SQUARE, [((-50.0, 0.0), (50.0, 0.0)), ((-50.0, 2.5), (50.0, 2.5))])
    _, findings = plan_ornaments(patches, panel_with(stitch="feather"), SQUARE, units)
    assert all(told in f.message and f.message.startswith("Seam") for f in findings)
    assert len(findings) == 2


def test_a_seam_too_short_for_one_repeat_stays_plain() -> None:
    cuts: list[Cut] = [((-50.0, 33.0), (-43.0, 40.0))]
    ornaments, findings = plan(SQUARE, cuts, panel_with(stitch="coral", repeat=30.0))
    assert ornaments == () and codes(findings) == ["HW346"]
    assert findings[0].severity is Severity.NOTES


def test_ends_lie_inside_the_outline_and_short_of_the_through_seam() -> None:
    patches = map_of(SQUARE, T)
    stem, through = plan_ornaments(patches, panel_with(), SQUARE)[0]
    assert through.path.bounds == pytest.approx((-49, 0, 49, 0))
    assert stem.path.bounds == pytest.approx((10, through.style.width / 4, 10, 39))


def test_a_seam_that_ends_on_a_plain_one_reaches_it_but_for_half_a_millimetre() -> None:
    patches = map_of(SQUARE, T)
    plain = {str(number_at(patches, (-20, 0))): SeamStitchModel(stitch="none")}
    (stem,) = plan_ornaments(patches, panel_with(plain), SQUARE)[0]
    assert stem.path.bounds == pytest.approx((10, 0.5, 10, 39))


def test_a_corner_of_a_patch_near_a_seam_does_not_part_its_row() -> None:
    """A narrow wedge ends off the seam: its margin, drawn out to a point, would reach over the seam."""
    for off in (1.0, 0.3):
        cuts: list[Cut] = [((-50.0, 0.0), (50.0, 0.0)), ((0.0, 0.0), (12.0, 40.0)), ((off * 0.3, off), (-12.0, 40.0))]
        patches = map_of(SQUARE, cuts)
        number = number_at(patches, (-40.0, 0.0))
        rows, _ = plan_ornaments(patches, panel_with(stitch="feather"), SQUARE)
        assert next(r for r in rows if r.seam == number).path.length > 97.0


def test_a_panel_of_one_patch_has_no_ornaments() -> None:
    assert plan(SQUARE, [], panel_with()) == ((), ())


def test_a_ring_of_seams_is_broken_with_a_note() -> None:
    """The windmill of five: each of four seams ends on the next."""
    cuts: list[Cut] = [((-10, -40), (-10, 10)), ((-50, 10), (10, 10)), ((10, 40), (10, -10)), ((50, -10), (-10, -10))]
    ornaments, findings = plan(SQUARE, cuts, panel_with(stitch="chain"))
    assert len(ornaments) == 4 and codes(findings) == ["HW347"]


def ends_on(a: SeamLine, b: SeamLine) -> bool:
    """Whether an end of seam a lies inside the length of seam b: plain geometry, no subdivision."""
    if b.line.length <= 0.02:
        return False
    inner = shapely.ops.substring(b.line, 0.01, b.line.length - 0.01)
    return any(inner.distance(Point(p)) < 2 * MERGE for p in (a.start, a.end))


@settings(deadline=None)
@given(crazy_cuts())
def test_in_any_crazy_patchwork_every_seam_comes_before_the_one_it_ends_on(cuts: list[Cut]) -> None:
    patches = map_of(SQUARE, cuts)
    order, broken = sewing_order(patches, tuple(s.number for s in patches.seams))
    assert sorted(order) == [s.number for s in patches.seams] and broken == ()
    place = {n: i for i, n in enumerate(order)}
    for a, b in permutations(patches.seams, 2):
        if ends_on(a, b):
            assert place[a.number] < place[b.number]


@settings(deadline=None)
@given(crazy_cuts(), st.sampled_from(sorted(SEAM_STITCHES)))
def test_ornaments_stay_on_the_patches_that_border_their_seam(cuts: list[Cut], stitch: str) -> None:
    patches = map_of(SQUARE, cuts)
    ornaments, _ = plan_ornaments(patches, panel_with(stitch=stitch), SQUARE)
    for ornament in ornaments:
        seam = next(s for s in patches.seams if s.number == ornament.seam)
        beside = [f for f in patches.plane.faces if f.buffer(MERGE).intersection(seam.line).length > 0.1]
        allowed = shapely.union_all([f.buffer(MERGE) for f in beside]).intersection(box(-49.01, -39.01, 49.01, 39.01))
        for run in sew_seam_stitch(ornament.path, ornament.style, 1.0, 7.0):
            assert allowed.buffer(MERGE).covers(LineString(run))


@settings(deadline=None)
@given(crazy_cuts())
def test_the_same_map_gives_the_same_plan(cuts: list[Cut]) -> None:
    first, second = plan(SQUARE, cuts, panel_with()), plan(SQUARE, cuts, panel_with())
    assert [(o.seam, o.title, o.path.wkb) for o in first[0]] == [(o.seam, o.title, o.path.wkb) for o in second[0]]
    assert first[1] == second[1]


def test_every_ornamented_pair_of_seams_is_named_once() -> None:
    ornaments, _ = plan(SQUARE, [*T, ((-20.0, 0.0), (-30.0, -40.0))], panel_with())
    assert all(a.seam != b.seam for a, b in combinations(ornaments, 2))


SEVEN: list[Cut] = [
    ((-50, 5), (50, -3)),
    ((-20, 2.6), (-28, 40)),
    ((15, -0.2), (22, 40)),
    ((-24.5, 22), (19, 20)),
    ((-10, 1.8), (-16, -40)),
    ((20, -0.6), (30, -40)),
    ((-13, -19), (24.5, -18)),
]


@pytest.mark.bench
def test_seven_seams_in_ten_milliseconds() -> None:
    patches, panel = map_of(SQUARE, SEVEN), panel_with()
    best = math.inf
    for i in range(60):  # another longest stitch each time: nothing that was kept helps
        begin = time.process_time()
        ornaments, _ = plan_ornaments(patches, panel, SQUARE)
        for o in ornaments:
            sew_seam_stitch(o.path, o.style, 1.0, 7.0 + 1e-6 * i)
        best = min(best, time.process_time() - begin)
    print(f"{len(ornaments)} seams planned and sewn in {best * 1000:.1f} ms")
    assert best < 0.010
