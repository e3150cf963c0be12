"""The maker's own order: accepted, or refused with the patch and seam that break it and what she could do."""

from __future__ import annotations

from collections.abc import Sequence

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.types import Point
from hoopwright.core.words import listed
from hoopwright.piecing.order_words import Foundation, neighbours
from hoopwright.piecing.peeling import all_that_can_be_last, can_be_last, last_after
from hoopwright.piecing.seam_net import NetEdge, members

PATH = "panel.order"


def wrong_letters(letters: Sequence[str], own: Sequence[str], path: str = PATH) -> tuple[Finding, ...]:
    """Return HW220 when an order does not name each patch once."""
    faults = [
        ("names {}, which the panel does not have", sorted({name for name in own if name not in letters})),
        ("leaves out {}", [name for name in letters if name not in own]),
        ("names {} more than once", sorted({name for name in own if list(own).count(name) > 1})),
    ]
    words = [text.format(f"patch{'es' * (len(names) > 1)} {listed(names)}") for text, names in faults if names]
    if not words:
        return ()
    cure = f"Name each of the patches {listed(letters)} exactly once"
    return (Finding("HW220", Severity.BLOCKS, f"Your sewing order {'; it '.join(words)}", cure, Where(path=path)),)


def nearest_order(base: Foundation, own: Sequence[int]) -> tuple[int, ...]:
    """Return the valid order that is found by sewing last, again and again, what the maker wanted as late as possible."""
    net, place = base.net, {piece: i for i, piece in enumerate(own)}
    pieces, last = net.everything, all_that_can_be_last(net, net.everything)
    taken = []
    while pieces & (pieces - 1):
        piece = max(members(last), key=place.__getitem__)
        taken.append(piece)
        pieces &= ~(1 << piece)
        last = last_after(net, piece, pieces, last)
    return (*members(pieces), *reversed(taken))


def first_fault(base: Foundation, own: Sequence[int]) -> int | None:
    """Return the place in an order of the first piece that cannot be sewn there, None when all can."""
    pieces = 0
    for place, piece in enumerate(own):
        pieces |= 1 << piece
        if place and not can_be_last(base.net, piece, pieces):
            return place
    return None


def refusal(base: Foundation, own: Sequence[int], place: int, instead: Sequence[int] | None) -> Finding:
    """Say why the piece at ``place`` cannot be sewn there; ``instead`` is the nearest order that can."""
    piece = own[place]
    pieces = sum(1 << p for p in own[: place + 1])
    code, why, point = _reason(base, piece, pieces)
    message = f"In your order patch {base.name(piece)} cannot be sewn as number {place + 1}: {why}"
    return Finding(
        code, Severity.BLOCKS, message, _cure(base, own, place, instead), Where(PATH, base.name(piece), point=point)
    )


def _cure(base: Foundation, own: Sequence[int], place: int, instead: Sequence[int] | None) -> str:
    if instead is None:
        return "No order works for this drawing on one foundation: leave the order out and let the panel be made in sections, or change the drawing"
    names = ", ".join(base.name(p) for p in instead)
    piece = own[place]
    before = [q for q in instead[: list(instead).index(piece)] if q in own[place + 1 :]]
    near = [q for q in before if q in neighbours(base, piece, base.net.everything)] or before
    if near:
        return f"Sew {listed(base.name(q) for q in near)} before {base.name(piece)}; this order works: {names}"
    touching = listed([base.name(q) for q in neighbours(base, piece, base.net.everything)], "or")
    return f"Sew {base.name(piece)} after {touching}, which it touches; this order works: {names}"


def _reason(base: Foundation, piece: int, pieces: int) -> tuple[str, str, Point | None]:
    """Return code, words and place of what is wrong with sewing ``piece`` last in ``pieces``."""
    net = base.net
    shared = [net.edges[e] for e in net.edges_of[piece] if pieces >> net.other(e, piece) & 1]
    if not shared:
        return "HW221", "it shares no seam with the patches sewn before it", None
    others = listed(base.name(p) for p in neighbours(base, piece, pieces))
    rows = sorted({e.row for e in shared})
    if len(rows) > 1:
        words = f"it meets {others} along {len(rows)} straight lines ({_seams(base, rows)}), but one flip needs one straight line"
        return "HW222", words, _corner(base, shared)
    return _in_one_line(base, others, shared, pieces)


def _seams(base: Foundation, rows: list[int]) -> str:
    numbers = sorted({base.seam_numbers[r] for r in rows})
    return f"seam{'s' * (len(numbers) > 1)} {listed(numbers)}"


def _corner(base: Foundation, shared: list[NetEdge]) -> Point | None:
    """Return a place where two of the shared edges of different rows meet, if they do."""
    ends: dict[int, int] = {}
    for e in shared:
        for v in base.net.rows[e.row].vertices[e.place : e.place + 2]:
            if ends.setdefault(v, e.row) != e.row:
                return base.patch_map.plane.vertices[v]
    return None


def _in_one_line(base: Foundation, others: str, shared: list[NetEdge], pieces: int) -> tuple[str, str, Point | None]:
    """Say which place interrupts a shared boundary that lies in one straight line."""
    row = base.net.rows[shared[0].row]
    places = sorted(e.place for e in shared)
    seam = base.seam_numbers[shared[0].row]
    inside = row.vertices[places[0] + 1 : places[-1] + 1]
    gap = next(v for v in inside if not base.net.whole(v, pieces))
    missing = [base.name(p) for p in members(base.net.around[gap] & ~pieces & base.net.everything)]
    hole = f"patch {listed(missing)} is not there yet" if missing else "the outline of the panel runs through it"
    x, y = base.patch_map.plane.vertices[gap]
    words = f"its seam {seam} with {others} is interrupted at x {x:.1f}, y {y:.1f} mm, where {hole}"
    return "HW223", words, (x, y)
