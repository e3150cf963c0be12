"""The glasses sleeve drafted: sizes from the glasses, and where everything lies in the hoop."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Literal

import shapely
from pydantic import Field
from scipy.special import ellipe
from shapely.affinity import translate
from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Mm
from hoopwright.items.parts.bag_cloths import stiffener_cloth
from hoopwright.items.parts.cloths import chosen_cloth
from hoopwright.items.parts.contents import Contents
from hoopwright.items.parts.flap import Flap
from hoopwright.items.parts.grounds import CROSSED, BodyGround
from hoopwright.items.parts.hooped import hooped_thickness
from hoopwright.items.parts.opening import FROM_CORNER, least_opening, proposed_opening
from hoopwright.needle.working_lines import largest
from hoopwright.piecing.outline import outline_of
from hoopwright.project.schema import FlapOutline, Key, Length, Model, Project


class GlassesSleeveSettings(Model):
    """Sizes and cloths of a glasses sleeve.

    ``width``, ``height`` and ``thickness`` are those of the folded glasses, ``ease`` what is added both ways. ``way``: they
    go in "upright", end first, or "across", lying. ``body``: finished width and height instead; the glasses are only
    checked then. ``corner`` is the radius of the two corners at the bottom. ``below`` is how far the edge of the front stays
    below that of the back. ``flap`` is the height of a flap (0: open top), ``flap_radius`` that of its corners.
    ``pocket`` is the depth of a pocket on the back (0: none), ``strap`` how far a loop hangs from the right seam (0: none)
    and ``strap_width`` its width. ``ground`` quilts the back.
    ``stiffened``: with a stiffener, ``stiffener_inset`` inside the seam; ``stiffener_rolls``: it can be rolled up.
    ``opening``: in the upper "edge" or between two parts of the "lining"; left out, in the edge if it is long enough.
    ``opening_width`` is that of the one in the edge. ``outer``, ``lining``, ``pocket_cloth``, ``strap_cloth`` and
    ``stiffener`` name cloths.
    """

    width: Annotated[Length, Field(ge=60, le=220)] = 130.0
    height: Annotated[Length, Field(ge=15, le=100)] = 42.0
    thickness: Annotated[Length, Field(ge=2, le=80)] = 28.0
    ease: Annotated[Length, Field(ge=2, le=40)] = 8.0
    way: Literal["upright", "across"] = "upright"
    body: tuple[Annotated[Length, Field(gt=0, le=400)], Annotated[Length, Field(gt=0, le=400)]] | None = Field(
        default=None, examples=[(90, 170)]
    )
    corner: Annotated[Length, Field(ge=0, le=60)] = 8.0
    below: Annotated[Length, Field(ge=5, le=10)] = 7.0
    flap: Annotated[Length, Field(ge=0, le=200)] = 0.0
    flap_radius: Annotated[Length, Field(ge=0, le=200)] = 20.0
    pocket: Annotated[Length, Field(ge=0, le=300)] = 0.0
    strap: Annotated[Length, Field(ge=0, le=300)] = 0.0
    strap_width: Annotated[Length, Field(ge=4, le=40)] = 10.0
    ground: BodyGround = CROSSED
    stiffened: bool = True
    stiffener_inset: Annotated[Length, Field(ge=1, le=20)] = 2.0
    stiffener_rolls: bool = True
    opening: Literal["edge", "lining"] | None = None
    opening_width: Annotated[Length, Field(gt=0, le=400)] | None = Field(default=None, examples=[70])
    outer: Key | None = None
    lining: Key | None = None
    pocket_cloth: Key | None = None
    strap_cloth: Key | None = None
    stiffener: Key | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Draft:
    """The sleeve drafted in the hoop, mm: body below, flap (if any) above, together in the middle of the field.

    ``front_panel`` is the outline of the front in its own hooping. ``opening`` is the width of an opening in the upper edge,
    ``slit`` the height of one in the lining; one of them is None.
    """

    width: Mm
    height: Mm
    low: Mm
    body: Polygon
    outline: Polygon
    front_panel: FlapOutline
    front: Polygon
    opening: Mm | None
    slit: Mm | None

    @property
    def hinge(self) -> Mm:
        """The upper edge of the body, y: the edge of the back, or where the flap folds."""
        return self.low + self.height

    @property
    def rim(self) -> Mm:
        """The finished edge of the front, y."""
        return float(self.front.bounds[3])

    @property
    def bottom(self) -> LineString:
        """The bottom seam, from side to side."""
        half = self.width / 2.0
        return LineString([(-half, self.low), (half, self.low)])


def half_girth_of_ellipse(one: Mm, other: Mm) -> Mm:
    """Return half the girth of an ellipse with these axes (whole, not half), mm: 2 a E(e^2), a the longer half axis."""
    a, b = max(one, other) / 2.0, min(one, other) / 2.0
    return float(2.0 * a * ellipe(1.0 - (b / a) ** 2))


def contents_of(settings: GlassesSleeveSettings) -> Contents:
    """Return the glasses as they go in: end first, or lying across."""
    if settings.way == "upright":
        return Contents(settings.height, settings.width, settings.thickness)
    return Contents(settings.width, settings.height, settings.thickness)


def body_size(settings: GlassesSleeveSettings) -> tuple[Mm, Mm]:
    """Return width and height of the body at its seam lines, mm: the given ones, or width (length) + thickness + ease."""
    if settings.body is not None:
        return settings.body
    contents = contents_of(settings)
    return contents.flat_width(settings.ease), contents.back(settings.ease)


def inside_half_girth(width: Mm, wall: Mm) -> Mm:
    """Return half the inner girth of a flat sleeve filled round, mm.

    The middle of its wall keeps the girth 2 ``width``; the inside of a wall ``wall`` thick is pi * wall shorter
    (parallel curves, plain geometry).
    """
    return width - math.pi * wall / 2.0


def wall(settings: GlassesSleeveSettings, project: Project) -> tuple[Mm, Mm]:
    """Return the thickness of the back with its lining, and that of its stiffener alone (0: none), mm."""
    outer = project.cloths[chosen_cloth(project, settings.outer, "cloth")].thickness
    lining = project.cloths[chosen_cloth(project, settings.lining, "lining")].thickness
    key = stiffener_cloth(settings, project)
    stiff = project.cloths[key].thickness if key else 0.0
    return outer + lining + stiff + hooped_thickness(project), stiff


def opening_needed(settings: GlassesSleeveSettings, project: Project) -> Mm:
    """Return the narrowest opening through which the sleeve can be turned, mm; the front hangs on it and passes too."""
    back, stiff = wall(settings, project)
    pocket = project.cloths[chosen_cloth(project, settings.pocket_cloth, "cloth")].thickness if settings.pocket else 0.0
    whole = 2.0 * back - stiff + 2.0 * pocket
    return least_opening(body_size(settings)[0], whole, stiff, settings.stiffener_rolls)


def edge_room(settings: GlassesSleeveSettings) -> Mm:
    """Return how long an opening in the straight upper edge may be, mm."""
    return body_size(settings)[0] - 2.0 * FROM_CORNER


def in_the_edge(settings: GlassesSleeveSettings, project: Project) -> bool:
    """Whether the opening lies in the upper edge: not under a flap; when wanted, or when it has room and nothing is said."""
    if settings.flap > 0.0:
        return False
    if settings.opening is None and settings.opening_width is None:
        return proposed_opening(opening_needed(settings, project)) <= edge_room(settings)
    return settings.opening != "lining"


def draft(settings: GlassesSleeveSettings, project: Project) -> Draft:
    """Return the sleeve drafted; sizes that ``refuse`` lets pass always can be."""
    width, height = body_size(settings)
    low = -(height + settings.flap) / 2.0
    panel = FlapOutline(shape="flap", width=width, height=height - settings.below, radius=settings.corner)
    body = _standing(FlapOutline(shape="flap", width=width, height=height, radius=settings.corner), low)
    edge = in_the_edge(settings, project)
    wide = settings.opening_width or proposed_opening(opening_needed(settings, project))
    return Draft(
        width,
        height,
        low,
        body,
        _with_flap(settings, body),
        panel,
        _standing(panel, low),
        wide if edge else None,
        None if edge else low + height / 2.0,
    )


def _standing(outline: FlapOutline, low: Mm) -> Polygon:
    """Return an outline with its lower edge at y = ``low``."""
    shape, findings, _ = outline_of(outline, {})
    assert shape is not None, findings
    return translate(shape, 0.0, low + outline.height / 2.0)


def _with_flap(settings: GlassesSleeveSettings, body: Polygon) -> Polygon:
    if settings.flap <= 0.0:
        return body
    left, _, right, top = body.bounds
    flap = Flap(right - left, settings.flap, settings.flap_radius, top)
    return largest(shapely.union_all([body, flap.up(flap.worn)]))
