"""The booklet as one PDF."""

from __future__ import annotations

from collections.abc import Mapping

from hoopwright.build import Build
from hoopwright.outputs.booklet.content import content
from hoopwright.outputs.templates.typeset import source, typeset


def booklet_pdf(build: Build, pictures: Mapping[str, bytes]) -> bytes:
    """Return the maker's booklet on the project's paper; equal builds and pictures give equal bytes.

    ``pictures`` are looked up by name: "finished..." for the cover, "<hooping>-step-NN.svg" for the halts; a missing
    one leaves its place empty. Raises OutputError when the pages cannot be set.
    """
    main = source("hoopwright.outputs.booklet", "booklet.typ")
    return typeset(main, content(build, pictures), pictures)
