from __future__ import annotations

import pytest
import shapely
from shapely.geometry import LineString, Polygon, box

from hoopwright.cloth.handling import flip, fold, lay, release
from hoopwright.cloth.shapes import Held, Join, Layer, Stack
from hoopwright.cloth.stitching import stitch
from hoopwright.cloth.topology import Topology, topology
from hoopwright.cloth.turning import Opening
from hoopwright.operations.vocabulary import Face, Role, Side

SHEET = box(-56.0, -46.0, 56.0, 46.0)
ROUND = LineString(box(-50.0, -40.0, 50.0, 40.0).exterior.coords)


def sheet(name: str, face: Face = Face.UP, region: Polygon = SHEET) -> Layer:
    return Layer(name, "linen", 0.3, region, face, Side.TOP)


def two() -> Stack:
    return lay(lay(Stack(hooped=False), sheet("shell")), sheet("lining", Face.DOWN))


def test_an_open_pouch_shell_is_a_disc() -> None:
    """Two sheets joined along bottom and sides: Euler number 1 (proved in the theory of the stack)."""
    seam = LineString([(-50, 46), (-50, -40), (50, -40), (50, 46)])
    assert topology(stitch(two(), seam)) == Topology(1, 1, 1)


def test_shell_and_lining_sewn_right_round_are_a_ball_and_cannot_be_turned() -> None:
    whole = topology(stitch(two(), ROUND))
    assert whole == Topology(1, 0, 2)
    assert not whole.can_be_turned


def gap(a: float, b: float) -> LineString:
    return LineString([(a, 40), (b, 40)])


def with_gaps(*gaps: LineString) -> Stack:
    return stitch(two(), ROUND.difference(shapely.union_all([g.buffer(0.001) for g in gaps])))


def test_one_gap_makes_a_disc_until_it_is_closed() -> None:
    openings = [Opening(gap(-20, 20), "shell", "lining")]
    made = with_gaps(gap(-20, 20))
    assert topology(made, openings) == Topology(1, 1, 1)
    assert topology(made, openings).can_be_turned
    assert topology(made, openings, closed=True) == Topology(1, 0, 2)


def test_two_gaps_make_a_tube() -> None:
    gaps = [gap(-30, -10), gap(10, 30)]
    assert topology(with_gaps(*gaps), [Opening(g, "shell", "lining") for g in gaps]) == Topology(1, 2, 0)


def test_sewing_twice_round_changes_nothing() -> None:
    assert topology(stitch(stitch(two(), ROUND), ROUND)) == Topology(1, 0, 2)
    twice = LineString([*ROUND.coords, *ROUND.coords[1:]])
    assert topology(stitch(two(), twice)) == Topology(1, 0, 2)


def test_sheets_that_nothing_joins_are_apart() -> None:
    assert topology(two()) == Topology(2, 2, 2)


def test_a_pocket_caught_on_three_sides_adds_a_disc_with_a_free_edge() -> None:
    """Shell, pocket, lining, one gap: the pocket hangs on the closing seam by an arc, 1 + 1 - 1."""
    pocket = sheet("pocket", region=box(-56, -46, 56, 10))
    stack = lay(lay(lay(Stack(hooped=False), sheet("shell")), pocket), sheet("lining", Face.DOWN))
    made = stitch(stack, ROUND.difference(gap(-20, 20).buffer(0.001)))
    assert topology(made, [Opening(gap(-20, 20), "shell", "lining")]).euler == 1
    assert topology(made, [Opening(gap(-20, 20), "shell", "lining")], closed=True).euler == 2


def test_a_folded_strip_sewn_along_its_open_side_is_a_tube() -> None:
    """One sheet folded in half and sewn to itself along the edge opposite the fold: a tube, Euler number 0, two loops."""
    strip = fold(lay(Stack(hooped=False), sheet("tab")), ((0.0, 0.0), (0.0, 10.0)), {"tab"})
    seam = LineString([(50, -46), (50, 46)])
    assert topology(stitch(strip, seam)) == Topology(1, 2, 0)


def test_a_flip_after_the_seam_glues_the_same_places() -> None:
    """Piecing does not depend on whether the cloth is still closed or flipped open."""
    base = lay(Stack(), sheet("base"))
    new = Layer("new", "linen", 0.3, box(-6, -46, 50, 46), Face.DOWN, Side.TOP)
    made = stitch(lay(base, new), LineString([(0, -46), (0, 46)]))
    opened = flip(made, "new", ((0.0, -46.0), (0.0, 46.0)))
    assert topology(made) == topology(opened)
    assert topology(made).euler == 1


def test_only_the_joins_named_count() -> None:
    made = stitch(stitch(two(), ROUND, role=Role.CLOSING), LineString([(-10, 0), (10, 0)]), role=Role.BASTE)
    assert topology(made, roles={Role.CLOSING}) == Topology(1, 0, 2)
    assert topology(made).euler == 1
    assert topology(release(made, True), sheets={"shell"}) == Topology(1, 1, 1)


BODY = [(-8, 40), (-20, 38), (-24, 20), (-30, -40), (30, -40), (24, 20), (20, 38), (8, 40)]
"""A bodice: neck between the last and the first corner, shoulder, armhole, side, hem, and the same back up."""
SHOULDERS, ARMHOLES, SIDES, NECK = ((0, 6)), ((1, 5)), ((2, 4)), ((7,))


def garment(*lining_seams: tuple[int, ...]) -> Stack:
    """A shell of front and back, a lining likewise; shell and lining joined at the edges named."""
    names = ("front", "back", "lining front", "lining back")
    layers = tuple(sheet(n, region=Polygon(BODY).buffer(6, join_style="mitre")) for n in names)

    def join(edge: int, *sheets: str) -> Join:
        line = LineString([BODY[edge], BODY[(edge + 1) % 8]])
        return Join("seam", Role.SEAM, None, line, tuple(Held(s, Face.UP, line.length, line) for s in sheets))

    joins = [join(e, a, b) for e in (*SHOULDERS, *SIDES) for a, b in (names[:2], names[2:])]
    joins += [join(e, a, b) for e in (e for edges in lining_seams for e in edges) for a, b in (names[::2], names[1::2])]
    return Stack(layers, tuple(joins), hooped=False)


def loose(*edges: int) -> list[Opening]:
    """Edges that nothing joins, as openings of the sheets they bound: the shell ends there."""
    pairs = (("front", "back"), ("lining front", "lining back"))
    return [Opening(LineString([BODY[e], BODY[(e + 1) % 8]]), *p) for e in edges for p in pairs]


def test_a_lined_dress_machined_at_neck_and_both_armholes_cannot_be_turned() -> None:
    """Published negative case: Stewart, "Topological Dressmaker"; hem open. It has two handles."""
    dress = topology(garment(NECK, ARMHOLES), loose(3))
    assert (dress.components, dress.loops, dress.euler, dress.genus) == (1, 2, -4, 2)
    assert not dress.can_be_turned


def test_a_lined_dress_machined_at_the_neck_alone_can_be_turned() -> None:
    dress = topology(garment(NECK), loose(3, *ARMHOLES))
    assert (dress.components, dress.euler, dress.genus) == (1, -4, 0)
    assert dress.can_be_turned


@pytest.mark.parametrize("edges", [(NECK,), (NECK, (1,)), (ARMHOLES,)])
def test_each_circle_beyond_the_first_is_a_handle(edges: tuple[tuple[int, ...], ...]) -> None:
    """Joining two surfaces along n circles gives n - 1 handles (textbook topology)."""
    joined = [e for row in edges for e in row]
    free = [e for e in (7, 1, 5, 3) if e not in joined]
    assert topology(garment(*edges), loose(*free)).genus == len(joined) - 1
