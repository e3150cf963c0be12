"""The booklet as one PDF."""

from __future__ import annotations

from collections.abc import Mapping

from hoopwright.build import Build
from hoopwright.outputs.booklet.content import content
from hoopwright.outputs.booklet.pictures import as_text, files_of
from hoopwright.outputs.saying import said_throughout, saying
from hoopwright.outputs.templates.typeset import source, typeset


def booklet_pdf(build: Build, pictures: Mapping[str, bytes]) -> bytes:
    """Return the maker's booklet on the project's paper; equal builds and pictures give equal bytes.

    ``pictures`` are looked up by name: "finished.png" for the cover, "<hooping>-step-NN.svg" and
    "<hooping>-step-NN-hands.svg" for the halts, "legend.svg" for the signs in them; a missing one leaves its place
    empty. Raises OutputError when the pages cannot be set.
    """
    data = said_throughout(content(build, pictures), saying(build.plan.project))
    assert isinstance(data, dict)
    shown = {name: as_text(name, pictures) for name in files_of(data)}
    return typeset(source("hoopwright.outputs.booklet", "booklet.typ"), data, shown)
