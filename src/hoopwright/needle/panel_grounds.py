"""Which ground fills which part of a panel.

Words: what is sewn or laid on a panel has a *footprint*, which the grounds leave free; the *band* of a seam stitch is
its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import shapely
from shapely.geometry import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.errors import GeometryError
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import LEAST_OUTLINE_AREA
from hoopwright.core.types import Mm
from hoopwright.core.words import listed
from hoopwright.needle.grounds import drawing
from hoopwright.needle.grounds.motif_file import motif_lines
from hoopwright.needle.grounds.shapes import GroundWish
from hoopwright.needle.grounds.table import GROUNDS, PLAIN
from hoopwright.needle.ornaments import Ornament
from hoopwright.operations.vocabulary import GroundStyle, Role, Stitch
from hoopwright.piecing.shapes import PatchMap
from hoopwright.project.lengths import Units, show_measure
from hoopwright.project.problems import offer
from hoopwright.project.schema import GroundModel, PanelModel

DRAWN = frozenset(ground.name for ground in drawing.GROUNDS)
"""The kinds of a ground that repeat the maker's own motif."""


def plan_grounds(
    patches: PatchMap,
    panel: PanelModel,
    taken: Sequence[BaseGeometry],
    run: Mm,
    files: Mapping[str, bytes],
    units: Units = "mm",
) -> tuple[tuple[Stitch, ...], tuple[Finding, ...]]:
    """Return the blocks that quilt a panel, the large one first, and what the maker should know.

    ``taken`` are the footprints of what is sewn or laid on the panel, ``run`` the stitch length, ``files`` the contents of
    the motifs by name. A thread left out is "" and means the project's first.
    """
    blocks: list[Stitch] = []
    findings: list[Finding] = []
    for path, model, region, where in _wanted(patches, panel):
        said = ground_faults(model, path, files, units)
        findings += said
        if model.kind == PLAIN or any(f.severity is Severity.BLOCKS for f in said):
            continue
        free = _areas(region.difference(shapely.union_all(list(taken))) if taken else region)
        if free is None:
            findings.append(_no_room(path, where))
            continue
        lines = tuple(seam.line for seam in patches.seams)
        blocks.append(ground_block(model, free, f"Ground of {where}", run, files, along=lines))
        findings += motif_said(blocks[-1], f"{path}.file", units)
    return tuple(blocks), (*_unknown_patches(patches, panel), *findings)


def band(ornament: Ornament) -> BaseGeometry:
    """Return the place a seam stitch takes."""
    return ornament.path.buffer(ornament.style.width / 2.0, cap_style="flat")


def ground_block(
    model: GroundModel,
    region: Polygon | MultiPolygon,
    title: str,
    run: Mm,
    files: Mapping[str, bytes],
    along: tuple[LineString, ...] = (),
) -> Stitch:
    """Return the block that fills ``region`` with a ground that has no blocking faults; its thread is "" when none is named."""
    ground = GROUNDS[model.kind]
    spacing = ground.spacing if model.spacing is None else max(model.spacing, ground.least_spacing)
    motif = motif_lines(files[model.file], model.file) if model.file is not None and model.kind in DRAWN else ()
    style = GroundStyle(model.kind, spacing, model.margin, model.angle, model.seed, run, model.times, motif)
    sentence = f"{ground.title} quilts the cloth: {ground.description[:1].lower()}{ground.description[1:]}"
    return Stitch(Role.GROUND, title, model.thread or "", (), style, sentence, region=region, along=along)


def motif_said(block: Stitch, path: str, units: Units) -> tuple[Finding, ...]:
    """Return what the maker should know about her own motif in a block that repeats it."""
    style = block.style
    if not isinstance(style, GroundStyle) or block.region is None or not style.motif:
        return ()
    wish = GroundWish(style.spacing, style.angle or 0.0, style.seed, style.motif)
    inner = block.region.buffer(-style.margin, join_style="mitre")
    return drawing.drawing_findings(inner, wish, Where(path=path), units)


def ground_faults(model: GroundModel, path: str, files: Mapping[str, bytes], units: Units) -> tuple[Finding, ...]:
    """Return what is wrong with the wish for a ground that stands at ``path`` of the project file."""
    if model.kind == PLAIN:
        return ()
    if model.kind not in GROUNDS:
        offered = offer(model.kind, tuple(GROUNDS), "Choose one of docs/grounds.md")
        cure = f'{offered}{"" if offered.endswith("?") else "."} "{PLAIN}" leaves the cloth plain'
        return (_fault("HW391", f'There is no ground called "{model.kind}"', cure, f"{path}.kind"),)
    if model.kind in DRAWN and (model.file is None or model.file not in files):
        message = f'A ground of the kind "{model.kind}" repeats a motif of your own, and no file is named'
        return (_fault("HW392", message, 'Name its SVG file: file = "motif.svg"', f"{path}.file"),)
    if model.kind in DRAWN and model.file is not None and (fault := _motif_fault(files[model.file], model.file, path)):
        return (fault,)
    least = GROUNDS[model.kind].least_spacing
    if model.spacing is not None and model.spacing < least:
        shown, title = show_measure(least, units), GROUNDS[model.kind].title
        message = f"{title} is not sewn closer than {shown}, or the needle would cut the cloth: {shown} is taken"
        return (_fault("HW393", message, f"Write {shown} or more", f"{path}.spacing", Severity.WARNS),)
    return ()


def _motif_fault(data: bytes, name: str, path: str) -> Finding | None:
    """Return why the drawing of a motif cannot be used."""
    try:
        lines = motif_lines(data, name)
    except GeometryError as error:
        return _fault("HW396", error.message, error.cure, f"{path}.file")
    if lines:
        return None
    return _fault(
        "HW396", f"The drawing {name} has no line", "Draw the motif with lines and save it again", f"{path}.file"
    )


def _wanted(patches: PatchMap, panel: PanelModel) -> Iterator[tuple[str, GroundModel, BaseGeometry, str]]:
    """Yield each ground with its place in the project file, its region and the region's name."""
    own = {letter: model for letter, model in panel.grounds.items() if letter in patches.letters}
    rest = patches.outline.difference(shapely.union_all([patches.polygon(x) for x in own])) if own else patches.outline
    yield "panel.ground", panel.ground, rest, "the panel"
    for letter, model in own.items():
        yield f"panel.grounds.{letter}", model, patches.polygon(letter), f"patch {letter}"


def _areas(shape: BaseGeometry) -> Polygon | MultiPolygon | None:
    """Return the pieces of a shape that are large enough to be filled; None when there is none."""
    pieces = [p for p in shapely.get_parts(shape) if isinstance(p, Polygon) and p.area >= LEAST_OUTLINE_AREA]
    if not pieces:
        return None
    return pieces[0] if len(pieces) == 1 else MultiPolygon(pieces)


def _unknown_patches(patches: PatchMap, panel: PanelModel) -> Iterator[Finding]:
    for letter in panel.grounds:
        if letter not in patches.letters:
            message = f"A ground is given for patch {letter}, but the patchwork has no such patch"
            cure = f"Use one of its letters: {listed(patches.letters)}"
            yield _fault("HW394", message, cure, f"panel.grounds.{letter}", Severity.WARNS)


def _no_room(path: str, where: str) -> Finding:
    message = f"No ground is sewn on {where}: seam stitches and what is placed there leave no room"
    return _fault("HW395", message, "Nothing needs doing, or take something off it", path, Severity.NOTES)


def _fault(code: str, message: str, cure: str, path: str, severity: Severity = Severity.BLOCKS) -> Finding:
    return Finding(code, severity, message, cure, Where(path=path))
