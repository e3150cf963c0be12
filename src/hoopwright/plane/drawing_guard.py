"""A guard in front of every SVG drawing: what a drawing of lines never needs is refused before anything reads it.

The document is only streamed through, never built, so neither depth nor size of it can do harm here.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final
from xml.parsers import expat

from hoopwright.core.errors import GeometryError

LARGEST_FILE: Final = 2_000_000
"""Bytes of a drawing that are still read."""

DEEPEST: Final = 100
"""Elements inside elements that are still read."""

MOST_ELEMENTS: Final = 20_000
"""Elements of a drawing that are still read, copies made by "use" counted."""

IGNORED: Final = frozenset({"text", "tspan", "textPath", "image"})
"""Elements without lines that are left out and mentioned."""

_REFUSED: Final = {
    "script": "a script",
    "foreignObject": "foreign content",
    "handler": "a script",
    "iframe": "foreign content",
    "animate": "an animation",
    "animateTransform": "an animation",
    "animateMotion": "an animation",
    "set": "an animation",
}


@dataclass(slots=True)
class _Watch:
    """What was met so far while the document streams through."""

    name: str
    depth: int = 0
    elements: int = 0
    uses: int = 0
    root: str = ""
    ignored: dict[str, int] = field(default_factory=dict)
    open_copies: int = 0

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """Look at an element that opens."""
        plain = tag.rsplit(":", 1)[-1]
        self.depth += 1
        self.elements += 1
        self.root = self.root or plain
        if self.depth > DEEPEST:
            raise _refusal(self.name, f"has groups nested more than {DEEPEST} deep", "Ungroup the drawing")
        if self.elements > MOST_ELEMENTS:
            raise _refusal(self.name, f"has more than {MOST_ELEMENTS} elements", "Leave only the lines of the patches")
        if plain in _REFUSED:
            raise _refusal(self.name, f"contains {_REFUSED[plain]}", "Save it again as a plain SVG of lines")
        if plain in IGNORED:
            self.ignored[plain] = self.ignored.get(plain, 0) + 1
        if plain == "use":
            self.uses += 1
        self._attributes(plain, attributes)

    def _attributes(self, tag: str, attributes: dict[str, str]) -> None:
        for key, value in attributes.items():
            plain = key.rsplit(":", 1)[-1]
            if plain.lower().startswith("on"):
                raise _refusal(self.name, "contains a script", "Save it again as a plain SVG of lines")
            inside = value.strip().startswith("#") or (tag == "image" and value.strip().startswith("data:"))
            if plain in {"href", "src"} and not inside:
                raise _refusal(
                    self.name, f"refers to something outside itself ({value[:40]!r})", "Embed it or take it out"
                )

    def end(self, _tag: str) -> None:
        """Note that an element closes."""
        self.depth -= 1

    def doctype(self, *_: object) -> None:
        """Refuse a document type, the door for entities."""
        raise _refusal(self.name, "declares a document type or entities", "Delete the line that begins with <!DOCTYPE")

    def instruction(self, target: str, _data: str) -> None:
        """Refuse style sheets from outside."""
        if target == "xml-stylesheet":
            raise _refusal(self.name, "refers to a style sheet outside itself", "Delete the xml-stylesheet line")


def _refusal(name: str, what: str, cure: str) -> GeometryError:
    return GeometryError(f"The drawing {name} {what}", cure)


def guard(data: bytes, name: str) -> tuple[tuple[str, int], ...]:
    """Pass the bytes of a drawing or raise GeometryError with plain words.

    Returns the kinds of elements that will be left out (texts, pictures) with their numbers.
    """
    if len(data) > LARGEST_FILE:
        raise _refusal(name, f"is larger than {LARGEST_FILE // 1_000_000} MB", "Leave only the lines of the patches")
    watch = _Watch(name)
    parser = expat.ParserCreate()
    parser.StartElementHandler = watch.start
    parser.EndElementHandler = watch.end
    parser.StartDoctypeDeclHandler = watch.doctype
    parser.EntityDeclHandler = watch.doctype
    parser.ProcessingInstructionHandler = watch.instruction
    try:
        parser.Parse(data, True)
    except expat.ExpatError as error:
        raise _refusal(name, f"is not a whole SVG file (line {error.lineno})", "Save it again as SVG") from error
    if watch.root != "svg":
        raise _refusal(name, "is not an SVG file", "Save the drawing as SVG")
    if watch.uses * watch.elements > MOST_ELEMENTS:
        raise _refusal(name, "makes too many copies of its parts", "Turn the copies into plain lines")
    return tuple(sorted(watch.ignored.items()))
