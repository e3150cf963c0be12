"""Reading a project file: all problems at once, each with its place, its line and a cure."""

from __future__ import annotations

import codecs
import stat
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

from pydantic import ValidationError

from hoopwright.core.errors import ProjectError
from hoopwright.core.findings import Finding, Severity
from hoopwright.project import places
from hoopwright.project.crossing import crossings
from hoopwright.project.drawings import Drawings, read_drawings
from hoopwright.project.places import line_of, lines_of, read_path
from hoopwright.project.problems import Problem, clipped, finding_of
from hoopwright.project.schema import Project
from hoopwright.project.syntax import syntax_problems
from hoopwright.project.tags import guessed_tags
from hoopwright.project.upgrade import upgraded
from hoopwright.project.wording import problems_of

LARGEST_FILE: Final = 1_000_000
"""Bytes a project file may have; the largest sensible one is far smaller."""

_LOOKED_AT: Final = 16
"""Bytes at the start of a file by which two-byte letters without a mark are known."""

_PLAIN: Final = frozenset(b"\t\r\n") | frozenset(range(0x20, 0x7F))

_SAVE_AS_UTF8: Final = "Open the file in a text editor and save it again with the encoding UTF-8"

_DEEPEST: Final = 20
"""How many tables and lists may stand inside each other; the schema needs 6."""

_EXAMPLE_CURE: Final = "Start from a new project file and change it to your wishes"


@dataclass(frozen=True, slots=True)
class Loaded:
    """A project that was read: ``text`` is the file as it stands, ``drawings`` the SVG files it names, with contents."""

    project: Project
    text: str
    drawings: Drawings
    findings: tuple[Finding, ...]


def load(path: Path) -> Loaded:
    """Read the project file at ``path``. Raises ProjectError whose findings list every problem."""
    return parse(_decoded(_bytes_of(path), path), path.resolve().parent)


def parse(text: str, folder: Path | None) -> Loaded:
    """Read a project from its text; drawings are looked for in ``folder``. Raises ProjectError like ``load``."""
    data = _tables(text)
    lines = lines_of(text)
    problems: list[Problem] = []
    data, notes = upgraded(text, data)
    problems += notes
    blocked = [p for p in notes if p.severity == "blocks"]
    if blocked:
        raise _refused(blocked, lines)
    frozen, guesses = guessed_tags(_frozen(data))
    project, refusals = _validated(frozen)
    drawings, lost = read_drawings(frozen, folder)
    found = _once([*guesses, *refusals, *crossings(frozen), *lost])
    if project is None or any(p.severity is Severity.BLOCKS for p in found):
        raise _refused(found, lines)
    problems += found
    return Loaded(project, text, drawings, tuple(finding_of(p, lines) for p in problems))


def with_lines(findings: Iterable[Finding], text: str) -> tuple[Finding, ...]:
    """Return later rooms' findings with the line of the project file ``text`` wherever their path names a place in it."""
    lines = lines_of(text)
    return tuple(_with_line(f, lines) for f in findings)


def _with_line(finding: Finding, lines: dict[places.Path, int]) -> Finding:
    if finding.where.path is None or finding.where.line is not None:
        return finding
    try:
        line = line_of(lines, read_path(finding.where.path))
    except ValueError:
        return finding
    return replace(finding, where=replace(finding.where, line=line))


def _once(problems: list[Problem]) -> list[Problem]:
    """Leave out that a name is badly formed where it is known that nothing has this name."""
    undeclared = {p.path for p in problems if p.code == "HW124"}
    return [p for p in problems if not (p.code == "HW116" and p.path in undeclared)]


def _refused(problems: list[Problem], lines: dict[places.Path, int]) -> ProjectError:
    """Return the error that carries the problems, in the order of their lines."""
    findings = sorted((finding_of(p, lines) for p in problems), key=lambda f: f.where.line or 0)
    count = "one problem" if len(findings) == 1 else f"{len(findings)} problems"
    return ProjectError(f"The project file has {count}", tuple(findings), "Mend what is listed and try again")


def _lone(code: str, message: str, cure: str) -> ProjectError:
    return _refused([Problem(code, (), message, cure)], {})


def _bytes_of(path: Path) -> bytes:
    """Return the contents of the file, not longer than allowed."""
    name = clipped(path.name)
    try:
        mode = path.stat().st_mode
        if stat.S_ISDIR(mode):
            raise _lone("HW101", f"{name} is a folder", "Name the project file inside it")
        if not stat.S_ISREG(mode):
            raise _lone("HW101", f"{name} is not a file", "Name the project file, which ends in .toml")
        with path.open("rb") as file:
            content = file.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise _lone("HW101", f"there is no file called {name}", "Check the name and the folder") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "its name cannot be used"
        raise _lone("HW101", f"{name} cannot be read ({reason})", "Check its name and who may read it") from error
    if len(content) > LARGEST_FILE:
        raise _lone("HW102", "the file is larger than a project file can be (1 MB)", "Check that it is the right file")
    return content


def _decoded(content: bytes, path: Path) -> str:
    """Return the file's text; a project file is UTF-8."""
    if _in_wide_letters(content):
        raise _lone("HW103", f"{clipped(path.name)} is stored in the encoding UTF-16, not in UTF-8", _SAVE_AS_UTF8)
    if b"\0" in content:
        message = f"{clipped(path.name)} is not a text file"
        raise _lone("HW103", message, "Name the project file, which ends in .toml")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        message = "some letters here are not stored as UTF-8"
        raise _refused([Problem("HW103", (), message, _SAVE_AS_UTF8, line)], {}) from error


def _in_wide_letters(content: bytes) -> bool:
    """Return whether the file begins with the mark of UTF-16 (Unicode 16.0, 2.6), or its first line reads as such."""
    if content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return True
    first = content[:_LOOKED_AT]
    lone = [first[start::2] for start in (0, 1)]
    return any(a and not any(a) and b and all(c in _PLAIN for c in b) for a, b in (lone, lone[::-1]))


def _tables(text: str) -> dict[str, Any]:
    """Return the file's tables. Raises ProjectError for an empty file or one that is no TOML."""
    if len(text) > LARGEST_FILE:
        raise _lone("HW102", "the text is longer than a project file can be", "Check that it is the right file")
    if not text.strip():
        raise _lone("HW104", "the file is empty", _EXAMPLE_CURE)
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _refused(syntax_problems(text, str(error)), {}) from error
    except (RecursionError, ValueError) as error:
        raise _lone("HW105", "a number or a nest of brackets is far too long", "Take it out") from error
    if not data:
        raise _lone("HW104", "the file has comments only, no settings", _EXAMPLE_CURE)
    if _depth(data) > _DEEPEST:
        raise _lone("HW105", "brackets stand inside each other far too deep", "Take the deepest ones out")
    return data


def _depth(data: Any) -> int:
    """Return how many tables and lists stand inside each other, counted no further than needed."""
    depth, level = 0, [data]
    while level and depth <= _DEEPEST:
        depth += 1
        level = [v for x in level if isinstance(x, dict | list) for v in (x.values() if isinstance(x, dict) else x)]
    return depth


def _frozen(value: Any) -> Any:
    """Return the data with its lists as tuples, which the schema takes strictly."""
    if isinstance(value, Mapping):
        return {k: _frozen(v) for k, v in value.items()}
    return tuple(_frozen(v) for v in value) if isinstance(value, list) else value


def _validated(data: Any) -> tuple[Project | None, list[Problem]]:
    try:
        return Project.model_validate(data, strict=True), []
    except ValidationError as error:
        return None, problems_of(error, data)
