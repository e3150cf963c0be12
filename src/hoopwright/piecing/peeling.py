"""Which piece can be sewn last, and taking pieces off one after the other from the end.

A piece can be last in a set of pieces when the boundary it shares with the rest is ONE straight segment whose open
part lies inside the union of the set. docs/theory-order.md proves that taking such a piece off never blocks another,
so what is left when nothing can be taken off, the *core*, does not depend on the choices made.

The test is a count: each vertex inside the segment is whole and the piece is straight there, and nowhere else is a
piece both; so the seam edges form one segment when they are one more than such vertices.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

from hoopwright.piecing.seam_net import Chord, SeamNet, members


@dataclass(frozen=True, slots=True)
class Peeled:
    """Pieces in the order they came off, and the set of pieces that is left."""

    taken: tuple[int, ...]
    core: int


def can_be_last(net: SeamNet, piece: int, pieces: int) -> bool:
    """Return whether ``piece`` can be sewn last in the set ``pieces`` (False when it is alone)."""
    key = (piece, pieces & net.touching[piece])
    known = net.known_last.get(key)
    if known is None:
        known = net.known_last[key] = _can_be_last(net, piece, pieces)
    return known


def _can_be_last(net: SeamNet, piece: int, pieces: int) -> bool:
    shared = 0
    for layer in net.across[piece]:
        shared += (layer & pieces).bit_count()
    straight = net.straight_at[piece]
    if not 0 < shared <= len(straight) + 1:
        return False
    around, missing = net.around, ~pieces
    return shared == 1 + sum([not around[v] & missing for v in straight])


def all_that_can_be_last(net: SeamNet, pieces: int) -> int:
    """Return the set of the pieces that can be sewn last in ``pieces``."""
    found = 0
    for p in members(pieces):
        if can_be_last(net, p, pieces):
            found |= 1 << p
    return found


def last_after(net: SeamNet, piece: int, rest: int, known: int) -> int:
    """Return what can be last in ``rest``, got by taking ``piece`` off, ``known`` being what could be before."""
    found = known & rest
    for p in members(net.touching[piece] & rest & ~found):
        if can_be_last(net, p, rest):
            found |= 1 << p
    return found if rest & (rest - 1) else 0


def chord_of(net: SeamNet, piece: int, pieces: int) -> Chord:
    """Return the seam of a piece that can be last in ``pieces``. Raises ValueError when it cannot."""
    key = (piece, pieces & net.touching[piece])
    known = net.known_chords.get(key)
    if known is None:
        known = net.known_chords[key] = _chord_of(net, piece, pieces)
    return known


def _chord_of(net: SeamNet, piece: int, pieces: int) -> Chord:
    if not can_be_last(net, piece, pieces):
        raise ValueError(f"piece {piece} has no single straight seam")
    shared = [net.edges[e] for e in net.edges_of[piece] if pieces >> net.other(e, piece) & 1]
    places = [e.place for e in shared]
    return Chord(shared[0].row, min(places), max(places), shared[0].left == piece)


def peel(net: SeamNet, pieces: int | None = None, keep: int = 0) -> Peeled:
    """Take pieces off ``pieces`` (all when None) until none can be last, never one of the set ``keep``.

    Time grows with the number of edges: each vertex breaks once, each edge falls away once.
    """
    state = _State(net, net.everything if pieces is None else pieces)
    return state.run(keep)


def peel_rounds(net: SeamNet, pieces: int) -> list[int]:
    """Take off all that can be last, then all that can be last then, and so on; return how many in each round.

    The last round counts two when the last two pieces can come off in either order.
    """
    state = _State(net, pieces)
    ready = [p for p in range(net.count) if state.ready(p)]
    sizes = []
    while ready:
        sizes.append(len(ready))
        touched = {q for p in ready for q in state.take(p)}
        ready = [q for q in sorted(touched) if state.ready(q)]
    return sizes


def look_costs(net: SeamNet) -> tuple[int, ...]:
    """Return for each piece how many seam edges must be looked at when it comes off, for budgets."""
    degrees = [len(edges) for edges in net.edges_of]
    return tuple(1 + sum(degrees[q] for q in members(near)) for near in net.touching)


class _State:
    """Counts kept while peeling: seam edges of each piece, and whole vertices where it is straight."""

    __slots__ = ("alive", "good", "left", "net", "shared", "straight_pieces", "whole")

    def __init__(self, net: SeamNet, pieces: int) -> None:
        self.net = net
        self.alive = [bool(pieces >> p & 1) for p in range(net.count)]
        self.left = sum(self.alive)
        self.whole = [net.whole(v, pieces) for v in range(len(net.around))]
        self.shared = [0] * net.count
        for e in net.edges:
            if self.alive[e.left] and self.alive[e.right]:
                self.shared[e.left] += 1
                self.shared[e.right] += 1
        self.good = [sum(self.whole[v] for v in vertices) for vertices in net.straight_at]
        self.straight_pieces: dict[int, list[int]] = {}
        for p, vertices in enumerate(net.straight_at):
            for v in vertices:
                self.straight_pieces.setdefault(v, []).append(p)

    def ready(self, piece: int) -> bool:
        return self.alive[piece] and self.shared[piece] > 0 and self.shared[piece] == self.good[piece] + 1

    def run(self, keep: int) -> Peeled:
        taken: list[int] = []
        queue = deque(p for p in range(self.net.count) if self.ready(p))
        while queue:
            piece = queue.popleft()
            if self.ready(piece) and self.left > 1 and not keep >> piece & 1:
                taken.append(piece)
                queue.extend(self.take(piece))
        return Peeled(tuple(taken), sum(1 << p for p, here in enumerate(self.alive) if here))

    def take(self, piece: int) -> list[int]:
        """Take one piece off; return the pieces that may have become ready."""
        self.alive[piece] = False
        self.left -= 1
        touched = set()
        for e in self.net.edges_of[piece]:
            q = self.net.other(e, piece)
            self.shared[q] -= 1
            touched.add(q)
        for v in self.net.vertices_of[piece]:
            if self.whole[v]:
                self.whole[v] = False
                for q in self.straight_pieces.get(v, ()):
                    self.good[q] -= 1
                    touched.add(q)
        return [q for q in sorted(touched) if self.ready(q)]
