"""From what the maker asks for to a block of letters: font opened, letters known, size found, too small ones refused."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import shapely
from shapely import affinity
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import FLAT, MERGE
from hoopwright.core.types import Degrees, Mm, Point
from hoopwright.core.words import listed
from hoopwright.needle.lettering.faces import face_of, lacking
from hoopwright.needle.lettering.fit import Align, Measure, largest, measured
from hoopwright.needle.lettering.font import FontError
from hoopwright.needle.lettering.satin import THIN, WIDEST, letter
from hoopwright.needle.placed import gathered
from hoopwright.operations.vocabulary import LetteringStyle, Role, Stitch
from hoopwright.piecing.shapes import Frame
from hoopwright.project.lengths import Units, show_measure
from hoopwright.project.schema import LetteringModel, PanelModel, Project

LEAST_PEN: Final[Mm] = 4.5
"""Single-line capitals lower than this cannot be read when sewn (common practice: 4 to 5 mm, no source)."""

LEAST_SATIN: Final[Mm] = 6.0
"""Satin capitals lower than this fill up (common practice: 6 to 8 mm, no source)."""

LEAST_STROKE: Final[Mm] = 0.8
"""The main strokes of satin letters are drawn at least this wide; with the pull they are sewn 1 mm wide."""

LEAST_OVERLAP: Final = 2.0
"""Footprints that share less, mm2, only touch."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What is to be written: ``width`` and ``height`` of the box (height None: as needed), its middle ``at`` and turn in the hoop.

    ``path`` is the place in the project file; ``keys`` names the settings there for lines, box width, capitals and font.
    """

    lines: tuple[str, ...]
    width: Mm
    height: Mm | None
    capitals: Mm | None
    align: Align
    font: bytes | None
    at: Point
    turn: Degrees
    path: str
    keys: tuple[str, str, str, str] = ("lines", "width", "capitals", "font")

    def where(self, key: int) -> Where:
        """Return the place of a setting in the project file: 0 lines, 1 width, 2 capitals, 3 font."""
        return Where(path=f"{self.path}.{self.keys[key]}")


@dataclass(frozen=True, slots=True)
class Lettered:
    """Letters that can be sewn: the box they fill in the hoop, its first side along the writing, and their style."""

    box: Polygon
    style: LetteringStyle


def plan_letters(asked: Asked, units: Units) -> tuple[Lettered | None, tuple[Finding, ...]]:
    """Return the letters asked for, None when they cannot be sewn, and what the maker should know."""
    try:
        face = face_of(asked.font)
        without = lacking(asked.lines, face)
        if without:
            return None, (_lacking(asked, without),)
        measure = measured(asked.lines, face)
        widths = _stroke_widths(asked)
    except FontError as error:
        return None, (Finding("HW361", Severity.BLOCKS, error.message, error.cure, asked.where(3)),)
    least = _least(widths)
    fits = largest(measure, asked.width, asked.height)
    size = fits if asked.capitals is None else asked.capitals
    refused = tuple(_refused(asked, measure, size, fits, least, units))
    if refused:
        return None, refused
    style = LetteringStyle(asked.lines, size, asked.align, asked.font)
    return Lettered(_box(asked, measure, size), style), tuple(_told(asked, widths, size, units))


def plan_lettering(
    panel: PanelModel,
    frame: Frame,
    outline: Polygon,
    taken: Sequence[tuple[str, BaseGeometry]],
    project: Project,
    files: Mapping[str, bytes],
) -> tuple[tuple[Stitch, ...], tuple[Finding, ...]]:
    """Return the blocks of all letters on a panel, in order, and what the maker should know.

    ``frame`` and ``outline`` are the panel's in the hoop, ``taken`` what is sewn there before, each with its name for the
    maker, ``files`` the contents of the files by name. Each block's ``region`` is its box.
    """
    blocks: list[Stitch] = []
    findings: list[Finding] = []
    for number, model in enumerate(panel.lettering, 1):
        asked = _asked(model, f"panel.lettering[{number}]", frame, files)
        lettered, said = plan_letters(asked, project.units)
        findings += said
        if lettered is not None:
            findings += _in_its_place(asked, lettered.box, outline, taken)
            blocks.append(lettering_stitch(lettered, model.thread or ""))
    return tuple(blocks), tuple(findings)


def lettering_stitch(lettered: Lettered, thread: str, piece: str | None = None) -> Stitch:
    """Return the block that sews letters."""
    text = " / ".join(lettered.style.lines)
    how = "single lines" if lettered.style.font is None else "satin"
    sentence = f"The letters “{text}” are sewn in {how}."
    return Stitch(
        Role.LETTERING, f"Letters “{text}”", thread, (), lettered.style, sentence, piece=piece, region=lettered.box
    )


def _asked(model: LetteringModel, path: str, frame: Frame, files: Mapping[str, bytes]) -> Asked:
    font = None if model.font is None else files.get(model.font, b"")
    turn = frame.turn + model.turn
    return Asked(
        model.lines,
        model.width,
        model.height,
        model.capitals,
        model.align,
        font,
        frame.place(model.at),
        turn,
        path,
    )


def _box(asked: Asked, measure: Measure, size: Mm) -> Polygon:
    """Return the box that the letters fill, in the hoop, from its lower left corner along the writing."""
    w, h = measure.width * size / 2.0, measure.height * size / 2.0
    beside = {"left": -1.0, "middle": 0.0, "right": 1.0}[asked.align] * (asked.width / 2.0 - w)
    box = Polygon([(beside - w, -h), (beside + w, -h), (beside + w, h), (beside - w, h)])
    return affinity.translate(affinity.rotate(box, asked.turn, origin=(0.0, 0.0)), *asked.at)


def _stroke_widths(asked: Asked) -> dict[str, tuple[float, ...]]:
    """Return the widths of the strokes of every letter, capitals 1 high; none for single lines."""
    if asked.font is None:
        return {}
    signs = dict.fromkeys(c for line in asked.lines for c in line if c != " ")
    rows = {c: tuple(s.width for part in letter(asked.font, c) for s in part) for c in signs}
    return {c: row for c, row in rows.items() if row}


def _least(widths: Mapping[str, tuple[float, ...]]) -> Mm:
    """Return the least height of capitals at which these letters can be sewn, rounded up to half a millimetre."""
    if not widths:
        return LEAST_PEN
    main = [max(row) for sign, row in widths.items() if sign.isalnum()] or [max(r) for r in widths.values()]
    return max(LEAST_SATIN, math.ceil(2.0 * LEAST_STROKE / min(main)) / 2.0)


def _refused(asked: Asked, measure: Measure, size: Mm, fits: Mm, least: Mm, units: Units) -> Iterator[Finding]:
    """Say why letters of this size cannot be sewn: too small, too large for their box, or the box too small for any."""
    if fits < least - MERGE:
        wide = math.ceil(measure.width * least)
        high = math.ceil(measure.height * least)
        yield Finding(
            "HW363",
            Severity.BLOCKS,
            f"Letters that fit into this box are {show_measure(max(fits, 0.0), units)} high; lower than "
            f"{show_measure(least, units)} they cannot be sewn",
            f"Make the box at least {show_measure(float(wide), units)} wide and {show_measure(float(high), units)} high, or "
            "write less",
            asked.where(1),
        )
    elif size < least - MERGE:
        yield Finding(
            "HW362",
            Severity.BLOCKS,
            f"Capitals {show_measure(size, units)} high are too small to be sewn and read",
            f"Make them at least {show_measure(least, units)} high",
            asked.where(2),
        )
    elif size > fits + MERGE:
        yield Finding(
            "HW364",
            Severity.BLOCKS,
            f"The letters do not fit into their box with capitals {show_measure(size, units)} high",
            f"Make the capitals at most {show_measure(fits, units)} high, or leave that setting out",
            asked.where(2),
        )


def _lacking(asked: Asked, without: Sequence[str]) -> Finding:
    named = listed(tuple(f"“{c}” (U+{ord(c):04X})" for c in without))
    whose = "the single-line letters have" if asked.font is None else "the font has"
    return Finding(
        "HW360",
        Severity.BLOCKS,
        f"{named} cannot be sewn: {whose} no such letter",
        "Write it with other letters" + (", or name a font file that has it" if asked.font is None else ""),
        asked.where(0),
    )


def _told(asked: Asked, widths: Mapping[str, tuple[float, ...]], size: Mm, units: Units) -> Iterator[Finding]:
    """Say which strokes are sewn otherwise than as plain satin."""
    thin = [c for c, row in widths.items() if min(row) * size < THIN]
    if thin:
        high = math.ceil(2.0 * THIN / min(min(widths[c]) for c in thin)) / 2.0
        yield Finding(
            "HW365",
            Severity.NOTES,
            f"Thin strokes of {_named(thin)} are sewn as lines, because they are narrower than {show_measure(THIN, units)}",
            f"Capitals {show_measure(high, units)} high have all strokes in satin; a bolder font has them earlier",
            asked.where(2),
        )
    wide = [c for c, row in widths.items() if max(row) * size > WIDEST]
    if wide:
        yield Finding(
            "HW366",
            Severity.NOTES,
            f"Strokes of {_named(wide)} are wider than {show_measure(WIDEST, units)}, so their stitches are divided",
            "Nothing needs doing; smaller letters or a lighter font have undivided, glossier satin",
            asked.where(2),
        )


def _named(signs: Sequence[str]) -> str:
    shown = tuple(f"“{c}”" for c in signs[:6])
    return listed(shown) if len(signs) <= len(shown) else f"{', '.join(shown)} and others"


def _in_its_place(
    asked: Asked, box: Polygon, outline: Polygon, taken: Sequence[tuple[str, BaseGeometry]]
) -> Iterator[Finding]:
    """Say where letters reach past the outline or lie on something sewn before."""
    inside = outline.buffer(FLAT)
    if not inside.covers(box):
        severity = Severity.BLOCKS if shapely.difference(box, inside).area > box.area / 2.0 else Severity.WARNS
        yield Finding(
            "HW367",
            severity,
            "The letters reach past the outline of the panel",
            "Move it (at), or make it smaller (width, height)",
            Where(path=f"{asked.path}.at"),
        )
    under = tuple(name for name, place in taken if shapely.intersection(box, place).area > LEAST_OVERLAP)
    if under:
        yield Finding(
            "HW368",
            Severity.WARNS,
            f"The letters lie on {listed(gathered(under))}",
            "Move them to where nothing is sewn, or leave the seam there plain",
            Where(path=f"{asked.path}.at"),
        )
