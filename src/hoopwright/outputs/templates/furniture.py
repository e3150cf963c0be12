"""What stands on every template page: title, meaning of the lines, and the two bars to measure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.core.types import Mm
from hoopwright.outputs.saying import Say, plain
from hoopwright.outputs.templates.drawing import grain_arrow
from hoopwright.outputs.templates.lettering import shortened
from hoopwright.outputs.templates.marks import Area, Line, Mark, Words

PAPERS: dict[str, tuple[Mm, Mm]] = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""Page sizes: A4 after ISO 216; Letter 8.5 x 11 in."""

MARGIN: Mm = 6.0
"""Printers leave about this much of the paper white (common practice, no source)."""

HEAD: Mm = 19.0
"""Height of the title and the meaning of the lines."""

FOOT: Mm = 21.0
"""Height of the bars and their words."""

BAR_WORDS = "Print at 100 %, actual size. Measure this bar: if it is not 100 mm, do not cut."
MIRROR_WORDS = "Pieces show the right side. To trace on the wrong side of the cloth, turn the paper face down."


@dataclass(frozen=True, slots=True)
class Sheet:
    """The paper: its size in mm, and where pieces may lie (left, top, width, height)."""

    width: Mm
    height: Mm

    @property
    def corner(self) -> tuple[Mm, Mm]:
        """Left top corner of the room for pieces."""
        return MARGIN, MARGIN + HEAD

    @property
    def room(self) -> tuple[Mm, Mm]:
        """Width and height of the room for pieces."""
        return self.width - 2 * MARGIN, self.height - 2 * MARGIN - HEAD - FOOT


def sheet_of(paper: str) -> Sheet:
    """Return the sheet of a paper by its name. Raises KeyError for an unknown one."""
    return Sheet(*PAPERS[paper])


def furniture(
    sheet: Sheet,
    title: str,
    what: str,
    number: int,
    count: int,
    *,
    legend: bool,
    stop: str = "",
    bar_words: str = BAR_WORDS,
    say: Say = plain,
) -> tuple[Mark, ...]:
    """Return the marks that stand on every page; ``what`` says what the page shows, ``legend`` whether lines are explained, ``stop`` why nothing
    must be cut yet, ``bar_words`` what to do with the bars. ``say`` says all of them but the title.
    """
    room, right = sheet.room[0], sheet.width - MARGIN
    mirror = Words(say(MIRROR_WORDS), (right, MARGIN + 7.2), 8.0, "right")
    return (
        Words(
            shortened(say(what), 12.0, room - 25.0, bold=True), (MARGIN, MARGIN + 2.6), 12.0, bold=True, style="accent"
        ),
        Words(say(f"page {number} of {count}"), (right, MARGIN + 2.6), 8.0, "right"),
        Words(shortened(title, 8.0, room - mirror.length - 8.0), (MARGIN, MARGIN + 7.2), 8.0, style="grey"),
        *((mirror, *_legend(MARGIN, MARGIN + 12.0, say)) if legend else ()),
        Line(((MARGIN, MARGIN + HEAD - 4.0), (right, MARGIN + HEAD - 4.0)), "hair"),
        *_bars(sheet, bar_words, say),
        *(
            (Words(say(stop), (MARGIN + 119.6, sheet.height - MARGIN - 4.0), 8.5, bold=True, style="warn"),)
            if stop
            else ()
        ),
    )


def _legend(x: Mm, y: Mm, say: Say) -> tuple[Mark, ...]:
    """Return each kind of line with what it means, in a row."""
    marks: list[Mark] = []
    entries = (
        ("cut", "cut here"),
        ("sew", "sewing line"),
        ("seam", "edge it is sewn on by"),
        ("fold", "fold here"),
        ("clip", "cut away after sewing"),
        ("grain", "grain (warp)"),
    )
    for style, text in entries:
        words = Words(say(text), (x + 11.0, y), 7.5)
        line = ((x, y), (x + 9.0, y))
        marks += grain_arrow(*line, one_way=False, signs=None) if style == "grain" else (Line(line, style),)
        marks.append(words)
        x += 11.0 + words.length + 5.0
    return tuple(marks)


def _bars(sheet: Sheet, words: str, say: Say) -> tuple[Mark, ...]:
    """Return the 100 mm and the 4 inch bar, each exactly as long as it says from edge to edge, and their words."""
    top = sheet.height - MARGIN - FOOT + 5.0
    x = MARGIN + 1.0
    side = x + 4 * 25.4
    return (
        Line(((MARGIN, top - 3.0), (sheet.width - MARGIN, top - 3.0)), "hair"),
        *bar(x, top, 10.0, 10),
        Words("100 mm", (side + 2.0, top + 2.0), 8.0, bold=True),
        *bar(x, top + 8.0, 12.7, 8),
        Words(say("4 inches"), (side + 2.0, top + 10.0), 8.0, bold=True),
        Words(say(words), (side + 17.0, top), 8.5, bold=True, style="warn", width=58.0),
    )


def bar(x: Mm, y: Mm, step: Mm, steps: int, height: Mm = 4.0) -> tuple[Area, ...]:
    """Return a bar of black and white blocks, filled without an edge, so that its ends are exact."""
    rim, length = 0.3, step * steps
    black: Sequence[tuple[Mm, Mm, Mm, Mm]] = (
        (x, y, length, rim),
        (x, y + height - rim, length, rim),
        (x + length - rim, y, rim, height),
        *((x + k * step, y, step, height) for k in range(0, steps, 2)),
    )
    return tuple(Area((((a, b), (a + w, b), (a + w, b + h), (a, b + h)),), "ink") for a, b, w, h in black)
