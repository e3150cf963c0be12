from __future__ import annotations

from shapely.geometry import Polygon

from hoopwright.core.tolerances import FLAT
from hoopwright.piecing.seam_net import ABSENT, is_flat, members, net_of
from hoopwright.plane.subdivision import subdivision_of
from tests.piecing.drawings import FOUR_SQUARES, GAPPED, T_OF_THREE


def test_members_reads_a_set() -> None:
    assert members(0) == []
    assert members(0b100101) == [0, 2, 5]
    assert members(1 << 900 | 1) == [0, 900]


def test_only_the_patch_across_a_t_is_straight_at_it() -> None:
    net = net_of(T_OF_THREE.plane)
    assert [len(v) for v in net.straight_at] == [0, 0, 1]
    (vertex,) = net.straight_at[2]
    assert T_OF_THREE.plane.vertices[vertex] == (30.0, 30.0)
    assert net.whole(vertex, 0b111)
    assert not net.whole(vertex, 0b101)


def test_a_vertex_on_the_rim_is_never_whole_and_ends_a_row() -> None:
    net = net_of(GAPPED.plane)
    at_notch = GAPPED.plane.vertices.index((30.0, 30.0))
    assert not net.whole(at_notch, net.everything)
    assert len(net.rows) == 2
    assert len(GAPPED.plane.chains) == 1


def test_faces_in_one_group_are_one_piece_without_seams_inside() -> None:
    net = net_of(FOUR_SQUARES.plane, (0, 0, 1, 2))
    assert net.count == 3
    assert net.faces_of == ((0, 1), (2,), (3,))
    assert {(e.left, e.right) for e in net.edges} <= {(0, 1), (1, 0), (0, 2), (2, 0), (1, 2), (2, 1)}
    assert len(net.edges) == 3
    assert len(net.straight_at[0]) == 1


def test_an_absent_face_opens_the_vertices_it_touches() -> None:
    net = net_of(FOUR_SQUARES.plane, (0, 1, 2, ABSENT))
    middle = FOUR_SQUARES.plane.vertices.index((30.0, 30.0))
    assert net.count == 3
    assert len(net.edges) == 2
    assert not net.whole(middle, net.everything)


def test_a_row_is_cut_where_a_slow_bend_leaves_the_straight_line() -> None:
    """Each corner bends by less than the eye sees, but all together make an arc."""
    line = [(float(x), 2e-4 * (x - 50) ** 2) for x in range(0, 101)]
    assert not is_flat(line)
    assert is_flat(line[40:42])
    above, below = Polygon([*line, (100, 60), (0, 60)]), Polygon([*line, (100, -60), (0, -60)])
    plane = subdivision_of([above, below])
    net = net_of(plane)
    assert all(is_flat([plane.vertices[v] for v in row.vertices]) for row in net.rows)
    assert sum(len(row.vertices) - 1 for row in net.rows) == 100
    assert len(net.rows) > 3
    assert FLAT < 2e-4 * 50**2
