"""Bookmark: a pieced front and a plain back, turned through a gap in one long side, with a ribbon caught at the top.

Several are made at once: the front is pieced as one strip, and the bookmarks are cut apart after the closing seams.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Final

import shapely
from pydantic import Field
from shapely.affinity import translate
from shapely.geometry import LineString, Polygon, box
from shapely.ops import substring

from hoopwright.core.findings import Finding
from hoopwright.core.tolerances import FLAT
from hoopwright.core.types import Mm
from hoopwright.items.parts.closing import closing_seam, gap_on, turning
from hoopwright.items.parts.cloths import ClothWish, chosen_cloth, cloth_findings
from hoopwright.items.parts.flat import basting, grown, lay, placement
from hoopwright.items.parts.hooped import hooped_thickness
from hoopwright.items.parts.in_hoop import InHoop, cut_corners, stays_in_hoop, taken_out
from hoopwright.items.parts.limits import Limit, too_much
from hoopwright.items.parts.opening import FROM_CORNER, least_opening, opening_findings, proposed_opening
from hoopwright.items.parts.room import not_turned, too_large
from hoopwright.items.parts.strap import CLEAR
from hoopwright.items.recipe import HoopingOperations, Look, Making, Piece, Promise, Recipe, Wanted, Workshop
from hoopwright.needle.working_lines import largest
from hoopwright.operations.vocabulary import Close, Face, Hand, HandWork, Operation
from hoopwright.piecing.outline import outline_of
from hoopwright.project.lengths import show_length
from hoopwright.project.schema import Key, Length, Model, Project, RectangleOutline

KEY: Final = "bookmark"

PROMISE: Final = Promise(parts=1, rims=1, euler=1, closed_rims=0, closed_euler=2)
"""One bookmark: front and back are discs sewn along all of their edge but the gap, an arc: 1 + 1 - 1 = 1, a bag with one hole.
The hole closed, they meet in a circle: 1 + 1 - 0 = 2, a sphere. Several of one strip are parted by the scissors.
"""

CARE: Final = (
    "Dampen and press it between two cloths when it curls.",
    "The ribbon frays less when its end is cut slantwise and sealed; keep long ribbons away from small children.",
)


class BookmarkSettings(Model):
    """Finished size, ribbon and opening.

    ``count`` bookmarks are made in one hooping. ``width`` and ``length`` are the finished size, ``corner`` the radius of
    the corners. ``tail`` is how far the ribbon hangs out at the top (0: none), ``ribbon_width`` its width. ``opening`` is the
    gap for turning; left out, as wide as the work needs. ``back`` and ``ribbon`` name cloths.
    """

    count: Annotated[int, Field(ge=1, le=6)] = 1
    width: Annotated[Length, Field(ge=25, le=120)] = 44.0
    length: Annotated[Length, Field(ge=60, le=300)] = 150.0
    corner: Annotated[Length, Field(ge=0, le=60)] = 0.0
    tail: Annotated[Length, Field(ge=0, le=300)] = 90.0
    ribbon_width: Annotated[Length, Field(ge=2, le=30)] = 6.0
    opening: Annotated[Length, Field(gt=0, le=300)] | None = Field(default=None, examples=[40])
    back: Key | None = None
    ribbon: Key | None = None


def outlines(settings: BookmarkSettings, allowance: Mm) -> tuple[Polygon, ...]:
    """Return the seam lines side by side, two allowances apart, their middle at the origin."""
    shape, findings, _ = outline_of(_outline(settings.width, settings.length, settings.corner), {})
    assert shape is not None, findings
    step = settings.width + 2.0 * allowance
    first = -step * (settings.count - 1) / 2.0
    return tuple(translate(shape, first + step * k) for k in range(settings.count))


def _outline(width: Mm, height: Mm, radius: Mm) -> RectangleOutline:
    return RectangleOutline(shape="rectangle", width=width, height=height, radius=radius)


def strip_width(count: int, width: Mm, allowance: Mm) -> Mm:
    """Return the width of the pieced strip: all bookmarks and the two allowances between neighbours."""
    return count * width + 2.0 * (count - 1) * allowance


def _wanted(settings: BookmarkSettings, project: Project) -> tuple[Wanted, ...]:
    width = strip_width(settings.count, settings.width, project.piecing.allowance)
    radius = settings.corner if settings.count == 1 else 0.0
    return (Wanted(KEY, project.title, _outline(width, settings.length, radius)),)


def _needed(settings: BookmarkSettings, project: Project) -> Mm:
    """Return the narrowest gap through which one bookmark can be turned, mm."""
    back = project.cloths[chosen_cloth(project, settings.back, "cloth")].thickness
    front = max((c.thickness for c in project.cloths.values() if c.kind == "cloth"), default=back)
    hooped = hooped_thickness(project)
    return least_opening(settings.width, back + front + hooped, 0.0)


def _refuse(settings: BookmarkSettings, project: Project) -> tuple[Finding, ...]:
    wide = strip_width(settings.count, settings.width, project.piecing.allowance)
    what = f"A strip of {settings.count} bookmark{'s' if settings.count > 1 else ''}"
    cure = "Make fewer or smaller bookmarks (count, width, length of [make])"
    wishes = [ClothWish("back", "back", settings.back, "cloth")]
    if settings.tail:
        wishes.append(ClothWish("ribbon", "ribbon", settings.ribbon, "ribbon"))
    return (
        *too_large("HW463", what, wide, settings.length, project, cure, pieced=True),
        *_sound(settings, project),
        *opening_findings(
            project,
            settings.opening,
            _needed(settings, project),
            settings.length - 2.0 * (settings.corner + FROM_CORNER),
            f"a bookmark {show_length(settings.width, project.units)} wide",
            "make.opening",
        ),
        *not_turned("HW467", project),
        *cloth_findings(project, wishes),
    )


def _sound(settings: BookmarkSettings, project: Project) -> tuple[Finding, ...]:
    """HW465: corners rounder than the bookmark is wide; HW468: a ribbon that finds no room on it."""
    straight = settings.width - 2.0 * max(settings.corner, CLEAR / 2.0) if settings.tail else settings.width
    tail = settings.length - CLEAR
    limits = (
        Limit(
            "HW465",
            "corner",
            settings.corner,
            settings.width / 2.0,
            "The corners are rounder than the bookmark is wide",
        ),
        Limit("HW468", "tail", settings.tail, tail, "The ribbon is longer than the bookmark has room for"),
        Limit("HW468", "ribbon_width", settings.ribbon_width, straight, "The ribbon is too wide"),
    )
    return too_much(limits, project)


def _make(shop: Workshop) -> Making:
    settings: BookmarkSettings = shop.settings
    s = shop.project.piecing.allowance
    shapes = outlines(settings, s)
    front = stays_in_hoop(shop, KEY, shop.project.title)
    cut = box(*grown(largest(shapes[0].union(shapes[-1]).envelope), s).bounds)
    back = Piece("back", "Back", chosen_cloth(shop.project, settings.back, "cloth"), cut)
    ribbons = _ribbons(shop, shapes)
    wide = settings.opening or proposed_opening(_needed(settings, shop.project))
    gaps = tuple(gap_on(shape, (shape.bounds[2], 0.0), wide) for shape in shapes)
    work = (
        *front.operations,
        *_ribboned(shop, shapes, ribbons),
        _lay_back(shop, back),
        _closed(shop, shapes, gaps, (*front.along(*(s.exterior for s in shapes)), *ribbons, back)),
        *_taken_out(shop, back, shapes),
    )
    hooping = HoopingOperations(KEY, shop.project.title, KEY, front.section, work)
    promise = _promise(settings.count, back)
    look = Look(KEY, shapely.union_all(shapes), tuple(p.key for p in ribbons), (back.key,))
    return Making((*front.before, hooping), (back, *ribbons), _assembly(shop, front, gaps), CARE, promise, (look,))


def _promise(count: int, back: Piece) -> Promise:
    """Return what so many bookmarks are: the numbers of one, added up."""
    one = PROMISE
    return Promise(count, count, count * one.euler, one.closed_rims, count * one.closed_euler, shell=(KEY, back.key))


def _ribbons(shop: Workshop, shapes: tuple[Polygon, ...]) -> tuple[Piece, ...]:
    """Return one ribbon for each bookmark, as it lies: from an allowance above the upper seam down over the front."""
    settings: BookmarkSettings = shop.settings
    if not settings.tail:
        return ()
    cloth = chosen_cloth(shop.project, settings.ribbon, "ribbon")
    half, s = settings.ribbon_width / 2.0, shop.project.piecing.allowance
    many = len(shapes) > 1
    rows = []
    for number, shape in enumerate(shapes, start=1):
        x, top = shape.centroid.x, shape.bounds[3]
        name, title = (f"ribbon-{number}", f"Ribbon of bookmark {number}") if many else ("ribbon", "Ribbon")
        rows.append(
            Piece(
                name,
                title,
                cloth,
                box(x - half, top - settings.tail, x + half, top + s),
                note="Seal its ends",
                finished=True,
            )
        )
    return tuple(rows)


def _ribboned(shop: Workshop, shapes: tuple[Polygon, ...], ribbons: tuple[Piece, ...]) -> tuple[Operation, ...]:
    """Return marking, laying and basting the ribbons, all in one halt."""
    if not ribbons:
        return ()
    outside = shop.project.stitching.tack_outside
    where = (
        "on the front, hanging down from the upper edge: one end over the short line and "
        f"{shop.length(shop.project.piecing.allowance)} past the upper edge of the finished bookmark. Tape its length down along the middle, "
        "clear of both sides."
    )
    lines = tuple(
        LineString([(p.cut.bounds[0], shape.bounds[3] + outside), (p.cut.bounds[2], shape.bounds[3] + outside)])
        for p, shape in zip(ribbons, shapes, strict=True)
    )
    mark = placement(shop, "the ribbon", lines[0], ribbons[0].key)
    held = basting(
        shop, "Basting of the ribbon", lines, "The end of the ribbon is held in the allowance.", ribbons[0].key
    )
    return replace(mark, paths=lines), *(lay(shop, p, Face.UP, where) for p in ribbons), held


def _lay_back(shop: Workshop, back: Piece) -> Operation:
    s = shop.length(shop.project.piecing.allowance)
    where = f"over everything, its edges {s} outside the seam lines; it is a little larger than the holding line. Tape its edges."
    return lay(shop, back, Face.DOWN, where)


def _closed(
    shop: Workshop, shapes: tuple[Polygon, ...], gaps: tuple[LineString, ...], catches: tuple[Piece | str, ...]
) -> Operation:
    """Return the seam round every bookmark as one block."""
    seams = [closing_seam(shop, shape, gap, catches=catches) for shape, gap in zip(shapes, gaps, strict=True)]
    return replace(seams[0], paths=tuple(p for seam in seams for p in seam.paths))


def _taken_out(shop: Workshop, back: Piece, shapes: tuple[Polygon, ...]) -> tuple[HandWork, ...]:
    settings: BookmarkSettings = shop.settings
    apart = " Cut the bookmarks apart in the middle between their seams." if len(shapes) > 1 else ""
    whole = largest(back.cut.buffer(-shop.project.piecing.allowance, join_style="mitre"))
    words = f"{apart}{cut_corners(settings.corner)} Leave the allowance of the opening whole."
    what = "the bookmarks" if len(shapes) > 1 else "the bookmark"
    return taken_out(shop, whole, what, words)


def _assembly(shop: Workshop, front: InHoop, gaps: tuple[LineString, ...]) -> tuple[HandWork, ...]:
    """Turning, pressing, and the edge stitch that closes the opening."""
    inside = LineString(substring(gaps[0], 2.0 * FLAT, gaps[0].length - 2.0 * FLAT).coords)
    turn, press, _ = turning(inside, front.top_at(gaps[0]), "back", "in the right-hand side")
    close = Close(
        gaps[0],
        "Fold the allowances of the opening inwards, press, and sew round the whole bookmark 2 mm from its edge: the edge "
        "stitch closes the opening.",
    )
    others = tuple(Close(gap, f"Close bookmark {n} in the same way.") for n, gap in enumerate(gaps[1:], start=2))
    ribbon = (Hand("ribbon", "Pull the ribbon up, out of the way of the edge stitch, and cut its end slantwise."),)
    return turn, press, *(ribbon if shop.settings.tail else ()), close, *others


BOOKMARK: Final = Recipe(
    name="bookmark",
    title="Bookmark",
    summary="Pieced bookmarks with a ribbon, turned through one side and edge-stitched; several in one hooping.",
    settings=BookmarkSettings,
    make=_make,
    wanted=_wanted,
    refuse=_refuse,
)
