"""A hooping as the commands of a stitch file, in machine steps: stitches, moves, cuts, colour changes.

All splitting and rounding is done here; the stitch file library only turns the commands into bytes.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from pystitch.EmbConstant import COLOR_CHANGE, END, JUMP, NEEDLE_SET, STITCH, TRIM
from pystitch.EmbFunctions import encode_thread_change
from pystitch.EmbPattern import EmbPattern
from pystitch.EmbThread import EmbThread

from hoopwright.core.types import Point, frozen_points
from hoopwright.needle.shapes import Hooping
from hoopwright.outputs.machine.colours import BlockColour
from hoopwright.outputs.machine.kinds import Colours, KindFacts
from hoopwright.outputs.machine.steps import divided, to_steps

Command = list[int]


def pattern_of(
    hooping: Hooping, facts: KindFacts, colours: Sequence[BlockColour], names: Sequence[str], waiting: Point | None
) -> EmbPattern:
    """Return the hooping as a pattern that is ready to be written in one kind.

    ``waiting`` is where the hoop goes (needle position, mm) before a halt that needs hands; None: it stays.
    """
    pattern = EmbPattern()
    commands: list[Command] = []
    wait = None if waiting is None else to_steps(frozen_points([waiting]))[0].tolist()
    for index, step in enumerate(hooping.steps):
        if index:
            _end_block(commands, facts, colours[index], wait if step.halt else None)
        elif facts.colours is Colours.NEEDLES:
            commands.append([0, 0, _change(facts, colours[0])])
        rows = [to_steps(divided(run.points)).tolist() for run in step.runs if run.count]
        for number, row in enumerate(rows):
            _sew(commands, facts, row, cut=number > 0)
    commands.append([*_place(commands), TRIM])
    _even_width(commands, facts)
    commands.append([*_place(commands), END])
    pattern.stitches = commands
    pattern.threadlist = [_thread(c, n) for c, n in zip(colours, names, strict=True)]
    return pattern


def _place(commands: list[Command]) -> list[int]:
    return commands[-1][:2] if commands else [0, 0]


def _sew(commands: list[Command], facts: KindFacts, row: list[list[int]], cut: bool) -> None:
    """Append a travel to the run's first position, with a cut thread if asked, and the run."""
    if cut:
        commands.append([*_place(commands), TRIM])
    if cut and not facts.trims and _place(commands) == row[0]:
        commands.append([*row[0], JUMP])  # these kinds record a cut only as a move
    _jump(commands, facts, row[0])
    commands.extend([x, y, STITCH] for x, y in row)


def _jump(commands: list[Command], facts: KindFacts, to: list[int]) -> None:
    """Append moves without sewing, none longer than the kind holds, all positions whole steps."""
    (x0, y0), (x1, y1) = _place(commands), to
    parts = math.ceil(max(abs(x1 - x0), abs(y1 - y0)) / facts.jump)
    for i in range(1, parts + 1):
        commands.append([x0 + (x1 - x0) * i // parts, y0 + (y1 - y0) * i // parts, JUMP])


def _end_block(commands: list[Command], facts: KindFacts, colour: BlockColour, wait: list[int] | None) -> None:
    """Append cut, the way to the waiting place if there is one, and the colour change at which the machine halts."""
    commands.append([*_place(commands), TRIM])
    if wait is not None:
        _jump(commands, facts, wait)
    commands.append([*_place(commands), _change(facts, colour)])


def _change(facts: KindFacts, colour: BlockColour) -> int:
    if facts.colours is Colours.NEEDLES:
        return int(encode_thread_change(NEEDLE_SET, None, colour.number))
    return int(COLOR_CHANGE)


def _even_width(commands: list[Command], facts: KindFacts) -> None:
    """Make the extents of a vp3 file even numbers of steps.

    The kind stores the middle of the design in whole steps and each block's start from there; a middle that falls
    between two steps would move whole blocks by one. Moves are not written in this kind, only counted in the extents.
    """
    if facts.kind != "vp3":
        return
    xs, ys = [c[0] for c in commands], [c[1] for c in commands]
    x, y = max(xs) + (max(xs) - min(xs)) % 2, max(ys) + (max(ys) - min(ys)) % 2
    place = _place(commands)
    commands.extend([[x, y, JUMP], [*place, JUMP]])


def _thread(colour: BlockColour, name: str) -> EmbThread:
    r, g, b = colour.rgb
    return EmbThread((r << 16) | (g << 8) | b, description=name)
