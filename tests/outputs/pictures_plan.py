"""Small plans put together by hand, without the rooms that make real ones."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations

import numpy as np
import shapely
import shapely.ops
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.placing import mirror
from hoopwright.core.types import frozen_points
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping, Run, Step
from hoopwright.operations.vocabulary import (
    Face,
    Flip,
    HandWork,
    Hoop,
    Lay,
    Press,
    Release,
    Role,
    RunStyle,
    Side,
    Stitch,
    Trim,
)
from hoopwright.piecing.shapes import Cover, Cut, Patch, PatchMap, PiecedPanel, Seam, SewingOrder
from hoopwright.plane.subdivision import subdivision_of
from hoopwright.project.schema import ClothModel, FlapOutline, PanelModel, Project, ThreadModel

ALLOWANCE = 6.35
Ends = tuple[tuple[float, float], tuple[float, float]]


def square_faces() -> list[Polygon]:
    """Three patches of a 60 mm square: lower left, lower right, and one across the top of both."""
    return [
        Polygon([(-30, -30), (5, -30), (5, 5), (-30, 5)]),
        Polygon([(5, -30), (30, -30), (30, 5), (5, 5)]),
        Polygon([(-30, 5), (30, 5), (30, 30), (-30, 30)]),
    ]


def two_faces() -> list[Polygon]:
    """Two patches side by side."""
    return [Polygon([(-20, -15), (0, -15), (0, 15), (-20, 15)]), Polygon([(0, -15), (20, -15), (20, 15), (0, 15)])]


def project(title: str = "Sluice gate mat", colours: dict[str, str] | None = None) -> Project:
    """A project with three cloths and two threads."""
    held = colours or {"a": "#a2412f", "b": "#2f4468", "c": "#d9ccae"}
    return Project(
        title=title,
        cloths={k: ClothModel(name=f"cloth {k}", colour=c) for k, c in held.items()},
        threads={
            "slate": ThreadModel(name="slate", colour="#56606b"),
            "gold": ThreadModel(name="gold", colour="#dba632"),
        },
        panel=PanelModel(outline=FlapOutline(shape="flap", width=60, height=60, radius=20)),
    )


def plan_of(faces: list[Polygon], made: Project | None = None, field: tuple[float, float] = (100, 100)) -> Plan:
    """Return the plan that sews ``faces`` in the order given; each shares one straight edge with the earlier ones."""
    made = made or project()
    keys = [list(made.cloths)[i % len(made.cloths)] for i in range(len(faces))]
    patches = tuple(_patch(i, faces, keys[i]) for i in range(len(faces)))
    outline = shapely.union_all(faces, grid_size=1e-3)
    assert isinstance(outline, Polygon)
    letters = tuple(chr(65 + i) for i in range(len(faces)))
    panel = PiecedPanel(
        "panel",
        outline,
        PatchMap(outline, subdivision_of(faces), letters, ()),
        SewingOrder((), 1, True, (), (), False, ()),
        patches,
        tuple(zip(letters, keys, strict=True)),
        (),
    )
    return Plan(made, field, (panel,), (_hooping(made, panel),), ())


def _patch(i: int, faces: list[Polygon], cloth: str) -> Patch:
    area = faces[i]
    template = area.buffer(ALLOWANCE, join_style="mitre")
    ends = _seam(area, shapely.union_all(faces[:i])) if i else None
    laid = mirror(*ends).shape(template) if ends else template
    assert isinstance(laid, Polygon)
    cut = Cut(template, 1.0, 1.0, Cover(0.0, 0.0, 1))
    raw = _shifted(ends, ALLOWANCE) if ends else None
    seam = Seam(i, *ends) if ends else None
    letter = chr(65 + i)
    return Patch(
        i + 1, str(i + 1), (letter,), 1, None, cloth, area, seam, template, cut, cut, laid, laid, raw, 0.0, None, ()
    )


def _seam(area: Polygon, rest: BaseGeometry) -> Ends:
    """Return the edge shared with the earlier patches, the new patch on its left."""
    places = [(x, y) for x, y in area.exterior.coords[:-1] if rest.distance(Point(x, y)) < 1e-3]
    a, b = max(combinations(places, 2), key=lambda pair: math.dist(*pair))
    c = area.representative_point()
    left = (b[0] - a[0]) * (c.y - a[1]) - (b[1] - a[1]) * (c.x - a[0]) > 0
    return (a, b) if left else (b, a)


def _shifted(ends: Ends, by: float) -> Ends:
    (ax, ay), (bx, by_) = ends
    length = math.dist(*ends)
    nx, ny = -(by_ - ay) / length * by, (bx - ax) / length * by
    return (ax + nx, ay + ny), (bx + nx, by_ + ny)


def _run(path: LineString, length: float = 2.5) -> Run:
    n = max(math.ceil(path.length / length), 1)
    return Run(frozen_points([path.interpolate(i / n, normalized=True).coords[0] for i in range(n + 1)]))


def _zigzag(ends: Ends, width: float = 5.0, repeat: float = 2.0) -> Run:
    """A row of feathered zigzags along a seam."""
    (ax, ay), (bx, by) = ends
    length = math.dist(*ends)
    u = np.array([(bx - ax) / length, (by - ay) / length])
    n = np.array([-u[1], u[0]])
    at = np.arange(0.0, length - repeat, repeat)
    rows = []
    for i, s in enumerate(at):
        side = 1 if i % 2 else -1
        rows += [u * s + n * side * 0.5, u * (s + repeat) + n * side * width / 2, u * (s + repeat) + n * side * 0.3]
    return Run(frozen_points(np.array(rows) + np.array(ends[0])))


def _number(title: str) -> int | None:
    """The seam number that stands at the end of an ornament's title."""
    return int(title.split()[-1]) if title.startswith("Feather") else None


def step_of(index: int, stitch: Stitch, hands: tuple[HandWork, ...]) -> Step:
    """A step with the stitches of its paths."""
    return Step(index, stitch, hands, tuple(_run(p) for p in stitch.paths))


def _hooping(made: Project, panel: PiecedPanel) -> Hooping:
    steps: list[Step] = []
    lines = [LineString(p.area.exterior.coords) for p in panel.patches]

    def add(role: Role, title: str, thread: str, paths: list[LineString], hands: list[HandWork], *runs: Run) -> None:
        piece = next((h.piece for h in hands if isinstance(h, Lay)), None)
        stitch = Stitch(role, title, thread, tuple(paths), RunStyle(2.5), f"{title}.", piece=piece, seam=_number(title))
        step = step_of(len(steps) + 1, stitch, tuple(hands))
        steps.append(replace(step, runs=runs) if runs else step)

    add(Role.LAYOUT, "Layout", "slate", lines, [Hoop(("tear-away",), "Hoop it.")])
    waiting: list[HandWork] = []
    for patch in panel.patches:
        ends = (patch.seam.start, patch.seam.end) if patch.seam else None
        face = Face.DOWN if ends else Face.UP
        lay = Lay(
            patch.label, patch.cloth, patch.lay_template, face, Side.TOP, patch.raw_edge, ends, f"Lay {patch.label}."
        )
        if ends is None:
            path = LineString(patch.area.buffer(1.5, join_style="mitre").exterior.coords)
            add(Role.TACK, f"Tack down {patch.label}", "slate", [path], [lay])
            continue
        add(Role.SEAM, f"Seam of patch {patch.label}", "slate", [LineString(ends)], [*waiting, lay])
        waiting = [
            Trim(patch.label, None, "Trim the cloth underneath."),
            Flip(patch.label, ends, patch.template, "Flip it open."),
            Press(patch.label, "Press."),
        ]
    rim = panel.outline.buffer(1.0, join_style="mitre").exterior
    add(Role.HOLD, "Holding line", "slate", [LineString(rim.coords)], waiting)
    for patch in panel.patches:
        if patch.seam:
            ends = (patch.seam.start, patch.seam.end)
            add(Role.ORNAMENT, f"Feather on seam {patch.seam.number}", "gold", [LineString(ends)], [], _zigzag(ends))
    add(Role.OUTLINE, "Outline", "slate", [LineString(panel.outline.exterior.coords)], [])
    cut = panel.outline.buffer(ALLOWANCE, join_style="mitre")
    after = (Release("Take it out of the hoop."), Trim("panel", None, "Trim it.", keep=cut))
    return Hooping("panel", made.title, "panel", 1, tuple(steps), after)


def flap_faces() -> list[Polygon]:
    """A crazy flap of seven patches, a hand's width, slices taken off one after the other and sewn backwards."""
    round_box = shapely.box(-55, -46, 55, 46).buffer(-34).buffer(34, quad_segs=16)
    rest = shapely.union_all([shapely.box(-55, 0, 55, 46), round_box])
    cuts = [
        ((-55, 14), (8, 46)),
        ((55, 20), (0, -46)),
        ((-55, -14), (-16, -46)),
        ((36, 46), (30, -46)),
        ((-18, 46), (-30, -46)),
        ((-60, -16), (60, -4)),
    ]
    slices = []
    for a, b in cuts:
        (ax, ay), (bx, by) = a, b
        far = LineString([(ax - 9 * (bx - ax), ay - 9 * (by - ay)), (bx + 9 * (bx - ax), by + 9 * (by - ay))])
        parts = sorted(shapely.ops.split(rest, far).geoms, key=lambda p: p.area)
        slices.append(parts[0])
        rest = parts[-1]
    simple = [shapely.simplify(p, 0.01) for p in (rest, *reversed(slices))]
    return [p for p in simple if isinstance(p, Polygon)]


def flap_project() -> Project:
    """Six cloths of a sea-side palette."""
    return project(
        "Tide mill flap",
        {
            "madder": "#a2412f",
            "sailcloth": "#d9ccae",
            "indigo": "#2f4468",
            "reed": "#7d8a52",
            "ochre": "#c6923b",
            "silt": "#6b5748",
        },
    )
