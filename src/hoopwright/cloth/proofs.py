"""The proofs of a pieced panel, carried out on its stack."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from hoopwright.cloth.holding import free_of_others, held_by_its_seam
from hoopwright.cloth.showing import cloth_to_spare, covers_its_area, no_raw_edge_shows, right_side_up
from hoopwright.cloth.thick import under_the_foot
from hoopwright.cloth.trial import Fault, Trial, trial_of
from hoopwright.core.findings import Finding
from hoopwright.needle.shapes import Hooping
from hoopwright.piecing.shapes import PiecedPanel
from hoopwright.project.schema import Project

Proof = Callable[[Trial], tuple[Fault, ...]]

PROOFS: Final[tuple[Proof, ...]] = (
    held_by_its_seam,
    free_of_others,
    right_side_up,
    covers_its_area,
    cloth_to_spare,
    no_raw_edge_shows,
    under_the_foot,
)


def prove_panel(panel: PiecedPanel, hooping: Hooping, project: Project) -> tuple[Finding, ...]:
    """Return what is wrong with one hooping of a pieced panel, found by carrying it out on the sheet stack.

    What only follows from another fault of the same patches is left out.
    """
    trial = trial_of(panel, hooping, project)
    faults = [fault for proof in PROOFS for fault in proof(trial)]
    roots = {sheet for fault in faults if not fault.follows for sheet in fault.sheets}
    return tuple(f.finding for f in faults if not (f.follows and roots & set(f.sheets)))
