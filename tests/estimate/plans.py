"""Plans made by hand for the tests of the estimate."""

from __future__ import annotations

from collections.abc import Sequence

from shapely.geometry import Polygon, box

from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.piecing.shapes import Cover, Cut, Patch, PatchMap, PiecedPanel, SewingOrder
from hoopwright.plane.subdivision import Subdivision
from hoopwright.project.schema import Project


def project(**changes: object) -> Project:
    return Project.model_validate(
        {
            "schema": 1,
            "title": "Tide mill flap",
            "cloths": {
                "linen": {"name": "Linen", "colour": "#e0d8c0", "thickness": 0.3, "bolt": 1000},
                "sail": {"name": "Sailcloth", "colour": "#aa3322", "thickness": 0.5, "bolt": 100},
            },
            "threads": {
                "ecru": {"name": "Ecru", "colour": "#f4eedd"},
                "weed": {"name": "Weed green", "colour": "#2f5933"},
            },
            "panel": {"outline": {"shape": "rectangle", "width": 50, "height": 40}},
            **changes,
        }
    )


def patch(
    label: str, width: float, height: float, cloth: str = "linen", grain: float = 90.0, made_of: int | None = None
) -> Patch:
    area = box(0, 0, width, height)
    sure = Cover(0.0, 0.0, 100)
    rough = Cut(box(0, 0, width + 20, height + 20), width + 20, height + 20, sure)
    return Patch(
        number=1,
        label=label,
        letters=(label,),
        section=1,
        made_of=made_of,
        cloth=cloth,
        area=area,
        seam=None,
        template=area,
        rough=rough,
        exact=Cut(area, width, height, sure),
        lay_template=area,
        lay_rough=rough.outline,
        raw_edge=None,
        grain=grain,
        clip=None,
        clip_covers=(),
    )


def plan(hoopings: Sequence[Hooping] = (), patches: Sequence[Patch] = (), **changes: object) -> Plan:
    outline = Polygon(box(0, 0, 10, 10))
    order = SewingOrder((), 0, True, (), (), False, ())
    cloths = tuple((p.label, p.cloth) for p in patches)
    the_map = PatchMap(outline, Subdivision((), (), (), (), frozenset()), (), ())
    panel = PiecedPanel("flap", outline, the_map, order, tuple(patches), cloths, ())
    return Plan(project(**changes), (130.0, 180.0), (panel,), tuple(hoopings), ())
