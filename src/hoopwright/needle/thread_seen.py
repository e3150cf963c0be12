"""Is the thread of a seam stitch seen on the cloths beside its seam? One answer for findings and for screens.

A thread is judged more kindly than a neighbouring cloth: a raised line of satin or of three threads, with its shine and its
shadow, still reads at a difference at which two flat cloths run into each other.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from hoopwright.core.colour import difference, lab_of
from hoopwright.piecing.shapes import PiecedPanel
from hoopwright.plane.subdivision import OUTSIDE
from hoopwright.project.schema import Project

HARDLY: Final = 8.0
"""CIEDE2000 below which a thread hardly shows on a cloth, even if it does on the other one (by eye: straw thread on ochre
cotton, 7.0 apart, is lost)."""

WEAKLY: Final = 12.0
"""CIEDE2000 below which a thread shows too weakly when it does so on both cloths of its seam (by eye)."""


def hardly_seen_on(project: Project, panel: PiecedPanel, thread: str, seam: int) -> Mapping[str, float]:
    """Return the keys of the cloths beside a seam on which a thread is hardly seen, each with the difference CIEDE2000.

    That is so where the thread differs by less than HARDLY from one of two neighbouring cloths, or by less than WEAKLY from both;
    told are then those from which it differs by less than WEAKLY.
    """
    ink = lab_of(project.threads[thread].colour)
    alike: dict[str, float] = {}
    for beside in beside_seam(panel, seam):
        apart = {cloth: difference(ink, lab_of(project.cloths[cloth].colour)) for cloth in beside}
        if apart and (min(apart.values()) < HARDLY or max(apart.values()) < WEAKLY):
            alike |= {cloth: by for cloth, by in apart.items() if by < WEAKLY}
    return {cloth: alike[cloth] for cloth in sorted(alike)}


def beside_seam(panel: PiecedPanel, seam: int) -> tuple[tuple[str, ...], ...]:
    """Return for each part of a seam the keys of the cloths on its two sides."""
    cloths, plane = dict(panel.cloths), panel.map.plane
    lines = [s for s in panel.map.seams if s.number == seam]
    edges = [plane.edges[e] for line in lines for e in plane.chains[line.chain].edges]
    return tuple(tuple(cloths[panel.map.letters[f]] for f in (e.left, e.right) if f != OUTSIDE) for e in edges)
