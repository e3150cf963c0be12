"""Quilt label: up to four lines of letters on one cloth, with a border, its edges turned under or covered by satin."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Final, Literal

from pydantic import Field
from shapely.geometry import Polygon, box

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm
from hoopwright.items.parts.cloths import ClothWish, chosen_cloth, cloth_findings
from hoopwright.items.parts.edge import LEAST_WIDTH, WIDEST, edge_of, edge_satin, trim_to_edge
from hoopwright.items.parts.flat import basting, grown, holding, lay, placement
from hoopwright.items.parts.in_hoop import hoop_foundation
from hoopwright.items.parts.rounding import rounded_down, rounded_up
from hoopwright.items.parts.threads import thread_findings
from hoopwright.items.recipe import HoopingOperations, Making, Piece, Promise, Recipe, Workshop
from hoopwright.needle.lettering.plan import Asked, lettering_stitch, plan_letters
from hoopwright.needle.seam_stitches import SEAM_STITCHES, offer
from hoopwright.needle.working_lines import ring
from hoopwright.operations.vocabulary import (
    Face,
    Hand,
    HandWork,
    Operation,
    OrnamentStyle,
    Press,
    Release,
    Role,
    RunStyle,
    Stitch,
    Trim,
)
from hoopwright.project.fields import field_of
from hoopwright.project.lengths import show_length
from hoopwright.project.schema import Key, Length, Model, Project

KEY: Final = "label"

PROMISE: Final = Promise(parts=1, rims=1, euler=1, closed_rims=1, closed_euler=1, shell=(KEY,))
"""One cloth with one rim and no hole: a disc. Its edges are turned under by hand afterwards, which changes nothing of that."""

LINE, PLAIN = "line", "none"
"""Borders that are no seam stitch: a double line, and nothing."""

AROUND_LETTERS: Final[Mm] = 3.0
"""Letters stay this far off border or edge, mm (by eye)."""

SPARE: Final[Mm] = 8.0
"""A label with a satin edge is laid this much larger than it is, mm, and trimmed in the hoop (from memory)."""

CARE: Final = (
    "Wash it once in a sieve or net before you sew it on: dark thread may bleed on light cloth.",
    "Letters keep their shape when they are pressed face down on a towel.",
)


class LabelSettings(Model):
    """Size, letters, border, edge, and how the label is fastened.

    ``width`` and ``height`` are the finished size. ``lines`` are one to four lines of text, ``capitals`` the height of their
    capitals (left out: as large as fits), ``align`` where they stand. ``font`` is a font file of your own beside the project file,
    sewn as satin; left out, the letters are single lines. ``border`` is "none", "line" or the name of a seam stitch, which runs
    ``border_inside`` within the finished edge, ``border_width`` wide (left out: the stitch's own width). ``edge`` "turned" folds ``turned`` of cloth under, "satin" covers the cut edge with a
    column ``edge_width`` wide. ``fasten`` says whether the label is sewn on or ironed on. ``cloth`` is the label's cloth,
    ``thread`` that of the letters, ``border_thread`` that of border and satin edge.
    """

    width: Annotated[Length, Field(ge=25, le=400)] = 100.0
    height: Annotated[Length, Field(ge=15, le=400)] = 65.0
    lines: Annotated[
        tuple[Annotated[str, Field(min_length=1, max_length=60)], ...], Field(min_length=1, max_length=4)
    ] = (
        "Made for you",
        "with love",
    )
    capitals: Annotated[Length, Field(gt=0, le=200)] | None = Field(default=None, examples=[8])
    align: Literal["left", "middle", "right"] = "middle"
    font: str | None = Field(default=None, examples=["letters.ttf"])
    border: Key = LINE
    border_inside: Annotated[Length, Field(ge=2, le=40)] = 5.0
    border_width: Annotated[Length, Field(ge=1, le=20)] | None = Field(default=None, examples=[5])
    edge: Literal["turned", "satin"] = "turned"
    edge_width: Annotated[Length, Field(ge=LEAST_WIDTH, le=WIDEST)] = 3.5
    turned: Annotated[Length, Field(ge=5, le=20)] = 8.0
    fasten: Literal["sewn", "ironed"] = "sewn"
    cloth: Key | None = None
    thread: Key | None = None
    border_thread: Key | None = None


def _finished(settings: LabelSettings) -> Polygon:
    w, h = settings.width / 2.0, settings.height / 2.0
    return box(-w, -h, w, h)


def _laid(settings: LabelSettings) -> Polygon:
    """Return the cutting line of the cloth."""
    return grown(_finished(settings), settings.turned if settings.edge == "turned" else SPARE)


def _border_width(settings: LabelSettings) -> Mm:
    stitch = SEAM_STITCHES.get(settings.border)
    return 0.0 if stitch is None else settings.border_width or stitch.width


def _room(settings: LabelSettings) -> tuple[Mm, Mm]:
    """Return width and height of what is left for letters inside border and edge."""
    inside = settings.edge_width if settings.edge == "satin" else 0.0
    if settings.border != PLAIN:
        inside = max(inside, settings.border_inside + _border_width(settings) / 2.0)
    off = 2.0 * (inside + AROUND_LETTERS)
    return settings.width - off, settings.height - off


def _refuse(settings: LabelSettings, project: Project) -> tuple[Finding, ...]:
    return (
        *_too_large(settings, project),
        *_sound(settings, project),
        *thread_findings("HW472", "thread", settings.thread, project),
        *thread_findings("HW472", "border_thread", settings.border_thread, project),
        *cloth_findings(project, (ClothWish("cloth", "label", settings.cloth, "cloth"),)),
    )


def _too_large(settings: LabelSettings, project: Project) -> Iterator[Finding]:
    """HW470: the cloth as it is laid reaches past the field."""
    left, low, right, high = _laid(settings).bounds
    spare = 2.0 * project.hoop.margin
    room = tuple(side - spare for side in field_of(project.hoop))
    for setting, size, most in (("width", right - left, room[0]), ("height", high - low, room[1])):
        if size > most + MERGE:
            less = rounded_down(getattr(settings, setting) - (size - most), project.units)
            laid, fits, value = (show_length(v, project.units) for v in (size, most, less))
            message = f"With what is turned under or trimmed the label has a {setting} of {laid}, and the hoop has room for {fits}"
            cure = f"Make the {setting} at most {value}, or choose a larger field"
            yield Finding("HW470", Severity.BLOCKS, message, cure, Where(path=f"make.{setting}"))


def _sound(settings: LabelSettings, project: Project) -> Iterator[Finding]:
    """HW471: no room for letters; HW473: no such border; HW474: border on the satin edge; HW475: what ironing asks for."""
    if settings.border not in (PLAIN, LINE, *SEAM_STITCHES):
        cure = f'{offer(settings.border)} "{LINE}" is a double line, "{PLAIN}" leaves it plain'
        yield Finding(
            "HW473", Severity.BLOCKS, f'There is no border called "{settings.border}"', cure, Where(path="make.border")
        )
    if min(_room(settings)) <= 0.0:
        message = "Border and edge leave no room for letters"
        cure = "Make the label larger, or border_inside smaller"
        yield Finding("HW471", Severity.BLOCKS, message, cure, Where(path="make.border_inside"))
    reach = settings.border_inside - _border_width(settings) / 2.0
    edge = settings.edge_width if settings.edge == "satin" else 0.0
    if settings.border != PLAIN and reach < edge:
        least = show_length(rounded_up(edge + _border_width(settings) / 2.0, project.units), project.units)
        message = "The border reaches over the satin edge" if edge else "The border reaches past the edge of the label"
        yield Finding(
            "HW474", Severity.BLOCKS, message, f"Make border_inside at least {least}", Where(path="make.border_inside")
        )
    if settings.fasten == "ironed":
        yield Finding(
            "HW475",
            Severity.NOTES,
            "A label that is ironed on needs heat that melts synthetic batting and cloth",
            "Iron it only on a quilt with cotton batting and cotton or linen cloth; sew its edge down all the same",
            Where(path="make.fasten"),
        )


def _make(shop: Workshop) -> Making:
    settings: LabelSettings = shop.settings
    cloth = Piece(
        KEY,
        "Label",
        chosen_cloth(shop.project, settings.cloth, "cloth"),
        _laid(settings),
        _finished(settings) if settings.edge == "turned" else None,
    )
    letters, findings = _letters(shop)
    work = (
        hoop_foundation(shop.project.foundation),
        placement(shop, "the label", cloth.cut, KEY),
        lay(
            shop,
            cloth,
            Face.UP,
            "over the sewn line, its edges on it all round. Smooth it from the middle and tape its corners.",
        ),
        *_held(shop, cloth),
        *letters,
        *_border(shop),
        *_edged(shop),
        *_taken_out(shop, cloth),
    )
    hooping = HoopingOperations(KEY, shop.project.title, KEY, 0, work)
    return Making((hooping,), (cloth,), _fastening(shop), CARE, PROMISE, findings=findings)


def _letters(shop: Workshop) -> tuple[tuple[Stitch, ...], tuple[Finding, ...]]:
    settings: LabelSettings = shop.settings
    width, height = _room(settings)
    font = None if settings.font is None else shop.files.get(settings.font, b"")
    asked = Asked(settings.lines, width, height, settings.capitals, settings.align, font, (0.0, 0.0), 0.0, "make")
    lettered, findings = plan_letters(asked, shop.project.units)
    thread = settings.thread or next(iter(shop.project.threads))
    return (() if lettered is None else (lettering_stitch(lettered, thread, KEY),)), findings


def _held(shop: Workshop, cloth: Piece) -> tuple[Stitch, ...]:
    """Return the line that holds the cloth while letters are sewn."""
    settings: LabelSettings = shop.settings
    if settings.edge == "satin":
        edge = edge_of(_finished(settings), settings.edge_width)
        words = "A line holds the cloth to the foundation; the satin will cover it."
        return (holding(shop, "Tack-down of the label", (edge.tack,), words, KEY),)
    middle = (ring(_finished(settings), settings.turned / 2.0),)
    words = "Long stitches hold the cloth in its allowance; they come away with it."
    del cloth
    return (basting(shop, "Basting of the label", middle, words, KEY),)


def _border(shop: Workshop) -> tuple[Stitch, ...]:
    settings: LabelSettings = shop.settings
    if settings.border == PLAIN:
        return ()
    thread = settings.border_thread or next(iter(shop.project.threads))
    line = ring(_finished(settings), -settings.border_inside)
    if settings.border == LINE:
        style: RunStyle | OrnamentStyle = RunStyle(shop.project.stitching.run, times=2)
        words = f"A double line is sewn {shop.length(settings.border_inside)} within the finished edge."
        return (Stitch(Role.TOPSTITCH, "Border of the label", thread, (line,), style, words, piece=KEY),)
    stitch = SEAM_STITCHES[settings.border]
    style = OrnamentStyle(stitch.name, _border_width(settings))
    words = f"{stitch.title} runs round the label, {shop.length(settings.border_inside)} within the finished edge."
    return (
        Stitch(
            Role.ORNAMENT,
            f"{stitch.title} round the label",
            thread,
            (line,),
            style,
            words,
            piece=KEY,
        ),
    )


def _edged(shop: Workshop) -> tuple[Operation, ...]:
    """Return the satin edge with the trimming before it, or the line along which the edge is turned."""
    settings: LabelSettings = shop.settings
    outline = _finished(settings)
    if settings.edge == "turned":
        words = "A line is sewn along the finished edge: the cloth is folded along it."
        style = RunStyle(shop.project.stitching.run)
        return (
            Stitch(Role.OUTLINE, "Folding line", shop.thread("outline"), (ring(outline),), style, words, piece=KEY),
        )
    edges = (edge_of(outline, settings.edge_width),)
    words = (
        "Take the hoop off the machine, but leave the work in it. "
        f"Trim the cloth {shop.length(edges[0].margin)} outside the tack-down line, with small sharp scissors. Leave the "
        f"{shop.project.foundation.name} whole."
    )
    trim = trim_to_edge(edges, KEY, grown(_laid(settings), 10.0), words)
    return trim, edge_satin(shop, edges, "the label", settings.border_thread or next(iter(shop.project.threads)))


def _taken_out(shop: Workshop, cloth: Piece) -> tuple[HandWork, ...]:
    settings: LabelSettings = shop.settings
    foundation = shop.project.foundation.name
    release = Release(
        f"Take the label out of the hoop, clip loose threads, and tear the {foundation} away behind it, towards the stitches, a "
        "finger on them; what is left inside letters may stay.",
        foundation_goes=True,
    )
    if settings.edge == "satin":
        return (release,)
    words = f"Trim the cloth {shop.length(settings.turned)} outside the folding line."
    return release, Trim("all", None, words, keep=cloth.cut)


def _fastening(shop: Workshop) -> tuple[HandWork, ...]:
    settings: LabelSettings = shop.settings
    rows: list[HandWork] = []
    if settings.edge == "turned":
        words = (
            "Cut the corners of the allowance across, 2 mm from the folding line. Fold the long sides to the wrong side along that line, so "
            "that its stitches roll just out of sight, then the short ones; press each fold."
        )
        rows.append(Hand(KEY, words))
    rows.append(Press(KEY, "Press the label face down on a towel."))
    if settings.fasten == "ironed":
        rows.append(Hand(KEY, _IRONED))
    side = (
        "a corner of the back of the quilt, before it is bound,"
        if settings.edge == "turned"
        else "the back of the quilt"
    )
    words = (
        f"Lay the label on {side} and sew it down along its edge by hand, with small stitches through the backing only: none may show on "
        "the front."
    )
    rows.append(Hand(KEY, words))
    return tuple(rows)


_IRONED: Final = (
    "Iron fusible web to the wrong side of the label, cut a little smaller than it, as its maker says; take the paper off and iron the label "
    "on with a cloth between. Only on cotton batting: polyester melts and flattens under that heat. Test it on a scrap first, never leave "
    "the iron, and let it cool before you lift it."
)


LABEL: Final = Recipe(
    name="label",
    title="Quilt label",
    summary="A cloth label with up to four lines of letters and a border, to be sewn or ironed on.",
    settings=LabelSettings,
    make=_make,
    refuse=_refuse,
)
