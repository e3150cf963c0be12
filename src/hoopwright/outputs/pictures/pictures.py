"""Every picture of a plan, by file name."""

from __future__ import annotations

from collections.abc import Iterator

from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.outputs.drawing.svg import to_svg
from hoopwright.outputs.pictures.finished import finished_png
from hoopwright.outputs.pictures.legend import legend_drawing
from hoopwright.outputs.pictures.steps import hands_drawing, step_svg
from hoopwright.outputs.pictures.vector import finished_svg


def all_pictures(plan: Plan) -> tuple[tuple[str, bytes], ...]:
    """Return (file name, bytes) of the finished panels, the steps of every hooping, and the legend.

    A plan of one panel names it "finished", others "finished-<panel>". A panel that cannot be pieced has no patches
    and no picture. "<hooping>-step-03-hands.svg" shows what hands do at a halt before they lay the next piece; the
    highest step number is the work when all is sewn.
    """
    return tuple(_pictures(plan))


def _pictures(plan: Plan) -> Iterator[tuple[str, bytes]]:
    for panel in plan.panels:
        if panel.patches:
            name = "finished" if len(plan.panels) == 1 else f"finished-{panel.key}"
            yield f"{name}.png", finished_png(plan, panel.key)
            yield f"{name}.svg", finished_svg(plan, panel.key).encode()
    for hooping in plan.hoopings:
        yield from _steps(plan, hooping)
    if plan.hoopings:
        yield "legend.svg", to_svg(legend_drawing()).encode()


def _steps(plan: Plan, hooping: Hooping) -> Iterator[tuple[str, bytes]]:
    for step in hooping.steps:
        hands = hands_drawing(plan, hooping, step.index)
        if hands is not None:
            yield f"{hooping.key}-step-{step.index:02d}-hands.svg", to_svg(hands).encode()
        yield f"{hooping.key}-step-{step.index:02d}.svg", step_svg(plan, hooping, step.index).encode()
    last = len(hooping.steps) + 1
    yield f"{hooping.key}-step-{last:02d}.svg", step_svg(plan, hooping, last).encode()
