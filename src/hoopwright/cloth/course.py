"""What the proofs of an item look at: one hooping carried out, with the handwork after it.

Words: a *course* is a hooping from its first step to the end of its handwork; the assembly belongs to the last hooping.
The steps before ``first`` piece a panel and are proved by hoopwright.cloth.proofs. A *turning* is the stack as it
lies just before the work is turned.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely

from hoopwright.cloth.replay import Undone, attempt_hands, attempt_steps, bench_of
from hoopwright.cloth.shapes import Held, Join, Layer, Region, Stack, united
from hoopwright.cloth.trial import place_in
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.types import Mm
from hoopwright.items.plan import Plan
from hoopwright.items.recipe import Look, Piece
from hoopwright.items.words import name_of
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import Close, Face, HandWork, Lay, Turn
from hoopwright.piecing.shapes import PiecedPanel
from hoopwright.project.lengths import show_length


@dataclass(frozen=True, slots=True, eq=False)
class Turning:
    """The stack just before the work is turned, and how it is turned."""

    stack: Stack
    turn: Turn


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """One hooping carried out: ``stacks`` after each step, ``out`` after its own handwork, ``end`` after the assembly, too.

    ``before`` are the courses of the hoopings before it.
    """

    plan: Plan
    hooping: Hooping
    first: int
    last: bool
    stacks: tuple[Stack, ...]
    out: Stack
    end: Stack
    turnings: tuple[Turning, ...]
    undone: tuple[Undone, ...]
    before: tuple[Course, ...] = ()

    @property
    def hands(self) -> tuple[HandWork, ...]:
        """What the hands do when the last block is sewn."""
        return (*self.hooping.after, *(self.plan.making.assembly if self.last else ()))

    @property
    def allowance(self) -> Mm:
        """The seam allowance, mm."""
        return self.plan.project.piecing.allowance

    @property
    def look(self) -> Look | None:
        """How the recipe says this work looks at the end."""
        return next((look for look in self.plan.making.looks if look.hooping == self.hooping.key), None)

    @property
    def closes(self) -> tuple[Close, ...]:
        """The openings that are closed."""
        return tuple(h for h in self.hands if isinstance(h, Close))

    def sewn(self) -> Iterator[tuple[Step, Stack]]:
        """Yield every step that is no piecing, with the stack after it."""
        yield from list(zip(self.hooping.steps, self.stacks, strict=True))[self.first :]

    def lays(self) -> Iterator[tuple[Step, Lay]]:
        """Yield every laying that is no piecing, with the step after it."""
        for step in self.hooping.steps[self.first :]:
            yield from ((step, h) for h in step.hands if isinstance(h, Lay))

    def piece(self, key: str) -> Piece | None:
        """Return the piece with this key, None for patches and what was pieced before."""
        return next((p for p in self.plan.making.pieces if p.key == key), None)

    def kind(self, layer: Layer) -> str:
        """Return the kind of cloth a layer is of, empty for what was pieced before and the foundation."""
        cloth = self.plan.project.cloths.get(layer.cloth)
        return cloth.kind if cloth is not None else ""

    def is_finished(self, sheet: str) -> bool:
        """Whether a sheet's long edges need no allowance."""
        piece = self.piece(sheet)
        return piece is not None and piece.finished

    def name(self, sheet: str) -> str:
        """Return how the maker knows a sheet, with its article."""
        piece, patches = self.piece(sheet), [p for panel in self.plan.panels for p in panel.patches]
        if piece is not None:
            return f"the {piece.title.lower()}"
        if any(lay.lace is not None and lay.piece == sheet for _, lay in self.lays()):
            return f"the {sheet.replace('-', ' ')}"
        if any(panel.key == sheet for panel in self.plan.panels):
            return f"the pieced {sheet.replace('-', ' ')}"
        return next((name_of(p) for p in patches if p.label == sheet), f"the piece {sheet}")

    def length(self, mm: float) -> str:
        """Return a length in the maker's units."""
        return show_length(mm, self.plan.project.units)

    def finding(
        self,
        code: str,
        message: str,
        cure: str,
        *,
        at: object = None,
        step: Step | None = None,
        severity: Severity = Severity.BLOCKS,
    ) -> Finding:
        """Return a finding about this course at a place inside ``at``, a shape."""
        where = Where(
            operation=None if step is None else step.index,
            point=place_in(at),  # type: ignore[arg-type]
            hooping=self.hooping.key,
        )
        return Finding(code, severity, message[:1].upper() + message[1:], cure, where)


def in_one(course: Course, stack: Stack) -> Stack:
    """Return a stack with the patches pieced in this course as one sheet, named like their panel: how they hold together is
    proved where they are pieced.
    """
    panel = next((p for p in course.plan.panels if p.key == course.hooping.panel), None)
    patches = {p.label for p in panel.patches} if panel is not None else set()
    lying = [i for i, p in enumerate(stack.layers) if p.sheet in patches]
    if panel is None or not lying:
        return stack
    lowest = stack.layers[lying[0]]
    region = united(stack.layers[i].region for i in lying)
    whole = Layer(panel.key, "", lowest.thickness, region, lowest.face, lowest.side)
    layers = (
        whole if i == lying[0] else p for i, p in enumerate(stack.layers) if i == lying[0] or p.sheet not in patches
    )
    joins = (_with_one(j, panel.key, patches, region) for j in stack.joins if j.step is None or j.step > course.first)
    return replace(stack, layers=tuple(layers), joins=tuple(joins))


def _with_one(join: Join, key: str, patches: set[str], region: Region) -> Join:
    line = shapely.intersection(join.path, region)
    if not any(h.sheet in patches for h in join.held):
        return join
    others = tuple(h for h in join.held if h.sheet not in patches)
    return replace(join, held=(Held(key, Face.UP, line.length, line), *others))


def courses_of(plan: Plan) -> tuple[Course, ...]:
    """Carry out every hooping in which more than a panel is pieced, each with the handwork after it."""
    panels = {panel.key: panel for panel in plan.panels}
    rows: tuple[Course, ...] = ()
    for number, hooping in enumerate(plan.hoopings):
        first = pieced_steps(hooping, panels.get(hooping.panel))
        last = number + 1 == len(plan.hoopings)
        if first < len(hooping.steps) or (last and plan.making.promise is not None):
            rows = (*rows, replace(_carried_out(plan, hooping, first, last), before=rows))
    return rows


def pieced_steps(hooping: Hooping, panel: PiecedPanel | None) -> int:
    """Return how many steps of a hooping piece a panel: those before the first laying of something that is no patch."""
    if panel is None:
        return 0
    labels = {p.label for p in panel.patches}
    for number, step in enumerate(hooping.steps):
        if any(isinstance(h, Lay) and h.piece not in labels for h in step.hands):
            return number
    return len(hooping.steps)


def _carried_out(plan: Plan, hooping: Hooping, first: int, last: bool) -> Course:
    bench = bench_of(plan.project)
    stacks, undone = attempt_steps(hooping, bench)
    turnings: list[Turning] = []
    number = len(hooping.steps) + 1

    def done(stack: Stack, hands: tuple[HandWork, ...]) -> Stack:
        nonlocal undone
        for at, hand in enumerate(hands):
            if isinstance(hand, Turn):
                turnings.append(Turning(stack, hand))
            stack, left = attempt_hands(stack, (hand,), bench, number, hands[at + 1 :])
            undone = (*undone, *left)
        return stack

    out = done(stacks[-1] if stacks else Stack(), hooping.after)
    end = done(out, plan.making.assembly) if last else out
    return Course(plan, hooping, first, last, stacks, out, end, tuple(turnings), undone)
