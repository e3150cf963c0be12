from __future__ import annotations

import itertools
import math
from collections.abc import Iterable
from typing import Any, get_args

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.findings import Severity, blocking
from hoopwright.piecing.layouts import crazy, crazy_centre, search
from hoopwright.piecing.layouts.generate import generate
from hoopwright.piecing.layouts.slicing import MarkedRing, Measures, measure
from hoopwright.piecing.order import sewing_order
from hoopwright.piecing.outline import outline_of
from hoopwright.piecing.shapes import PatchMap
from hoopwright.project.schema import GeneratedPatchwork, PanelModel

pytestmark = pytest.mark.no_cover  # its loops are long, and generated panels of other tests count them

WAYS = get_args(GeneratedPatchwork.model_fields["way"].annotation)
OUTLINES: dict[str, dict[str, Any]] = {
    "flap": {"shape": "flap", "width": 108, "height": 100, "radius": 22},
    "ellipse": {"shape": "ellipse", "width": 120, "height": 90},
    "square": {"shape": "rectangle", "width": 120, "height": 120},
    "tongue": {"shape": "tongue", "width": 100, "height": 130, "tip": 45, "radius": 12},
    "kite": {"shape": "polygon", "points": [[0, 0], [60, 50], [0, 140], [-70, 60]]},
    "bent": {"shape": "polygon", "points": [[0, 0], [120, 0], [120, 50], [60, 55], [55, 120], [0, 120]]},
}


def outline(name: str) -> Polygon:
    panel = PanelModel.model_validate({"outline": OUTLINES[name]})
    polygon, findings, _ = outline_of(panel.outline, {})
    assert polygon is not None, findings
    return polygon


def wish(way: str, **fields: Any) -> GeneratedPatchwork:
    return GeneratedPatchwork.model_validate({"way": way, **fields})


def corners(face: Polygon, sharp: float = 20.0) -> list[int]:
    """Vertices of a face where its ring turns by more than ``sharp`` degrees."""
    ring = np.array(face.exterior.coords[:-1])
    before, after = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    turn = np.degrees(np.arctan2(after[:, 1], after[:, 0]) - np.arctan2(before[:, 1], before[:, 0]))
    return [int(i) for i in np.flatnonzero(np.abs((turn + 180) % 360 - 180) > sharp)]


def sides(face: Polygon) -> Iterable[tuple[LineString, float]]:
    """The sides of a face from corner to corner, with the angle of the face where each begins."""
    ring = list(face.exterior.coords[:-1])
    at = corners(face)
    for i, j in zip(at, at[1:] + at[:1], strict=True):
        row = ring[i : j + 1] if i < j else ring[i:] + ring[: j + 1]
        a, b, c = np.array(ring[i - 1]), np.array(ring[i]), np.array(ring[(i + 1) % len(ring)])
        cosine = (a - b) @ (c - b) / np.linalg.norm(a - b) / np.linalg.norm(c - b)
        yield LineString(row), math.degrees(math.acos(np.clip(cosine, -1, 1)))


def peels(patches: PatchMap) -> bool:
    """Sewn in the order of letters, every patch meets what lies already along one straight line."""
    lying: BaseGeometry = patches.polygon(patches.letters[0])
    for letter in patches.letters[1:]:
        shared = patches.polygon(letter).boundary.intersection(lying.buffer(1e-5))
        hull = shared.convex_hull
        gap = hull.length / 2 - shared.length if hull.area else hull.length - shared.length
        if hull.area > 1e-2 or abs(gap) > 1e-3:
            return False
        lying = lying.union(patches.polygon(letter))
    return True


def check_promises(patches: PatchMap, asked: GeneratedPatchwork) -> None:
    own = [np.array(patches.outline.exterior.coords[i]) for i in corners(patches.outline)]

    def outlines_own(x: float, y: float) -> bool:
        return any(math.dist((x, y), p) < 1e-6 for p in own)

    for face in patches.plane.faces:
        assert face.area >= asked.least_area
        for side, angle in sides(face):
            start, end = side.coords[0], side.coords[-1]
            if not outlines_own(*start):
                assert angle >= asked.least_angle - 0.06
            if not (outlines_own(*start) and outlines_own(*end)):
                assert side.length >= asked.least_edge - 1e-6
    assert math.fsum(f.area for f in patches.plane.faces) == pytest.approx(patches.outline.area)


def check_junctions(patches: PatchMap, apart: float) -> None:
    """No four lines meet, and junctions keep an allowance between them."""
    meeting: dict[int, int] = {}
    for seam in patches.plane.chains:
        for v in (seam.vertices[0], seam.vertices[-1]):
            meeting[v] = meeting.get(v, 0) + 1
    assert all(n == 1 for n in meeting.values())
    places = [patches.plane.vertices[v] for v in meeting]
    assert all(math.dist(a, b) >= apart - 1e-6 for a, b in itertools.combinations(places, 2))


@pytest.mark.no_cover
@settings(max_examples=40, deadline=None)
@given(
    way=st.sampled_from(WAYS),
    shape=st.sampled_from(sorted(OUTLINES)),
    seed=st.integers(0, 2**31),
    patches=st.integers(1, 9),
    angle=st.integers(-180, 180),
)
def test_every_layout_keeps_its_promises(way: str, shape: str, seed: int, patches: int, angle: int) -> None:
    asked = wish(way, seed=seed, patches=patches, angle=angle)
    made, findings = generate(outline(shape), asked)
    assert len(made.letters) <= patches
    assert bool(findings) == (len(made.letters) < patches)
    assert [s.number for s in made.seams] == list(range(1, len(made.letters)))
    check_promises(made, asked)
    check_junctions(made, asked.least_edge / 2)
    assert peels(made)


@pytest.mark.parametrize("way", WAYS)
def test_a_seed_fixes_the_layout(way: str) -> None:
    first, _ = generate(outline("flap"), wish(way, seed=4))
    again, _ = generate(outline("flap"), wish(way, seed=4))
    other, _ = generate(outline("flap"), wish(way, seed=5))
    assert first.plane.vertices == again.plane.vertices
    assert first.plane.vertices != other.plane.vertices


def likeness(one: PatchMap, other: PatchMap) -> float:
    """Part of the area where each patch of one layout lies on the patch of the other that it meets most."""
    shared = sum(max(f.intersection(g).area for g in other.plane.faces) for f in one.plane.faces)
    return shared / one.outline.area


@pytest.mark.no_cover
@pytest.mark.parametrize("shape", ["flap", "square", "ellipse"])
def test_neighbouring_seeds_spread_a_fan_from_other_places(shape: str) -> None:
    """Fans that all spread from one place agree on more of the area: the measure tells the two apart."""
    made = [generate(outline(shape), wish("fan", seed=s, patches=6))[0] for s in range(1, 7)]
    plain = [generate(outline(shape), wish("fan", seed=s, patches=6, angle=180))[0] for s in (1, 2)]
    assert all(likeness(a, b) < 0.6 for a, b in itertools.pairwise(made))
    assert likeness(plain[0], plain[1]) > 0.7


def directions(patches: PatchMap) -> list[float]:
    """Directions of the seams in degrees, -90 to 90, from below upwards."""
    rows = sorted((s.line.centroid.y, s) for s in patches.seams)
    slopes = [(s.end[1] - s.start[1]) / (s.end[0] - s.start[0]) for _, s in rows]
    return [math.degrees(math.atan(slope)) for slope in slopes]


def test_strips_of_some_seeds_are_level_and_of_others_slant_to_and_fro() -> None:
    for seed in range(1, 7):
        made, findings = generate(outline("square"), wish("strips", seed=seed, patches=5))
        turned = directions(made)
        assert not findings
        if seed in (1, 4):
            assert max(map(abs, turned)) < 0.01
        else:
            assert 1.5 < max(map(abs, turned)) <= 9.0
            assert min(turned) < -0.5 and max(turned) > 0.5


def test_the_angle_of_a_fan_says_where_it_spreads_from() -> None:
    """Turned by 90 degrees from below the pivot lies on the right: the base, sewn last, is the patch farthest to the right."""
    for seed in (1, 2, 3):
        made, _ = generate(outline("square"), wish("fan", seed=seed, patches=6, angle=90))
        middles = {n: made.polygon(n).centroid.x for n in made.letters}
        assert max(middles, key=lambda n: middles[n]) == made.letters[-1]


@pytest.mark.no_cover
@pytest.mark.parametrize("shape", ["flap", "ellipse", "square"])
@pytest.mark.parametrize("way", ["crazy-centre", "crazy-cuts"])
def test_crazy_sizes_vary_pleasantly(way: str, shape: str) -> None:
    for seed in range(4):
        made, findings = generate(outline(shape), wish(way, seed=seed))
        assert not findings
        areas = np.array([f.area for f in made.plane.faces])
        assert 0.2 <= areas.std() / areas.mean() <= 0.5
        assert areas.max() / areas.min() <= 5.0


@pytest.mark.no_cover
def test_the_middle_of_a_crazy_centre_keeps_off_the_outline() -> None:
    for seed in range(6):
        made, _ = generate(outline("ellipse"), wish("crazy-centre", seed=seed))
        middle = made.polygon("A")
        assert middle.distance(made.outline.exterior) > 1.0
        assert 4 <= len(corners(middle)) <= 6


def test_too_many_patches_are_reported_with_the_number_that_fits() -> None:
    asked = wish("crazy-cuts", patches=16, least_area=900, least_edge=25)
    made, findings = generate(outline("flap"), asked)
    assert [f.code for f in findings] == ["HW270"]
    assert findings[0].severity is Severity.WARNS
    assert f"Only {len(made.letters)} of 16" in findings[0].message
    assert 4 <= len(made.letters) <= outline("flap").area / 900
    check_promises(made, asked)


@pytest.mark.parametrize("shape", ["flap", "ellipse"])
@pytest.mark.parametrize("way", WAYS)
def test_the_order_of_the_letters_can_be_sewn_on_one_foundation(way: str, shape: str) -> None:
    made, _ = generate(outline(shape), wish(way, seed=11))
    order = sewing_order(made, own=made.letters)
    assert [s.letters for s in order.sections] == [made.letters]
    assert not blocking(order.findings)
    seams = [m.seam.number for m in order.sections[0].members if m.seam is not None]
    assert seams == list(range(1, len(made.letters)))


@pytest.mark.no_cover
@pytest.mark.parametrize("way", WAYS)
def test_two_hundred_patches_are_answered_with_bounded_work(way: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every patch measured is counted: in all searches, in the last one at leisure, and about 66 times in each careful start."""
    measured = 0

    def counted(ring: MarkedRing) -> Measures:
        nonlocal measured
        measured += 1
        return measure(ring)

    for module in (search, crazy, crazy_centre):
        monkeypatch.setattr(module, "measure", counted)
    asked = wish(way, patches=200, least_area=100, least_edge=8, least_angle=20)
    made, findings = generate(outline("ellipse"), asked)
    assert measured <= 90_000
    assert f"Only {len(made.letters)} of 200" in findings[0].message
    assert len(made.letters) >= 10
    check_promises(made, asked)
