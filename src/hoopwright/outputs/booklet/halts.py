"""Each halt of a hooping: what lies already, what the hands do, what is sewn then."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import takewhile

from hoopwright.build import Build
from hoopwright.core.types import Mm
from hoopwright.estimate.shapes import StepEstimate
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import Face, Flip, HandWork, Lay, Role, Side
from hoopwright.outputs.booklet.pictures import picture, step_file
from hoopwright.outputs.booklet.wording import counted, listed, sentence, short_time
from hoopwright.project.lengths import show_length
from hoopwright.project.schema import Project

ROOM: tuple[Mm, Mm] = (74.0, 92.0)
"""Width and height of a halt's only picture at most."""

HALF_ROOM: tuple[Mm, Mm] = (74.0, 49.0)
"""The same where a halt has two pictures."""

LONG_ROW = 4
"""More patches than this are named by the first and the last when their numbers run on."""

SMALL: tuple[Mm, Mm] = (47.0, 56.0)
"""The same for the picture of a seam stitch."""


@dataclass(frozen=True, slots=True, eq=False)
class Bench:
    """What the pages of one hooping are written from. ``names`` gives a laid piece's name in words."""

    project: Project
    hooping: Hooping
    pictures: Mapping[str, bytes]
    times: Mapping[int, StepEstimate]
    names: Mapping[str, str]


def bench_of(build: Build, hooping: Hooping, pictures: Mapping[str, bytes]) -> Bench:
    """Return the bench of one hooping."""
    times = {s.index: s for s in build.estimate.steps if s.hooping == hooping.key}
    names: dict[str, str] = {}
    for panel in build.plan.panels:
        if panel.key == hooping.panel:
            for patch in panel.patches:
                section = patch.made_of is not None
                names[patch.label] = f"section {patch.label}" if section else f"{patch.number} ({patch.letters[0]})"
    return Bench(build.plan.project, hooping, pictures, times, names)


def grouped(steps: Sequence[Step]) -> tuple[tuple[Step, ...], ...]:
    """Return the steps in groups: each halt opens one; seam stitches that run on stand together, apart from the rest."""
    groups: list[list[Step]] = []
    for step in steps:
        same = groups and _decorates(groups[-1][-1]) == _decorates(step)
        if step.halt or not same:
            groups.append([step])
        else:
            groups[-1].append(step)
    return tuple(tuple(g) for g in groups)


def _decorates(step: Step) -> bool:
    return step.stitch.role is Role.ORNAMENT


def halt(bench: Bench, group: tuple[Step, ...]) -> dict[str, object]:
    """Return one halt, or one group of blocks that run on without a halt, as plain data.

    Its panes stand under each other, each with its picture: what was sewn before is opened first, then the next piece is
    laid and sewn. Seam stitches have a small picture each instead.
    """
    first = group[0]
    decorates = _decorates(first) and not first.halt
    return {
        "title": _title(group),
        "halt": first.halt,
        "hands_time": short_time(sum(_hands(bench, s) for s in group)),
        "machine_time": short_time(sum(_machine(bench, s) for s in group)),
        "lies": _lies(bench, first.index),
        "panes": [] if decorates else _panes(bench, group),
        "stitches": [_small(bench, s) for s in group] if decorates else [],
    }


def _panes(bench: Bench, group: tuple[Step, ...]) -> list[dict[str, object]]:
    step = group[0]
    opening = list(takewhile(lambda h: not isinstance(h, Lay), step.hands))
    name = step_file(bench.hooping.key, step.index, hands=True)
    if not opening or name not in bench.pictures:
        return [
            _pane(bench, step.hands, group, step_file(bench.hooping.key, step.index), ROOM if step.halt else HALF_ROOM)
        ]
    rest = step.hands[len(opening) :]
    return [
        _pane(bench, opening, (), name, HALF_ROOM, step),
        _pane(bench, rest, group, step_file(bench.hooping.key, step.index), HALF_ROOM),
    ]


def _pane(
    bench: Bench,
    hands: Sequence[HandWork],
    group: tuple[Step, ...],
    file: str,
    room: tuple[Mm, Mm],
    step: Step | None = None,
) -> dict[str, object]:
    said = [sentence(h.sentence) for h in hands] + [sentence(s.stitch.sentence) for s in group]
    at = group[0] if group else step
    return {
        "hands": [hand_row(bench, h, at) for h in hands],
        "sews": [sewn_row(bench, s) for s in group],
        "picture": picture(bench.pictures, (file,), " ".join(said), room),
    }


def _small(bench: Bench, step: Step) -> dict[str, object]:
    file = step_file(bench.hooping.key, step.index)
    return {**sewn_row(bench, step), "picture": picture(bench.pictures, (file,), sentence(step.stitch.sentence), SMALL)}


def ending(bench: Bench) -> dict[str, object]:
    """Return what is done when the last block is sewn."""
    file = step_file(bench.hooping.key, len(bench.hooping.steps) + 1)
    return _pane(bench, bench.hooping.after, (), file, HALF_ROOM)


def sewn_row(bench: Bench, step: Step) -> dict[str, object]:
    """Return one block of stitches for the run sheet."""
    thread = bench.project.threads.get(step.stitch.thread)
    return {
        "step": step.index,
        "title": sentence(step.stitch.title).removesuffix("."),
        "sentence": sentence(step.stitch.sentence),
        "thread": thread.name if thread else step.stitch.thread,
        "colour": thread.colour if thread else None,
        "halt": step.halt,
        "hands_time": short_time(_hands(bench, step)),
        "machine_time": short_time(_machine(bench, step)),
    }


def hand_row(bench: Bench, hand: HandWork, step: Step | None) -> dict[str, object]:
    """Return one piece of hand work: its verb, its sentence, and for a laid cloth which side up and which edge where."""
    row: dict[str, object] = {"verb": type(hand).__name__, "text": sentence(hand.sentence)}
    if isinstance(hand, Lay):
        cloth = bench.project.cloths.get(hand.cloth)
        row["cloth"] = cloth.name if cloth else "pieced section"
        row["colour"] = cloth.colour if cloth else None
        row["facts"] = _lay_facts(bench, hand, step)
    return row


def _lay_facts(bench: Bench, lay: Lay, step: Step | None) -> list[str]:
    up = "right side UP" if lay.face is Face.UP else "right side DOWN: you see the wrong side"
    facts = [up]
    if lay.side is Side.UNDER:
        facts.append("UNDER the hoop")
    if lay.seam is not None:
        number = step.stitch.seam if step else None
        line = f"seam line {number}" if number is not None else "the seam line"
        facts.append(f"raw edge {show_length(bench.project.piecing.allowance, bench.project.units)} past {line}")
    return facts


def _title(group: tuple[Step, ...]) -> str:
    if len(group) > 1 and _decorates(group[0]):
        return f"{_numbers(group)}: {counted(len(group), 'seam stitch', 'seam stitches')}"
    names = listed([s.stitch.title for s in group])
    return f"{_numbers(group)}: {names}"


def _numbers(group: tuple[Step, ...]) -> str:
    first, last = group[0].index, group[-1].index
    return f"Step {first}" if first == last else f"Steps {first} {'and' if last == first + 1 else 'to'} {last}"


def _lies(bench: Bench, index: int) -> str:
    """Return in words what lies on the hoop before the hands of step ``index`` begin."""
    earlier = [h for s in bench.hooping.steps if s.index < index for h in s.hands]
    laid = [h for h in earlier if isinstance(h, Lay)]
    if not laid:
        return "Only the foundation is in the hoop." if index > 1 else ""
    opened = {h.piece for h in earlier if isinstance(h, Flip)} | {h.piece for h in laid if h.face is Face.UP}
    open_ = [h.piece for h in laid if h.piece in opened]
    folded = [h.piece for h in laid if h.piece not in opened]
    said = [f"{_pieces(bench, open_)} {'lies' if len(open_) == 1 else 'lie'} open"] if open_ else []
    if folded:
        said.append(f"{_pieces(bench, folded)} {'is' if len(folded) == 1 else 'are'} sewn on and still folded over")
    return sentence("; ".join(said))


def _pieces(bench: Bench, pieces: Sequence[str]) -> str:
    """Return "patch 2 (B)", "patches 1 (A) and 2 (B)", or for a long row "patches 1 (A) to 9 (I)"."""
    names = [bench.names.get(p, p) for p in pieces]
    patches = [n for n in names if not n.startswith("section")]
    if len(patches) != len(names) or len(names) == 1:
        return listed([n if n.startswith("section") else f"patch {n}" for n in names])
    numbers = [int(n.split()[0]) for n in names if n.split()[0].isdigit()]
    row = len(numbers) == len(names) and numbers == list(range(numbers[0], numbers[0] + len(numbers)))
    return f"patches {names[0]} to {names[-1]}" if row and len(names) > LONG_ROW else f"patches {listed(names)}"


def _hands(bench: Bench, step: Step) -> float:
    return bench.times[step.index].hands if step.index in bench.times else 0.0


def _machine(bench: Bench, step: Step) -> float:
    return bench.times[step.index].machine if step.index in bench.times else 0.0
