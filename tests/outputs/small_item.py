"""A small item made by hand: a needle book with a pieced front, a folded pocket, a ribbon, and a lining under the hoop."""

from __future__ import annotations

from typing import Any

from shapely.geometry import LineString, box

from hoopwright.build import Build
from hoopwright.checks.rules import check
from hoopwright.estimate.estimate import estimate
from hoopwright.items.parts.closing import closing_seam, gap_on, turning
from hoopwright.items.parts.flat import basting, grown, holding, lay, placement
from hoopwright.items.pieced import pieced_hoopings
from hoopwright.items.plan import Plan
from hoopwright.items.recipe import HoopingOperations, Making, Piece, Workshop
from hoopwright.needle.sewing import steps_of
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Face, Flip, Fold, Hoop, Lay, Open, Press, Release, Side, Trim
from hoopwright.pipeline import plan
from hoopwright.project.schema import Project

BODY = box(-40, -50, 40, 50)
ALLOWANCE = 6.35


def project(**changes: Any) -> Project:
    """A project of the tide mill's shop with cloths of every kind."""
    data: dict[str, Any] = {
        "schema": 1,
        "title": "Needle book of the tide mill",
        "cloths": {
            "indigo": {"name": "indigo twill", "colour": "#2f4468"},
            "ochre": {"name": "ochre cotton", "colour": "#c6923b"},
            "ticking": {"name": "striped ticking", "colour": "#d9d4c4", "kind": "lining"},
            "felt": {"name": "stiff felt", "colour": "#efefea", "thickness": 1.0, "kind": "stiffener"},
            "tape": {"name": "herringbone tape", "colour": "#7d8a52", "kind": "ribbon"},
            "teeth": {"name": "closed zip with plastic teeth", "colour": "#333a44", "kind": "zip"},
        },
        "threads": {
            "slate": {"name": "slate", "colour": "#56606b"},
            "foam": {"name": "foam white", "colour": "#eef2ec"},
        },
        "guides": {"layout": "slate", "seam": "foam", "hold": "foam"},
        "panel": {
            "outline": {"shape": "rectangle", "width": 80, "height": 40},
            "patchwork": {"way": "cuts", "cuts": [[[-10, -20], [10, 20]]]},
        },
    }
    data.update(changes)
    return Project.model_validate(data)


PIECES = (
    Piece("felt", "Stiffener", "felt", grown(BODY, -2.0)),
    Piece("body", "Body", "indigo", grown(BODY, ALLOWANCE), BODY),
    Piece("pocket", "Pocket", "ochre", box(-46.35, -56.35, 46.35, 16.35), None, note="folded in half"),
    Piece("loop", "Loop", "tape", box(36.35, 0, 96.35, 10), note="ends inwards"),
    Piece("zip", "Zip", "teeth", box(-60, -80, 60, -56)),
    Piece("lining", "Lining", "ticking", grown(BODY, ALLOWANCE), BODY, count=2),
)


def making(shop: Workshop) -> Making:
    """Two hoopings and what follows them."""
    by_key = {p.key: p for p in PIECES}
    gap = gap_on(BODY, (0.0, -50.0), 50.0)
    flap = grown(box(-40, 0, 40, 40), ALLOWANCE)
    edge = LineString([(-40, 40), (40, 40)])
    work = (
        Hoop(("tear-away stabilizer",), "Hoop the stabilizer, drum-tight."),
        placement(shop, "the stiffener", grown(BODY, -2.0), "felt"),
        lay(shop, by_key["felt"], Face.UP, "inside the line. Tape it."),
        lay(shop, by_key["body"], Face.UP, "over the stiffener."),
        holding(shop, "Hold the body", (LineString(grown(BODY, 1.0).exterior.coords),), "A line holds the body.", "body"),
        Lay("front", "", flap, Face.DOWN, Side.TOP, None, None, "Lay the pieced front right side DOWN, hanging over the body."),
        holding(shop, "Seam of the front", (edge,), "The front is sewn on.", "front"),
        Flip("front", ((-40, 40), (40, 40)), grown(box(-40, 40, 40, 80), ALLOWANCE), "Flip the front up."),
        lay(shop, by_key["loop"], Face.UP, "its ends at the side edge.", fold=((66.35, 20), (66.35, -20))),
        lay(shop, by_key["pocket"], Face.DOWN, "its fold towards you.", fold=((60, -20), (-60, -20))),
        basting(shop, "Line along the bottom", (LineString([(-40, -53), (40, -53)]),), "Holds the pocket.", "pocket"),
        lay(shop, by_key["zip"], Face.UP, "centred on its line."),
        holding(shop, "Hold the zip", (LineString([(-38, -59), (38, -59)]),), "The tape is sewn down.", "zip"),
        Open("zip", "Open the zip half way."),
        lay(shop, by_key["lining"], Face.DOWN, "its edges level with those above.", side=Side.UNDER),
        closing_seam(shop, BODY, gap),
        Release("Take the work out of the hoop."),
        Trim("work", None, "Trim everything along the cutting line.", keep=grown(BODY, ALLOWANCE)),
    )  # fmt: skip
    hoopings = (*pieced_hoopings(shop, "front", "Front"), HoopingOperations("body", "Body", "body", 0, work))
    fold = Fold(("front",), ((40, 40), (-40, 40)), Side.TOP, "Fold the front down.")
    assembly = (*turning(gap, "body", "lining", "in the bottom edge"), fold, Press("all", "Press all once more."))
    return Making(hoopings, PIECES, assembly, ("Wash it by hand, cool.", "Dry it flat."))


def item_plan(**changes: Any) -> Plan:
    """The plan of the needle book."""
    made = project(**changes)
    pieced = plan(made)
    (panel,) = pieced.panels
    panel = type(panel)(
        "front", *(getattr(panel, n) for n in ("outline", "map", "order", "patches", "cloths", "findings"))
    )
    shop = Workshop(made, None, {"front": panel}, {"front": ()})
    yielded = making(shop)
    hoopings = []
    for group in yielded.hoopings:
        steps, after = steps_of(group.operations, made.stitching, made.machine)
        hoopings.append(Hooping(group.key, group.title, group.panel, group.section, steps, after))
    return Plan(made, pieced.field, (panel,), tuple(hoopings), (), yielded)


def item_build(**changes: Any) -> Build:
    """The build of the needle book."""
    made = item_plan(**changes)
    return Build(made, check(made), estimate(made), ())
