"""Each halt of a hooping: what lies already, what the hands do, what is sewn then."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import takewhile
from typing import Final, Literal, TypeAlias

from shapely.geometry import LineString

from hoopwright.build import Build
from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Point
from hoopwright.core.words import counted, listed
from hoopwright.estimate.shapes import StepEstimate
from hoopwright.items.words import seam_between
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import Face, Flip, Fold, HandWork, Lay, Role, Side
from hoopwright.outputs.booklet.pictures import lay_file, picture, proportion, step_file
from hoopwright.outputs.booklet.sizes import opening_words
from hoopwright.outputs.booklet.wording import THREAD, sentence, short_time, verb_of
from hoopwright.outputs.naming import SheetName, name_of, sheet_names
from hoopwright.outputs.pictures.scene import parts
from hoopwright.piecing.shapes import PiecedPanel
from hoopwright.plane.half_plane import left_of
from hoopwright.project.lengths import show_length
from hoopwright.project.schema import Project

ROOM: tuple[Mm, Mm] = (74.0, 92.0)
"""Width and height of a halt's only picture at most."""

HALF_ROOM: tuple[Mm, Mm] = (74.0, 49.0)
"""The same where a halt has two pictures."""

TALL_ROOM: tuple[Mm, Mm] = (74.0, 78.0)
TALL_HALF: tuple[Mm, Mm] = (74.0, 52.0)
"""The same two for pictures that are higher than broad, so that a halt of two and one of one share a page."""

MANY_ROOM: tuple[Mm, Mm] = (74.0, 45.0)
"""The same where a halt has three pictures or more."""

HEM = 0.3
"""Of a piece folded on itself less than this share is a hem."""

MANY = 3
"""From so many pictures on a halt's are drawn smaller."""

LONG_ROW = 4
"""More patches than this are named by the first and the last when their numbers run on."""

SMALL: tuple[Mm, Mm] = (76.0, 55.0)
"""The same for the picture of a seam stitch or of a block of a placed file; two stand in a row, or three narrow ones."""

GATHERED: Mapping[Role, tuple[str, str]] = {
    Role.ORNAMENT: ("seam stitch", "seam stitches"),
    Role.PLACED: ("block of a stitch file", "blocks of stitch files"),
}
"""What stands together with small pictures when it runs on, and what one and several of it are called."""

MAP: tuple[Mm, Mm] = (116.0, 78.0)
"""The same for the map of the panel, beside which seam stitches are told by the numbers of their seams."""


Way: TypeAlias = Literal[
    "flat", "towards", "away", "half-up", "half-down", "out", "in", "hem-up", "hem-down", "up", "down"
]
"""Which way a laid sheet looks."""

WAYS: Final[Mapping[Way, str]] = {
    "flat": "flat",
    "towards": "right side towards the hoop",
    "away": "right side AWAY from the hoop",
    "half-up": "right side UP, its other half folded over it",
    "half-down": "right side DOWN, its other half folded over it",
    "out": "right side OUT: you see the right side",
    "in": "right side IN: you see the wrong side",
    "hem-up": "right side UP, its hem folded on top",
    "hem-down": "right side DOWN, its hem folded on top",
    "up": "right side UP",
    "down": "right side DOWN: you see the wrong side",
}
FOLDED: Final[frozenset[Way]] = frozenset({"out", "in"})
"""Ways of sheets that are folded in half before they are laid."""


@dataclass(frozen=True, slots=True, eq=False)
class Bench:
    """What the pages of one hooping are written from. ``names`` says what the laid sheets are called."""

    project: Project
    hooping: Hooping
    pictures: Mapping[str, bytes]
    times: Mapping[int, StepEstimate]
    names: dict[str, SheetName]
    panels: tuple[PiecedPanel, ...] = ()


def bench_of(build: Build, hooping: Hooping, pictures: Mapping[str, bytes]) -> Bench:
    """Return the bench of one hooping."""
    times = {s.index: s for s in build.estimate.steps if s.hooping == hooping.key}
    return Bench(build.plan.project, hooping, pictures, times, sheet_names(build.plan, hooping), build.plan.panels)


def grouped(steps: Sequence[Step]) -> tuple[tuple[Step, ...], ...]:
    """Return the steps in groups: each halt opens one; seam stitches that run on stand together, apart from the rest, and so
    do blocks of placed stitch files.
    """
    groups: list[list[Step]] = []
    for step in steps:
        same = groups and _decorates(groups[-1][-1]) == _decorates(step)
        if step.halt or not same:
            groups.append([step])
        else:
            groups[-1].append(step)
    return tuple(tuple(g) for g in groups)


def _decorates(step: Step) -> Role | None:
    return step.stitch.role if step.stitch.role in GATHERED else None


def halt(bench: Bench, group: tuple[Step, ...]) -> dict[str, object]:
    """Return one halt, or one group of blocks that run on without a halt, as plain data.

    Its panes stand under each other, each with its picture: what was sewn before is opened first, then the next piece is
    laid and sewn. Seam stitches have a small picture each instead.
    """
    first = group[0]
    decorates = _decorates(first) is not None and not first.halt
    return {
        "title": _title(group),
        "halt": first.halt,
        "change": bool(thread_change(bench, first)),
        "times": _times(bench, group),
        "lies": what_lies(bench, first.index),
        "panes": [] if decorates else _panes(bench, group),
        "stitches": [_small(bench, s) for s in group] if decorates else [],
        "map": _map(bench) if any(s.stitch.seam is not None for s in group if _decorates(s)) else None,
    }


def _times(bench: Bench, group: tuple[Step, ...]) -> list[str]:
    """Return how long hands and machine are busy, in words."""
    hands, machine = (short_time(sum(of(bench, s) for s in group)) for of in (_hands, _machine))
    waits = group[0].halt or thread_change(bench, group[0])
    return [f"hands {hands}" if waits else "runs on", f"machine {machine}"]


def _panes(bench: Bench, group: tuple[Step, ...]) -> list[dict[str, object]]:
    """Return the panes of a halt, each with its picture as large as there is room."""
    shown = moves(bench, group)
    room = ROOM if len(shown) == 1 and group[0].halt else HALF_ROOM if len(shown) < MANY else MANY_ROOM
    return [_pane(bench, hands, sewn, file, room) for hands, sewn, file in shown]


def moves(bench: Bench, group: tuple[Step, ...]) -> list[tuple[tuple[HandWork, ...], tuple[Step, ...], str]]:
    """Return the moves of a halt, each with its handwork, its blocks, and the name of its picture.

    What is opened comes first, then each piece that is laid, with the last what is sewn, then what runs on and has a picture.
    """
    step = group[0]
    rows = [part for part, _ in parts(step.hands)]
    opening = tuple(takewhile(lambda h: not isinstance(h, Lay), rows[0]))
    key, index = bench.hooping.key, step.index
    shown: list[tuple[tuple[HandWork, ...], tuple[Step, ...], str]] = []
    if opening and step_file(key, index, hands=True) in bench.pictures:
        shown.append((opening, (), step_file(key, index, hands=True)))
        rows[0] = rows[0][len(opening) :]
    shown += [(part, (), lay_file(key, index, k)) for k, part in enumerate(rows[:-1], start=1)]
    drawn = [s for s in group[1:] if step_file(key, s.index) in bench.pictures]
    shown.append((rows[-1], tuple(s for s in group if s not in drawn), step_file(key, index)))
    return [*shown, *(((), (s,), step_file(key, s.index)) for s in drawn)]


def _pane(
    bench: Bench, hands: Sequence[HandWork], group: tuple[Step, ...], file: str, room: tuple[Mm, Mm]
) -> dict[str, object]:
    """Return one pane; the thread is changed after all other hand work."""
    shown = bench.pictures.get(file)
    if shown is not None and proportion(shown) < 1.0:
        room = {ROOM: TALL_ROOM, HALF_ROOM: TALL_HALF}.get(room, room)
    said = [sentence(h.sentence) for h in hands] + [sentence(s.stitch.sentence) for s in group]
    rows, sews = [hand_row(bench, h) for h in hands], [sewn_row(bench, s) for s in group]
    if sews and sews[0]["change"]:
        rows.append({"verb": THREAD, "text": sews[0]["change"]})
        sews[0]["change"] = ""
    return {"hands": rows, "sews": sews, "picture": picture(bench.pictures, (file,), " ".join(said), room)}


def _small(bench: Bench, step: Step) -> dict[str, object]:
    file = step_file(bench.hooping.key, step.index)
    return {**sewn_row(bench, step), "picture": picture(bench.pictures, (file,), sentence(step.stitch.sentence), SMALL)}


def ending(bench: Bench) -> list[dict[str, object]]:
    """Return what is done when the last block is sewn, in panes."""
    return [_pane(bench, hands, (), file, HALF_ROOM) for hands, file in last_moves(bench)]


def last_moves(bench: Bench) -> list[tuple[tuple[HandWork, ...], str]]:
    """Return the moves when the last block is sewn, each with its handwork and the name of its picture."""
    key, last, work = bench.hooping.key, len(bench.hooping.steps) + 1, bench.hooping.after
    if not work:
        return []
    turned = max((k + 1 for k, h in enumerate(work) if isinstance(h, Flip | Fold)), default=0)
    first = step_file(key, last, hands=True)
    if not turned or first not in bench.pictures:
        return [(work, step_file(key, last))]
    return [(work[:turned], first), (work[turned:], step_file(key, last))]


def thread_change(bench: Bench, step: Step) -> str:
    """Return what the hands do with the thread before a block; nothing when the thread of the block before goes on."""
    key, before = step.stitch.thread, [s.stitch.thread for s in bench.hooping.steps if s.index == step.index - 1]
    name = bench.project.threads[key].name if key in bench.project.threads else key
    if key in before:
        return ""
    return sentence(f"change the thread to {name}" if before else f"thread the needle with {name}")


def _map(bench: Bench) -> dict[str, object] | None:
    """Return the map of the panel, on which seams are found by their numbers."""
    names = ("map.svg", f"map-{bench.hooping.panel}.svg")
    return picture(bench.pictures, names, "The map of the panel: numbers of its patches and of its seams.", MAP)


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
        "change": thread_change(bench, step),
        "hands_time": short_time(_hands(bench, step)),
        "machine_time": short_time(_machine(bench, step)),
    }


def hand_row(bench: Bench, hand: HandWork) -> dict[str, object]:
    """Return one piece of hand work: its verb, its sentence, and for a laid cloth which side up and which edge where."""
    said = sentence(hand.sentence) + opening_words(hand, bench.project.units)
    row: dict[str, object] = {"verb": verb_of(hand), "text": said}
    if isinstance(hand, Lay):
        cloth = bench.project.cloths.get(hand.cloth)
        row["cloth"] = cloth.name if cloth else name_of(bench.names, hand.piece).words.removeprefix("the ")
        row["colour"] = cloth.colour if cloth else None
        row["facts"] = _lay_facts(bench, hand)
    return row


def _lay_facts(bench: Bench, lay: Lay) -> list[str]:
    way = way_up(bench.project, lay)
    facts = [WAYS[way]]
    if lay.side is Side.UNDER:
        facts.insert(0, "UNDER the hoop")
    if way in FOLDED:
        facts.insert(0, "folded")
    if lay.seam is not None and lay.raw_edge is not None:
        facts.append(
            f"raw edge {show_length(past_seam(bench, lay), bench.project.units)} past {seam_words(bench, lay)}"
        )
    return facts


def seam_words(bench: Bench, lay: Lay) -> str:
    """Return the line that a raw edge lies past: the placement line of a patch, or what its seam lies between."""
    panel = next((p for p in bench.panels if p.key == bench.hooping.panel), None)
    section = panel.of_section(bench.hooping.section) if panel else ()
    patch = next((p for p in section if p.label == lay.piece and p.seam is not None), None)
    if panel is None or patch is None:
        return "the seam line"
    return "the placement line" if bench.project.piecing.placement_lines else seam_between(patch, panel)


def past_seam(bench: Bench, lay: Lay) -> Mm:
    """Return how far the raw edge of a laid sheet lies past its seam line: a patch's one allowance, any other as it lies."""
    assert lay.seam is not None
    assert lay.raw_edge is not None
    if name_of(bench.names, lay.piece).numbered:
        return bench.project.piecing.allowance
    past = float(LineString(lay.raw_edge).distance(LineString(lay.seam)))
    return round(past / SAME_PLACE) * SAME_PLACE


def way_up(project: Project, lay: Lay) -> Way:
    """Return which way a laid sheet looks; what has two equal sides is only laid flat."""
    cloth = project.cloths.get(lay.cloth)
    if cloth is not None and cloth.kind == "stiffener":
        return "flat"
    if lay.side is Side.UNDER:
        return "towards" if lay.face is Face.UP else "away"
    if lay.fold is not None and cloth is not None:
        return _folded(lay, lay.fold)
    if lay.fold is not None:
        return "half-up" if lay.face is Face.UP else "half-down"
    return "up" if lay.face is Face.UP else "down"


def _folded(lay: Lay, fold: tuple[Point, Point]) -> Way:
    """Return which side of a folded piece shows: its upper half, or only a hem that lies on it."""
    out = lay.face is Face.DOWN
    if lay.pose.intersection(left_of(*fold)).area > HEM * lay.pose.area:
        return "out" if out else "in"
    return "hem-down" if out else "hem-up"


def _title(group: tuple[Step, ...]) -> str:
    gathered = _decorates(group[0])
    if len(group) > 1 and gathered is not None:
        return f"{_numbers(group)}: {counted(len(group), *GATHERED[gathered])}"
    names = listed([s.stitch.title for s in group])
    return f"{_numbers(group)}: {names}"


def _numbers(group: tuple[Step, ...]) -> str:
    first, last = group[0].index, group[-1].index
    return f"Step {first}" if first == last else f"Steps {first} {'and' if last == first + 1 else 'to'} {last}"


def what_lies(bench: Bench, index: int) -> str:
    """Return in words what lies on the hoop before the hands of step ``index`` begin."""
    earlier = [h for s in bench.hooping.steps if s.index < index for h in s.hands]
    laid = {h.piece: h for h in earlier if isinstance(h, Lay)}
    if not laid:
        return "Only the foundation is in the hoop." if index > 1 else ""
    moved = {h.piece for h in earlier if isinstance(h, Flip)}
    moves = {h.piece for s in bench.hooping.steps for h in s.hands if isinstance(h, Flip)}
    moves |= {h.piece for h in bench.hooping.after if isinstance(h, Flip)}
    under = [k for k, h in laid.items() if h.side is Side.UNDER]
    folded = [k for k in laid if k in moves - moved and k not in under]
    open_ = [k for k in laid if k not in (*under, *folded)]
    said = [f"{_pieces(bench, open_)} {'lies' if len(open_) == 1 else 'lie'} open"] if open_ else []
    if folded:
        said.append(f"{_pieces(bench, folded)} {'is' if len(folded) == 1 else 'are'} sewn on and still folded over")
    if under:
        said.append(f"{_pieces(bench, under)} {'lies' if len(under) == 1 else 'lie'} under the hoop")
    return sentence("; ".join(said))


def _pieces(bench: Bench, sheets: Sequence[str]) -> str:
    """Return "patch 2 (B) and the pocket", "patches 1 (A) and 2 (B)", or for a long row "patches 1 (A) to 9 (I)"."""
    names = [name_of(bench.names, s) for s in sheets]
    patches = [n.words for n in names if n.patch]
    rest = [n.words for n in names if not n.patch]
    numbers = [int(n.sign) for n in names if n.patch]
    if len(patches) == 1:
        return listed([f"patch {patches[0]}", *rest])
    if len(patches) > LONG_ROW and numbers == list(range(numbers[0], numbers[0] + len(numbers))):
        return listed([f"patches {patches[0]} to {patches[-1]}", *rest])
    return listed([f"patches {listed(patches)}", *rest]) if patches else listed(rest)


def _hands(bench: Bench, step: Step) -> float:
    return bench.times[step.index].hands if step.index in bench.times else 0.0


def _machine(bench: Bench, step: Step) -> float:
    return bench.times[step.index].machine if step.index in bench.times else 0.0
