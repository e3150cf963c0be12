"""What is printed and drawn, in the language that the project asks for.

Everything is put together in English and said in the other language at the border: where words are drawn or typeset, for there
their breadth counts, or where all data of a paper is ready.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Final, TypeAlias

from hoopwright.outputs.drawing.shapes import Drawing
from hoopwright.project.schema import Project
from hoopwright.translation.catalogue import LANGUAGES, catalogue
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
    names = own_names(project)
    return lambda text: translated(text, project.language, names)


def own_names(project: Project) -> tuple[str, ...]:
    """Return the words that the maker wrote: title, names of cloths, threads and what is hooped.

    A single word of the trade such as "lining" is left out, because it stands in our own sentences as well.
    """
    foundation = [project.foundation.name] if "name" in project.foundation.model_fields_set else []
    found = [project.title, *foundation, project.foundation.batting or ""]
    found += [cloth.name for cloth in project.cloths.values()] + [thread.name for thread in project.threads.values()]
    known = catalogue(project.language).loosely if project.language in LANGUAGES else {}
    return tuple(n for n in dict.fromkeys(found) if n and n not in known)


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
