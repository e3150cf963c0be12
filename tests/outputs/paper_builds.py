"""Small builds made by hand for the tests of what goes to paper."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import shapely
from shapely import affinity
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from hoopwright.build import Build
from hoopwright.core.findings import Finding
from hoopwright.core.types import Point, frozen_points
from hoopwright.estimate.shapes import ClothNeed, Estimate, StepEstimate, ThreadUse
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping, Run, Step
from hoopwright.operations.vocabulary import Face, Flip, Hoop, Lay, Press, Release, Role, RunStyle, Side, Stitch, Trim
from hoopwright.piecing.shapes import Cover, Cut, Member, Patch, PatchMap, PiecedPanel, Seam, Section, SewingOrder
from hoopwright.plane.subdivision import subdivide
from hoopwright.project.schema import Project

ALLOWANCE = 6.35


def project(**changes: Any) -> Project:
    """A project of the tide mill's shop."""
    data: dict[str, Any] = {
        "schema": 1,
        "title": "Tide mill flap",
        "cloths": {
            "linen": {"name": "washed linen, mill blue", "colour": "#2f5d73"},
            "sack": {"name": "flour sack print", "colour": "#d8c9a3", "has_up": True},
            "silk": {"name": "habotai silk, sluice green", "colour": "#5f8a6b", "thickness": 0.25},
        },
        "threads": {
            "guide": {"name": "rust cotton", "colour": "#a5502f"},
            "cream": {"name": "cream rayon", "colour": "#efe6cf"},
        },
        "panel": {"outline": {"shape": "rectangle", "width": 100, "height": 80}},
    }
    data.update(changes)
    return Project.model_validate(data)


def cut_of(outline: Polygon) -> Cut:
    """A roughly cut rectangle round ``outline``."""
    left, low, right, high = outline.bounds
    return Cut(box(left, low, right, high), right - left, high - low, Cover(0.0, 0.002, 1000))


def patch_of(
    number: int, letter: str, area: Polygon, before: BaseGeometry | None, cloth: str, clip: Polygon | None = None
) -> Patch:
    """The patch ``letter`` sewn to what was there before, with a mitred template."""
    seam = None
    raw_edge: tuple[Point, Point] | None = None
    template = area.buffer(ALLOWANCE, join_style="mitre")
    laid = template
    if before is not None:
        shared = shapely.line_merge(area.intersection(before))
        start, end = shared.coords[0], shared.coords[-1]
        seam = Seam(number - 1, (start[0], start[1]), (end[0], end[1]))
        raw_edge = (seam.start, seam.end)
        laid = affinity.rotate(template, 180, origin=LineString([start, end]).centroid)
    exact, rough = cut_of(template), cut_of(template.buffer(3))
    grain = 90.0 if number != 3 else 62.0
    return Patch(
        number, letter, (letter,), 1, None, cloth, area, seam, template, rough, exact, laid, laid, raw_edge, grain,
        clip, ("A",) if clip is not None else (),
    )  # fmt: skip


def panel_of(
    outline: Polygon, cuts: Sequence[tuple[Point, Point]], key: str = "flap", clips: dict[str, Polygon] | None = None
) -> PiecedPanel:
    """A panel whose patches are sewn in the order of their faces."""
    plane = subdivide(outline, cuts)
    letters = tuple("ABCDEFGHIJKLMNOPQRSTUVWXYZ"[: len(plane.faces)])
    cloths = tuple((letter, ("linen", "sack", "silk")[k % 3]) for k, letter in enumerate(letters))
    patches: list[Patch] = []
    before: BaseGeometry | None = None
    for number, (letter, area) in enumerate(zip(letters, plane.faces, strict=True), start=1):
        patches.append(patch_of(number, letter, area, before, dict(cloths)[letter], (clips or {}).get(letter)))
        before = area if before is None else before.union(area)
    members = tuple(Member((p.label,), None, p.seam, "it shares one straight edge") for p in patches)
    order = SewingOrder((Section(1, members),), 4, True, (), (), False, ())
    return PiecedPanel(key, outline, PatchMap(outline, plane, letters, ()), order, tuple(patches), cloths, ())


def hooping_of(panel: PiecedPanel, key: str = "flap") -> Hooping:
    """The run sheet of the panel: layout, every patch, outline."""
    layout = Stitch(Role.LAYOUT, "Layout", "guide", (panel.outline.exterior,), RunStyle(3.0), "Sews the layout.")
    first = Hoop(("tear-away stabilizer",), "Hoop the stabilizer drum tight.")
    steps = [_step(1, layout, (first,))]
    for patch in panel.patches:
        index = len(steps) + 1
        face = Face.UP if patch.seam is None else Face.DOWN
        ends = None if patch.seam is None else (patch.seam.start, patch.seam.end)
        say = f"Lay patch {patch.label} right side {face}, its raw edge past seam line {patch.number - 1}."
        lay = Lay(patch.label, patch.cloth, patch.lay_template, face, Side.TOP, patch.raw_edge, ends, say)
        path = patch.area.exterior if ends is None else LineString(ends)
        role = Role.TACK if ends is None else Role.SEAM
        stitch = Stitch(
            role, f"{role} {patch.label}", "guide", (path,), RunStyle(2.0), f"Sews the {role} of patch {patch.label}.",
            piece=patch.label,
        )  # fmt: skip
        steps.append(_step(index, stitch, (*_open(panel, patch.number - 1), lay)))
    outline = Stitch(Role.OUTLINE, "Outline", "cream", (panel.outline.exterior,), RunStyle(2.5), "Sews the outline.")
    steps.append(_step(len(steps) + 1, outline, _open(panel, len(panel.patches))))
    return Hooping(key, "The flap", panel.key, 1, tuple(steps), (Release("Take the work out of the hoop."),))


def _open(panel: PiecedPanel, number: int) -> tuple[Trim | Flip | Press, ...]:
    done = [p for p in panel.patches if p.number == number and p.seam is not None]
    return tuple(
        work
        for p in done
        if p.seam is not None
        for work in (
            Trim(p.label, None, f"Trim what lies under the seam of patch {p.label} to 6 mm."),
            Flip(p.label, (p.seam.start, p.seam.end), p.template, f"Flip patch {p.label} open."),
            Press(p.label, f"Press patch {p.label} with a finger and tape it."),
        )
    )


def _step(index: int, stitch: Stitch, hands: tuple[Any, ...]) -> Step:
    runs = tuple(Run(frozen_points(path.coords)) for path in stitch.paths)
    return Step(index, stitch, hands, runs)


def build_of(
    panel: PiecedPanel, findings: tuple[Finding, ...] = (), hoopings: tuple[Hooping, ...] | None = None, **changes: Any
) -> Build:
    """A whole build of one panel."""
    kept = (hooping_of(panel),) if hoopings is None else hoopings
    steps = tuple(StepEstimate(h.key, s.index, 0.8, 1.5 if s.halt else 0.0, 1.2) for h in kept for s in h.steps)
    threads = (ThreadUse("guide", 6.4), ThreadUse("cream", 2.0), ThreadUse("bobbin", 4.1))
    cloths = tuple(ClothNeed(key, 2, 200.0, 120.0) for key in ("linen", "sack", "silk"))
    estimate = Estimate(steps, threads, cloths, 2345, sum(s.machine for s in steps), sum(s.hands for s in steps))
    plan = Plan(project(**changes), (130.0, 180.0), (panel,), kept, ())
    return Build(plan, findings, estimate, ())


def small_panel() -> PiecedPanel:
    """Four patches in a rectangle of 100 x 80 mm: one of them tiny, one with something to clip."""
    cuts = [((-50.0, 10.0), (50.0, -5.0)), ((10.0, 60.0), (20.0, 5.5)), ((40.0, -60.0), (43.0, -3.0))]
    clip = box(38.0, -12.0, 44.0, -4.0)
    return panel_of(box(-50, -40, 50, 40), cuts, clips={"C": clip})
