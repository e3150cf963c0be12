"""The card: every swatch at true size with its names and figures, to lie beside the sewn sheets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from hoopwright.build import Build
from hoopwright.core.types import Mm
from hoopwright.core.words import counted, listed, whole_minutes
from hoopwright.items.swatches.sheets import TITLES, Swatch, Swatches
from hoopwright.items.swatches.wish import FAMILIES, Family
from hoopwright.outputs.saying import saying
from hoopwright.outputs.swatches.entries import BESIDE, entry, picture_size, pictures_of
from hoopwright.outputs.templates.furniture import MARGIN, Sheet, furniture, sheet_of
from hoopwright.outputs.templates.marks import Mark, Words, as_data, shifted
from hoopwright.outputs.templates.typeset import source, typeset

BELOW: Final[Mm] = 3.5
"""From one swatch to the next below it."""

GUTTER: Final[Mm] = 6.0
"""Between two columns of grounds."""

LEAST_WORDS: Final[Mm] = 36.0
"""Narrower words beside a square are hard to read."""

FEW: Final = 2
"""More sheets are told by the first and the last."""

BAR_WORDS: Final = "Print at 100 %, actual size. Measure this bar: if it is not 100 mm, the card is not true to size."

TITLE: Final = "Swatch card"


def card_pdf(build: Build, sheets: Swatches) -> bytes:
    """Return the card as PDF on the project's paper; equal sheets give equal bytes.

    Lengths on paper are exact millimetres when it is printed at 100 %. Raises OutputError when the pages cannot be set.
    """
    project = sheets.plan.project
    paper = sheet_of(project.paper)
    pages = [(f, marks) for f in FAMILIES for marks in _pages(sheets, f, paper)]
    data = {
        "language": project.language,
        "document": saying(project)(TITLE),
        "width": paper.width,
        "height": paper.height,
        "pages": [
            [as_data(m) for m in (*_furniture(build, paper, family, k, len(pages)), *marks)]
            for k, (family, marks) in enumerate(pages, start=1)
        ],
    }
    return typeset(source("hoopwright.outputs.templates", "templates.typ"), data, pictures_of(sheets))


def _furniture(build: Build, paper: Sheet, family: Family, number: int, count: int) -> tuple[Mark, ...]:
    say = saying(build.plan.project)
    words = Words(say(_sheet_words(build, family)), (MARGIN, MARGIN + 12.0), 8.0)
    page = furniture(paper, say(TITLE), TITLES[family], number, count, legend=False, bar_words=BAR_WORDS, say=say)
    return (*page, words)


def _sheet_words(build: Build, family: Family) -> str:
    """Return which stitch files sew the swatches of a family, and how long that takes."""
    hoopings = [h for h in build.plan.hoopings if h.key.startswith(family)]
    files = (" to " if len(hoopings) > FEW else " and ").join(dict.fromkeys((hoopings[0].key, hoopings[-1].key)))
    minutes = [f"{whole_minutes(build.estimate.machine_of(h.key))}" for h in hoopings]
    stitches = counted(sum(h.count for h in hoopings), "stitch", "stitches")
    if len(hoopings) == 1:
        return f"Sewn by the stitch file {files}: {stitches}, about {minutes[0]} min on the machine."
    return f"Sewn by the stitch files {files}: {stitches}, on the machine about {listed(minutes)} min in this order."


def _pages(sheets: Swatches, family: Family, paper: Sheet) -> Iterator[tuple[Mark, ...]]:
    """Yield the marks of every page of one family."""
    columns = 1 if family == "seam-stitches" else _columns(sheets.of(family), paper)
    width = (paper.room[0] - (columns - 1) * GUTTER) / columns
    entries = [entry(sheets, s, width) for s in sheets.of(family)]
    rows = [entries[i : i + columns] for i in range(0, len(entries), columns)]
    marks: list[Mark] = []
    x, top = paper.corner
    y = top
    for row in rows:
        height = max(e.height for e in row)
        if marks and y + height > top + paper.room[1]:
            yield tuple(marks)
            marks, y = [], top
        marks += [shifted(m, x + k * (width + GUTTER), y) for k, e in enumerate(row) for m in e.marks]
        y += height + BELOW
    if marks:
        yield tuple(marks)


def _columns(swatches: Sequence[Swatch], paper: Sheet) -> int:
    width = max((picture_size(s)[0] for s in swatches), default=0.0)
    return 2 if 2 * (width + BESIDE + LEAST_WORDS) + GUTTER <= paper.room[0] else 1
