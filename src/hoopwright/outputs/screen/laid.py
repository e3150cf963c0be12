"""What is laid or sewn on a panel, one by one, as a screen draws and moves it: letters, stitch files, accents.

Words: a *row* is one of them. It is drawn about its own middle, upright, so that a screen may move and turn it without asking:
``at`` (hoop, mm) and ``turn`` (degrees) say where the drawing goes; ``box`` is its width and height, ``rings`` its outline by
the even-odd rule, ``stitches`` its runs by colour, in whole hundredths of a mm. One that cannot be sewn has a box, no stitches, and is not
``sound``; for a stitch file its ``blocks`` tell the colours of the file and the threads that sew them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any, Final

import numpy as np
import shapely
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from hoopwright.core.types import Mm, Points
from hoopwright.items.plan import Plan
from hoopwright.needle.accents.sew import sewn_accent
from hoopwright.needle.accents.shapes import AccentWish
from hoopwright.needle.accents.wishes import wish_faults, wish_of
from hoopwright.needle.lettering.plan import Asked, lettering_stitch, plan_letters
from hoopwright.needle.placed import threads_of, unusable
from hoopwright.needle.placed_file import placed_file
from hoopwright.needle.sewing import sew
from hoopwright.outputs.pictures.inks import thread_paint
from hoopwright.outputs.screen.places import PLACES, hundredths, rings
from hoopwright.piecing.shapes import PiecedPanel
from hoopwright.project.schema import AccentModel, LetteringModel, MachineModel, PlacedModel, StitchingModel

MOST_DRAWN: Final = 60_000
"""Needle positions sent with a draft; what goes beyond is shown as an outline."""
UNKNOWN: Final[tuple[Mm, Mm]] = (30.0, 30.0)
"""The box of a stitch file that cannot be read."""
LINE: Final[Mm] = 12.0
"""The height of a line of letters that cannot be sewn, in its box."""

Runs = tuple[Points, ...]


def laid(plan: Plan, panel: PiecedPanel, files: Mapping[str, bytes]) -> list[dict[str, Any]]:
    """Return the rows of a panel, as plain data, in the order of the project file; ``files`` are those it names."""
    found, left = [], MOST_DRAWN
    for row in _rows(plan, panel, files):
        left -= sum(len(run) for _, runs in row["stitches"] for run in runs)
        shown = row["stitches"] if left >= 0 else ()
        row["stitches"] = [{"colour": c, "runs": [hundredths(r) for r in runs]} for c, runs in shown if runs]
        found.append(row)
    return found


def _rows(plan: Plan, panel: PiecedPanel, files: Mapping[str, bytes]) -> Iterator[dict[str, Any]]:
    model, frame = plan.project.panel, panel.frame
    groups: tuple[tuple[str, tuple[Any, ...]], ...] = (
        ("lettering", model.lettering),
        ("placed", model.placed),
        ("accents", model.accents),
    )
    for kind, models in groups:
        for number, one in enumerate(models, 1):
            x, y = frame.place(one.at)
            place = {"at": [round(x, PLACES), round(y, PLACES)], "turn": one.turn + frame.turn}
            yield {"kind": kind, "number": number, **place, **_drawn(plan, one, files)}


def _drawn(plan: Plan, one: LetteringModel | PlacedModel | AccentModel, files: Mapping[str, bytes]) -> dict[str, Any]:
    match one:
        case LetteringModel():
            return _letters(plan, one, files)
        case PlacedModel():
            return _placed(plan, one, files)
        case _:
            return _accent(plan, one)


def _letters(plan: Plan, model: LetteringModel, files: Mapping[str, bytes]) -> dict[str, Any]:
    font = None if model.font is None else files.get(model.font, b"")
    asked = Asked(
        model.lines, model.width, model.height, model.capitals, model.align, font, (0.0, 0.0), 0.0, "panel.lettering"
    )
    shape, runs = _lettered(asked, plan.project.stitching, plan.project.machine)
    high = 0.0 if shape is None else shape.bounds[3] - shape.bounds[1]
    size = model.width, max(high, model.height or 0.0) or LINE * len(model.lines)
    ink = thread_paint(plan, model.thread or next(iter(plan.project.threads)))
    return _row(size, shape, ((ink, runs),))


@lru_cache(maxsize=64)
def _lettered(asked: Asked, stitching: StitchingModel, machine: MachineModel) -> tuple[BaseGeometry | None, Runs]:
    """Return the box that letters fill and their runs; kept, so that letters that are only moved are sewn once."""
    lettered, _ = plan_letters(asked, "mm")
    if lettered is None:
        return None, ()
    return lettered.box, tuple(run.points for run in sew(lettering_stitch(lettered, ""), stitching, machine))


def _placed(plan: Plan, model: PlacedModel, files: Mapping[str, bytes]) -> dict[str, Any]:
    if unusable(model, "panel.placed", files):
        return {**_row(UNKNOWN, None, ()), "blocks": []}
    lock = plan.project.stitching.lock
    file = placed_file(files[model.file], model.file, (0.0, 0.0), 0.0, model.mirror, model.scale, lock)
    threads = threads_of(model, file, plan.project.threads)
    drawn = tuple((thread_paint(plan, t), b.rows) for t, b in zip(threads, file.blocks, strict=True))
    points = np.abs(np.concatenate([row for block in file.blocks for row in block.rows]))
    wide, high = (2.0 * points.max(axis=0)).tolist()
    blocks = [{"colour": b.colour, "thread": t} for b, t in zip(file.blocks, threads, strict=True)]
    shape = shapely.union_all([b.footprint for b in file.blocks])
    return {**_row((wide, high), shape, drawn), "blocks": blocks}


def _accent(plan: Plan, model: AccentModel) -> dict[str, Any]:
    wish = wish_of(model)
    if wish_faults(wish, "panel.accents", "mm"):
        return _row((model.size, model.size), None, ())
    shape, points = _laced(wish, plan.project.machine.shortest_stitch)
    left, low, right, high = shape.bounds
    ink = thread_paint(plan, model.thread or next(iter(plan.project.threads)))
    return _row((right - left, high - low), shape, ((ink, (points,)),))


def _laced(wish: AccentWish, shortest: Mm) -> tuple[BaseGeometry, Points]:
    accent = sewn_accent(wish, shortest)
    return accent.outline, accent.points


def _row(size: tuple[Mm, Mm], shape: BaseGeometry | None, stitches: tuple[tuple[str, Runs], ...]) -> dict[str, Any]:
    wide, high = size
    outline = box(-wide / 2.0, -high / 2.0, wide / 2.0, high / 2.0) if shape is None else shape
    return {
        "box": [round(wide, 2), round(high, 2)],
        "rings": rings(outline),
        "stitches": stitches,
        "sound": shape is not None,
    }
