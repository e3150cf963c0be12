"""Every picture of a plan, by file name."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.outputs.drawing.shapes import Drawing
from hoopwright.outputs.drawing.svg import to_svg
from hoopwright.outputs.pictures.finished import finished_png
from hoopwright.outputs.pictures.finished_lace import finished_lace_png, lace_strands
from hoopwright.outputs.pictures.legend import legend_drawing
from hoopwright.outputs.pictures.stamp import stamped, stamped_png
from hoopwright.outputs.pictures.steps import hands_drawing, lay_drawings, step_drawing
from hoopwright.outputs.pictures.turned import turned_drawings
from hoopwright.outputs.pictures.vector import finished_drawing
from hoopwright.outputs.saying import saying, titled

LEGEND: Final = "legend"
"""Name of the picture that explains the signs."""


def all_pictures(plan: Plan, *, blocked: bool = False) -> tuple[tuple[str, bytes], ...]:
    """Return (file name, bytes) of the finished panels, the steps of every hooping, and the legend.

    Every picture of a blocked plan carries a warning, but not the legend, which shows no work.

    Accents that are made for themselves are shown in "finished.png". A plan of one panel names it "finished", others "finished-<panel>". A panel that cannot be pieced has no patches
    and no picture. "<hooping>-step-03-hands.svg" shows what hands do at a halt before they lay the next piece,
    "<hooping>-step-03-lay-1.svg" the first of several pieces laid at one halt; the highest step number is the work
    when all is sewn. "<hooping>-turned-front.svg" and "-back.svg" show a turned item from both sides.
    """
    drawings = ((f"{name}.svg", _svg(plan, d, blocked=blocked and name != LEGEND)) for name, d in _drawings(plan))
    return (*_photographs(plan, blocked), *drawings)


def step_pictures(plan: Plan, hooping: Hooping, *, blocked: bool = False) -> Iterator[tuple[str, bytes]]:
    """Yield (file name, SVG) of every picture of a hooping's halts, named as by ``all_pictures``."""
    for name, drawing in _steps(plan, hooping):
        yield f"{name}.svg", _svg(plan, drawing, blocked=blocked)


def turned_pictures(plan: Plan, *, blocked: bool = False) -> Iterator[tuple[str, bytes]]:
    """Yield (file name, SVG) of the pictures of the turned item, named as by ``all_pictures``."""
    for name, drawing in turned_drawings(plan):
        yield f"{name}.svg", _svg(plan, drawing, blocked=blocked)


def _svg(plan: Plan, drawing: Drawing, *, blocked: bool) -> bytes:
    """Return a drawing as SVG, its words in the project's language."""
    say = saying(plan.project)
    return to_svg(titled(stamped(drawing, say) if blocked else drawing, say)).encode()


def _photographs(plan: Plan, blocked: bool) -> Iterator[tuple[str, bytes]]:
    for name, key in _finished(plan):
        data = finished_png(plan, key)
        yield f"{name}.png", stamped_png(data, saying(plan.project)) if blocked else data
    if lace_strands(plan):
        lace = finished_lace_png(plan)
        yield "finished.png", stamped_png(lace, saying(plan.project)) if blocked else lace


def _finished(plan: Plan) -> Iterator[tuple[str, str]]:
    """Return (picture name, panel key) of every panel that can be pieced."""
    for panel in plan.panels:
        if panel.patches:
            yield "finished" if len(plan.panels) == 1 else f"finished-{panel.key}", panel.key


def _drawings(plan: Plan) -> Iterator[tuple[str, Drawing]]:
    for name, key in _finished(plan):
        yield name, finished_drawing(plan, key)
    for hooping in plan.hoopings:
        yield from _steps(plan, hooping)
    yield from turned_drawings(plan)
    if plan.hoopings:
        yield LEGEND, legend_drawing(pieces=bool(plan.making.pieces), say=saying(plan.project))


def _steps(plan: Plan, hooping: Hooping) -> Iterator[tuple[str, Drawing]]:
    for index in range(1, len(hooping.steps) + 2):
        name = f"{hooping.key}-step-{index:02d}"
        hands = hands_drawing(plan, hooping, index)
        if hands is not None:
            yield f"{name}-hands", hands
        for k, lay in enumerate(lay_drawings(plan, hooping, index), start=1):
            yield f"{name}-lay-{k}", lay
        yield name, step_drawing(plan, hooping, index)
