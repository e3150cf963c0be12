"""The halts of a hooping as they are followed at the machine, one card after the other, as plain data.

Words: a *card* is what is looked at together: one move of the hands with its picture, and with the last move of a halt what
is sewn then; seam stitches that run on without a halt share a card. A card's *place* names it within its hooping, and stays the
same while the order of the blocks does. Sentences are the plan's own; everything else travels as codes and numbers, so that a
screen can put it in the maker's words.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from hoopwright.build import Build
from hoopwright.catalog.kinds import kind_named
from hoopwright.core.types import Minutes
from hoopwright.estimate.time import HandMinutes, hand_minutes
from hoopwright.items.parts.accents import FILM, NET
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import HandWork, Hoop, Lay, Press, Release, Side, Trim
from hoopwright.outputs.booklet.assembly import METAL, UNDER, cautions
from hoopwright.outputs.booklet.halts import (
    FOLDED,
    GATHERED,
    Bench,
    bench_of,
    grouped,
    last_moves,
    moves,
    past_seam,
    seam_words,
    thread_change,
    way_up,
    what_lies,
)
from hoopwright.outputs.booklet.pictures import step_file
from hoopwright.outputs.booklet.sizes import opening_words
from hoopwright.outputs.booklet.wording import sentence
from hoopwright.outputs.naming import hooping_title, name_of
from hoopwright.outputs.pictures.inks import thread_paint
from hoopwright.outputs.pictures.pictures import step_pictures, turned_pictures

ASSEMBLY: Final = "assembly"
"""The place of the card after the last hooping."""
WARM: Final = ("iron", "hot ", "warm")
"""Words in a sentence that speak of heat."""
BLADES: Final = ("rotary", "cut ", "trim", "notch", "clip")
"""Words in a sentence, once the work is out of the hoop, that speak of blades."""


@dataclass(frozen=True, slots=True, eq=False)
class HaltSheet:
    """One hooping to follow at the machine: its data, and its pictures (SVG) by file name."""

    key: str
    row: dict[str, Any]
    pictures: Mapping[str, bytes]


def halt_sheets(build: Build) -> tuple[HaltSheet, ...]:
    """Return the cards of every hooping of a build, in the order of sewing; the assembly belongs to the last one."""
    return tuple(_sheet(build, h) for h in build.plan.hoopings)


def _sheet(build: Build, hooping: Hooping) -> HaltSheet:
    plan, last = build.plan, hooping is build.plan.hoopings[-1]
    pictures = dict(step_pictures(plan, hooping, blocked=build.blocked))
    turned = dict(turned_pictures(plan, blocked=build.blocked)) if last else {}
    bench = bench_of(build, hooping, pictures)
    halts = 0
    cards: list[dict[str, Any]] = []
    for group in grouped(hooping.steps):
        halts += group[0].halt
        cards += [{"halt": halts, **c} for c in _group(plan, bench, group)]
    shown = last_moves(bench)
    cards += [
        {"halt": halts, **_card(plan, bench, f"end-{k}", hands, (), file, k, len(shown)), "group": "end"}
        for k, (hands, file) in enumerate(shown, start=1)
    ]
    if last and plan.making.assembly:
        cards.append({"halt": halts, **_assembly(build, bench, tuple(turned))})
    row = {
        "key": hooping.key,
        "title": hooping_title(plan, hooping),
        "colours": len(hooping.steps),
        "halts": halts,
        "files": [f"{hooping.key}{kind_named(k).ending}" for k in dict.fromkeys(plan.project.machine.kinds)],
        "threads": _threads(plan, hooping),
        "cautions": _first(plan),
        "hoop": _hoop_at_halts(plan),
        "cards": cards,
    }
    return HaltSheet(hooping.key, row, {**pictures, **turned})


def _group(plan: Plan, bench: Bench, group: tuple[Step, ...]) -> list[dict[str, Any]]:
    """Return the cards of a halt, or of blocks that run on without one."""
    first = group[0]
    if first.stitch.role in GATHERED and not first.halt:
        shown: list[tuple[tuple[HandWork, ...], tuple[Step, ...], str]] = [
            ((), group, step_file(bench.hooping.key, first.index))
        ]
    else:
        shown = moves(bench, group)
    rows = [
        _card(plan, bench, f"{first.index}-{k}", hands, sewn, file, k, len(shown))
        for k, (hands, sewn, file) in enumerate(shown, start=1)
    ]
    return [{**r, "group": str(first.index), "waits": first.halt, "lies": what_lies(bench, first.index)} for r in rows]


def _card(
    plan: Plan,
    bench: Bench,
    place: str,
    hands: Sequence[HandWork],
    sewn: Sequence[Step],
    file: str,
    part: int,
    parts: int,
) -> dict[str, Any]:
    return {
        "place": place,
        "kind": "end" if place.startswith("end") else "halt",
        "waits": bool(hands),
        "part": part,
        "parts": parts,
        "hands": [_hand(bench, h) for h in hands],
        "sews": [_sewn(plan, bench, s) for s in sewn],
        "lies": "",
        "picture": file if file in bench.pictures else None,
        "cautions": _here(plan, hands, over=not place[0].isdigit()),
        "minutes": {
            "hands": round(hand_minutes(tuple(hands), HandMinutes()) + sum(_thread_minutes(bench, s) for s in sewn), 3),
            "machine": round(sum(bench.times[s.index].machine for s in sewn), 3),
        },
    }


def _thread_minutes(bench: Bench, step: Step) -> Minutes:
    """Return what the estimate gives the hands at a step beyond its handwork."""
    return bench.times[step.index].hands - hand_minutes(step.hands, HandMinutes())


def _hand(bench: Bench, hand: HandWork) -> dict[str, Any]:
    said = sentence(hand.sentence) + opening_words(hand, bench.project.units)
    row: dict[str, Any] = {"work": type(hand).__name__.lower(), "sentence": said}
    piece = getattr(hand, "piece", None)
    if piece and not isinstance(hand, Press):
        name = name_of(bench.names, piece)
        row["piece"] = {"sign": name.sign, "patch": name.patch}
    if isinstance(hand, Lay):
        row["lay"] = _lay(bench, hand)
    return row


def _lay(bench: Bench, lay: Lay) -> dict[str, Any]:
    """Return what is laid, on which side, which way up, and which edge on which line."""
    cloth = bench.project.cloths.get(lay.cloth)
    way = way_up(bench.project, lay)
    edge = None
    if lay.seam is not None and lay.raw_edge is not None:
        edge = {"past": round(past_seam(bench, lay), 3), "line": seam_words(bench, lay)}
    return {
        "cloth": cloth.name if cloth else name_of(bench.names, lay.piece).words.removeprefix("the "),
        "colour": cloth.colour if cloth else None,
        "under": lay.side is Side.UNDER,
        "folded": way in FOLDED,
        "way": way,
        "edge": edge,
    }


def _sewn(plan: Plan, bench: Bench, step: Step) -> dict[str, Any]:
    file = step_file(bench.hooping.key, step.index)
    return {
        "number": step.index,
        "title": sentence(step.stitch.title).removesuffix("."),
        "sentence": sentence(step.stitch.sentence),
        "thread": _thread(plan, step.stitch.thread),
        "change": bool(thread_change(bench, step)),
        "picture": file if file in bench.pictures else None,
        "minutes": round(bench.times[step.index].machine, 3),
    }


def _thread(plan: Plan, key: str) -> dict[str, Any]:
    thread = plan.project.threads.get(key)
    return {"name": thread.name if thread else key, "colour": thread_paint(plan, key)}


def _threads(plan: Plan, hooping: Hooping) -> list[dict[str, Any]]:
    return [_thread(plan, key) for key in dict.fromkeys(s.stitch.thread for s in hooping.steps)]


def _assembly(build: Build, bench: Bench, turned: tuple[str, ...]) -> dict[str, Any]:
    card = _card(build.plan, bench, ASSEMBLY, build.plan.making.assembly, (), "", 1, 1)
    return {
        **card,
        "group": ASSEMBLY,
        "kind": ASSEMBLY,
        "picture": turned[0] if turned else None,
        "more": list(turned[1:]),
        "minutes": {"hands": round(build.estimate.assembly, 3), "machine": 0.0},
    }


def _first(plan: Plan) -> list[str]:
    """Return the cautions that are told before anything is sewn; which apply is known by the booklet."""
    told = cautions(plan)
    return [
        "moving",
        "pins",
        "rotary",
        "heat",
        "spray",
        *(["under"] if UNDER in told else []),
        *(["metal"] if METAL in told else []),
        *(_base(_layers(plan))),
        "small",
        "makers",
    ]


def _here(plan: Plan, hands: Sequence[HandWork], *, over: bool) -> list[str]:
    """Return the cautions that apply to a card; ``over``: all of this hooping is sewn."""
    told = " ".join(h.sentence for h in hands).lower()
    zips = {key for key, cloth in plan.project.cloths.items() if cloth.kind == "zip"}
    found = {
        "scissors": not over and any(isinstance(h, Trim) for h in hands),
        "rotary": "rotary" in told or (over and any(w in told for w in BLADES)),
        "under": any(isinstance(h, Lay) and h.side is Side.UNDER for h in hands),
        "metal": any(isinstance(h, Lay) and h.cloth in zips for h in hands),
        "heat": any(w in told for w in WARM),
        "glue": "glue" in told,
    }
    goes = any(isinstance(h, Release) and h.foundation_goes for h in hands) or "water" in told or "warm" in told
    return [code for code, there in found.items() if there] + (_base(_layers(plan)) if goes else [])


def _layers(plan: Plan) -> set[str]:
    hands = (h for hooping in plan.hoopings for s in hooping.steps for h in s.hands)
    return {n for h in hands if isinstance(h, Hoop) for n in h.layers}


def _base(layers: set[str]) -> list[str]:
    return [code for code, name in (("film", FILM), ("net", NET)) if name in layers]


def _hoop_at_halts(plan: Plan) -> str:
    """Return where the hoop goes at a halt for the hands: "stay", "front" or "aside"."""
    where = plan.project.machine.halt_at
    return where if isinstance(where, str) else "aside"
