"""Two weaker conditions for the last patch, and the drawings on which taking patches off greedily then fails.

Worked out from the definitions on grid maps; the package must refuse what the weak conditions let through.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

from hoopwright.piecing.peeling import can_be_last, peel
from hoopwright.piecing.seam_net import net_of
from hoopwright.piecing.sections import stuck_groups
from tests.properties.grid_maps import GridMap, block, parts, patch_map_of, square_cells

Rule = Callable[[GridMap, frozenset[int], int], bool]


def in_one_line(grid_map: GridMap, pieces: frozenset[int], piece: int) -> bool:
    """All shared boundary lies in one line, in any number of pieces."""
    edges = grid_map.shared(grid_map.pieces[piece], grid_map.cells(pieces - {piece}))
    spots = sorted({p for e in edges for p in e})
    return bool(edges) and all(
        (spots[-1][0] - spots[0][0]) * (y - spots[0][1]) == (spots[-1][1] - spots[0][1]) * (x - spots[0][0])
        for x, y in spots
    )


def one_segment_of_points(grid_map: GridMap, pieces: frozenset[int], piece: int) -> bool:
    """All shared boundary is one segment as a set of points, whatever lies at the points inside it."""
    edges = grid_map.shared(grid_map.pieces[piece], grid_map.cells(pieces - {piece}))
    spots = sorted({p for e in edges for p in e})
    return in_one_line(grid_map, pieces, piece) and all(frozenset(pair) in edges for pair in pairwise(spots))


def in_line_and_connected(grid_map: GridMap, pieces: frozenset[int], piece: int) -> bool:
    """All shared boundary lies in one line, and the rest hangs together."""
    return in_one_line(grid_map, pieces, piece) and len(parts(grid_map.cells(pieces - {piece}))) == 1


def exact(grid_map: GridMap, pieces: frozenset[int], piece: int) -> bool:
    return grid_map.can_follow(pieces - {piece}, piece)


def ends(grid_map: GridMap, rule: Rule) -> set[int]:
    """How many patches can be left when nothing comes off any more, over all choices."""

    def walk(pieces: frozenset[int]) -> set[int]:
        if pieces not in known:
            on = [pieces - {p} for p in pieces if len(pieces) > 1 and rule(grid_map, pieces, p)]
            known[pieces] = {n for rest in on for n in walk(rest)} if on else {len(pieces)}
        return known[pieces]

    known: dict[frozenset[int], set[int]] = {}
    return walk(grid_map.everything)


def comb() -> GridMap:
    """A spine with three teeth that touch each other in points of the spine's line: 0 is the spine."""
    teeth = [
        frozenset(c for c in (*square_cells(2 * k, 1), *square_cells(2 * k + 1, 1)) if _under(c, 4 * k + 2))
        for k in range(3)
    ]
    return GridMap((block(0, 0, 6, 1), *teeth))


def _under(cell: tuple[tuple[int, int], ...], top: int) -> bool:
    """Whether a cell lies under the two slopes that fall from height 4 at ``top``."""
    return all(y - 2 + abs(x - top) <= 2 for x, y in cell)


def lid_over_a_hole() -> GridMap:
    """0 a lid over two pairs of towers with a hole between, 5 a bar below that joins the inner towers."""
    return GridMap(
        (
            block(0, 3, 5, 1),
            block(0, 1, 1, 2),
            block(1, 1, 1, 2),
            block(3, 1, 1, 2),
            block(4, 1, 1, 2),
            block(1, 0, 3, 1),
        )
    )


def test_one_segment_as_points_strands_the_teeth() -> None:
    grid_map = comb()
    assert ends(grid_map, one_segment_of_points) == {1, 2, 3}
    assert ends(grid_map, exact) == {1}
    patch_map, owners = patch_map_of(grid_map)
    net = net_of(patch_map.plane)
    assert not can_be_last(net, owners.index(0), net.everything)
    assert peel(net).core.bit_count() == 1


def test_in_one_line_with_a_connected_rest_depends_on_the_choices() -> None:
    """Taking the bar off first leaves the lid as the only link between the towers, which then all are stuck."""
    grid_map = lid_over_a_hole()
    assert ends(grid_map, in_line_and_connected) == {1, 5}
    assert ends(grid_map, exact) == {6}
    patch_map, owners = patch_map_of(grid_map)
    net = net_of(patch_map.plane)
    assert not can_be_last(net, owners.index(0), net.everything)
    assert not can_be_last(net, owners.index(5), net.everything)
    assert stuck_groups(net, net.everything) == (net.everything,)
