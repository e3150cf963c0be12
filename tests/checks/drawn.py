"""Rows of needle positions drawn by hand: what goes wrong, and what only nearly does."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.operations.vocabulary import Role

Row = list[tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Case:
    """``title`` says what is sewn, ``code`` the finding that must say so (None: nothing is wrong), ``at`` where, within ``near`` mm."""

    title: str
    code: str | None
    rows: Sequence[Row]
    role: Role = Role.SEAM
    at: tuple[float, float] | None = None
    near: float = 1.5


def line(length: float, pitch: float, at: tuple[float, float] = (0.0, 0.0), turn: float = 0.0) -> Row:
    """A row of stitches in one direction."""
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    count = round(length / pitch)
    return [(at[0] + c * pitch * i, at[1] + s * pitch * i) for i in range(count + 1)]


def satin(length: float, width: float, spacing: float = 0.4, at: tuple[float, float] = (0.0, 0.0)) -> Row:
    """A column of satin upwards from ``at``: neighbouring stitches of one side lie ``spacing`` apart."""
    count = round(2 * length / spacing)
    return [(at[0] + (width if i % 2 else 0.0), at[1] + spacing / 2.0 * i) for i in range(count + 1)]


def across(row: Row) -> Row:
    """A row turned by a right angle."""
    return [(y, x) for x, y in row]


def moved(row: Row, x: float, y: float) -> Row:
    return [(a + x, b + y) for a, b in row]


def passes(length: float, pitch: float, times: int, shift: float) -> list[Row]:
    """A line sewn again and again, each time its holes a little further."""
    return [line(length, pitch, (shift * k, 0.0)) for k in range(times)]


def circle(radius: float, pitch: float, part: float = 1.0) -> Row:
    count = round(2 * math.pi * radius / pitch)
    return [
        (radius * math.cos(2 * math.pi * i / count), radius * math.sin(2 * math.pi * i / count))
        for i in range(round(count * part) + 1)
    ]


def beat(count: int, length: float, at: tuple[float, float] = (0.0, 0.0)) -> Row:
    """A run with ``count`` tiny stitches in its middle, each a step further."""
    start = [(at[0] - 2.0 * k, at[1]) for k in (4, 3, 2, 1)]
    middle = [(at[0] + length * k, at[1]) for k in range(count + 1)]
    last = middle[-1][0]
    return [*start, *middle, *[(last + 2.0 * k, at[1]) for k in (1, 2, 3, 4)]]


def to_and_fro(count: int, length: float, at: tuple[float, float]) -> Row:
    """Stitches over the same two or three holes, then away."""
    return [(at[0] - 2.0, at[1]), *[(at[0] + length * (k % 2), at[1]) for k in range(count + 1)], (at[0], at[1] + 2.0)]


def lattice(side: int, pitch: float) -> Row:
    """Holes on a square grid, sewn row by row to and fro."""
    return [(pitch * (i if j % 2 == 0 else side - 1 - i), pitch * j) for j in range(side) for i in range(side)]


def thinned(row: Row, step: int) -> list[Row]:
    """The same holes as ``row`` in several runs of longer stitches, so that only the holes lie close."""
    return [row[k::step] for k in range(step)]


def walk(seed: int, count: int = 120, reach: float = 1.4) -> list[Row]:
    """Rows that wander about, on the machine's grid, crowding the middle."""
    rng = random.Random(seed)
    rows = []
    for _ in range(4):
        x, y, row = rng.uniform(-4, 4), rng.uniform(-4, 4), []
        for _ in range(count // 4):
            row.append((round(x, 1), round(y, 1)))
            x, y = 0.9 * x + rng.uniform(-reach, reach), 0.9 * y + rng.uniform(-reach, reach)
        rows.append(row)
    return rows


P = Role.PLACED
"""Short stitches of our own are told as well (HW603); those of a placed file are not."""

CASES: tuple[Case, ...] = (
    Case("holes on a grid of 0.4 mm", "HW604", thinned(lattice(20, 0.4), 3), P, (4.0, 4.0), 6.0),
    Case("holes on a grid of half a millimetre, four on each mm2", None, thinned(lattice(20, 0.5), 3), P),
    Case("three columns one over the other", "HW608", [satin(6, 4)] * 3, at=(2, 3), near=4),
    Case("a column over a column along its whole length", "HW608", [satin(20, 4)] * 2, at=(2, 10), near=11),
    Case("a column that runs 3 mm over its own start", None, [satin(20, 4), satin(3, 4)]),
    Case("two columns of 4 mm that cross", None, [satin(20, 4), across(satin(20, 4, 0.4, (8.0, -8.0)))]),
    Case("a line sewn ten times, each 0.2 mm further", "HW609", passes(20, 2.0, 10, 0.2), at=(10, 0), near=9),
    Case("a line sewn six times, each a third of a mm further", None, passes(20, 2.0, 6, 1 / 3)),
    Case("a short row of close holes", None, passes(2, 2.0, 10, 0.2)),
    Case("half a circle of close holes", "HW609", thinned(circle(6, 0.22, 0.5), 9), at=(0, 6), near=9),
    Case("a circle of close holes", "HW610", thinned(circle(2, 0.22), 9), at=(0, 0), near=3),
    Case("a circle of holes 0.4 mm apart", None, thinned(circle(2, 0.4), 5)),
    Case("a hole sewn round", None, thinned(circle(0.5, 0.24), 3), P),
    Case("nine tiny stitches in a row", "HW611", [beat(9, 0.6)], P, (2.7, 0)),
    Case("eight tiny stitches in a row", None, [beat(8, 0.6)], P),
    Case("two locks end to end", None, [beat(4, 0.6), beat(4, 0.6, (2.4, 0.3))], P),
    Case("a long stitch in a placed file", "HW612", [line(40, 8.0)], P),
    Case("a stitch at its longest in a placed file", None, [line(35, 7.0)], P),
    Case("a long stitch of our own", "HW602", [line(40, 8.0)]),
    Case("a short stitch of a placed file", None, [beat(3, 0.6)], P),
    Case("seven locks in one place", "HW613", [to_and_fro(3, 0.5, (0.0, 0.0))] * 7, P, (0.2, 0.0)),
    Case("six locks in one place", None, [to_and_fro(3, 0.5, (0.0, 0.0))] * 6, P),
    Case("seven locks side by side", None, [to_and_fro(3, 0.5, (0.0, 2.5 * k)) for k in range(7)], P),
    Case("long stitches to and fro on one spot", None, [to_and_fro(15, 2.5, (0.0, 0.0))]),
    Case("a column 0.8 mm wide", "HW614", [satin(20, 0.8)], P, (0.4, 10)),
    Case("a column 1 mm wide", None, [satin(20, 1.0)], P),
    Case("a column 7.5 mm wide", "HW615", [satin(20, 7.5)], P, (3.7, 10), 12),
    Case("a column 7 mm wide", None, [satin(20, 7.0)], P),
    Case("an open zigzag", None, [satin(30, 6.5, 3.0)], P),
)
