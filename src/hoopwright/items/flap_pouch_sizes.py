"""The flap pouch drafted: sizes from contents or finished body, and where everything lies in the hoop."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final, Literal, TypeAlias

import shapely
from pydantic import Field
from shapely.affinity import translate
from shapely.geometry import LineString, Polygon

from hoopwright.core.tolerances import ARC_CHORD, MERGE
from hoopwright.core.types import Mm
from hoopwright.items.parts.bag_cloths import stiffener_cloth
from hoopwright.items.parts.cloths import chosen_cloth
from hoopwright.items.parts.contents import Contents
from hoopwright.items.parts.flap import Flap
from hoopwright.items.parts.grounds import CROSSED, BodyGround
from hoopwright.items.parts.hooped import hooped_thickness
from hoopwright.items.parts.opening import FROM_CORNER, least_opening, proposed_opening
from hoopwright.items.parts.pocket import BELOW_EDGE
from hoopwright.items.parts.strap import Strap, longest_loop
from hoopwright.plane.arcs import arc
from hoopwright.project.schema import Key, Length, Model, Project

DEFAULT_CONTENTS: Final = Contents(82.0, 88.0, 8.0)
"""What a pouch is made for when neither contents nor body are given, mm."""

FLAP_PART: Final = 0.6
"""Height of the flap as a part of the body's height, when none is given."""

ROUND: Final[Mm] = 26.0
"""Radius of the flap's corners when none is given, mm."""

STRAP_LOOP: Final[Mm] = 140.0
"""How far the loop hangs when nothing is given and there is room, mm: a hand goes through."""

STRAP_ROOM: Final[Mm] = 4.0
"""Free on both sides of the strap between the pocket's fold and the flap, mm."""

_Size: TypeAlias = Annotated[Length, Field(gt=0, le=400)]


class FlapPouchSettings(Model):
    """Sizes and cloths of a flap pouch.

    ``contents``: width, length and thickness of what goes in, to which ``ease`` is added both ways. ``body``: finished
    width and height instead; with both, the contents are only checked. ``flap`` is the height of the flap,
    ``flap_radius`` of its corners, ``corner`` of the two corners at the bottom. ``pocket`` is the height of the front.
    ``strap`` is how far the loop hangs from its seam (0: no strap; left out: as far as has room, up to 140 mm),
    ``strap_width`` how wide it is, ``strap_side`` the side of the back where it is caught. ``ground`` quilts the back.
    ``stiffened``: with a stiffener, ``stiffener_inset`` inside the seam; ``stiffener_rolls``: it can be rolled up.
    ``opening``: in the bottom "edge" or between two parts of the "lining"; left out, in the edge if it is long enough.
    ``opening_width`` is that of the one in the edge.
    ``outer``, ``lining``, ``pocket_cloth``, ``strap_cloth``, ``stiffener`` name cloths.
    """

    contents: tuple[_Size, _Size, Annotated[Length, Field(ge=0, le=80)]] | None = Field(
        default=None, examples=[(82, 88, 8)]
    )
    body: tuple[_Size, _Size] | None = Field(default=None, examples=[(94, 98)])
    ease: Annotated[Length, Field(ge=0, le=60)] = 4.0
    flap: Annotated[Length, Field(ge=20, le=300)] | None = Field(default=None, examples=[60])
    flap_radius: Annotated[Length, Field(ge=0, le=200)] | None = Field(default=None, examples=[20])
    corner: Annotated[Length, Field(ge=0, le=60)] = 4.0
    pocket: Annotated[Length, Field(ge=20, le=400)] | None = Field(default=None, examples=[60])
    strap: Annotated[Length, Field(ge=0, le=300)] | None = Field(default=None, examples=[120])
    strap_width: Annotated[Length, Field(ge=4, le=40)] = 10.0
    strap_side: Literal["left", "right"] = "right"
    ground: BodyGround = CROSSED
    stiffened: bool = True
    stiffener_inset: Annotated[Length, Field(ge=1, le=20)] = 2.0
    stiffener_rolls: bool = True
    opening: Literal["edge", "lining"] | None = None
    opening_width: Annotated[Length, Field(gt=0, le=400)] | None = Field(default=None, examples=[65])
    outer: Key | None = None
    lining: Key | None = None
    pocket_cloth: Key | None = None
    strap_cloth: Key | None = None
    stiffener: Key | None = None


@dataclass(frozen=True, slots=True)
class Draft:
    """The pouch drafted in the hoop, mm: body below, flap above, together in the middle of the field.

    ``depth`` is the height of the front, ``opening`` the width of the gap in the bottom edge (None: there is none),
    ``slit`` the height at which a lining in two parts leaves one.
    """

    width: Mm
    height: Mm
    corner: Mm
    flap: Flap
    depth: Mm
    strap: Strap | None
    opening: Mm | None
    slit: Mm | None

    @property
    def hinge(self) -> Mm:
        """Where the flap is sewn on and folds, y."""
        return self.flap.hinge

    @property
    def low(self) -> Mm:
        """The bottom seam, y."""
        return self.hinge - self.height

    @property
    def body(self) -> Polygon:
        """The seam line of the body; its upper side is the hinge."""
        worn = Flap(self.width, self.height, self.corner, 0.0).worn
        return translate(worn, 0.0, self.hinge - self.height / 2.0)

    @property
    def outline(self) -> Polygon:
        """The closing seam, round body and flap; its long sides run straight past the hinge."""
        x, low, top = self.width / 2.0, self.low, self.hinge + self.flap.height
        r, rr = self.corner, self.flap.radius
        corners = (
            *arc((r - x, low + r), r, 180.0, 270.0),
            *arc((x - r, low + r), r, 270.0, 360.0),
            *arc((x - rr, top - rr), rr, 0.0, 90.0),
            *arc((rr - x, top - rr), rr, 90.0, 180.0),
        )
        return shapely.remove_repeated_points(Polygon(corners), tolerance=MERGE)

    @property
    def bottom(self) -> LineString:
        """The straight part of the bottom seam."""
        half = self.width / 2.0 - self.corner
        return LineString([(-half, self.low), (half, self.low)])


def body_size(settings: FlapPouchSettings) -> tuple[Mm, Mm]:
    """Return width and height of the body at its seam lines, mm: the given ones, or those the contents need."""
    if settings.body is not None:
        return settings.body
    contents = contents_of(settings) or DEFAULT_CONTENTS
    return contents.flat_width(settings.ease), contents.back(settings.ease)


def contents_of(settings: FlapPouchSettings) -> Contents | None:
    """Return what goes in, None when only the body is given."""
    return None if settings.contents is None else Contents(*settings.contents)


def flap_height(settings: FlapPouchSettings) -> Mm:
    """Return the height of the flap, mm."""
    return round(FLAP_PART * body_size(settings)[1], 1) if settings.flap is None else settings.flap


def flap_radius(settings: FlapPouchSettings) -> Mm:
    """Return the radius of the flap's lower corners, mm; usually ROUND, less where there is no room."""
    most = min(body_size(settings)[0] / 2.0, flap_height(settings))
    return min(ROUND, most) if settings.flap_radius is None else settings.flap_radius


def strap_loop(settings: FlapPouchSettings) -> Mm:
    """Return how far the loop of the strap hangs from its seam, mm; 0 for no strap."""
    if settings.strap is not None:
        return settings.strap
    return max(0.0, min(STRAP_LOOP, longest_loop(body_size(settings)[0])))


def pocket_depth(settings: FlapPouchSettings) -> Mm:
    """Return the height of the front, mm; when none is given, the strap has room between its fold and the flap."""
    if settings.pocket is not None:
        return settings.pocket
    strap = settings.strap_width + 2.0 * STRAP_ROOM if strap_loop(settings) else 0.0
    return body_size(settings)[1] - max(BELOW_EDGE, strap)


def passing(settings: FlapPouchSettings, project: Project) -> tuple[Mm, Mm]:
    """Return how thick everything is that passes the opening, and its stiffener alone (0: none), mm."""
    outer, lining, pocket = (
        project.cloths[key].thickness
        for key in (
            chosen_cloth(project, settings.outer, "cloth"),
            chosen_cloth(project, settings.lining, "lining"),
            chosen_cloth(project, settings.pocket_cloth, "cloth"),
        )
    )
    key = stiffener_cloth(settings, project)
    stiff = project.cloths[key].thickness if key else 0.0
    hooped = hooped_thickness(project)
    return outer + lining + 2.0 * pocket + stiff + hooped, stiff


def opening_needed(settings: FlapPouchSettings, project: Project) -> Mm:
    """Return the narrowest opening through which the pouch can be turned, mm."""
    thick, stiff = passing(settings, project)
    return least_opening(body_size(settings)[0], thick, stiff, settings.stiffener_rolls)


def edge_room(settings: FlapPouchSettings) -> Mm:
    """Return how long an opening in the straight part of the bottom edge may be, mm."""
    return body_size(settings)[0] - 2.0 * (settings.corner + FROM_CORNER)


def in_the_edge(settings: FlapPouchSettings, project: Project) -> bool:
    """Whether the opening lies in the bottom edge: when it is wanted there, or has room and nothing is said."""
    if settings.opening is None and settings.opening_width is None:
        return proposed_opening(opening_needed(settings, project)) <= edge_room(settings)
    return settings.opening != "lining"


def draft(settings: FlapPouchSettings, project: Project) -> Draft:
    """Return the pouch drafted; sizes that ``refuse`` lets pass always can be."""
    width, height = body_size(settings)
    rise, depth = flap_height(settings), pocket_depth(settings)
    hinge = (height - rise) / 2.0
    edge = in_the_edge(settings, project)
    return Draft(
        width,
        height,
        _worth_rounding(settings.corner),
        Flap(width, rise, _worth_rounding(flap_radius(settings)), hinge),
        depth,
        _strap(settings, width, hinge, height - depth),
        (settings.opening_width or proposed_opening(opening_needed(settings, project))) if edge else None,
        None if edge else hinge - height / 2.0,
    )


def _worth_rounding(radius: Mm) -> Mm:
    """Return the radius of a corner, 0 for one so small that its arc is a single chord."""
    return radius if radius > ARC_CHORD else 0.0


def _strap(settings: FlapPouchSettings, width: Mm, hinge: Mm, above: Mm) -> Strap | None:
    """Return the strap in the middle of the ``above`` mm between the pocket's fold and the hinge, or close under the hinge."""
    loop = strap_loop(settings)
    if not loop:
        return None
    under = max(above / 2.0, settings.strap_width / 2.0 + STRAP_ROOM)
    side = 1 if settings.strap_side == "right" else -1
    return Strap(settings.strap_width, loop, width, hinge - under, side)
