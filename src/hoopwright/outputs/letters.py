"""Words that the fonts of the booklet and the templates cannot show."""

from __future__ import annotations

from collections.abc import Iterator

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.words import listed
from hoopwright.outputs.templates.lettering import unknown_letters
from hoopwright.project.schema import Project

SHOWN = 6
"""So many letters are named."""


def letter_findings(project: Project) -> tuple[Finding, ...]:
    """Return HW820 for every name that is printed with question marks in place of letters the fonts do not have."""
    found = [(path, what, unknown_letters(text)) for path, what, text in _printed(project)]
    return tuple(_finding(path, what, letters) for path, what, letters in found if letters)


def _printed(project: Project) -> Iterator[tuple[str, str, str]]:
    yield "title", "title", project.title
    yield "foundation.name", "foundation's name", project.foundation.name
    yield "foundation.batting", "batting's name", project.foundation.batting or ""
    for key, cloth in project.cloths.items():
        yield f"cloths.{key}.name", "cloth's name", cloth.name
    for key, thread in project.threads.items():
        yield f"threads.{key}.name", "thread's name", thread.name


def _finding(path: str, what: str, letters: str) -> Finding:
    shown = listed([*letters[:SHOWN], *(["others"] if len(letters) > SHOWN else [])])
    return Finding(
        "HW820",
        Severity.NOTES,
        f"The {what} has letters that the fonts of the booklet and templates do not have: {shown}; ? is printed for each",
        "Write it in Latin, Greek or Cyrillic letters if you want to read it on paper",
        Where(path=path),
    )
