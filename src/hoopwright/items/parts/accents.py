"""Accents: made in hoopings of their own on a base that goes, and laid and tacked on the panel they are for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal, TypeAlias

from shapely.geometry import LineString

from hoopwright.core.types import Mm
from hoopwright.core.words import listed
from hoopwright.items.recipe import HoopingOperations, Workshop
from hoopwright.needle.accents.placing import packed, placed_accent, size_of
from hoopwright.needle.accents.shapes import Placed, Planned
from hoopwright.needle.accents.wishes import room_of
from hoopwright.operations.vocabulary import (
    DrawnStyle,
    Face,
    Hand,
    HandWork,
    Hoop,
    Lace,
    Lay,
    Operation,
    Press,
    Release,
    Role,
    RunStyle,
    Side,
    Stitch,
)

Base: TypeAlias = Literal["film", "net"]

FILM: Final = "water-soluble film"
NET: Final = "fine synthetic net"

LAYERS: Final[dict[Base, tuple[str, ...]]] = {"film": (FILM, FILM), "net": (NET,)}
"""What is hooped: the film in two layers, for a rim perforates it (common practice, no source)."""

CUT_OUT: Final[Mm] = 5.0
"""The base is cut so far outside an accent, mm: enough to hold it by (common practice, no source)."""

UNDER_RIM: Final[Mm] = 0.8
"""The placement line of an accent runs this far inside its edge, so that its rim hides it, mm."""

PLACE_BEND: Final[Mm] = 0.05
"""The placement line leaves out bends smaller than this, mm."""

TACK_RUN: Final[Mm] = 2.0
"""Stitches that tack an accent on, mm."""

SMALL_PARTS: Final = (
    "A loose accent is a small part: one that goes into a cylinder 31.75 mm wide and 57.15 mm deep is not for children under "
    "three. Keep them away from small children."
)
"""16 CFR 1501.4: the cylinder is 1.25 inches wide and 2.25 inches long at its deepest."""


@dataclass(frozen=True, slots=True, eq=False)
class _Made:
    """An accent and where it stands in its hooping."""

    planned: Planned
    placed: Placed


def accent_hoopings(shop: Workshop, accents: Sequence[Planned], key: str, title: str) -> tuple[HoopingOperations, ...]:
    """Return the hoopings in which accents are made, those on the same base together as far as the field allows."""
    groups: list[tuple[Base, list[_Made]]] = []
    for base in LAYERS:
        rows = [a for a in accents if a.base == base]
        at = packed(tuple(size_of(a.wish) for a in rows), room_of(shop.project))
        for number in sorted({n for n, _ in at}):
            made = [_made(shop, a, place) for a, (n, place) in zip(rows, at, strict=True) if n == number]
            groups.append((base, made))
    return tuple(
        HoopingOperations(_numbered(key, k, groups, "-"), _numbered(title, k, groups, " "), key, 0, _work(shop, *group))
        for k, group in enumerate(groups, start=1)
    )


def _numbered(name: str, number: int, groups: Sequence[object], between: str) -> str:
    return f"{name}{between}{number}" if len(groups) > 1 else name


def _made(shop: Workshop, accent: Planned, at: tuple[float, float]) -> _Made:
    return _Made(accent, placed_accent(accent.wish, at, 0.0, shop.project.machine.shortest_stitch))


def _work(shop: Workshop, base: Base, made: Sequence[_Made]) -> tuple[Operation, ...]:
    threads = dict.fromkeys(m.planned.thread for m in made)
    blocks = (_block(shop, t, [m for m in made if m.planned.thread == t]) for t in threads)
    names = listed(f"the {m.planned.title}" for m in made)
    return (
        Hoop(LAYERS[base], HOOPED[base]),
        Hand(
            "bobbin",
            "Wind a bobbin with the thread of the needle, and with each change of thread put in one of the same colour: both "
            "sides of an accent show.",
        ),
        *blocks,
        *_taken_out(shop, base, names, len(made) > 1),
    )


def _block(shop: Workshop, thread: str, made: Sequence[_Made]) -> Stitch:
    """Return the block that sews all accents of one thread, each as one run."""
    names = listed(f"the {m.planned.title}" for m in made)
    rows = tuple(row_of(m.placed) for m in made)
    name = shop.project.threads[thread].name if thread in shop.project.threads else thread
    return Stitch(
        Role.ACCENT,
        f"Accents in {name}" if len(made) > 1 else made[0].planned.title.capitalize(),
        thread,
        (),
        DrawnStyle(rows),
        f"{names[:1].upper()}{names[1:]} {'are' if len(made) > 1 else 'is'} sewn, "
        f"{'each of them ' if len(made) > 1 else ''}with a single thread: a net to and fro, then the ribs over its ends, "
        "then the rim round everything.",
        piece=made[0].planned.key if len(made) == 1 else None,
    )


@lru_cache(maxsize=128)
def row_of(placed: Placed) -> tuple[tuple[float, float], ...]:
    """Return the needle positions of an accent as a row of places; kept, for accents stay while a panel changes."""
    return tuple((x, y) for x, y in placed.points.tolist())


@lru_cache(maxsize=128)
def under_rim(placed: Placed) -> LineString:
    """Return the line inside the edge of an accent that its rim hides; kept like ``row_of``."""
    return LineString(placed.outline.buffer(-UNDER_RIM).exterior.simplify(PLACE_BEND).coords)


HOOPED: Final[dict[Base, str]] = {
    "film": f"Hoop two layers of {FILM}, drum-tight; if they slip, wrap the inner ring with tape. Keep the film dry and your "
    "hands, too.",
    "net": f"Hoop one layer of {NET}, taut but not stretched: polyamide or polyester, and first warm a scrap of it with the tool "
    "you will use, to see that it shrinks back and that the thread does not.",
}


def _taken_out(shop: Workshop, base: Base, names: str, several: bool) -> tuple[HandWork, ...]:
    """Return freeing accents from their base, drying and shaping them."""
    it, its = ("them", "their edges") if several else ("it", "its edge")
    out = Release(
        f"Take the work out of the hoop and cut {'the accents' if several else 'the accent'} out {shop.length(CUT_OUT)} outside "
        f"{its}; clip the thread ends close.",
        foundation_goes=True,
    )
    look = Hand(
        "all",
        f"Pull {names} gently in all directions over a dark and over a light ground: nothing may give or gape. The base can be "
        "taken away now, for the threads hold each other.",
    )
    away = _washed(it, several) if base == "film" else _warmed(several)
    shape = Press(
        "all",
        f"While {'they are' if several else 'it is'} damp, shape {it} with your fingers: bend veins and petals over a spoon if {'they' if several else 'it'} "
        f"shall be arched. Dry {it} flat on a towel, face down, under a light cloth; do not hang {it} up."
        if base == "film"
        else f"While {'they are' if several else 'it is'} still hand-warm, shape {it} with your fingers and lay {it} flat under a book to cool.",
    )
    return out, look, away, shape


def _washed(it: str, several: bool) -> Hand:
    return Hand(
        "all",
        f"Lay {it} in hand-warm water until the film is gone, and rinse. What is left of the film in the thread stiffens "
        f"{'the accents' if several else 'the accent'}: rinse briefly for firm lace, long for soft. Film is for water, never for heat.",
    )


def _warmed(several: bool) -> Hand:
    return Hand(
        "all",
        "Warm the net away with a hot tool or craft gun: on glass or ceramic, windows open, water beside you, for it gives off "
        "fumes and can burn. Come near slowly from the side, until it draws back to the rim; never touch the thread, and never "
        f"leave the hot tool. What has drawn back under the rim{'s' if several else ''} stays there.",
    )


def laid_accents(shop: Workshop, accents: Sequence[Planned]) -> tuple[Operation, ...]:
    """Return laying accents on the panel in the hoop: their places are sewn, they are laid, and tacked along their spines."""
    made = [_Made(a, _laid(shop, a)) for a in accents]
    threads = dict.fromkeys(a.thread for a in accents)
    groups = [(t, [m for m in made if m.planned.thread == t]) for t in threads]
    return (
        *(_placement(shop, t, rows) for t, rows in groups),
        *(_lay(m) for m in made),
        *(_tack(t, rows) for t, rows in groups),
    )


def _laid(shop: Workshop, accent: Planned) -> Placed:
    assert accent.at is not None
    return placed_accent(accent.wish, accent.at, accent.turn, shop.project.machine.shortest_stitch)


def _placement(shop: Workshop, thread: str, made: Sequence[_Made]) -> Stitch:
    names = listed(f"the {m.planned.title}" for m in made)
    return Stitch(
        Role.PLACEMENT,
        f"Place of {names}",
        thread,
        tuple(under_rim(m.placed) for m in made),
        RunStyle(shop.project.stitching.layout_run),
        f"The machine sews where {names} will lie; the rim{'s' if len(made) > 1 else ''} will hide the line.",
        piece=made[0].planned.key if len(made) == 1 else None,
    )


def _lay(made: _Made) -> Lay:
    return Lay(
        made.planned.key,
        "",
        made.placed.outline,
        Face.UP,
        Side.TOP,
        None,
        None,
        f"Lay the {made.planned.title}, right side UP, so that its rim covers the line all round. Tape it down beside its spine, "
        "clear of the middle: tape comes out of lace unwillingly.",
        lace=Lace(made.planned.thread, row_of(made.placed)),
    )


def _tack(thread: str, made: Sequence[_Made]) -> Stitch:
    names = listed(f"the {m.planned.title}" for m in made)
    return Stitch(
        Role.TACK,
        f"Tack down {names}",
        thread,
        tuple(m.placed.spine for m in made),
        RunStyle(TACK_RUN, times=2),
        f"A line to and fro in the same thread holds {names} along the middle; the edge{'s' if len(made) > 1 else ''} may lift.",
        piece=made[0].planned.key if len(made) == 1 else None,
        catches=tuple(m.planned.key for m in made),
    )
