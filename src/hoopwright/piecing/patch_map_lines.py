"""Patch maps from lines drawn in no order."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

from shapely.geometry import LineString, Polygon

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import SLIVER
from hoopwright.core.types import Mm, Point
from hoopwright.piecing.patch_map_basics import letter
from hoopwright.piecing.seam_lines import map_with
from hoopwright.piecing.shapes import PatchMap
from hoopwright.plane.healing import Healed, heal
from hoopwright.plane.pieces import mean_width
from hoopwright.plane.strokes import Stroke
from hoopwright.plane.subdivision import Subdivision, bridges, subdivide
from hoopwright.project.lengths import Units, show_measure


def map_from_lines(
    outline: Polygon, strokes: Sequence[Stroke], gap: Mm, path: str, units: Units = "mm"
) -> tuple[PatchMap, tuple[Finding, ...]]:
    """Heal the strokes (mm, the outline's frame) and cut the outline along them.

    Letters and seam numbers follow reading order; ``units`` are those of the sentences. The map is made of what can be used even when a finding blocks.
    """
    healed = heal(outline, strokes, gap)
    curves = [pair for c in healed.curves for pair in itertools.pairwise(c)]
    segments = [*healed.lines, *curves]
    plane = subdivide(outline, segments)
    names = [letter(i) for i in range(len(plane.faces))]
    patches = map_with(outline, plane, names, _numbers(plane))
    findings = (
        *_mended(healed, path, units),
        *_loose(healed, path, units),
        *_idle(bridges(outline, segments), path),
        *_curved(healed, path),
        *_slivers(patches, path),
    )
    return patches, findings


def _numbers(plane: Subdivision) -> dict[int, int]:
    """Number the chains in reading order of their middles."""

    def middle(chain: int) -> tuple[float, float]:
        ends = [plane.vertices[plane.chains[chain].vertices[i]] for i in (0, -1)]
        return (-round(sum(p[1] for p in ends) / 2.0), sum(p[0] for p in ends) / 2.0)

    return {chain: i + 1 for i, chain in enumerate(sorted(range(len(plane.chains)), key=middle))}


def _mended(healed: Healed, path: str, units: Units) -> Iterator[Finding]:
    for mended in healed.mended:
        by = f" (moved by {show_measure(mended.by, units)})" if mended.by else ""
        yield Finding(
            "HW260",
            Severity.NOTES,
            f"In the drawing {mended.what}{by}",
            "Nothing to do when the picture of the panel looks as you meant it",
            Where(path=path, point=mended.point),
        )


def _loose(healed: Healed, path: str, units: Units) -> Iterator[Finding]:
    for loose in healed.loose:
        ahead = "" if loose.ahead is None else f"; the next cut lies {show_measure(loose.ahead, units)} ahead of it"
        yield Finding(
            "HW261",
            Severity.BLOCKS,
            f"A cut ends in the middle of a patch{ahead}",
            "Draw it on to the next cut or the outline, or take it away",
            Where(path=path, point=loose.point),
        )


def _idle(lines: Sequence[LineString], path: str) -> Iterator[Finding]:
    for line in lines:
        at = line.interpolate(0.5, normalized=True)
        yield Finding(
            "HW264",
            Severity.BLOCKS,
            "A cut has the same patch on both sides, so that it parts nothing",
            "Take it out, or draw what it leads to on to the outline",
            Where(path=path, point=(float(at.x), float(at.y))),
        )


def _curved(healed: Healed, path: str) -> Iterator[Finding]:
    for curve in healed.curves:
        yield Finding(
            "HW262",
            Severity.BLOCKS,
            "A curved line inside the outline cannot be one seam: a patch is flipped open over a straight line",
            "Draw it straight, or as two or three straight lines",
            Where(path=path, point=_middle(curve)),
        )


def _middle(curve: Sequence[Point]) -> Point:
    return curve[len(curve) // 2]


def _slivers(patches: PatchMap, path: str) -> Iterator[Finding]:
    for name, face in zip(patches.letters, patches.plane.faces, strict=True):
        if mean_width([(x, y) for x, y in face.exterior.coords[:-1]]) < SLIVER:
            at = face.representative_point()
            yield Finding(
                "HW263",
                Severity.BLOCKS,
                f"Patch {name} is a sliver of {face.area:.2f} mm², too narrow to sew",
                "Move the lines beside it apart, or draw them as one; a larger gap also joins them",
                Where(path=path, patch=name, point=(float(at.x), float(at.y))),
            )
