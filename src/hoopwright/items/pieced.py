"""A pieced panel as the recipes use it: from the pieced panel to the operations of its hoopings."""

from __future__ import annotations

from dataclasses import dataclass

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.words import listed
from hoopwright.items.parts.accents import accent_hoopings, laid_accents
from hoopwright.items.recipe import HoopingOperations, Promise, Workshop
from hoopwright.items.words import beside_seam, flip_direction, lying_order, name_of, seam_between, sewn_number
from hoopwright.needle.decorations import NONE, Decorations
from hoopwright.needle.ornaments import EDGE, Ornament
from hoopwright.needle.working_lines import (
    free_edges,
    largest,
    layout_lines,
    placement_path,
    region_of,
    ring,
    seam_line,
)
from hoopwright.operations.vocabulary import (
    Face,
    Flip,
    HandWork,
    Hoop,
    Lay,
    Numeral,
    Operation,
    Press,
    Release,
    Role,
    RunStyle,
    Side,
    Stitch,
    Trim,
)
from hoopwright.piecing.shapes import Patch, PiecedPanel, Section
from hoopwright.plane.half_plane import left_of
from hoopwright.project.schema import Project


@dataclass(frozen=True, slots=True, eq=False)
class _Bench:
    """What the recipe needs at hand while it writes one section's operations."""

    shop: Workshop
    panel: PiecedPanel
    section: Section
    last: bool
    region: Polygon
    patches: tuple[Patch, ...]

    @property
    def project(self) -> Project:
        """The project."""
        return self.shop.project

    def length(self, mm: float) -> str:
        """Return a length in the maker's units."""
        return self.shop.length(mm)

    def cloth(self, patch: Patch) -> str:
        """Return the shown name of a patch's cloth."""
        return self.shop.cloth(patch.cloth) if patch.made_of is None else "pieced"

    def thread(self, use: str) -> str:
        """Return the thread key for a working line."""
        return self.shop.thread(use)

    def laid(self, patch: Patch) -> Polygon:
        """Return the cloth of a patch as it lies open: rough when the maker cuts roughly, else its template.

        A flipped cloth is folded along its seam, so it ends there; its allowance lies underneath.
        """
        rough = self.project.piecing.cut == "rough" and patch.made_of is None
        cloth = patch.rough.outline if rough else patch.template
        if patch.seam is None:
            return cloth
        return largest(cloth.intersection(left_of(patch.seam.start, patch.seam.end)))


def pieced_promise(key: str) -> Promise:
    """Return what a panel is that is pieced and nothing more: patches that cover its outline without gap or hole, a disc."""
    return Promise(parts=1, rims=1, euler=1, closed_rims=1, closed_euler=1, shell=(key,))


def pieced_hoopings(shop: Workshop, key: str, title: str) -> tuple[HoopingOperations, ...]:
    """Return the hoopings that piece the panel ``key``, accents laid on it and its sections first, the whole panel last.

    Files are named after the panel; those of a panel called "panel" leave its name out before "section".
    """
    panel = shop.panels[key]
    sections = panel.order.sections
    hoopings = []
    for section in sections:
        last = section is sections[-1]
        region = panel.outline if last else region_of(panel.map, section.letters)
        bench = _Bench(shop, panel, section, last, region, panel.of_section(section.number))
        name = f"{key}-section-{section.number}".removeprefix("panel-")
        words = title if last else f"Section S{section.number} (patches {listed(section.letters)})"
        ornaments, more = (shop.ornaments[key], shop.decorations.get(key, NONE)) if last else ((), NONE)
        work = (*_prepare(bench), *_piece(bench), *_finish(bench, ornaments, more))
        hoopings.append(HoopingOperations(key if last else name, words, key, section.number, work))
    accents = shop.decorations.get(key, NONE).accents
    made = (
        accent_hoopings(shop, accents, f"{key}-accents".removeprefix("panel-"), f"Accents of {title}")
        if accents
        else ()
    )
    return (*made, *hoopings)


def _prepare(bench: _Bench) -> tuple[Operation, ...]:
    foundation = bench.project.foundation
    layers = tuple(n for n in (foundation.name, foundation.batting) if n)
    hoop = Hoop(layers, f"Hoop the {listed(layers)}, drum-tight and without a crease.")
    numerals = tuple(_numeral(p) for p in bench.patches)
    layout = Stitch(
        Role.LAYOUT,
        "Layout",
        bench.thread("layout"),
        layout_lines(bench.panel.map, tuple(x for x in bench.section.letters)),
        RunStyle(bench.project.stitching.layout_run),
        "The outline of every patch and its number are sewn on the bare foundation.",
        numerals=numerals,
        hidden_under=bench.region,
    )
    return hoop, layout


def _numeral(patch: Patch) -> Numeral:
    return Numeral(sewn_number(patch), patch.area)


def _piece(bench: _Bench) -> tuple[Operation, ...]:
    work: list[Operation] = []
    visible: BaseGeometry = Polygon()
    for patch in bench.patches:
        if patch.seam is None:
            work.extend(_first(bench, patch))
        else:
            work.extend(_next(bench, patch, visible))
        visible = shapely.union_all([visible, patch.area])
    return tuple(work)


def _first(bench: _Bench, patch: Patch) -> tuple[Operation, ...]:
    outside, allowance = bench.project.stitching.tack_outside, bench.project.piecing.allowance
    lay = Lay(
        patch.label,
        patch.cloth,
        bench.laid(patch),
        Face.UP,
        Side.TOP,
        None,
        None,
        f"Lay {name_of(patch)}, {bench.cloth(patch)}, right side UP over its number, so that it covers its lines all round: "
        f"lift its edges and look, {bench.length(allowance)} of cloth must lie past every line. Tape it.",
    )
    tack = Stitch(
        Role.TACK,
        f"Tack down {name_of(patch)}",
        bench.thread("seam"),
        (ring(patch.area, outside),),
        RunStyle(bench.project.stitching.run),
        f"A line {bench.length(outside)} outside {name_of(patch)} holds it down; later patches will cover it. "
        f"Where less than {bench.length(allowance - outside)} of cloth stands out past this line, take it up and lay it again.",
        piece=patch.label,
    )
    return lay, tack


def _next(bench: _Bench, patch: Patch, visible: BaseGeometry) -> tuple[Operation, ...]:
    assert patch.seam is not None
    ends = (patch.seam.start, patch.seam.end)
    stitching = bench.project.stitching
    rough = bench.project.piecing.cut == "rough"
    lay = Lay(
        patch.label,
        patch.cloth,
        patch.lay_rough if rough and patch.made_of is None else patch.lay_template,
        Face.DOWN,
        Side.TOP,
        patch.raw_edge,
        ends,
        _where_to_lay(bench, patch),
    )
    seam = Stitch(
        Role.SEAM,
        f"Seam of {name_of(patch)}",
        bench.thread("seam"),
        (seam_line(patch.seam, shapely.union_all([visible, patch.area]), stitching.seam_past_end),),
        RunStyle(stitching.seam_run),
        f"The seam that holds {name_of(patch)} is sewn.",
        piece=patch.label,
        seam=patch.seam.number,
    )
    return *_guide(bench, patch, visible), lay, seam, *_open(bench, patch)


def _where_to_lay(bench: _Bench, patch: Patch) -> str:
    """Return the sentence for laying a patch right side down."""
    assert patch.seam is not None
    allowance = bench.length(bench.project.piecing.allowance)
    line = "the placement line" if bench.project.piecing.placement_lines else seam_between(patch, bench.panel)
    strokes = ", at the ends of its two short strokes" if bench.project.piecing.placement_lines else ""
    turned = f" {lying_order(patch, bench.panel.map)}." if patch.made_of is not None else ""
    return (
        f"Lay {name_of(patch)}, {bench.cloth(patch)}, right side DOWN over what is sewn, so that its raw edge lies "
        f"{allowance} past {line}{strokes}, on the side of the number {sewn_number(patch)}.{turned} Tape it clear of the seam."
    )


def _guide(bench: _Bench, patch: Patch, visible: BaseGeometry) -> tuple[Stitch, ...]:
    """The placement line of a patch on top of all that lies already, where the layout can no longer be seen."""
    assert patch.seam is not None
    if not bench.project.piecing.placement_lines:
        return ()
    path = placement_path(patch.seam, visible, bench.project.piecing.allowance)
    return (
        Stitch(
            Role.PLACEMENT,
            f"Placement line of {name_of(patch)}",
            bench.thread("seam"),
            (path,),
            RunStyle(bench.project.stitching.layout_run),
            f"The line shows where {name_of(patch)} will be sewn on; the short stroke at each end shows how far its raw edge "
            "lies past it.",
            piece=patch.label,
            seam=patch.seam.number,
        ),
    )


def _open(bench: _Bench, patch: Patch) -> tuple[Operation, ...]:
    """What hands do when a seam is sewn: trim, flip, press, and the tack-down of the opened patch if wanted."""
    assert patch.seam is not None
    ends = (patch.seam.start, patch.seam.end)
    allowance = bench.length(bench.project.piecing.allowance)
    work: list[HandWork] = [
        Trim(
            patch.label,
            None,
            f"Lift the {allowance} edge of {name_of(patch)} and cut off only what sticks out under it. With templates there "
            "may be nothing to cut. Never cut the foundation.",
        ),
        Flip(
            patch.label,
            ends,
            bench.laid(patch),
            f"Take its tape off and flip {name_of(patch)} open over its seam, {flip_direction(patch.seam)}: its right side now "
            "shows.",
        ),
        Press(patch.label, "Press the seam flat with a finger or a seam roller and tape the free edges down."),
    ]
    work.extend(_clip(patch, part) for part in patch.clips)
    return (*work, *_tack_open(bench, patch))


def _clip(patch: Patch, part: Polygon) -> Trim:
    return Trim(
        patch.label,
        part,
        f"Cut the allowance of {name_of(patch)} back where it lies over {listed(patch.clip_covers)}: "
        "what lies there must stay visible.",
    )


def _tack_open(bench: _Bench, patch: Patch) -> tuple[Stitch, ...]:
    if not bench.project.piecing.tack_flipped:
        return ()
    stitching = bench.project.stitching
    return (
        Stitch(
            Role.TACK,
            f"Tack down {name_of(patch)}",
            bench.thread("seam"),
            (free_edges(patch.area, patch.seam, stitching.tack_outside),),
            RunStyle(stitching.run),
            f"A line outside the free edges of {name_of(patch)} holds it open.",
            piece=patch.label,
        ),
    )


def _finish(bench: _Bench, ornaments: tuple[Ornament, ...], more: Decorations) -> tuple[Operation, ...]:
    stitching = bench.project.stitching
    hold = Stitch(
        Role.HOLD,
        "Holding line",
        bench.thread("hold"),
        (ring(bench.region, stitching.hold_outside),),
        RunStyle(stitching.run),
        f"A line {bench.length(stitching.hold_outside)} outside the outline holds all patches down.",
    )
    decorated = tuple(_ornament(bench, o) for o in ornaments)
    outline = Stitch(
        Role.OUTLINE,
        "Outline",
        bench.thread("outline"),
        (_outline(bench.region),),
        RunStyle(stitching.run, times=2),
        "The outline is sewn twice round: it is the finished edge.",
    )
    return (
        hold,
        *more.under,
        *decorated,
        *more.over,
        *laid_accents(bench.shop, more.accents),
        outline,
        *_release(bench),
    )


def _outline(region: Polygon) -> LineString:
    return ring(region)


def _ornament(bench: _Bench, ornament: Ornament) -> Stitch:
    on_seam = ornament.seam != EDGE
    where = beside_seam(bench.panel, ornament.seam) if on_seam else "over the ends of the seams"
    return Stitch(
        Role.ORNAMENT,
        ornament.title,
        ornament.thread or next(iter(bench.project.threads)),
        (ornament.path,),
        ornament.style,
        f"{ornament.title}, {where}.",
        seam=ornament.seam if on_seam else None,
        after=ornament.after,
    )


def _release(bench: _Bench) -> tuple[HandWork, ...]:
    allowance = bench.length(bench.project.piecing.allowance)
    what = "the panel" if bench.last else f"section S{bench.section.number}"
    cut = region_cut(bench.region, bench.project.piecing.allowance)
    return (
        Release(f"Take {what} out of the hoop, take all tape off and clip loose threads."),
        Trim("panel", None, f"Trim {what} {allowance} outside the sewn outline.", keep=cut),
        Press("panel", _last_press(bench, what)),
    )


def _last_press(bench: _Bench, what: str) -> str:
    if bench.last:
        return (
            f"Press {what} face down on a towel. The {bench.project.foundation.name} stays until {what} is sewn into "
            "its item; then take it away from the allowances."
        )
    return f"Take the {bench.project.foundation.name} away from the allowance of {what} and press it; it is laid later like one patch."


def region_cut(region: Polygon, allowance: float) -> Polygon:
    """Return the cutting line of a finished region: ``allowance`` mm outside its outline, corners mitred."""
    return region.buffer(allowance, join_style="mitre", mitre_limit=2.0)
