"""What to tell the maker about patches that no straight full seam can part: what they do, and what she can do."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.types import Point
from hoopwright.core.words import listed
from hoopwright.piecing.order_words import Foundation, neighbours, several
from hoopwright.piecing.seam_net import SeamNet, members


@dataclass(frozen=True, slots=True)
class Knot:
    """What holds a stuck group together: words, a place, the patch it turns on if there is one, and cures."""

    words: str
    point: Point | None
    patch: str | None
    cure: str


def stuck_findings(base: Foundation, groups: tuple[int, ...]) -> tuple[Finding, ...]:
    """Return one HW227 for each stuck group."""
    return tuple(_finding(base, group, knot_of(base, group)) for group in groups)


def _finding(base: Foundation, group: int, knot: Knot) -> Finding:
    names = listed(base.name(p) for p in members(group))
    message = f"Patches {names} cannot be sewn with straight full seams: {knot.words}"
    return Finding("HW227", Severity.BLOCKS, message, knot.cure, Where(patch=knot.patch, point=knot.point))


def knot_of(base: Foundation, group: int) -> Knot:
    """Say what holds a stuck group together."""
    for piece in members(group):
        if _turned_round(base.net, piece, group):
            return _ring(base, piece, neighbours(base, piece, group))
    bent = _bent_pair(base, group)
    if bent is not None:
        return _bend(base, *bent)
    vertex = _meeting(base.net, group)
    if vertex is not None:
        return _star(base, vertex)
    return _round_hole(base, group)


def _turned_round(net: SeamNet, piece: int, group: int) -> bool:
    """Return whether a piece lies inside its group, and at each of its corners another one's side runs on past it."""
    corners = net.vertices_of[piece]
    if not corners or not all(net.whole(v, group) for v in corners):
        return False
    straight = {v for p in members(group) for v in net.straight_at[p]}
    return straight.issuperset(corners)


def _ring(base: Foundation, piece: int, ring: list[int]) -> Knot:
    name, names = base.name(piece), [base.name(p) for p in ring]
    words = (
        f"{listed(names)} make a ring of {len(ring)} that turns round patch {name}, so that none of them can be last"
    )
    x, y = _middle(base, piece)
    cure = (
        f"Sew a partial seam: join {names[0]} to {name} along half of their seam only, add the other patches in turn, and "
        f"finish that seam by hand at the end. Or lay the ring without {name}'s seams and sew {name} on as an "
        f"appliqué. Or move a corner of {name} until one seam of the ring runs right through"
    )
    return Knot(words, (x, y), name, cure)


def _middle(base: Foundation, piece: int) -> Point:
    point = base.patch_map.plane.faces[base.net.faces_of[piece][0]].representative_point()
    return (point.x, point.y)


def _bent_pair(base: Foundation, group: int) -> tuple[int, int, int] | None:
    """Return two pieces that meet round a corner, and the corner."""
    net = base.net
    for vertex, around in enumerate(net.around):
        pair = members(around & group)
        if len(pair) == 2 and net.whole(vertex, group) and vertex not in net.straight_at[pair[0]]:
            return pair[0], pair[1], vertex
    return None


def _bend(base: Foundation, one: int, two: int, vertex: int) -> Knot:
    a, b = base.name(one), base.name(two)
    x, y = base.patch_map.plane.vertices[vertex]
    words = f"{a} and {b} meet round a corner at x {x:.1f}, y {y:.1f} mm, and one flip needs one straight line"
    cure = (
        f"Let one of the two seams run on through the corner, so that {a} or {b} becomes two patches. Or move the corner "
        f"until the seam is straight. Or sew the smaller one on as an appliqué"
    )
    return Knot(words, (x, y), None, cure)


def _meeting(net: SeamNet, group: int) -> int | None:
    """Return a vertex inside the group where no piece is straight, so that its seams meet in a star."""
    straight = {v for p in members(group) for v in net.straight_at[p]}
    inside = [v for v, around in enumerate(net.around) if around and not around & ~group]
    return next((v for v in inside if v not in straight), None)


def _star(base: Foundation, vertex: int) -> Knot:
    pieces = members(base.net.around[vertex])
    names = listed(base.name(p) for p in pieces)
    x, y = base.patch_map.plane.vertices[vertex]
    shape = "a Y" if len(pieces) == 3 else f"a star of {len(pieces)} seams"
    words = f"the seams of {names} meet in {shape} at x {x:.1f}, y {y:.1f} mm and none of them runs straight through"
    cure = (
        "Move this corner until one seam runs straight through it, or let one seam run on through it to the other side. "
        "Or leave the seams open for an allowance before the corner and set it in by hand (a Y seam)"
    )
    return Knot(words, (x, y), None, cure)


def _round_hole(base: Foundation, group: int) -> Knot:
    count = group.bit_count()
    words = f"these {several(count, 'patch')} hold each other in a ring, and no seam runs straight from edge to edge through them"
    first = base.name(members(group)[0])
    cure = (
        f"Let one seam of the ring run straight through to the edge on both sides. Or sew {first} along one seam only, and "
        "close its other seam by hand at the end (a partial seam)"
    )
    return Knot(words, None, first, cure)
