"""Settings that must fit each other. Works on the file's raw data, so that every problem shows at once."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping
from typing import Any, Final

from hoopwright.core.findings import Severity
from hoopwright.project.fields import field_problems
from hoopwright.project.lengths import LengthError, read_length
from hoopwright.project.places import Path
from hoopwright.project.problems import Problem, clipped, offer
from hoopwright.project.schema import MachineModel

LEAST_SIDE: Final = 12.0
"""A side of a panel of fewer mm leaves no patch two allowances of 1/4 in wide; of so many inches, it is a usual one."""


def crossings(data: Mapping[str, Any]) -> list[Problem]:
    """Return what does not fit together; parts that are wrong in themselves are left to the schema."""
    return [
        *_title(data),
        *_names(data),
        *field_problems(data.get("hoop")),
        *_machine(_table(data, "machine")),
        *_threads(data),
        *_cloths(data),
        *_order(_table(data, "panel")),
        *_outline(_table(data, "panel", "outline")),
        *_without_outline(data),
    ]


def _table(data: Any, *path: str) -> Mapping[str, Any]:
    for part in path:
        data = data.get(part) if isinstance(data, Mapping) else None
    return data if isinstance(data, Mapping) else {}


def _length(table: Mapping[str, Any], name: str, default: float | None = None) -> float | None:
    """Return a length of a table, None when it is missing or wrong in itself."""
    try:
        return read_length(table[name]) if name in table else default
    except LengthError:
        return None


def unprintable(text: str) -> bool:
    """Return whether a text holds a line break or another sign that cannot be printed."""
    return any(unicodedata.category(c) in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp") for c in text)


def _title(data: Mapping[str, Any]) -> Iterator[Problem]:
    title = data.get("title")
    if not isinstance(title, str):
        return
    if unprintable(title):
        message = "the title holds a line break or a character that cannot be printed"
        yield Problem("HW121", ("title",), message, "Write the title in one line of plain letters, digits and signs")


def _names(data: Mapping[str, Any]) -> Iterator[Problem]:
    """HW121: a name that is shown to the maker holds what cannot be printed."""
    rows = [(kind, key, "name") for kind in ("cloths", "threads") for key in _table(data, kind)]
    for path in (*rows, ("foundation", "name"), ("foundation", "batting")):
        name = _table(data, *path[:-1]).get(path[-1])
        if isinstance(name, str) and unprintable(name):
            message = "this name holds a line break or a character that cannot be printed"
            yield Problem("HW121", path, message, "Write the name in one line of plain letters, digits and signs")


def _machine(machine: Mapping[str, Any]) -> Iterator[Problem]:
    path: Path = ("machine",)
    defaults = MachineModel()
    shortest = _length(machine, "shortest_stitch", defaults.shortest_stitch)
    longest = _length(machine, "longest_stitch", defaults.longest_stitch)
    if shortest is not None and longest is not None and shortest >= longest:
        message = f"the shortest stitch ({shortest:g} mm) is not shorter than the longest ({longest:g} mm)"
        yield Problem(
            "HW122", (*path, "shortest_stitch"), message, "Make shortest_stitch smaller or longest_stitch larger"
        )
    kinds = machine.get("kinds")
    if isinstance(kinds, tuple):
        yield from _repeated(kinds, (*path, "kinds"), "the file kind")
        if not kinds:
            yield Problem(
                "HW122", (*path, "kinds"), "no file kind is wanted", 'Name at least one, such as kinds = ["dst"]'
            )


def _repeated(values: tuple[Any, ...], path: Path, what: str) -> Iterator[Problem]:
    for i, value in enumerate(values):
        if isinstance(value, str) and value in values[:i]:
            yield Problem(
                "HW123", (*path, i), f"{what} {clipped(value)} stands twice", "Keep one and take the other out"
            )


def _threads(data: Mapping[str, Any]) -> Iterator[Problem]:
    known = tuple(_table(data, "threads"))
    for path, name in _named_threads(data):
        if isinstance(name, str) and name not in known:
            yield _undeclared(path, name, known, "thread")


def _named_threads(data: Mapping[str, Any]) -> Iterator[tuple[Path, Any]]:
    """Yield every place that names a thread."""
    for use, name in _table(data, "guides").items():
        yield ("guides", use), name
    yield from _row_threads(("panel", "seam_stitch"), _table(data, "panel", "seam_stitch"))
    yield from _row_threads(("panel", "edge_stitch"), _table(data, "panel", "edge_stitch"))
    for number, seam in _table(data, "panel", "seams").items():
        yield from _row_threads(("panel", "seams", number), _table({"x": seam}, "x"))
    yield from _threads_on_panel(data)


def _row_threads(path: Path, row: Mapping[str, Any]) -> Iterator[tuple[Path, Any]]:
    """Yield the threads of a row of seam stitches and of the row over it."""
    yield (*path, "thread"), row.get("thread")
    yield (*path, "over", "thread"), _table(row, "over").get("thread")


def _threads_on_panel(data: Mapping[str, Any]) -> Iterator[tuple[Path, Any]]:
    """Yield the threads named for grounds, letters, accents and placed stitch files."""
    panel = _table(data, "panel")
    yield ("panel", "ground", "thread"), _table(panel, "ground").get("thread")
    for letter, ground in _table(panel, "grounds").items():
        yield ("panel", "grounds", letter, "thread"), _table({"x": ground}, "x").get("thread")
    for part in ("lettering", "accents", "placed"):
        rows = panel.get(part)
        for i, row in enumerate(rows if isinstance(rows, tuple) else ()):
            table = _table({"x": row}, "x")
            yield ("panel", part, i, "thread"), table.get("thread")
            named = table.get("threads")
            for k, name in enumerate(named if isinstance(named, tuple) else ()):
                yield ("panel", part, i, "threads", k), name


def _cloths(data: Mapping[str, Any]) -> Iterator[Problem]:
    known = tuple(_table(data, "cloths"))
    for letter, name in _table(data, "panel", "cloths").items():
        if isinstance(name, str) and name not in known:
            yield _undeclared(("panel", "cloths", letter), name, known, "cloth")


def _undeclared(path: Path, name: str, known: tuple[str, ...], what: str) -> Problem:
    cure = offer(name, known, f"Declare it below [{what}s.{name}]" if name.isascii() else f"Declare it below [{what}s]")
    return Problem("HW124", path, f"no {what} is called {clipped(name)}", cure)


def _order(panel: Mapping[str, Any]) -> Iterator[Problem]:
    order = panel.get("order")
    if not isinstance(order, tuple):
        return
    yield from _repeated(order, ("panel", "order"), "the patch")
    first = panel.get("first")
    if order and isinstance(first, str) and first != order[0]:
        message = f"first is {clipped(first)}, but the order begins with {clipped(order[0])}"
        yield Problem("HW125", ("panel", "first"), message, "Take first out: the order says it already")
    if not order:
        yield Problem(
            "HW125",
            ("panel", "order"),
            "the order names no patch",
            "Name the patches, or take order out to have one proposed",
        )


def _without_outline(data: Mapping[str, Any]) -> Iterator[Problem]:
    """The item "panel" needs an outline; every other item draws its own."""
    panel = data.get("panel", {})
    lone = data.get("item", "panel") == "panel"
    if lone and isinstance(panel, Mapping) and panel.get("outline", {"shape": "item"}) == {"shape": "item"}:
        cure = 'Add [panel.outline] with shape = "flap" and its measures below it'
        yield Problem("HW110", ("panel", "outline"), "the part [panel.outline] is missing", cure)


def _outline(outline: Mapping[str, Any]) -> Iterator[Problem]:
    """Compare radius and tip with the sides; each shape has its own room for them."""
    width, height, radius = (_length(outline, name) for name in ("width", "height", "radius"))
    shape = outline.get("shape")
    tip = _length(outline, "tip")
    path: Path = ("panel", "outline")
    if width is None or height is None or min(width, height) <= 0:
        return
    slips = list(_sides_in_inches(outline))
    yield from slips
    room = min(width / 2, height if shape == "flap" else height / 2)
    if radius is not None and radius > room and shape in ("rectangle", "flap", "tongue"):
        message = f"a radius of {radius:g} mm does not fit a {shape} of {width:g} × {height:g} mm"
        cure = slips[0].cure if slips else f"Choose a radius of at most {room:g} mm"
        yield Problem("HW126", (*path, "radius"), message, cure)
    if shape == "tongue" and tip is not None and tip >= height:
        message = f"a tip of {tip:g} mm leaves no straight sides on a tongue {height:g} mm high"
        cure = slips[0].cure if slips else "Make the tip lower than the tongue"
        yield Problem("HW126", (*path, "tip"), message, cure)


def _sides_in_inches(outline: Mapping[str, Any]) -> Iterator[Problem]:
    """HW127: a bare number so small that inches must be meant."""
    for name in ("width", "height"):
        value = outline.get(name)
        if isinstance(value, int | float) and not isinstance(value, bool) and 0 < value < LEAST_SIDE:
            message = f"the panel's {name} is only {value:g} mm: a plain number is millimetres"
            cure = f'Did you mean {name} = "{value:g} in"?'
            yield Problem("HW127", ("panel", "outline", name), message, cure, severity=Severity.WARNS)
