"""Older project files: each step takes a file from one schema version to the next, comments kept.

Version 0 wrote the hoop as a bare text (hoop = "130x180") and seam stitches as bare texts (seam_stitch = "feather",
and "3" = "fly" below [panel.seams]).
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, MutableMapping
from typing import Any, Final

import tomlkit
from tomlkit.exceptions import TOMLKitError

from hoopwright.core.findings import Severity
from hoopwright.project.problems import Problem
from hoopwright.project.schema import SCHEMA_VERSION


def upgraded(text: str, data: dict[str, Any]) -> tuple[dict[str, Any], list[Problem]]:
    """Return the data at the present version, with a note when it was older, or a problem when it cannot be read."""
    version = data.get("schema", SCHEMA_VERSION)
    if isinstance(version, bool) or not isinstance(version, int):
        return data, []
    problem = _impossible(version)
    if problem is not None:
        return data, [problem]
    if version == SCHEMA_VERSION:
        return data, []
    try:
        newer = tomllib.loads(upgraded_text(text))
    except (TOMLKitError, tomllib.TOMLDecodeError, ValueError):
        message = f"the file is of the older version {version} and cannot be brought up to date as it stands"
        return data, [
            Problem(
                "HW107", ("schema",), message, f"Start a new file of version {SCHEMA_VERSION} and copy your settings"
            )
        ]
    message = f"the file is of the older version {version} and was read as version {SCHEMA_VERSION}; the file itself is unchanged"
    return newer, [
        Problem(
            "HW108",
            ("schema",),
            message,
            "It works as it is; the chapter Older files of docs/project-file.md says how to bring it up to date",
            None,
            Severity.NOTES,
        )
    ]


def _impossible(version: int) -> Problem | None:
    if version > SCHEMA_VERSION:
        message = f"the file is of version {version}, but this Hoopwright knows versions up to {SCHEMA_VERSION}"
        return Problem("HW106", ("schema",), message, "Use a newer Hoopwright, or ask for the file in the older form")
    if version < 0:
        return Problem("HW106", ("schema",), f"there is no version {version}", f"Write schema = {SCHEMA_VERSION}")
    return None


def upgraded_text(text: str) -> str:
    """Return the file's text at the present version, comments kept; unchanged when it is up to date.

    Raises ValueError for a version without a way up, or a text that is no TOML.
    """
    document = tomlkit.parse(text)
    version = int(document.get("schema", SCHEMA_VERSION))
    if version == SCHEMA_VERSION:
        return text
    if not 0 <= version < SCHEMA_VERSION:
        raise ValueError(f"no way up from version {version}")
    for step in STEPS[version:]:
        step(document)
    document["schema"] = SCHEMA_VERSION
    return tomlkit.dumps(document)


def _from_0(document: MutableMapping[str, Any]) -> None:
    """Hoop and seam stitches become tables."""
    if isinstance(document.get("hoop"), str):
        _wrap(document, "hoop", "field")
    panel = document.get("panel")
    if not isinstance(panel, MutableMapping):
        return
    if isinstance(panel.get("seam_stitch"), str):
        _wrap(panel, "seam_stitch", "stitch")
    seams: Any = panel.get("seams")
    for number in list(seams) if isinstance(seams, MutableMapping) else ():
        if isinstance(seams[number], str):
            _wrap(seams, number, "stitch")


def _wrap(table: MutableMapping[str, Any], key: str, inner: str) -> None:
    """Turn key = "text" into key = { inner = "text" } where it stands, its comment kept."""
    old = table[key]
    wrapped = tomlkit.inline_table()
    wrapped[inner] = str(old)
    wrapped.trivia.comment_ws, wrapped.trivia.comment = old.trivia.comment_ws, old.trivia.comment
    table[key] = wrapped


STEPS: Final[tuple[Callable[[MutableMapping[str, Any]], None], ...]] = (_from_0,)
"""Step n brings version n to version n + 1."""
