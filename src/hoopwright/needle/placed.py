"""Stitch files of the maker's own, placed on a panel: bought lettering, a mark.

They are sewn as they are: their blocks, their order, their stitches. Only what would spoil them is asked about.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.colour import difference, lab_of
from hoopwright.core.errors import StitchFileError
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MACHINE_STEP
from hoopwright.core.types import Mm2
from hoopwright.core.words import counted, listed
from hoopwright.needle.placed_file import PlacedBlock, PlacedFile, opened, placed_file
from hoopwright.operations.vocabulary import DrawnStyle, Role, Stitch
from hoopwright.piecing.shapes import Frame
from hoopwright.project.lengths import Units, show_measure
from hoopwright.project.schema import PanelModel, PlacedModel, Project, ThreadModel

SMALLEST: Final = 0.9
LARGEST: Final = 1.1
"""How far a file may be rescaled. Its stitches are not laid anew, only moved: a tenth smaller, and they lie about a quarter
closer on the cloth; a tenth larger, and cloth shows between them (common practice, no source)."""

MOST_STITCHES: Final = 100_000
"""More stitches than any panel takes: at 600 a minute they are almost three hours."""

SEAM_STITCH: Final = "the seam stitch of seam "
"""How a seam stitch is called where something is sewn over it; the number of its seam follows."""

LEAST_OVERLAP: Final[Mm2] = 2.0
"""Footprints that share less only touch."""


def plan_placed(
    panel: PanelModel,
    frame: Frame,
    outline: Polygon,
    taken: Sequence[tuple[str, BaseGeometry]],
    project: Project,
    files: Mapping[str, bytes],
) -> tuple[tuple[Stitch, ...], tuple[Finding, ...]]:
    """Return the blocks of all stitch files placed on a panel, in order, and what the maker should know.

    ``frame`` and ``outline`` are the panel's in the hoop, ``taken`` what is sewn there before, each with its name for the
    maker (for a seam stitch SEAM_STITCH and its seam's number), ``files`` the contents of the files by name. Each block's ``region`` is its footprint.
    """
    blocks: list[Stitch] = []
    findings: list[Finding] = []
    before = list(taken)
    for number, model in enumerate(panel.placed, 1):
        path = f"panel.placed[{number}]"
        said = unusable(model, path, files)
        findings += said
        if said:
            continue
        turn = frame.turn + model.turn
        at = frame.place(model.at)
        file = placed_file(files[model.file], model.file, at, turn, model.mirror, model.scale, project.stitching.lock)
        threads, told = _threads(model, path, file, project.threads)
        findings += [*told, *_in_its_place(file, path, model, outline, project.units)]
        findings += _over_others(file, path, model, before)
        blocks += [_block(model, file, k, thread, project.threads[thread].name) for k, thread in enumerate(threads, 1)]
        before.append((model.file, shapely.union_all([b.footprint for b in file.blocks])))
    return tuple(blocks), tuple(findings)


def unusable(model: PlacedModel, path: str, files: Mapping[str, bytes]) -> list[Finding]:
    """Return why a file, wished at ``path`` of the project file, cannot be placed at all; nothing when it can."""
    if not SMALLEST <= model.scale <= LARGEST:
        return [_rescaled(model, path)]
    if model.file not in files:
        message = f"The stitch file {model.file} is not there"
        return [_fault("HW380", message, "Put it beside the project file", f"{path}.file")]
    try:
        file = opened(files[model.file], model.file)
    except StitchFileError as error:
        return [_fault("HW380", error.message, error.cure, f"{path}.file")]
    if file.count > MOST_STITCHES:
        message = f"{model.file} holds {file.count} stitches; at most {MOST_STITCHES} can be placed on a panel"
        return [_fault("HW382", message, "Place a smaller design, or sew it in a hooping of its own", f"{path}.file")]
    if not any(np.any(row != row[0]) for block in file.blocks for row in block.runs):
        return [_fault("HW380", f"{model.file} holds no stitches", "Check that it is the right file", f"{path}.file")]
    return []


def _rescaled(model: PlacedModel, path: str) -> Finding:
    closer = model.scale < 1.0
    share = abs(1.0 / model.scale**2 - 1.0) * 100.0
    message = (
        f"{model.file} may be made at most a tenth smaller or larger, not {model.scale:g} times: its stitches are only "
        f"moved, so that {'more' if closer else 'fewer'} of them lie on each square millimetre, here by {share:.0f} %"
    )
    result = "they would cut the cloth" if closer else "the cloth would show through"
    cure = f"Write a scale from {SMALLEST:g} to {LARGEST:g}, for {result}; or have the design made in the size you need"
    return _fault("HW381", message, cure, f"{path}.scale")


def _threads(
    model: PlacedModel, path: str, file: PlacedFile, known: Mapping[str, ThreadModel]
) -> tuple[tuple[str, ...], list[Finding]]:
    """Return a thread for every block, and what the maker should know of them."""
    blocks = file.blocks
    threads = threads_of(model, file, known)
    found = []
    if len(model.threads) > len(blocks):
        message = f"{counted(len(model.threads), 'thread')} are named for {model.file}, which has {counted(len(blocks), 'block')}"
        cure = f"Take the last {len(model.threads) - len(blocks)} out, or check that it is the right file"
        found.append(_fault("HW384", message, cure, f"{path}.threads", Severity.WARNS))
    if len(model.threads) < len(blocks):
        found.append(_told(model, path, blocks, threads, known))
    return threads, found


def threads_of(model: PlacedModel, file: PlacedFile, known: Mapping[str, ThreadModel]) -> tuple[str, ...]:
    """Return a thread for every block: the maker's, else the one nearest to the file's colour."""
    proposed = _proposed(file.blocks, known)
    return tuple(model.threads[k] if k < len(model.threads) else p for k, p in enumerate(proposed))


def _proposed(blocks: Sequence[PlacedBlock], known: Mapping[str, ThreadModel]) -> Iterator[str]:
    """Yield the thread nearest to each block's colour; blocks of a file without colours take the threads in turn."""
    names = list(known)
    for k, block in enumerate(blocks):
        if block.colour is None:
            yield names[k % len(names)]
        else:
            wanted = lab_of(block.colour)
            yield min(names, key=lambda n: (difference(wanted, lab_of(known[n].colour)), names.index(n)))


def _told(
    model: PlacedModel,
    path: str,
    blocks: Sequence[PlacedBlock],
    threads: Sequence[str],
    known: Mapping[str, ThreadModel],
) -> Finding:
    first = len(model.threads)
    colours = any(b.colour is not None for b in blocks[first:])
    why = "those nearest to its own colours" if colours else "it tells no colours of its own"
    names = listed(known[t].name for t in threads[first:])
    which = "its blocks are" if not first else f"its blocks from number {first + 1} on are"
    message = f"No threads are named for {model.file}, so {which} sewn in {names}: {why}"
    cure = "Nothing, when that suits; or name them in the order of its blocks: threads = [...]"
    return _fault("HW385", message, cure, f"{path}.threads", Severity.NOTES)


def _in_its_place(
    file: PlacedFile,
    path: str,
    model: PlacedModel,
    outline: Polygon,
    units: Units,
) -> Iterator[Finding]:
    """Find stitches outside the panel, and those that nothing is sewn to."""
    points = np.concatenate([row for block in file.blocks for row in block.rows])
    outside = np.flatnonzero(~shapely.contains_xy(outline, points[:, 0], points[:, 1]))
    if len(outside):
        far = np.asarray(shapely.distance(outline, shapely.points(points[outside])))
        worst = int(np.argmax(far))
        if far[worst] > MACHINE_STEP:
            x, y = points[outside[worst]].tolist()
            message = (
                f"{model.file} reaches {show_measure(float(far[worst]), units)} past the outline of the panel, where its "
                "stitches would be cut off"
            )
            cure = "Move it inwards (at), turn it, or make the panel larger"
            where = Where(path=f"{path}.at", point=(round(x, 1), round(y, 1)))
            yield Finding("HW383", Severity.BLOCKS, message, cure, where)
    if file.lone:
        message = f"{counted(file.lone, 'needle position')} of {model.file} that nothing is sewn to or from {'was' if file.lone == 1 else 'were'} left out"
        yield _fault("HW387", message, "Nothing needs doing", f"{path}.file", Severity.NOTES)


def _over_others(
    file: PlacedFile, path: str, model: PlacedModel, before: Sequence[tuple[str, BaseGeometry]]
) -> Iterator[Finding]:
    """Find what is sewn before and lies under a file."""
    whole = shapely.union_all([b.footprint for b in file.blocks])
    over = [name for name, place in before if whole.intersection(place).area > LEAST_OVERLAP]
    if over:
        at = whole.intersection(
            shapely.union_all([place for name, place in before if name in over])
        ).representative_point()
        message = f"{model.file} is sewn over {listed(gathered(over))}"
        cure = "Move it (at), or leave plain what lies under it, unless you want one over the other"
        where = Where(path=f"{path}.at", point=(round(at.x, 1), round(at.y, 1)))
        yield Finding("HW386", Severity.WARNS, message, cure, where)


def gathered(names: Sequence[str]) -> tuple[str, ...]:
    """Return names of what is sewn, each once, with several seam stitches told as one: "the seam stitches of seams 2 and 4"."""
    seams = sorted({int(name.removeprefix(SEAM_STITCH)) for name in names if name.startswith(SEAM_STITCH)})
    rest = tuple(dict.fromkeys(name for name in names if not name.startswith(SEAM_STITCH)))
    if len(seams) < 2:
        return tuple(dict.fromkeys(names))
    return (f"the seam stitches of seams {listed(seams)}", *rest)


def _block(model: PlacedModel, file: PlacedFile, number: int, thread: str, name: str) -> Stitch:
    block = file.blocks[number - 1]
    many = len(file.blocks) > 1
    title = f"Stitch file {model.file}" + (f", block {number}" if many else "")
    which = (
        f"Block {number} of {len(file.blocks)} of your stitch file {model.file}"
        if many
        else f"Your stitch file {model.file}"
    )
    return Stitch(
        Role.PLACED,
        title,
        thread,
        (),
        DrawnStyle(block.needles, locked=True),
        f"{which} is sewn in {name}.",
        region=block.footprint,
    )


def _fault(code: str, message: str, cure: str, path: str, severity: Severity = Severity.BLOCKS) -> Finding:
    return Finding(code, severity, message, cure, Where(path=path))
