"""What in a project is the maker's own words, which no translation touches."""

from __future__ import annotations

from typing import Final

from hoopwright.project.schema import Project
from hoopwright.translation.catalogue import LANGUAGES, catalogue
from hoopwright.translation.sentences import left_in_english

JOINED: Final = " / "
"""Stands between lines of letters where they are told on one line."""


def names_of(project: Project) -> tuple[str, ...]:
    """Return the names and texts in a project that are the maker's own: title, cloths, threads, letters to be sewn.

    Words of the trade are not among them: a foundation or batting that the engine has words for, and a cloth that is called by
    one word of ours, such as "lining", for that stands in our own sentences too.
    """
    lines = [row.lines for row in project.panel.lettering]
    label = project.make.get("lines")
    if isinstance(label, list | tuple):
        lines.append(tuple(str(line) for line in label))
    own = (
        project.title,
        *(c.name for c in project.cloths.values()),
        *(t.name for t in project.threads.values()),
        *(text for row in lines for text in (JOINED.join(row), *row)),
    )
    layers = (n for n in (project.foundation.name, project.foundation.batting) if n)
    return (
        *(n for n in own if not _of_the_trade(n)),
        *(n for n in layers if any(left_in_english(n, code) for code in LANGUAGES)),
    )


def _of_the_trade(name: str) -> bool:
    """Whether a name is one small word of the catalogue."""
    return name.isalpha() and name.islower() and any(name in catalogue(code).whole for code in LANGUAGES)
