"""What the maker must have before the first stitch."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

from hoopwright.build import Build
from hoopwright.catalog.kinds import FileKind, kind_named
from hoopwright.core.types import Mm
from hoopwright.core.words import counted, listed
from hoopwright.estimate.cloth import cutting_sheets
from hoopwright.estimate.shapes import ClothNeed, ThreadUse
from hoopwright.items.parts.accents import FILM, NET
from hoopwright.items.plan import Plan
from hoopwright.operations.vocabulary import Close, HandWork, Hoop, Role, Turn
from hoopwright.outputs.booklet.wording import thread_length
from hoopwright.outputs.naming import hooping_title
from hoopwright.project.lengths import INCH, Units, rounded_up, show_length, show_size
from hoopwright.project.schema import Project

THICK_TEX = 40.0
"""Threads thicker than this want a larger eye (common practice, no source)."""

HELD: Mm = 25.0
"""The hoop holds the foundation this far outside its field on every side (common practice, no source)."""

NEEDLE = "a fresh embroidery needle, size 75/11"
THICK_NEEDLE = "a fresh embroidery needle, size 90/14: one of the threads is thick"


KINDS = {"lining": "lining", "stiffener": "stiffener", "ribbon": "ribbon", "zip": "zip"}
"""What stands below the name of what is no patchwork cloth."""


def hand_work(plan: Plan) -> tuple[HandWork, ...]:
    """Return all handwork of a plan: at the halts, after each hooping, and the assembly."""
    at_halts = [h for hooping in plan.hoopings for step in hooping.steps for h in step.hands]
    return (*at_halts, *(h for hooping in plan.hoopings for h in hooping.after), *plan.making.assembly)


def materials(build: Build) -> dict[str, object]:
    """Return foundation, cloths, threads and tools."""
    project, (width, height) = build.plan.project, build.plan.field
    sheets = cutting_sheets(build.plan)
    return {
        "hooped": _hooped(build.plan),
        "hoop": f"a hoop with a field of {show_size(width, height, project.units)}",
        "lace": any(s.stitch.role is Role.ACCENT for h in build.plan.hoopings for s in h.steps),
        "cloths": [_cloth(project, n, sum(s.cloth == n.cloth for s in sheets)) for n in build.estimate.cloths],
        "threads": [_thread(project, use) for use in build.estimate.threads],
        "tools": _tools(build),
    }


def _hooped(plan: Plan) -> list[dict[str, object]]:
    """Return what is hooped and for how many hoopings; a hooping that says nothing takes the project's foundation."""
    usual = tuple(n for n in (plan.project.foundation.name, plan.project.foundation.batting) if n)
    counts: dict[tuple[str, ...], int] = {}
    for hooping in plan.hoopings:
        hoops = (h for step in hooping.steps for h in step.hands if isinstance(h, Hoop))
        layers = next((h.layers for h in hoops), usual)
        counts[layers] = counts.get(layers, 0) + 1
    sheet = _sheet(*plan.field, plan.project.units)
    return [_sheets(_layers(layers), count, sheet) for layers, count in (counts or {usual: 0}).items()]


def _sheets(layers: list[str], count: int, sheet: str) -> dict[str, object]:
    """Return in words what is hooped for ``count`` hoopings, and what to do when it is two layers."""
    each = "a piece" if count == 1 else "a piece each"
    return {
        "layers": layers,
        "hoopings": counted(count, "hooping"),
        "said": f"{', with '.join(layers)}: for {counted(count, 'hooping')} {each} of about {sheet}, which the hoop holds all round",
        "both": f"Hoop both together, {layers[1]} on top." if len(layers) > 1 else "",
    }


def _layers(layers: tuple[str, ...]) -> list[str]:
    """Return the layers, equal ones that lie on each other together."""
    return [n if layers.count(n) == 1 else f"{layers.count(n)} layers of {n}" for n in dict.fromkeys(layers)]


def _sheet(width: Mm, height: Mm, units: Units) -> str:
    """Return the size of foundation for a hooping, rounded up to whole centimetres or half inches."""
    step = INCH / 2 if units == "in" else 10.0
    across, along = (math.ceil((side + 2 * HELD) / step) * step for side in (width, height))
    return show_size(across, along, units)


def _cloth(project: Project, need: ClothNeed, sheets: int) -> dict[str, object]:
    cloth = project.cloths[need.cloth]
    note = "has an up: keep the arrows on the templates pointing the same way" if cloth.has_up else ""
    note = note or KINDS.get(cloth.kind, "")
    note += ", as one sheet for its cutting lines" if sheets == 1 else ""
    return {
        "name": cloth.name,
        "colour": cloth.colour,
        "pieces": counted(need.pieces, "zip" if cloth.kind == "zip" else "piece"),
        "amount": _amount(cloth.kind, need, project.units),
        "note": note,
    }


def _amount(kind: str, need: ClothNeed, units: Units) -> str:
    """Return how much is needed, never rounded down: of cloth the strip that holds its pieces, of ribbon and zips the length."""
    width, length = rounded_up(need.width, units), rounded_up(need.length, units)
    if kind == "ribbon":
        return f"{show_length(length, units)}, {show_length(need.width, units)} wide"
    if kind == "zip":
        return f"at least {show_length(length, units)} long"
    return show_size(width, length, units)


def _thread(project: Project, use: ThreadUse) -> dict[str, object]:
    length = thread_length(use.metres, project.units)
    if use.thread not in project.threads:
        return {"name": f"{use.thread} thread", "colour": None, "length": length}
    thread = project.threads[use.thread]
    return {"name": thread.name, "colour": thread.colour, "length": length}


def _tools(build: Build) -> list[str]:
    project = build.plan.project
    work = hand_work(build.plan)
    thick = any(t.tex > THICK_TEX for t in project.threads.values())
    allowance = show_length(project.piecing.allowance, project.units)
    cloth = bool(build.plan.panels or build.plan.making.pieces)
    templates = cloth and project.piecing.cut != "rough"
    return [
        THICK_NEEDLE if thick else NEEDLE,
        "small scissors with curved or flat points, for trimming in the hoop",
        "paper tape that comes off without a trace",
        *(["a seam roller or your finger nail, and an iron for the end"] if cloth else []),
        *([f"a ruler, for allowances of {allowance}"] if cloth else []),
        *(["paper, scissors for paper, and a pencil or chalk to trace the templates"] if templates else []),
        *(["something blunt and slim to push corners out"] if any(isinstance(h, Turn) for h in work) else []),
        *(["a hand sewing needle"] if any(isinstance(h, Close) for h in work) else []),
        *_for_lace(work),
    ]


def _for_lace(work: tuple[HandWork, ...]) -> list[str]:
    """Return what takes the base of accents away."""
    layers = {n for h in work if isinstance(h, Hoop) for n in h.layers}
    return [
        *(["a bowl of hand-warm water, and a towel to dry the accents on"] if FILM in layers else []),
        *(["a hot tool, a plate of glass or ceramic, and water within reach"] if NET in layers else []),
    ]


def machine_files(build: Build) -> list[dict[str, object]]:
    """Return for every hooping which file belongs to it, one name for each kind of machine."""
    kinds = build.plan.project.machine.kinds
    return [
        {"title": hooping_title(build.plan, h), "files": [f"{h.key}{kind_named(k).ending}" for k in kinds]}
        for h in build.plan.hoopings
    ]


SEVERAL: Final = (
    "A machine with several needles sews on through a change of colour, over your hands: set it to stop at each colour "
    "change, and try it once without cloth. On any machine switch off colour sorting and the joining of equal colours: they "
    "would take halts away."
)
"""The warning of docs/machine-files.md."""

SHADES: Final = "a new shade of the same thread is only there so that the machine halts"

COLOURS: Final = {
    "none": "Tells only that the thread changes: the machine shows colours of its own.",
    "exact": f"Keeps the colours of your threads, but for neighbouring blocks that share one: {SHADES}.",
    "both": f"Keeps the colours of your threads, but for neighbouring blocks that share one: {SHADES}. Older machines show the nearest of a fixed list.",
    "palette": f"Shows the nearest of a fixed list of colours; where neighbouring blocks share a thread, {SHADES}.",
    "needles": "Gives needle numbers; where neighbouring blocks share a thread, another number is only there so that the machine halts.",
}
"""What a kind of stitch file does with colours."""


def kind_notes(project: Project) -> list[dict[str, str]]:
    """Return what the kinds of stitch file do with colours, kinds that do the same together."""
    kinds = [kind_named(k) for k in project.machine.kinds]
    notes = dict.fromkeys(COLOURS[k.colours] for k in kinds)
    return [{"kind": _endings(k for k in kinds if COLOURS[k.colours] == note), "note": note} for note in notes]


def at_the_machine(project: Project) -> list[str]:
    """Return what must be known at the machine: stopping at colours, and where the hoop goes at halts, kind by kind."""
    if project.machine.halt_at == "stay":
        return [SEVERAL]
    kinds = [kind_named(k) for k in project.machine.kinds]
    moves, stays = _endings(k for k in kinds if k.waits), _endings(k for k in kinds if not k.waits)
    where = "comes forward" if project.machine.halt_at == "front" else "goes aside"
    told = f"At a halt for your hands the hoop {where} by itself and goes back before it sews on: keep clear of it"
    if not moves:
        return [SEVERAL, f"The hoop stays where it is at a halt: {stays} cannot move it. Use the machine's own keys."]
    return [SEVERAL, f"{told}. With {stays} it stays where it is." if stays else f"{told}."]


def _endings(kinds: Iterable[FileKind]) -> str:
    return listed(k.ending for k in kinds)
