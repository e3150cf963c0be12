"""The estimate of a plan: minutes, metres, cloth."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

from hoopwright.core.types import Mm
from hoopwright.estimate.cloth import cloth_needs
from hoopwright.estimate.shapes import Estimate, StepEstimate, ThreadUse
from hoopwright.estimate.thread import stack_thickness, top_metres
from hoopwright.estimate.time import HandMinutes, MachineTime, hand_minutes, sewing_minutes, step_lengths
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping, Step


@dataclass(frozen=True, slots=True)
class EstimateSettings:
    """What the estimate rests on: ``waste`` of thread (0.15 is 15 %), thickness of the stack in mm (None: reckoned
    from foundation and cloths), minutes of the hands and of the machine.
    """

    waste: float = 0.15
    thickness: Mm | None = None
    hands: HandMinutes = field(default_factory=HandMinutes)
    machine: MachineTime = field(default_factory=MachineTime)


def estimate(plan: Plan, settings: EstimateSettings | None = None) -> Estimate:
    """Return times and needs of a plan.

    ``hands`` of the whole also holds what is done after the last block of each hooping, which belongs to no step, and
    the assembly after the last hooping.
    """
    settings = settings or EstimateSettings()
    steps = tuple(row for hooping in plan.hoopings for row in _hooping(plan, hooping, settings))
    ends = tuple((h.key, hand_minutes(h.after, settings.hands)) for h in plan.hoopings)
    assembly = hand_minutes(plan.making.assembly, settings.hands)
    return Estimate(
        steps=steps,
        threads=_threads(plan, steps),
        cloths=cloth_needs(plan),
        stitches=sum(h.count for h in plan.hoopings),
        machine=sum(s.machine for s in steps),
        hands=sum(s.hands for s in steps) + sum(minutes for _, minutes in ends) + assembly,
        assembly=assembly,
        ends=ends,
    )


def _hooping(plan: Plan, hooping: Hooping, settings: EstimateSettings) -> list[StepEstimate]:
    before = [None, *(s.stitch.thread for s in hooping.steps)]
    return [
        _step(plan, hooping, step, settings, rethread=old != new)
        for step, (old, new) in zip(hooping.steps, pairwise(before), strict=True)
    ]


def _step(plan: Plan, hooping: Hooping, step: Step, settings: EstimateSettings, rethread: bool) -> StepEstimate:
    lengths = step_lengths(step)
    trims = sum(1 for run in step.runs if run.count)
    thickness = stack_thickness(plan.project) if settings.thickness is None else settings.thickness
    return StepEstimate(
        hooping=hooping.key,
        index=step.index,
        machine=sewing_minutes(lengths, step.count, trims, plan.project.machine.speed, settings.machine),
        hands=hand_minutes(step.hands, settings.hands) + (settings.hands.thread if rethread else 0.0),
        thread=top_metres(lengths, thickness, settings.waste),
    )


def _threads(plan: Plan, steps: tuple[StepEstimate, ...]) -> tuple[ThreadUse, ...]:
    """Sum the needle thread by thread, in the project's order; the bobbin takes as much as all of them."""
    used = [step.stitch.thread for hooping in plan.hoopings for step in hooping.steps]
    total = {key: sum(s.thread for s, k in zip(steps, used, strict=True) if k == key) for key in plan.project.threads}
    tops = tuple(ThreadUse(key, metres) for key, metres in total.items() if key in used)
    return (*tops, ThreadUse("bobbin", sum(t.metres for t in tops)))
