"""Accent: motifs of thread alone, sewn on a base that is washed or warmed away."""

from __future__ import annotations

from typing import Annotated, Final, Literal

from pydantic import Field

from hoopwright.core.findings import Finding
from hoopwright.items.parts.accents import SMALL_PARTS, accent_hoopings
from hoopwright.items.parts.threads import thread_findings
from hoopwright.items.recipe import Making, Recipe, Workshop
from hoopwright.needle.accents.shapes import AccentWish, Planned
from hoopwright.needle.accents.wishes import titles, too_large, wish_faults
from hoopwright.operations.vocabulary import Hand, HandWork
from hoopwright.project.schema import Key, Length, Model, Project

KEY: Final = "accent"

MotifName = Literal["leaf", "blossom", "shell", "feather", "star"]

CARE: Final = (
    "Wash it by hand, lukewarm, and dry it flat; press it face down on a towel under a cloth. What was shaped while damp is "
    "shaped again after each wash.",
    SMALL_PARTS,
)


class OtherAccent(Model):
    """One more kind of accent in the same hooping; settings left out are those of the motif."""

    motif: MotifName
    size: Annotated[Length, Field(gt=0, le=200)] = 50.0
    count: Annotated[int, Field(ge=1, le=24)] = 1
    lobes: Annotated[int, Field(ge=2, le=16)] | None = None
    fullness: Annotated[float, Field(ge=0, le=1)] = 0.5
    seed: Annotated[int, Field(ge=0, le=9999)] = 0
    thread: Key | None = None


class AccentSettings(Model):
    """Motif, its size and form, how many, and what they are sewn on.

    ``size`` is the longest extent of the finished accent. ``lobes`` is the number of petals, points, ribs, barbs or veins,
    ``fullness`` goes from slender to broad, ``seed`` other than 0 lets it grow a little askew. ``count`` accents share the
    hooping; ``others`` are made with them. ``base`` is film that water takes away, or net that warmth takes away.
    """

    motif: MotifName = "leaf"
    size: Annotated[Length, Field(gt=0, le=200)] = 50.0
    count: Annotated[int, Field(ge=1, le=24)] = 2
    lobes: Annotated[int, Field(ge=2, le=16)] | None = Field(default=None, examples=[5])
    fullness: Annotated[float, Field(ge=0, le=1)] = 0.5
    seed: Annotated[int, Field(ge=0, le=9999)] = 0
    thread: Key | None = None
    base: Literal["film", "net"] = "film"
    others: tuple[OtherAccent, ...] | None = Field(default=None, examples=[[OtherAccent(motif="blossom", size=50.0)]])


def _kinds(settings: AccentSettings) -> tuple[tuple[str, AccentSettings | OtherAccent], ...]:
    """Return every kind of accent with its place in the project file."""
    others = settings.others or ()
    return (("make", settings), *((f"make.others[{k}]", o) for k, o in enumerate(others, start=1)))


def _wish(one: AccentSettings | OtherAccent, number: int = 0) -> AccentWish:
    """Return the wish of an accent; of several with a seed each grows in its own way."""
    seed = one.seed + number if one.seed else 0
    return AccentWish(one.motif, one.size, one.lobes, one.fullness, seed)


def _refuse(settings: AccentSettings, project: Project) -> tuple[Finding, ...]:
    found: list[Finding] = []
    for path, one in _kinds(settings):
        said = wish_faults(_wish(one), path, project.units)
        found += said or too_large(_wish(one), "HW476", f"{path}.size", project)
        found += thread_findings("HW477", f"{path}.thread".removeprefix("make."), one.thread, project)
    return tuple(found)


def planned(settings: AccentSettings, project: Project) -> tuple[Planned, ...]:
    """Return all accents to be made, in the order of the file."""
    rows = [(one, _wish(one, k)) for _, one in _kinds(settings) for k in range(one.count)]
    names = titles([wish.motif for _, wish in rows])
    first = next(iter(project.threads))
    return tuple(
        Planned(name.replace(" ", "-"), name, wish, one.thread or first, base=settings.base)
        for (one, wish), name in zip(rows, names, strict=True)
    )


def _make(shop: Workshop) -> Making:
    settings: AccentSettings = shop.settings
    accents = planned(settings, shop.project)
    return Making(accent_hoopings(shop, accents, KEY, shop.project.title), assembly=_tacked(accents), care=CARE)


def _tacked(accents: tuple[Planned, ...]) -> tuple[HandWork, ...]:
    """Return how accents are fastened afterwards."""
    each = "each accent" if len(accents) > 1 else "the accent"
    return (
        Hand(
            "all",
            f"To fasten {each} by hand, pin it where it shall lie and sew it down with small stitches in its own thread, along "
            "its midrib, shaft or middle ring; the edge may stay free, or take a stitch into the rim every 10 mm.",
        ),
        Hand(
            "all",
            "To fasten it in the hoop, name it below [[panel.accents]] in the project of the panel: the panel's file then sews "
            "its place, waits until it is laid, and tacks it down. A spray that holds cloth for a while keeps it from "
            "shifting: ventilate, no flame, away from the machine.",
        ),
    )


ACCENT: Final = Recipe(
    name="accent",
    title="Accent",
    summary="Free-standing motifs of thread alone, sewn on a base that is washed or warmed away.",
    settings=AccentSettings,
    make=_make,
    refuse=_refuse,
)
