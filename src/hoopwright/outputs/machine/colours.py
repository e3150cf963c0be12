"""Which colour each block gets, so that no machine takes two neighbouring blocks for one.

A machine may sew on without a halt where two neighbouring blocks have the same colour. Blocks with the same thread
then get a colour of their own: a lighter or darker shade where the file holds exact colours, the nearest other entry
where it holds entries of a fixed list, another needle where it holds needles (docs/decisions, 0031).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import TypeAlias, TypeVar

from pystitch.EmbThreadJef import get_thread_set as jef_threads
from pystitch.EmbThreadPec import get_thread_set as pec_threads

from hoopwright.core.colour import channels_of
from hoopwright.outputs.machine.kinds import Colours, KindFacts

Rgb: TypeAlias = tuple[int, int, int]
T = TypeVar("T")

SHADE = 0.3
"""How far an alternative shade goes towards white or black."""

NEEDLES = 14
"""Needle numbers that the kind with needles holds."""


@dataclass(frozen=True, slots=True)
class BlockColour:
    """What a file says of a block's thread: exact colour, and entry or needle number (0 where there is none)."""

    rgb: Rgb
    number: int


@cache
def palette(kind: str) -> tuple[tuple[int, Rgb], ...]:
    """Return the fixed list of a kind as (number, colour); kinds without one have an empty list."""
    threads = {"jef": jef_threads, "pec": pec_threads, "pes": pec_threads}.get(kind, list)()
    return tuple((i, (t.get_red(), t.get_green(), t.get_blue())) for i, t in enumerate(threads) if t is not None)


def block_colours(wanted: Sequence[str], facts: KindFacts) -> tuple[BlockColour, ...]:
    """Return a colour for every block, from the threads' colours ("#rrggbb"); neighbours always differ."""
    if facts.colours is Colours.NEEDLES:
        return _needles(wanted)
    shades = _apart([_shades(channels_of(c)) for c in wanted])
    if facts.colours in (Colours.NONE, Colours.EXACT):
        return tuple(BlockColour(rgb, 0) for rgb in shades)
    entries = dict(palette(facts.kind))
    numbers = _apart([_nearest(channels_of(c), facts.kind) for c in wanted])
    exact = facts.colours is Colours.BOTH
    return tuple(BlockColour(rgb if exact else entries[n], n) for rgb, n in zip(shades, numbers, strict=True))


def _apart(choices: Sequence[Sequence[T]]) -> list[T]:
    """Return the first choice of each place that its predecessor has not taken."""
    taken: list[T] = []
    for row in choices:
        taken.append(next(c for c in row if not taken or c != taken[-1]))
    return taken


def _shades(rgb: Rgb) -> tuple[Rgb, Rgb]:
    """Return the colour and a shade of it, lighter for dark colours and darker for light ones."""
    light = sum(rgb) > 3 * 127
    towards = 0 if light else 255
    return rgb, _mixed(rgb, towards)


def _mixed(rgb: Rgb, towards: int) -> Rgb:
    r, g, b = (round(v + SHADE * (towards - v)) for v in rgb)
    return r, g, b


@cache
def _nearest(rgb: Rgb, kind: str) -> tuple[int, ...]:
    """Return the numbers of the two entries nearest to a colour, by the sum of squares; ties go to the lower number."""
    rows = sorted((sum((a - b) ** 2 for a, b in zip(rgb, entry, strict=True)), n) for n, entry in palette(kind))
    return tuple(n for _, n in rows[:2])


def _needles(wanted: Sequence[str]) -> tuple[BlockColour, ...]:
    """Give each colour a needle in order of appearance, from the first, and its repeats one from the last."""
    order = {c: i % NEEDLES for i, c in enumerate(dict.fromkeys(wanted))}
    rows = [(order[c] + 1, NEEDLES - order[c], (order[c] + 1) % NEEDLES + 1) for c in wanted]
    return tuple(BlockColour(channels_of(c), n) for c, n in zip(wanted, _apart(rows), strict=True))
