"""Sentences as makers get them: everything that the worktable answers in words about the example projects, and about faulty ones."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any
from unittest.mock import patch

from hoopwright.build import Build
from hoopwright.outputs.pictures import pictures
from hoopwright.pipeline import build, draft_view, finding_row, halt_sheets, items, run_sheet, swatch_catalogue
from hoopwright.project.load import load
from hoopwright.worktable.speech import DRAFT, HALTS, SHEET, SHOWN, names_of

EXAMPLES = tuple(sorted((Path(__file__).parents[2] / "examples").glob("*/project.toml")))


@dataclass(frozen=True, slots=True)
class Sentence:
    """A text, where it comes from, and the maker's names that may stand in it."""

    text: str
    source: str
    names: tuple[str, ...] = ()


def texts_in(row: Any, fields: frozenset[str]) -> Iterator[str]:
    """Yield the texts of some fields of plain data, as the worktable finds them."""
    if isinstance(row, dict):
        for key, value in row.items():
            if key != "project":
                yield from _texts(value) if key in fields else texts_in(value, fields)
    elif isinstance(row, list | tuple):
        for one in row:
            yield from texts_in(one, fields)


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, list | tuple):
        for one in value:
            yield from _texts(one)


@cache
def built(path: Path) -> Build:
    """Return the build of a project file."""
    loaded = load(path)
    return build(loaded.project, dict(loaded.drawings))


@cache
def of_project(path: Path) -> tuple[Sentence, ...]:
    """Return every sentence about a project: what was found, the run sheet, the halts at the machine (their pictures left white)."""
    loaded, made = load(path), built(path)
    with patch.object(pictures, "to_svg", lambda _: ""):
        halts = halt_sheets(made)
    rows: list[tuple[Any, frozenset[str]]] = [
        (draft_view(made, dict(loaded.drawings)), DRAFT),
        ([finding_row(f) for f in loaded.findings], DRAFT),
        *((run_sheet(made, h.key), SHEET) for h in made.plan.hoopings),
        *((s.row, HALTS) for s in halts),
    ]
    found = dict.fromkeys(t for row, fields in rows for t in texts_in(row, fields) if t.strip())
    return tuple(Sentence(t, path.parent.name, names_of(made.plan.project)) for t in found)


def of_choices() -> list[Sentence]:
    """Return every sentence about what there is to choose from."""
    shown = [{"title": r.title, "summary": r.summary} for r in items()]
    return [Sentence(t, "choices") for row in (shown, swatch_catalogue()) for t in texts_in(row, SHOWN)]
