"""One swatch of the card: its picture at true size, and the words at its right."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final

from hoopwright.core.types import Mm
from hoopwright.core.words import listed
from hoopwright.items.swatches.sheets import Swatch, Swatches
from hoopwright.outputs.booklet.pictures import PACKED, as_text
from hoopwright.outputs.drawing.shapes import Extent
from hoopwright.outputs.saying import plain, saying
from hoopwright.outputs.swatches.pictures import cloth_png, mark_strands, strands_of
from hoopwright.outputs.swatches.wording import amount_words, bound, described, other_names, settings_words, title_of
from hoopwright.outputs.templates.lettering import POINT, text_width, wrapped
from hoopwright.outputs.templates.marks import Mark, Picture, Words, shifted

SCALE: Final = 12.0
"""Pixels to the mm in the pictures of the card, about 300 to the inch."""

SNAP: Final[Mm] = 0.5
"""Pictures measure whole multiples of this, which are whole pixels."""

PAD: Final[Mm] = 2.0
"""Cloth shown round a swatch."""

BESIDE: Final[Mm] = 4.0
"""From a picture to its words, and from a title to the name beside it."""

HEAD: Final = 10.5
BODY: Final = 8.5
"""Sizes of a swatch's title and of the words below it, points."""

DROP: Final[Mm] = 0.25
"""Small words beside larger ones stand so much lower, on the same line."""

LEAD: Final = 1.32
"""Height of a line of words over its size."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A swatch with its words: marks from (0, 0), and the height they take."""

    marks: tuple[Mark, ...]
    height: Mm


def entry(sheets: Swatches, swatch: Swatch, width: Mm) -> Entry:
    """Return one swatch drawn, with its words at its right."""
    wide, high = picture_size(swatch)
    alt = saying(sheets.plan.project)(f"{title_of(swatch)}, as it is sewn.")
    picture = Picture(_file(swatch), (0.0, 0.0), wide, high, alt)
    words, height = _words(sheets, swatch, wide + BESIDE, width - wide - BESIDE)
    down = max(0.0, (high - height) / 2) if swatch.family == "seam-stitches" else 0.0
    return Entry((picture, *(shifted(w, 0.0, down) for w in words)), max(high, height))


def _words(sheets: Swatches, swatch: Swatch, x: Mm, width: Mm) -> tuple[tuple[Words, ...], Mm]:
    """Return the words of a swatch below each other from height 0 down, and how high they are together."""
    say = saying(sheets.plan.project)
    head = f"{swatch.number}  {say(title_of(swatch))}"
    beside = x + text_width(head, HEAD, bold=True) + BESIDE
    name = say(_name(sheets, swatch))
    one_line = swatch.family == "seam-stitches" and beside + text_width(name, BODY) <= x + width
    height = HEAD * POINT * LEAD
    words = [Words(line, (x, 0.0), HEAD, bold=True, style="accent") for line in wrapped(head, HEAD, width, bold=True)]
    words = [replace(w, at=(x, (k + 0.5) * height)) for k, w in enumerate(words)]
    y = len(words) * height
    if one_line:
        words.append(Words(name, (beside, height / 2 + DROP), BODY, style="grey"))
    for text, style in (("" if one_line else name, "grey"), *_said(sheets, swatch)):
        for line in wrapped(text, BODY, width):
            words.append(Words(line, (x, y + BODY * POINT * LEAD / 2), BODY, style=style))
            y += BODY * POINT * LEAD
    return tuple(words), y


def _name(sheets: Swatches, swatch: Swatch) -> str:
    """Return the name of a swatch, with its sheet where there are several."""
    several = len({s.sheet for s in sheets.of(swatch.family)}) > 1
    return f"{swatch.name}, on {swatch.sheet}" if several else swatch.name


def _said(sheets: Swatches, swatch: Swatch) -> tuple[tuple[str, str], ...]:
    """Return the lines below title and name, each with its style."""
    say = saying(sheets.plan.project)
    others = other_names(swatch) if say is plain else ()  # names of the English trade
    settings, amount = say(settings_words(sheets, swatch)), say(amount_words(sheets, swatch))
    return (
        (f"Also found under {listed(others)}" if others else "", "grey"),
        (say(described(swatch)) if swatch.family == "grounds" else "", "ink"),
        (bound(f"{settings}. {amount}."), "ink"),
    )


def _extent(swatch: Swatch) -> Extent:
    """Return the part of the sheet a picture shows: the swatch and a rim of cloth, its sides whole multiples of SNAP."""
    left, low, right, high = swatch.area.bounds
    left, low = left - PAD, low - PAD
    wide, tall = (math.ceil((v + PAD - start) / SNAP) * SNAP for v, start in ((right, left), (high, low)))
    return left, low, left + wide, low + tall


def picture_size(swatch: Swatch) -> tuple[Mm, Mm]:
    """Return width and height of the picture of a swatch on paper."""
    left, low, right, high = _extent(swatch)
    return round((right - left) / SNAP) * SNAP, round((high - low) / SNAP) * SNAP


def _file(swatch: Swatch) -> str:
    return f"{swatch.family}-{swatch.name}.png{PACKED}"


def pictures_of(sheets: Swatches) -> dict[str, bytes]:
    """Return the pictures of all swatches by file name, as the page setter takes them."""
    return {_file(s): as_text(_file(s), {_file(s).removesuffix(PACKED): _picture(sheets, s)}) for s in sheets.swatches}


def _picture(sheets: Swatches, swatch: Swatch) -> bytes:
    strands = (*mark_strands(sheets.plan, swatch), *strands_of(sheets.plan, swatch))
    return cloth_png(sheets.plan, strands, _extent(swatch), SCALE)
