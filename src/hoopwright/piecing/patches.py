"""Patches: for every step of a sewing order its area, template, rough cut, where it is laid, and what to beware of."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

import shapely
from shapely.geometry import Polygon
from shapely.geometry.polygon import orient

from hoopwright.core.findings import Finding
from hoopwright.core.types import Degrees, Point
from hoopwright.piecing.allowances import Needed, beyond_seam, hidden_by, least_width, needed_cloth
from hoopwright.piecing.cover import Errors, cover_of, draw_errors
from hoopwright.piecing.laying import Frame, mirrored, raw_edge, seam_frame
from hoopwright.piecing.patch_findings import bare_findings, hidden_finding, narrow_finding, snip_finding
from hoopwright.piecing.rough_cuts import first_frame, pivot_of, rough_cut
from hoopwright.piecing.shapes import Cut, Member, Patch, PatchMap, Seam, SewingOrder
from hoopwright.piecing.templates import corners_of, template_round
from hoopwright.project.lengths import Units
from hoopwright.project.schema import ClothModel, PiecingModel

UPRIGHT: Degrees = 90.0
"""The direction of the panel's up, and of the warp where nothing else decides."""


@dataclass(frozen=True, slots=True)
class _Task:
    """One member of one section with its numbers, and the letters that already lie on that foundation."""

    member: Member
    section: int
    number: int
    before: tuple[str, ...]

    @property
    def label(self) -> str:
        return self.member.letters[0] if self.member.section is None else f"S{self.member.section}"


@dataclass(frozen=True, slots=True)
class _Ways:
    """What is the same for all patches of a panel."""

    patch_map: PatchMap
    cloths: Mapping[str, str]
    models: Mapping[str, ClothModel]
    piecing: PiecingModel
    units: Units


@dataclass(frozen=True, slots=True, eq=False)
class _Cloth:
    """What is cut for a patch and how it is laid."""

    template: Polygon
    frame: Frame
    exact: Cut
    rough: Cut
    lay_template: Polygon
    lay_rough: Polygon
    raw_edge: tuple[Point, Point] | None


def patches_of(
    patch_map: PatchMap,
    order: SewingOrder,
    cloths: Mapping[str, str],
    cloth_models: Mapping[str, ClothModel],
    piecing: PiecingModel,
    units: Units = "mm",
) -> tuple[tuple[Patch, ...], tuple[Finding, ...]]:
    """Return the patches in sewing order through all sections, and what the maker must know about them.

    ``cloths`` gives the cloth key of each patch letter, ``cloth_models`` the cloths by key, ``units`` those of the sentences. A section that is laid as
    one has number 0, a label like "S1" and no cloth of its own (the empty text); it is trimmed to its template, so that its
    rough cut is the template too. So it is for a patch that reaches behind its own seam line. Raises KeyError when a patch has no cloth, or a cloth that is not listed.
    """
    ways = _Ways(patch_map, cloths, cloth_models, piecing, units)
    made = [_patch(task, ways) for task in _tasks(order)]
    return tuple(p for p, _ in made), tuple(f for _, found in made for f in found)


def _tasks(order: SewingOrder) -> Iterator[_Task]:
    number = 0
    for section in order.sections:
        before: tuple[str, ...] = ()
        for member in section.members:
            number += member.section is None
            yield _Task(member, section.number, number if member.section is None else 0, before)
            before += member.letters


def _patch(task: _Task, ways: _Ways) -> tuple[Patch, tuple[Finding, ...]]:
    """Return one patch with its findings."""
    member, piecing = task.member, ways.piecing
    area = _area(ways.patch_map, member.letters)
    upright = member.section is None and ways.models[ways.cloths[member.letters[0]]].has_up
    cloth = _cloth(
        Polygon(corners_of(area)), ways.patch_map.outline, member.seam, upright, member.section is not None, piecing
    )
    clips = _clips(task, ways, area, cloth)
    patch = Patch(
        number=task.number,
        label=task.label,
        letters=member.letters,
        section=task.section,
        made_of=member.section,
        cloth=ways.cloths[member.letters[0]] if member.section is None else "",
        area=area,
        seam=member.seam,
        template=cloth.template,
        rough=cloth.rough,
        exact=cloth.exact,
        lay_template=cloth.lay_template,
        lay_rough=cloth.lay_rough,
        raw_edge=cloth.raw_edge,
        grain=_grain(cloth.frame, member.seam is None, upright),
        clip=clips[0][0] if clips else None,
        clip_covers=tuple(dict.fromkeys(letter for _, letter in clips)),
        clips=tuple(part for part, _ in clips),
    )
    return patch, _findings(patch, ways)


def _area(patch_map: PatchMap, letters: tuple[str, ...]) -> Polygon:
    """Return the area of one patch, or of several taken together."""
    if len(letters) == 1:
        return patch_map.polygon(letters[0])
    joined = shapely.union_all([patch_map.polygon(letter) for letter in letters])
    return orient(max(shapely.get_parts(joined), key=lambda p: float(p.area)))


@lru_cache(maxsize=1024)
def _cloth(
    rim: Polygon, outline: Polygon, seam: Seam | None, upright: bool, joined: bool, piecing: PiecingModel
) -> _Cloth:
    """Return what is cut for a patch with the corners ``rim``; ``joined`` says that it is a section laid as one.

    Kept, so that planning again after a small change looks only at patches whose corners moved.
    """
    corners = shapely.get_coordinates(rim)[:-1]
    template = template_round(corners, piecing.allowance)
    frame = first_frame(template, upright) if seam is None else seam_frame(seam)
    needed = needed_cloth(corners, outline, piecing.allowance)
    exact, rough = _cuts(template, frame, needed, seam is not None, joined, piecing)
    return _Cloth(
        template,
        frame,
        exact,
        rough,
        mirrored(template, seam),
        mirrored(rough.outline, seam),
        None if seam is None else raw_edge(template, seam, piecing.allowance),
    )


@lru_cache(maxsize=16)
def _errors(piecing: PiecingModel) -> Errors:
    return draw_errors(piecing.shift, piecing.turn, piecing.trials, piecing.seed)


def _cuts(
    template: Polygon, frame: Frame, needed: Needed, sewn: bool, joined: bool, piecing: PiecingModel
) -> tuple[Cut, Cut]:
    """Return the exact and the rough cut."""
    errors = _errors(piecing)
    local = frame.local(shapely.get_coordinates(template.exterior))
    width, height = (float(s) for s in local.max(axis=0) - local.min(axis=0))
    pivot = pivot_of(template, frame, piecing.allowance if sewn else None)
    exact = Cut(template, width, height, cover_of(template, needed, pivot, errors))
    behind = sewn and beyond_seam(Polygon(needed.corners), frame) is not None
    if joined or behind:
        return exact, exact
    return exact, rough_cut(template, needed, frame, sewn, piecing.chance, errors, piecing.rough_spare)


def _clips(task: _Task, ways: _Ways, area: Polygon, cloth: _Cloth) -> tuple[tuple[Polygon, str], ...]:
    """Return the allowance to cut away with the letters it would hide, the largest part first."""
    if task.member.seam is None:
        return ()
    template, frame = cloth.template, cloth.frame
    near = [n for n in task.before if template.intersects(ways.patch_map.polygon(n))]
    hidden = (
        (h, n)
        for n in near
        for h in hidden_by(template, area, frame, ways.piecing.allowance, ways.patch_map.polygon(n))
    )
    return tuple(sorted(hidden, key=lambda part: -float(part[0].area)))


def _grain(frame: Frame, first: bool, upright: bool) -> Degrees:
    """Return the direction of the warp, from 0 up to 180 degrees.

    Cloth with an up keeps it upwards in the panel. Else the warp, which stretches least, runs along the seam; on a
    first patch up the hoop, or along the side of its rectangle nearest to that.
    """
    if upright:
        return UPRIGHT
    return (frame.angle + (UPRIGHT if first else 0.0)) % 180.0


def _findings(patch: Patch, ways: _Ways) -> tuple[Finding, ...]:
    found: list[Finding] = []
    if patch.seam is not None:
        if beyond_seam(patch.area, seam_frame(patch.seam)) is not None:
            found.append(snip_finding(patch))
        if patch.clips:
            found.append(hidden_finding(patch, ways.piecing.allowance, ways.units))
    width = least_width(patch.area)
    if width < ways.piecing.allowance:
        found.append(narrow_finding(patch, width, ways.piecing.allowance, ways.units))
    return (*found, *bare_findings(patch, ways.piecing, ways.units))
