"""Random patch maps made of the cells of a grid, and what the definitions say of them, by brute force.

A square of the grid is parted by its diagonals into four triangles, the *cells*. All corners are whole numbers
(squares are two units wide), so everything below is exact. A patch is a set of cells. Nothing here uses the package
except ``patch_map_of``, which draws a map for it.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import shapely
from shapely.affinity import affine_transform
from shapely.geometry import Polygon

from hoopwright.piecing.patch_map_basics import map_of
from hoopwright.piecing.shapes import PatchMap
from hoopwright.plane.subdivision import Subdivision, subdivide

Spot = tuple[int, int]
Cell = tuple[Spot, Spot, Spot]
Piece = frozenset[Cell]
Edge = frozenset[Spot]


def square_cells(i: int, j: int) -> list[Cell]:
    """The four triangles of the square in column i and row j: below, right, above, left."""
    x, y = 2 * i, 2 * j
    corners = [(x, y), (x + 2, y), (x + 2, y + 2), (x, y + 2)]
    middle = (x + 1, y + 1)
    return [(corners[k], corners[(k + 1) % 4], middle) for k in range(4)]


def block(i: int, j: int, columns: int, rows: int) -> Piece:
    return frozenset(c for a in range(columns) for b in range(rows) for c in square_cells(i + a, j + b))


def edges_of(cell: Cell) -> list[Edge]:
    a, b, c = cell
    return [frozenset((a, b)), frozenset((b, c)), frozenset((c, a))]


def side(cell: Cell, point: Spot, direction: Spot) -> int:
    """On which side of a line a cell lies: its middle, times three, against the line."""
    x, y = sum(p[0] for p in cell) - 3 * point[0], sum(p[1] for p in cell) - 3 * point[1]
    return direction[0] * y - direction[1] * x


def parts(cells: Piece) -> list[Piece]:
    """The parts of a set of cells that hang together over edges."""
    left, found = set(cells), []
    at: dict[Edge, list[Cell]] = {}
    for c in cells:
        for e in edges_of(c):
            at.setdefault(e, []).append(c)
    while left:
        queue = [min(left)]
        part = set(queue)
        while queue:
            for e in edges_of(queue.pop()):
                for d in at[e]:
                    if d not in part:
                        part.add(d)
                        queue.append(d)
        left -= part
        found.append(frozenset(part))
    return found


@dataclass(frozen=True)
class GridMap:
    """Patches as sets of cells, with what the definitions say."""

    pieces: tuple[Piece, ...]

    @cached_property
    def everything(self) -> frozenset[int]:
        return frozenset(range(len(self.pieces)))

    @cached_property
    def _around(self) -> dict[Spot, set[Cell]]:
        """All cells of the plane at each corner that a patch touches."""
        spots = {p for piece in self.pieces for c in piece for p in c}
        return {
            s: {c for i in (-1, 0, 1) for j in (-1, 0, 1) for c in square_cells(s[0] // 2 + i, s[1] // 2 + j) if s in c}
            for s in spots
        }

    def shared(self, one: Piece, two: Piece) -> set[Edge]:
        ones = {e for c in one for e in edges_of(c)}
        return {e for c in two for e in edges_of(c) if e in ones}

    def cells(self, numbers: frozenset[int]) -> Piece:
        return frozenset(c for n in numbers for c in self.pieces[n])

    def joins(self, one: Piece, two: Piece) -> bool:
        """Whether the common boundary is one straight segment whose open part is inside the union."""
        edges = self.shared(one, two)
        if not edges:
            return False
        spots = sorted({p for e in edges for p in e})
        (ax, ay), (bx, by) = spots[0], spots[-1]
        if any((bx - ax) * (y - ay) != (by - ay) * (x - ax) for x, y in spots):
            return False
        if any(frozenset(pair) not in edges for pair in pairwise(spots)):
            return False
        union = one | two
        return all(self._around[s] <= union for s in spots[1:-1])

    @cached_property
    def _steps(self) -> dict[tuple[frozenset[int], int], bool]:
        return {}

    def can_follow(self, before: frozenset[int], piece: int) -> bool:
        if (before, piece) not in self._steps:
            self._steps[before, piece] = self.joins(self.pieces[piece], self.cells(before))
        return self._steps[before, piece]

    def orders(self, begun: tuple[int, ...] = ()) -> Iterator[tuple[int, ...]]:
        """Every sequence of all patches that can be sewn on one foundation."""
        if len(begun) == len(self.pieces):
            yield begun
        before = frozenset(begun)
        for n in sorted(self.everything - before):
            if not begun or self.can_follow(before, n):
                yield from self.orders((*begun, n))

    def fewest_sections(
        self, numbers: frozenset[int] | None = None, known: dict[frozenset[int], int] | None = None
    ) -> int:
        """The fewest foundations, trying every way to part every set; 0 when there is none."""
        numbers = self.everything if numbers is None else numbers
        known = {} if known is None else known
        if len(numbers) == 1:
            return 1
        if numbers not in known:
            ways = [self._cost(one, numbers - one, known) for one in _halves(numbers)]
            known[numbers] = min((w for w in ways if w), default=0)
        return known[numbers]

    def _cost(self, one: frozenset[int], two: frozenset[int], known: dict[frozenset[int], int]) -> int:
        if not self.joins(self.cells(one), self.cells(two)):
            return 0
        a, b = self.fewest_sections(one, known), self.fewest_sections(two, known)
        if not a or not b:
            return 0
        return max(a, b) if 1 in (len(one), len(two)) else a + b


def _halves(numbers: frozenset[int]) -> Iterator[frozenset[int]]:
    first, *rest = sorted(numbers)
    for bits in range(2 ** len(rest) - 1):
        yield frozenset([first, *(n for k, n in enumerate(rest) if bits >> k & 1)])


def patch_map_of(grid_map: GridMap, bend: Sequence[float] = (7.0, 0.0, 0.0, 7.0)) -> tuple[PatchMap, list[int]]:
    """Draw a map, sheared by the matrix ``bend``; return it and for each face the number of its patch."""
    at: dict[Edge, list[int]] = {}
    for n, piece in enumerate(grid_map.pieces):
        for c in piece:
            for e in edges_of(c):
                at.setdefault(e, []).append(n)
    lines = [
        tuple(sorted(e))
        for e, ns in sorted(at.items(), key=lambda item: sorted(item[0]))
        if len(ns) == 2 and ns[0] != ns[1]
    ]
    matrix = [*bend, 0.0, 0.0]
    region = affine_transform(
        shapely.union_all([Polygon(c) for c in sorted(grid_map.cells(grid_map.everything))]), matrix
    )
    assert isinstance(region, Polygon)
    segments = [(_bent(one, bend), _bent(two, bend)) for one, two in lines]
    plane = subdivide(region, segments)
    owners = [_owner(plane, face, grid_map, matrix) for face in range(len(plane.faces))]
    return map_of(region, plane), owners


def _bent(spot: Spot, bend: Sequence[float]) -> tuple[float, float]:
    return (bend[0] * spot[0] + bend[1] * spot[1], bend[2] * spot[0] + bend[3] * spot[1])


def _owner(plane: Subdivision, face: int, grid_map: GridMap, matrix: list[float]) -> int:
    point = plane.faces[face].representative_point()
    for n, piece in enumerate(grid_map.pieces):
        if any(affine_transform(Polygon(c), matrix).distance(point) < 1e-6 for c in piece):
            return n
    raise AssertionError("a face that is no patch")


def is_one_region(cells: Piece) -> bool:
    """Whether cells make one polygon whose outline does not touch itself."""
    region = shapely.union_all([Polygon(c) for c in cells])
    return isinstance(region, Polygon) and isinstance(region.buffer(-0.01), Polygon)


def sliced(rng: random.Random, columns: int, rows: int, patches: int) -> GridMap:
    """Slice pieces in two, again and again, by straight cuts in four directions."""
    pieces = [block(0, 0, columns, rows)]
    for _ in range(60):
        if len(pieces) >= patches:
            break
        piece = rng.choice(pieces)
        spot = rng.choice(sorted({p for c in piece for p in c}))
        direction = rng.choice([(1, 0), (0, 1), (1, 1), (1, -1)])
        if direction in ((1, 0), (0, 1)) and spot[0] % 2:
            continue
        left = frozenset(c for c in piece if side(c, spot, direction) > 0)
        if left and left != piece:
            pieces.remove(piece)
            pieces += [*parts(left), *parts(piece - left)]
    return GridMap(tuple(pieces))


def tiled(rng: random.Random, columns: int, rows: int) -> GridMap:
    """Lay rectangles of random size, from the first free square on."""
    free = {(i, j) for i in range(columns) for j in range(rows)}
    pieces = []
    while free:
        i, j = min(free, key=lambda s: (s[1], s[0]))
        width = 1
        while (i + width, j) in free and rng.random() < 0.6:
            width += 1
        height = 1
        while all((i + k, j + height) in free for k in range(width)) and rng.random() < 0.6:
            height += 1
        pieces.append(block(i, j, width, height))
        free -= {(i + a, j + b) for a in range(width) for b in range(height)}
    return GridMap(tuple(pieces))


def merged(rng: random.Random, start: GridMap, times: int) -> GridMap:
    """Make patches that touch into one: bent boundaries, patches round others."""
    pieces = list(start.pieces)
    for _ in range(times):
        pairs = [(a, b) for a in range(len(pieces)) for b in range(a) if start.shared(pieces[a], pieces[b])]
        if pairs:
            a, b = rng.choice(pairs)
            both = pieces[a] | pieces[b]
            pieces = [*(p for k, p in enumerate(pieces) if k not in (a, b)), both]
    return GridMap(tuple(pieces))


def holed(rng: random.Random, start: GridMap) -> GridMap:
    """Take one patch out, an inner one if the dice say so: a notch in the outline, or a hole."""
    numbers = list(range(len(start.pieces)))
    rng.shuffle(numbers)
    inner = rng.random() < 0.6
    for out in numbers:
        rest = [p for k, p in enumerate(start.pieces) if k != out]
        cells = frozenset(c for p in rest for c in p)
        if rest and is_one_region(cells) and (not inner or has_hole(cells)):
            return GridMap(tuple(rest))
    return start


def has_hole(cells: Piece) -> bool:
    region = shapely.union_all([Polygon(c) for c in cells])
    return isinstance(region, Polygon) and len(region.interiors) > 0


def random_map(seed: int, most: int = 8) -> GridMap:
    """A map of at most ``most`` patches; every seed gives one."""
    rng = random.Random(seed)
    while True:
        columns, rows = rng.randint(2, 4), rng.randint(2, 4)
        grid_map = (
            sliced(rng, columns, rows, rng.randint(2, most + 1)) if rng.random() < 0.5 else tiled(rng, columns, rows)
        )
        if rng.random() < 0.4:
            grid_map = merged(rng, grid_map, rng.randint(1, 3))
        if rng.random() < 0.3:
            grid_map = holed(rng, grid_map)
        if 2 <= len(grid_map.pieces) <= most:
            return grid_map
