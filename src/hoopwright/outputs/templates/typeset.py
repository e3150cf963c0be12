"""Setting pages in exact millimetres with Typst and the fonts that come with the package."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from importlib.resources import files

import typst

from hoopwright.core.errors import OutputError
from hoopwright.outputs.templates.fonts import SANS, SERIF, font_folders
from hoopwright.outputs.templates.lettering import all_printable


@cache
def _fonts() -> typst.Fonts:
    """Return the only fonts pages may use; a missing family is an error, because Typst itself would stay silent."""
    fonts = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=list(font_folders()))
    missing = {SANS, SERIF} - set(fonts.families())
    if missing:
        raise OutputError(f"The fonts {', '.join(sorted(missing))} were not found", "Install the package again.")
    return fonts


def source(package: str, name: str) -> bytes:
    """Return a file that lies in ``package``."""
    return files(package).joinpath(name).read_bytes()


def typeset(main: bytes, data: Mapping[str, object], pictures: Mapping[str, bytes]) -> bytes:
    """Return the PDF of the Typst source ``main``, accessible after PDF/UA-1.

    ``data`` reaches it as "data.json", so that no text of the maker's is ever read as code; letters the fonts cannot
    show are replaced. ``pictures`` reach it as files by their names. Raises OutputError when Typst refuses the pages.
    """
    text = json.dumps(all_printable(data), ensure_ascii=False, allow_nan=False).encode()
    parts = {"main.typ": main, "data.json": text, **pictures}
    try:
        pdf = typst.compile(  # type: ignore[call-overload]  # it takes a mapping of files, which its stubs leave out
            parts,
            font_paths=_fonts(),
            ignore_system_fonts=True,
            format="pdf",
            pdf_standards=["ua-1"],
        )
    except RuntimeError as error:  # the library's own error is one of these
        raise OutputError(f"The pages could not be set: {error}", "Report this as a fault.") from error
    return bytes(pdf)
