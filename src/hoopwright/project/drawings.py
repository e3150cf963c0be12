"""The drawings a project names, read from its own folder and nowhere else."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final, TypeAlias

from hoopwright.project import places
from hoopwright.project.problems import Problem, clipped, offer
from hoopwright.project.settings import TAGS

Drawings: TypeAlias = tuple[tuple[str, bytes], ...]
"""Names as written in the project, with the contents of the files."""

LARGEST_DRAWING: Final = 5_000_000
"""Bytes an SVG drawing may have."""


def read_drawings(data: Mapping[str, Any], folder: Path | None) -> tuple[Drawings, list[Problem]]:
    """Return the drawings named by the file's data and what is wrong with the names."""
    read: dict[str, bytes] = {}
    problems: list[Problem] = []
    for path, name in _named(data):
        result = _read(path, name, folder)
        if isinstance(result, Problem):
            problems.append(result)
        else:
            read[name] = result
    return tuple(sorted(read.items())), problems


def _named(data: Mapping[str, Any]) -> Iterator[tuple[places.Path, str]]:
    panel = data.get("panel")
    for path, tag in TAGS.items():
        table = panel.get(path[-1]) if isinstance(panel, Mapping) else None
        if isinstance(table, Mapping) and table.get(tag) == "drawing" and isinstance(table.get("file"), str):
            yield (*path, "file"), table["file"].strip()


def _read(path: places.Path, name: str, folder: Path | None) -> bytes | Problem:
    """Return the contents of one drawing, or why it cannot be had."""
    if folder is None:
        return Problem(
            "HW130", path, f"the drawing {clipped(name)} has no folder to be read from", "Save the project first"
        )
    if not name.lower().endswith(".svg"):
        return Problem("HW130", path, f"{clipped(name)} is not an SVG drawing", 'Name a file that ends in ".svg"')
    try:
        home = folder.resolve()
        place = (home / name).resolve()
        if Path(name).is_absolute() or not place.is_relative_to(home):
            cure = "Copy the drawing beside the project file and give its name only"
            return Problem("HW130", path, f"{clipped(name)} lies outside the project's folder", cure)
        if not place.is_file():
            return Problem("HW130", path, f"there is no drawing called {clipped(name)}", _missing_cure(name, home))
        with place.open("rb") as file:
            content = file.read(LARGEST_DRAWING + 1)
    except (OSError, ValueError, RuntimeError):
        return Problem(
            "HW130", path, f"the drawing {clipped(name)} cannot be read", "Check its name and who may read it"
        )
    if len(content) > LARGEST_DRAWING:
        return Problem(
            "HW130", path, f"the drawing {clipped(name)} is larger than 5 MB", "Keep only the lines of the panel in it"
        )
    return content


def _missing_cure(name: str, home: Path) -> str:
    there = sorted(p.name for p in home.iterdir() if p.suffix.lower() == ".svg")[:50]
    return offer(name, there, "Put the drawing beside the project file")
