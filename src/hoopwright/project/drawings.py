"""The files a project names, read from its own folder and nowhere else: drawings, stitch files, fonts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, TypeAlias

from hoopwright.project import places
from hoopwright.project.problems import Problem, clipped, offer
from hoopwright.project.settings import TAGS

Drawings: TypeAlias = tuple[tuple[str, bytes], ...]
"""Names as written in the project, with the contents of the files."""

LARGEST_DRAWING: Final = 5_000_000
"""Bytes an SVG drawing may have."""

DRAWING_ENDINGS: Final = (".svg",)
STITCH_ENDINGS: Final = (".dst", ".exp", ".jef", ".pec", ".pes", ".u01", ".vp3", ".xxx")
FONT_ENDINGS: Final = (".otf", ".ttf")


@dataclass(frozen=True, slots=True)
class _Kind:
    """A kind of file: what it is called, with its article; its endings; the most bytes; what to do when it is larger."""

    word: str
    article: str
    endings: tuple[str, ...]
    most: int
    smaller: str


_DRAWING: Final = _Kind(
    "drawing", "an SVG drawing", DRAWING_ENDINGS, LARGEST_DRAWING, "Keep only the lines of the panel in it"
)
_STITCHES: Final = _Kind(
    "stitch file",
    "a stitch file",
    STITCH_ENDINGS,
    10_000_000,
    "Place a smaller design",
)
_FONT: Final = _Kind("font", "a font file", FONT_ENDINGS, 30_000_000, "Choose a font with fewer letters")

_Named: TypeAlias = tuple[places.Path, str, _Kind]

_PLACES: Final[tuple[tuple[places.Path, _Kind], ...]] = (
    (("panel", "ground", "file"), _DRAWING),
    (("panel", "grounds", "*", "file"), _DRAWING),
    (("panel", "placed", "*", "file"), _STITCHES),
    (("panel", "lettering", "*", "font"), _FONT),
    (("make", "ground", "file"), _DRAWING),
    (("make", "font"), _FONT),
)
"""Where files are named; "*" stands for every name or list position."""


def read_drawings(data: Mapping[str, Any], folder: Path | None) -> tuple[Drawings, list[Problem]]:
    """Return the files named by the project's data and what is wrong with the names."""
    read: dict[str, bytes] = {}
    problems: list[Problem] = []
    for path, name, kind in _named(data):
        result = _read(path, name, kind, folder)
        if isinstance(result, Problem):
            problems.append(result)
        else:
            read[name] = result
    return tuple(sorted(read.items())), problems


def _named(data: Mapping[str, Any]) -> Iterator[_Named]:
    panel = data.get("panel")
    for path, tag in TAGS.items():
        table = panel.get(path[-1]) if isinstance(panel, Mapping) else None
        if isinstance(table, Mapping) and table.get(tag) == "drawing" and isinstance(table.get("file"), str):
            yield (*path, "file"), table["file"].strip(), _DRAWING
    for pattern, kind in _PLACES:
        for path, name in _at(data, pattern, ()):
            yield path, name, kind


def _at(data: Any, pattern: places.Path, path: places.Path) -> Iterator[tuple[places.Path, str]]:
    """Yield the texts that stand at the places of a pattern."""
    if not pattern:
        if isinstance(data, str):
            yield path, data.strip()
        return
    first, rest = pattern[0], pattern[1:]
    if isinstance(data, Mapping):
        keys = tuple(data) if first == "*" else (first,)
        for key in keys:
            yield from _at(data.get(key), rest, (*path, key))
    elif isinstance(data, tuple | list) and first == "*":
        for i, value in enumerate(data):
            yield from _at(value, rest, (*path, i))


def _read(path: places.Path, name: str, kind: _Kind, folder: Path | None) -> bytes | Problem:
    """Return the contents of one file, or why it cannot be had."""
    word = kind.word
    if folder is None:
        return Problem(
            "HW130", path, f"the {word} {clipped(name)} has no folder to be read from", "Save the project first"
        )
    if not name.lower().endswith(kind.endings):
        listed = " or ".join(f'"{e}"' for e in kind.endings)
        return Problem("HW130", path, f"{clipped(name)} is not {kind.article}", f"Name a file that ends in {listed}")
    try:
        home = folder.resolve()
        place = (home / name).resolve()
        if Path(name).is_absolute() or not place.is_relative_to(home):
            cure = f"Copy the {word} beside the project file and give its name only"
            return Problem("HW130", path, f"{clipped(name)} lies outside the project's folder", cure)
        if not place.is_file():
            return Problem("HW130", path, f"there is no {word} called {clipped(name)}", _missing_cure(kind, name, home))
        with place.open("rb") as file:
            content = file.read(kind.most + 1)
    except (OSError, ValueError, RuntimeError):
        return Problem(
            "HW130", path, f"the {word} {clipped(name)} cannot be read", "Check its name and who may read it"
        )
    if len(content) > kind.most:
        return Problem(
            "HW130", path, f"the {word} {clipped(name)} is larger than {kind.most // 1_000_000} MB", kind.smaller
        )
    return content


def _missing_cure(kind: _Kind, name: str, home: Path) -> str:
    there = sorted(p.name for p in home.iterdir() if p.suffix.lower() in kind.endings)[:50]
    return offer(name, there, f"Put the {kind.word} beside the project file")
