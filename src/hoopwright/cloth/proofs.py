"""The proofs of a pieced panel, carried out on its stack."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from hoopwright.cloth.crossings import decoration_lies_flat
from hoopwright.cloth.holding import free_of_others, held_by_its_seam
from hoopwright.cloth.replay import Undone
from hoopwright.cloth.sheet_error import in_words
from hoopwright.cloth.showing import cloth_to_spare, covers_its_area, no_raw_edge_shows, right_side_up
from hoopwright.cloth.thick import under_the_foot
from hoopwright.cloth.trial import Fault, Trial, trial_of
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.needle.shapes import Hooping
from hoopwright.piecing.shapes import PiecedPanel
from hoopwright.project.schema import Project


def can_be_done(trial: Trial) -> tuple[Fault, ...]:
    """HW530: hand work that cannot be done, such as turning through an opening that is sewn shut."""
    return tuple(_not_done(trial, undone) for undone in trial.undone)


def _not_done(trial: Trial, undone: Undone) -> Fault:
    told = undone.hand.sentence.rstrip(".")
    where = Where(operation=min(undone.step, len(trial.hooping.steps)), hooping=trial.hooping.key)
    message = f"What the hands are told cannot be done (“{told}”): {in_words(undone.error, trial.name)}"
    return Fault(Finding("HW530", Severity.BLOCKS, message, f"{undone.error.cure}.", where), ())


Proof = Callable[[Trial], tuple[Fault, ...]]

PROOFS: Final[tuple[Proof, ...]] = (
    can_be_done,
    held_by_its_seam,
    free_of_others,
    right_side_up,
    covers_its_area,
    cloth_to_spare,
    no_raw_edge_shows,
    under_the_foot,
    decoration_lies_flat,
)


def prove_panel(panel: PiecedPanel, hooping: Hooping, project: Project) -> tuple[Finding, ...]:
    """Return what is wrong with one hooping of a pieced panel, found by carrying it out on the sheet stack.

    What only follows from another fault of the same patches is left out.
    """
    trial = trial_of(panel, hooping, project)
    faults = [fault for proof in PROOFS for fault in proof(trial)]
    roots = {sheet for fault in faults if not fault.follows for sheet in fault.sheets}
    return tuple(f.finding for f in faults if not (f.follows and roots & set(f.sheets)))
