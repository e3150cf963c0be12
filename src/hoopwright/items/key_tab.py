"""Key tab: pieced front and plain back, their cut edges covered by satin; the tail folds through a ring.

Several are made at once: the front is pieced as one plate, and every tab is cut from it in the hoop.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Final

import shapely
from pydantic import Field
from shapely.geometry import LineString, Polygon, box

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm
from hoopwright.items.parts.cloths import ClothWish, chosen_cloth, cloth_findings
from hoopwright.items.parts.edge import LEAST_WIDTH, WIDEST, Edge, edge_of, edge_satin, edge_tack, trim_to_edge
from hoopwright.items.parts.flat import grown, lay
from hoopwright.items.parts.in_hoop import InHoop, stays_in_hoop
from hoopwright.items.parts.limits import Limit, too_much
from hoopwright.items.parts.room import not_turned, too_large
from hoopwright.items.parts.rounding import rounded_down, rounded_up
from hoopwright.items.parts.threads import thread_findings
from hoopwright.items.recipe import HoopingOperations, Look, Making, Piece, Promise, Recipe, Wanted, Workshop
from hoopwright.items.words import name_of
from hoopwright.needle.working_lines import largest
from hoopwright.operations.vocabulary import Close, Face, Fold, HandWork, Operation, Release, Side, Trim
from hoopwright.plane.arcs import arc
from hoopwright.project.lengths import show_length
from hoopwright.project.schema import Key, Length, Model, Project, RectangleOutline

KEY: Final = "key-tab"

PROMISE: Final = Promise(parts=1, rims=0, euler=2, closed_rims=0, closed_euler=2, shell=(KEY, "back"))
"""One tab: front and back are discs joined by satin along the whole circle of their edge: 1 + 1 - 0 = 2, and no rim is left.
Tabs of one plate are trimmed apart. It is the tab before its tail is folded and fastened.
"""

PLATE_PAST: Final[Mm] = 4.0
"""How far the pieced plate reaches past the tabs, so that cloth is left to trim, mm (from memory)."""

BETWEEN: Final[Mm] = 8.0
"""Distance between two tabs: room for scissors, mm (from memory)."""

PLAY: Final[Mm] = 2.0
"""A tail is this much narrower than the ring is wide inside, mm (common practice, no source)."""

SEAT: Final[Mm] = 10.0
"""How far the end of the tail lies on the back of the tab, where it is sewn or riveted, mm (from memory)."""

BARE: Final[Mm] = 3.0
"""Cloth that shows between the two satin edges of a tail, mm, at least (from memory)."""

CARE: Final = (
    "Wipe it with a damp cloth; a metal ring leaves rust in the wash.",
    "Small parts: keep it away from small children.",
)


class KeyTabSettings(Model):
    """Finished sizes; the tail comes on top of the length.

    ``count`` tabs are made in one hooping. ``width`` and ``length`` are those of the tab, ``corner`` rounds its lower
    corners. ``ring`` is the inner width of the ring or hook, ``loop`` the finished height of the folded tail.
    ``edge`` is the width of the satin and ``thread`` its thread. ``back`` is the cloth of the back.
    """

    count: Annotated[int, Field(ge=1, le=8)] = 2
    width: Annotated[Length, Field(ge=15, le=120)] = 34.0
    length: Annotated[Length, Field(ge=20, le=200)] = 62.0
    corner: Annotated[Length, Field(ge=0, le=60)] = 14.0
    ring: Annotated[Length, Field(ge=12, le=60)] = 20.0
    loop: Annotated[Length, Field(ge=8, le=60)] = 16.0
    edge: Annotated[Length, Field(ge=LEAST_WIDTH, le=WIDEST)] = 3.5
    thread: Key | None = None
    back: Key | None = None


def tail_length(loop: Mm) -> Mm:
    """Return the length of a tail that folds to a loop of this height: up, down again, and the seat it is sewn on by."""
    return 2.0 * loop + SEAT


def tab_outlines(settings: KeyTabSettings) -> tuple[Polygon, ...]:
    """Return the finished outlines side by side, their middle at the origin, tails upwards."""
    step = settings.width + BETWEEN
    first = -step * (settings.count - 1) / 2.0
    return tuple(_tab(settings, first + step * k) for k in range(settings.count))


def _tab(settings: KeyTabSettings, x: Mm) -> Polygon:
    half, tail, r = settings.width / 2.0, (settings.ring - PLAY) / 2.0, settings.corner
    low, shoulder, top = _heights(settings)
    return Polygon(
        [
            *arc((x - half + r, low + r), r, 180.0, 270.0),
            *arc((x + half - r, low + r), r, 270.0, 360.0),
            (x + half, shoulder),
            (x + tail, shoulder),
            (x + tail, top),
            (x - tail, top),
            (x - tail, shoulder),
            (x - half, shoulder),
        ]
    )


def _heights(settings: KeyTabSettings) -> tuple[Mm, Mm, Mm]:
    """Return the heights of lower edge, shoulders and end of the tail."""
    whole = settings.length + tail_length(settings.loop)
    return -whole / 2.0, settings.length - whole / 2.0, whole / 2.0


def _plate(settings: KeyTabSettings) -> Polygon:
    half = (settings.count * (settings.width + BETWEEN) - BETWEEN) / 2.0 + PLATE_PAST
    low, _, top = _heights(settings)
    return box(-half, low - PLATE_PAST, half, top + PLATE_PAST)


def _wanted(settings: KeyTabSettings, project: Project) -> tuple[Wanted, ...]:
    left, low, right, high = _plate(settings).bounds
    return (Wanted(KEY, project.title, RectangleOutline(shape="rectangle", width=right - left, height=high - low)),)


def _refuse(settings: KeyTabSettings, project: Project) -> tuple[Finding, ...]:
    left, low, right, high = _plate(settings).bounds
    what = f"The plate of {settings.count} key tab{'s' if settings.count > 1 else ''}"
    cure = "Make fewer or smaller tabs (count, width, length, loop of [make])"
    return (
        *too_large("HW463", what, right - left, high - low, project, cure, pieced=True),
        *_sound_tail(settings, project),
        *not_turned("HW467", project),
        *thread_findings("HW466", "thread", settings.thread, project),
        *cloth_findings(project, (ClothWish("back", "back", settings.back, "cloth"),)),
    )


def _sound_tail(settings: KeyTabSettings, project: Project) -> tuple[Finding, ...]:
    """HW464: a tail too wide for the tab or too narrow for two satin edges; HW465: corners rounder than the tab."""
    least, most = 2.0 * settings.edge + PLAY + BARE, settings.width - 2.0 * settings.edge + PLAY
    show = [
        show_length(v, project.units)
        for v in (settings.ring, rounded_up(least, project.units), rounded_down(most, project.units))
    ]
    found = []
    if not least - MERGE <= settings.ring <= most + MERGE:
        message = (
            f"A ring of {show[0]} does not suit: its tail needs two satin edges, and shoulders as wide as one beside it"
        )
        cure = f"Choose a ring of {show[1]} to {show[2]}, or make the tab wider"
        found.append(Finding("HW464", Severity.BLOCKS, message, cure, Where(path="make.ring")))
    most_round = min(settings.width / 2.0, settings.length)
    corner = Limit("HW465", "corner", settings.corner, most_round, "The tab has no room for corners so round")
    return (*found, *too_much((corner,), project))


def _make(shop: Workshop) -> Making:
    settings: KeyTabSettings = shop.settings
    edges = tuple(edge_of(outline, settings.edge) for outline in tab_outlines(settings))
    front = stays_in_hoop(shop, KEY, shop.project.title)
    cut = grown(_plate(settings), shop.project.piecing.allowance)
    back = Piece("back", "Back", chosen_cloth(shop.project, settings.back, "cloth"), cut)
    work = (*front.operations, *_backed(shop, front, back, edges), *_released(shop, edges))
    hooping = HoopingOperations(KEY, shop.project.title, KEY, front.section, work)
    look = Look(KEY, shapely.union_all([e.finished for e in edges]), underside=(back.key,))
    many = settings.count
    promise = replace(PROMISE, parts=many, euler=many * PROMISE.euler, closed_euler=many * PROMISE.closed_euler)
    return Making((*front.before, hooping), (back,), _assembly(shop, front), CARE, promise, (look,))


def _backed(shop: Workshop, front: InHoop, back: Piece, edges: tuple[Edge, ...]) -> tuple[Operation, ...]:
    settings: KeyTabSettings = shop.settings
    under = lay(
        shop,
        back,
        Face.DOWN,
        "so that it covers the whole plate. Take the hoop off the machine and turn it over to do so; tape all four "
        "corners, for nothing else holds it.",
        side=Side.UNDER,
    )
    what = "the key tabs" if settings.count > 1 else "the key tab"
    thread = settings.thread or shop.thread("outline")
    return (
        under,
        edge_tack(shop, edges, what),
        *_trims(shop, front, back, edges),
        edge_satin(shop, edges, what, thread),
    )


def _trims(shop: Workshop, front: InHoop, back: Piece, edges: tuple[Edge, ...]) -> tuple[Trim, ...]:
    """Return trimming every sheet in the hoop, one after the other, close outside the tack-down."""
    waste = grown(back.cut, 10.0 * PLATE_PAST)
    close = shop.length(edges[0].margin)
    first, *others = front.patches
    rows = [
        trim_to_edge(
            edges,
            first.label,
            waste,
            "Take the hoop off the machine, but leave the work in it. "
            f"Trim {name_of(first)} {close} outside the tack-down line, with small sharp scissors. Leave the stabilizer whole.",
        )
    ]
    rows += [trim_to_edge(edges, p.label, waste, f"Trim {name_of(p)} in the same way.") for p in others]
    if shop.project.foundation.batting:
        rows.append(
            trim_to_edge(edges, shop.project.foundation.batting, waste, "Trim the batting together with the front.")
        )
    rows.append(trim_to_edge(edges, back.key, waste, "Turn the hoop over and trim the back in the same way."))
    return tuple(rows)


def _released(shop: Workshop, edges: tuple[Edge, ...]) -> tuple[HandWork, ...]:
    foundation = shop.project.foundation.name
    waste = grown(_plate(shop.settings), 100.0 * PLATE_PAST)
    away = largest(shapely.difference(waste, shapely.union_all([e.finished for e in edges])))
    return (
        Release("Take the work out of the hoop."),
        Trim(
            foundation,
            away,
            f"Tear the {foundation} away from the satin, towards the stitches, and clip what sticks out.",
        ),
    )


def _assembly(shop: Workshop, front: InHoop) -> tuple[HandWork, ...]:
    """Return folding the tail through the ring and fastening it."""
    settings: KeyTabSettings = shop.settings
    foundation = shop.project.foundation
    sheets = (*(p.label for p in front.patches), "back", foundation.name, *filter(None, (foundation.batting,)))
    _, shoulder, _ = _heights(settings)
    left, _, right, _ = _plate(settings).bounds
    at = shoulder + settings.loop
    fold = Fold(
        sheets,
        ((left, at), (right, at)),
        Side.UNDER,
        f"Push the tail through the ring and fold it to the back, so that its end lies {shop.length(SEAT)} below the shoulders.",
    )
    seat = LineString([(left, shoulder - SEAT / 2.0), (right, shoulder - SEAT / 2.0)])
    close = Close(
        seat,
        f"Sew the end of the tail to the back by hand, round all four sides of its {shop.length(SEAT)}, or set a rivet there.",
    )
    return fold, close


KEY_TAB: Final = Recipe(
    name="key-tab",
    title="Key tab",
    summary="Small tabs with a satin edge and a tail that folds through a ring, several in one hooping.",
    settings=KeyTabSettings,
    make=_make,
    wanted=_wanted,
    refuse=_refuse,
)
