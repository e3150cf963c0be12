"""The card: every swatch at true size with its names and figures, to lie beside the sewn sheets."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from hoopwright.build import Build
from hoopwright.core.types import Mm
from hoopwright.core.words import counted, listed
from hoopwright.items.swatches.sheets import TITLES, Swatch, Swatches
from hoopwright.items.swatches.wish import FAMILIES, Family
from hoopwright.outputs.booklet.pictures import PACKED, as_text
from hoopwright.outputs.booklet.wording import long_time
from hoopwright.outputs.drawing.shapes import Extent
from hoopwright.outputs.swatches.pictures import cloth_png, mark_strands, strands_of
from hoopwright.outputs.swatches.wording import amount_words, bound, described, other_names, settings_words, title_of
from hoopwright.outputs.templates.furniture import MARGIN, Sheet, furniture, sheet_of
from hoopwright.outputs.templates.lettering import POINT, text_width, wrapped
from hoopwright.outputs.templates.marks import Mark, Picture, Words, as_data, shifted
from hoopwright.outputs.templates.typeset import source, typeset

SCALE: Final = 12.0
"""Pixels to the mm in the pictures of the card, about 300 to the inch."""

SNAP: Final[Mm] = 0.5
"""Pictures measure whole multiples of this, which are whole pixels."""

PAD: Final[Mm] = 2.5
"""Cloth shown round a swatch."""

BESIDE: Final[Mm] = 4.0
"""From a picture to its words."""

BELOW: Final[Mm] = 3.5
"""From one swatch to the next below it."""

GUTTER: Final[Mm] = 6.0
"""Between two columns of grounds."""

HEAD: Final = 10.5
BODY: Final = 8.5
"""Sizes of a swatch's title and of the words below it, points."""

DROP: Final[Mm] = 0.25
"""Small words beside larger ones stand so much lower, on the same line."""

LEAD: Final = 1.32
"""Height of a line of words over its size."""

BAR_WORDS: Final = "Print at 100 %, actual size. Measure this bar: if it is not 100 mm, the card is not true to size."

TITLE: Final = "Swatch card"


@dataclass(frozen=True, slots=True)
class Entry:
    """A swatch with its words: marks from (0, 0), and the height they take."""

    marks: tuple[Mark, ...]
    height: Mm


def card_pdf(build: Build, sheets: Swatches) -> bytes:
    """Return the card as PDF on the project's paper; equal sheets give equal bytes.

    Lengths on paper are exact millimetres when it is printed at 100 %. Raises OutputError when the pages cannot be set.
    """
    project = sheets.plan.project
    paper = sheet_of(project.paper)
    pages = [(f, marks) for f in FAMILIES for marks in _pages(sheets, f, paper)]
    data = {
        "document": TITLE,
        "width": paper.width,
        "height": paper.height,
        "pages": [
            [as_data(m) for m in (*_furniture(build, paper, family, k, len(pages)), *marks)]
            for k, (family, marks) in enumerate(pages, start=1)
        ],
    }
    return typeset(source("hoopwright.outputs.templates", "templates.typ"), data, _pictures(sheets))


def _furniture(build: Build, paper: Sheet, family: Family, number: int, count: int) -> tuple[Mark, ...]:
    words = Words(_sheet_words(build, family), (MARGIN, MARGIN + 12.0), 8.0)
    return (*furniture(paper, TITLE, TITLES[family], number, count, legend=False, bar_words=BAR_WORDS), words)


def _sheet_words(build: Build, family: Family) -> str:
    """Return which stitch files sew the swatches of a family, and how long that takes."""
    hoopings = [h for h in build.plan.hoopings if h.key.startswith(family)]
    files = listed(h.key for h in hoopings)
    minutes = [long_time(build.estimate.machine_of(h.key)) for h in hoopings]
    stitches = sum(h.count for h in hoopings)
    each = "the machine sews" if len(hoopings) == 1 else "the machine sews each, in this order,"
    return (
        f"Sewn by the stitch file{'s' if len(hoopings) > 1 else ''} {files}: {counted(stitches, 'stitch', 'stitches')}; "
        f"{each} in about {listed(minutes)}."
    )


def _pages(sheets: Swatches, family: Family, paper: Sheet) -> Iterator[tuple[Mark, ...]]:
    """Yield the marks of every page of one family."""
    columns = 1 if family == "seam-stitches" else _columns(sheets.of(family), paper)
    width = (paper.room[0] - (columns - 1) * GUTTER) / columns
    entries = [_entry(sheets, s, width) for s in sheets.of(family)]
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


LEAST_WORDS: Final[Mm] = 36.0
"""Narrower words beside a square are hard to read."""


def _columns(swatches: Sequence[Swatch], paper: Sheet) -> int:
    width = max((_size(_extent(s))[0] for s in swatches), default=0.0)
    return 2 if 2 * (width + BESIDE + LEAST_WORDS) + GUTTER <= paper.room[0] else 1


def _entry(sheets: Swatches, swatch: Swatch, width: Mm) -> Entry:
    """Return one swatch drawn, with its words at its right."""
    wide, high = _size(_extent(swatch))
    picture = Picture(_file(swatch), (0.0, 0.0), wide, high, f"{title_of(swatch)}, as it is sewn.")
    words, height = _words(sheets, swatch, wide + BESIDE, width - wide - BESIDE)
    down = max(0.0, (high - height) / 2) if swatch.family == "seam-stitches" else 0.0
    return Entry((picture, *(shifted(w, 0.0, down) for w in words)), max(high, height))


def _words(sheets: Swatches, swatch: Swatch, x: Mm, width: Mm) -> tuple[tuple[Words, ...], Mm]:
    """Return the words of a swatch below each other from height 0 down, and how high they are together."""
    head = f"{swatch.number}  {title_of(swatch)}"
    beside = x + text_width(head, HEAD, bold=True) + BESIDE
    one_line = beside + text_width(swatch.name, BODY) <= x + width
    height = HEAD * POINT * LEAD
    words = [Words(line, (x, 0.0), HEAD, bold=True, style="accent") for line in wrapped(head, HEAD, width, bold=True)]
    words = [replace(w, at=(x, (k + 0.5) * height)) for k, w in enumerate(words)]
    y = len(words) * height
    if one_line:
        words.append(Words(swatch.name, (beside, height / 2 + DROP), BODY, style="grey"))
    for text, style in (("" if one_line else swatch.name, "grey"), *_said(sheets, swatch)):
        for line in wrapped(text, BODY, width):
            words.append(Words(line, (x, y + BODY * POINT * LEAD / 2), BODY, style=style))
            y += BODY * POINT * LEAD
    return tuple(words), y


def _said(sheets: Swatches, swatch: Swatch) -> tuple[tuple[str, str], ...]:
    """Return the lines below title and name, each with its style."""
    others = other_names(swatch)
    settings, amount = settings_words(sheets.plan.project, swatch), amount_words(sheets, swatch)
    return (
        (f"Also found under {listed(others)}" if others else "", "grey"),
        (described(swatch) if swatch.family == "grounds" else "", "ink"),
        (bound(f"{settings}. {amount}."), "ink"),
    )


def _extent(swatch: Swatch) -> Extent:
    """Return the part of the sheet a picture shows: the swatch and a rim of cloth, its sides whole multiples of SNAP."""
    left, low, right, high = swatch.area.bounds
    left, low = left - PAD, low - PAD
    wide, tall = (math.ceil((v + PAD - start) / SNAP) * SNAP for v, start in ((right, left), (high, low)))
    return left, low, left + wide, low + tall


def _size(extent: Extent) -> tuple[Mm, Mm]:
    return round((extent[2] - extent[0]) / SNAP) * SNAP, round((extent[3] - extent[1]) / SNAP) * SNAP


def _file(swatch: Swatch) -> str:
    return f"{swatch.family}-{swatch.name}.png{PACKED}"


def _pictures(sheets: Swatches) -> dict[str, bytes]:
    """Return the pictures of all swatches by file name, as the page setter takes them."""
    return {_file(s): as_text(_file(s), {_file(s).removesuffix(PACKED): _picture(sheets, s)}) for s in sheets.swatches}


def _picture(sheets: Swatches, swatch: Swatch) -> bytes:
    strands = (*mark_strands(sheets.plan, swatch), *strands_of(sheets.plan, swatch))
    return cloth_png(sheets.plan, strands, _extent(swatch), SCALE)
