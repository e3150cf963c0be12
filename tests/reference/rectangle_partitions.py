"""All generic partitions of a rectangle into n rectangles, one of each kind, by brute force in whole numbers.

Generic: no four rectangles meet in a point. Two partitions are of one kind when their rectangles touch in the same way
(who is left of whom, who is below whom). n rectangles have n - 1 inner segments; drawn so that no two segments lie
in one line, v upright and h level ones need a grid of v + 1 columns and h + 1 rows, each line of it used exactly once.
"""

from __future__ import annotations

from collections.abc import Iterator

Rectangle = tuple[int, int, int, int]
"""Left, bottom, right, top."""
Tiling = tuple[Rectangle, ...]
Kind = tuple[frozenset[tuple[int, int]], frozenset[tuple[int, int]]]


def kinds(n: int) -> dict[Kind, Tiling]:
    """One tiling of each kind of generic partition into n rectangles."""
    found: dict[Kind, Tiling] = {}
    for upright in range(n):
        columns, rows = upright + 1, n - upright
        for tiling in _tilings(columns, rows, n):
            if _is_generic(tiling, columns, rows):
                found.setdefault(_kind(tiling), tiling)
    return found


def _tilings(columns: int, rows: int, n: int) -> Iterator[Tiling]:
    """Every way to cover the grid with n rectangles: cover the first free square in every way, go on."""

    def cover(free: frozenset[tuple[int, int]], laid: Tiling) -> Iterator[Tiling]:
        if not free:
            if len(laid) == n:
                yield laid
            return
        if len(laid) == n:
            return
        i, j = min(free, key=lambda s: (s[1], s[0]))
        for right in range(i + 1, columns + 1):
            if (right - 1, j) not in free:
                break
            for top in range(j + 1, rows + 1):
                yield from cover(
                    free - {(a, b) for a in range(i, right) for b in range(j, top)}, (*laid, (i, j, right, top))
                )

    yield from cover(frozenset((i, j) for i in range(columns) for j in range(rows)), ())


def _is_generic(tiling: Tiling, columns: int, rows: int) -> bool:
    """Whether every inner line of the grid carries exactly one segment and no two segments cross."""
    upright = [_stretches({u for _, b, r, t in tiling if r == x for u in range(b, t)}) for x in range(1, columns)]
    level = [_stretches({u for a, _, c, d in tiling if d == y for u in range(a, c)}) for y in range(1, rows)]
    if any(len(line) != 1 for line in upright + level):
        return False
    corners = [p for a, b, c, d in tiling for p in ((a, b), (a, d), (c, b), (c, d))]
    return max(corners.count(p) for p in corners) < 4


def _stretches(units: set[int]) -> list[int]:
    return [u for u in sorted(units) if u - 1 not in units]


def _kind(tiling: Tiling) -> Kind:
    """Who touches whom, with the rectangles numbered from the upper left to the lower right."""
    beside = {(a, b) for a in tiling for b in tiling if a[2] == b[0] and min(a[3], b[3]) > max(a[1], b[1])}
    above = {(a, b) for a in tiling for b in tiling if a[1] == b[3] and min(a[2], b[2]) > max(a[0], b[0])}
    number = {r: k for k, r in enumerate(_in_order(tiling))}
    return (
        frozenset((number[a], number[b]) for a, b in beside),
        frozenset((number[a], number[b]) for a, b in above),
    )


def _in_order(tiling: Tiling) -> list[Rectangle]:
    """The one order in which every rectangle comes after those across its left and its upper segment.

    There is only one: a row of segments leads from each rectangle to each other, rightwards or downwards. Every line of
    the grid carries one segment, so equal coordinates mean the same segment.
    """
    order: list[Rectangle] = []
    while len(order) < len(tiling):
        left = [r for r in tiling if r not in order]
        (following,) = [r for r in left if not any(a[2] == r[0] or a[1] == r[3] for a in left)]
        order.append(following)
    return order
