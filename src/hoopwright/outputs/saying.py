"""What is printed and drawn, in the language that the project asks for.

Everything is put together in English and said in the other language at the border: where words are drawn or typeset, for there
their breadth counts, or where all data of a paper is ready.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Final, TypeAlias

from hoopwright.outputs.drawing.shapes import Drawing
from hoopwright.project.names import names_of
from hoopwright.project.schema import Project
from hoopwright.translation.catalogue import LANGUAGES
from hoopwright.translation.sentences import translated

Say: TypeAlias = Callable[[str], str]
"""Says an English text in the language of the papers."""

SILENT: Final = frozenset({"file", "colour", "code", "gravity", "language", "paper"})
"""Names in the data of a paper under which no words stand."""


def plain(text: str) -> str:
    """Return a text as it is: papers in English."""
    return text


def saying(project: Project) -> Say:
    """Return what says a text in the project's language; the maker's own names stay as they are."""
    if project.language not in LANGUAGES:
        return plain
    names = names_of(project)
    return lambda text: translated(text, project.language, names)


def said_throughout(data: object, say: Say) -> object:
    """Return plain data with every text said, except under SILENT names."""
    if isinstance(data, str):
        return say(data)
    if isinstance(data, Mapping):
        return {k: v if k in SILENT else said_throughout(v, say) for k, v in data.items()}
    if isinstance(data, Sequence):
        return [said_throughout(v, say) for v in data]
    return data


def titled(drawing: Drawing, say: Say) -> Drawing:
    """Return a drawing with its title and description said; its labels were said when they were drawn."""
    return replace(drawing, title=say(drawing.title), description=say(drawing.description))
