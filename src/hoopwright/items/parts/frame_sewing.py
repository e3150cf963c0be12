"""The hoopings and the hand work of a frame purse, from its patterns."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import shapely
from shapely.geometry import LineString, Point
from shapely.ops import substring

from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm
from hoopwright.items.parts.flat import grown, holding, lay, placement
from hoopwright.items.parts.frame_draft import FrameDraft
from hoopwright.items.parts.in_hoop import hoop_foundation, stays_in_hoop
from hoopwright.items.pieced import pieced_hoopings, region_cut
from hoopwright.items.recipe import HandSeam, HoopingOperations, Look, Making, Piece, Promise, Workshop
from hoopwright.needle.working_lines import ring
from hoopwright.operations.vocabulary import (
    Close,
    Face,
    Hand,
    HandWork,
    Hoop,
    Lay,
    Operation,
    Press,
    Release,
    Role,
    RunStyle,
    Side,
    Stitch,
    Trim,
    Turn,
)

PROMISE: Final = Promise(parts=1, rims=1, euler=1, closed_rims=0, closed_euler=2)
"""Shell and lining joined along their upper edges are one bag inside another: a sphere, with the opening as its only rim."""

BOXED: Final = Promise(parts=1, rims=5, euler=-3, closed_rims=4, closed_euler=-2)
"""The same before the four cut-out corners are boxed, which is told in words. Shell: two discs, three seams: 2 - 3 = -1. Lining, its
bottom seam in two: 2 - 4 = -2. Joined along the circle of their upper edges: -3 - 0. Rims: four corners and the opening. Closing it
glues an arc whose ends are glued already: -3 - 1 + 2 = -2. Each boxed corner closes a rim (+ 1): 2, a sphere.
"""

LOCK: Final[Mm] = 0.4
"""Length of an opening at each of its ends that the lock of the seam beside it takes, mm: less than half a stitch."""

_HINGES: Final = "Mark both hinge points: the corners of the seam line between upper edge and sides"

_OUTER: Final = "outer shell"
"""What hands hold when they work on the shell, told from a shell of thread."""

_INTO_THE_FRAME: Final = (
    Hand("frame", "Mark the middle of both upper edges and of both halves of the frame. Try the fit before any glue."),
    Hand(
        "frame",
        "Set one edge into its half of the frame from the middle outwards, easing the cloth evenly, the hinge points "
        "beside the hinges. Sew it through the holes of the frame, or run glue for cloth and metal into the groove and push "
        "the edge in with something blunt; air the room well while it dries. Then the other edge.",
    ),
    Hand("frame", "If the edge sits loose, push paper cord into the groove on the lining's side."),
)


_CARE: Final = (
    "Wipe it with a damp cloth; a glued frame does not stand washing.",
    "A snap frame pinches: it is not for small children.",
)


@dataclass(frozen=True, slots=True, eq=False)
class Purse:
    """What the sewing needs: both patterns, the cloths, which sides are pieced, how wide the opening in the lining is."""

    shop: Workshop
    shell: FrameDraft
    lining: FrameDraft
    outer: str
    inner: str
    pieced: tuple[str, ...]
    boxed: Mm
    opening: Mm

    @property
    def allowance(self) -> Mm:
        """The seam allowance."""
        return self.shop.project.piecing.allowance

    def says(self, mm: Mm) -> str:
        """Return a length in the maker's units."""
        return self.shop.length(mm)


def making(purse: Purse) -> Making:
    """Return everything for the purse: its hoopings, the pieces that are no patches, the hand work after them, care."""
    plain = [p for p in _shell_pieces(purse) if p.key not in purse.pieced]
    gap = opening_line(purse)
    hoopings = (*_pieced_back(purse), *_shell(purse), _lining(purse, gap))
    return Making(hoopings, (*plain, *_lining_pieces(purse)), _assembly(purse, gap), _CARE, *_proved(purse))


def _proved(purse: Purse) -> tuple[Promise, tuple[Look, Look], tuple[HandSeam, HandSeam]]:
    """Return what is proved of the purse: its surface (boxed corners still open), its looks, and
    the two seams that join shell and lining along their upper edges.
    """
    edge, inner = purse.shell.opening, purse.lining.opening
    seams = HandSeam(edge, ("front",), inner, ("lining-front",)), HandSeam(edge, ("back",), inner, ("lining-back",))
    shell = ("front", "back", "lining-front", "lining-back")
    promise = replace(BOXED, rests=_cut_outs(purse)) if purse.boxed else PROMISE
    return replace(promise, shell=shell), _looks(purse), seams


def _cut_outs(purse: Purse) -> tuple[tuple[LineString, str, str], ...]:
    """Return the edges of the squares cut out of the corners, and the pieces they lie between: no seam runs there yet."""
    sides = (purse.shell, "front", "back"), (purse.lining, "lining-front", "lining-back")
    return tuple((line, below, above) for pattern, below, above in sides for line in _unsewn(pattern))


def _unsewn(pattern: FrameDraft) -> tuple[LineString, ...]:
    """Return the parts of an outline that are neither seam nor upper edge."""
    others = shapely.union_all([*pattern.seams, pattern.opening]).buffer(MERGE)
    left = shapely.line_merge(shapely.difference(pattern.outline.exterior, others))
    return tuple(part for part in shapely.get_parts(left) if part.length > LOCK)


def _looks(purse: Purse) -> tuple[Look, Look]:
    """Return how shell and lining lie when each is turned; the shell is pushed into the lining, whose sides then look inwards."""
    return (
        Look("shell", purse.shell.outline, underside=("back",)),
        Look("lining", purse.lining.outline, ("lining-front",), ("lining-back",)),
    )


def _shell_pieces(purse: Purse) -> tuple[Piece, Piece]:
    cut = grown(purse.shell.outline, purse.allowance)
    front = Piece("front", "Front", purse.outer, cut, purse.shell.outline, note=_HINGES)
    return front, Piece("back", "Back", purse.outer, cut, purse.shell.outline, note=_HINGES)


def _lining_pieces(purse: Purse) -> tuple[Piece, Piece]:
    line = purse.lining.outline
    cut = grown(line, purse.allowance)
    front = Piece("lining-front", "Lining front", purse.inner, cut, line, note=_HINGES)
    return front, Piece("lining-back", "Lining back", purse.inner, cut, line, note=_HINGES)


def _pieced_back(purse: Purse) -> tuple[HoopingOperations, ...]:
    if "back" not in purse.pieced:
        return ()
    return pieced_hoopings(purse.shop, "back", f"{purse.shop.project.title}, back")


def _shell(purse: Purse) -> tuple[HoopingOperations, ...]:
    """Return the hooping in which the back is sewn to the front, and those of the front's sections before it."""
    title = f"{purse.shop.project.title}, shell"
    line = LineString(purse.shell.opening.coords)
    if "front" in purse.pieced:
        front = stays_in_hoop(purse.shop, "front", title)
        work = (
            *front.operations,
            *_close_shell(
                purse, front.top_at(line), front.along(*purse.shell.seams), purse.shop.project.stitching.hold_outside
            ),
        )
        return (*front.before, HoopingOperations("shell", title, "front", front.section, work))
    work = (*_plain_front(purse), *_close_shell(purse, "front", ("front",), purse.shop.project.stitching.tack_outside))
    return (HoopingOperations("shell", title, "shell", 0, work),)


def _plain_front(purse: Purse) -> tuple[Operation, ...]:
    shop, outside = purse.shop, purse.shop.project.stitching.tack_outside
    front, _ = _shell_pieces(purse)
    where = f"on its line; it reaches {purse.says(purse.allowance)} past it all round. Tape it."
    words = f"A line {purse.says(outside)} outside the seam line holds the front down."
    return (
        hoop_foundation(shop.project.foundation),
        placement(shop, "the front", purse.shell.outline, "front"),
        lay(shop, front, Face.UP, where),
        holding(shop, "Tack down the front", (ring(purse.shell.outline, outside),), words, "front"),
    )


def _close_shell(purse: Purse, front: str, fronts: tuple[str, ...], stays: Mm) -> tuple[Operation, ...]:
    """Return sewing the back on, taking the shell out, trimming and turning it; ``stays`` is where the line at the edge lies."""
    s, line = purse.says(purse.allowance), purse.shell.opening
    trim = (
        f"Trim all layers together {s} outside the seam, and along the upper edge, where the two sides are not sewn "
        f"together, {purse.says(purse.allowance - stays)} outside the line that holds the front. {_corners(purse)}"
    )
    return (
        _lay_back(purse),
        hinge_seam(purse, purse.shell, "front and back", None, (*fronts, "back")),
        Release("Take the shell out of the hoop and mark both hinge points, where the seam begins and ends."),
        Trim(_OUTER, None, trim, keep=grown(purse.shell.outline, purse.allowance)),
        *_boxed(purse, _OUTER),
        Turn(
            between_seams(line),
            front,
            "back",
            "Turn the shell right side out through its upper edge, and press the seam.",
        ),
    )


def _lay_back(purse: Purse) -> Lay:
    s = purse.says(purse.allowance)
    where = (
        f"on the front, right sides together, its edges {s} outside the seam line all round. Tape it clear of the seam."
    )
    if "back" in purse.pieced:
        return Lay(
            "back",
            "",
            region_cut(purse.shell.outline, purse.allowance),
            Face.DOWN,
            Side.TOP,
            None,
            None,
            f"Lay the pieced back, right side DOWN, {where}",
        )
    return lay(purse.shop, _shell_pieces(purse)[1], Face.DOWN, where)


def hinge_seam(
    purse: Purse, pattern: FrameDraft, what: str, gap: LineString | None, catches: tuple[str, ...] = ()
) -> Stitch:
    """Return the seam from hinge to hinge round the bottom, each line sewn forth and back and locked at both its ends."""
    lines = [part for seam in pattern.seams for part in (_without(seam, gap) if gap else (seam,))]
    paths = tuple(row for line in lines for row in (line, LineString(line.coords[::-1])))
    leaves = "" if gap is None else f" It leaves {purse.says(gap.length)} open in the bottom."
    corners = " The cut-out corners stay open." if purse.boxed else ""
    return Stitch(
        Role.CLOSING,
        f"Seam of {what}",
        purse.shop.thread("seam"),
        paths,
        RunStyle(purse.shop.project.stitching.seam_run),
        f"The seam joins {what} from hinge point to hinge point round the bottom, sewn twice and locked exactly at the "
        f"points.{leaves}{corners}",
        catches=catches,
    )


def _without(seam: LineString, gap: LineString) -> tuple[LineString, ...]:
    """Return the parts of a seam before and after a gap on it; the whole seam when the gap lies elsewhere."""
    ends = sorted(seam.project(Point(p)) for p in gap.coords)
    if seam.distance(gap) > 0.0 or ends[1] - ends[0] < gap.length / 2:
        return (seam,)
    return LineString(substring(seam, 0.0, ends[0]).coords), LineString(substring(seam, ends[1], seam.length).coords)


def between_seams(opening: LineString) -> LineString:
    """Return an opening without the last LOCK mm at both ends, where the seams beside it are locked."""
    return LineString(substring(opening, LOCK, opening.length - LOCK).coords)


def opening_line(purse: Purse) -> LineString:
    """Return the opening, in the middle of the lining's straight bottom."""
    y = purse.lining.bottom.coords[0][1]
    return LineString([(-purse.opening / 2, y), (purse.opening / 2, y)])


def _lining(purse: Purse, gap: LineString) -> HoopingOperations:
    shop, s = purse.shop, purse.says(purse.allowance)
    front, back = _lining_pieces(purse)
    foundation = shop.project.foundation.name
    work = (
        Hoop((foundation,), f"Hoop the {foundation} alone, drum-tight and without a crease."),
        placement(shop, "the lining", purse.lining.outline),
        lay(shop, front, Face.UP, f"on its line; it reaches {s} past it all round. Tape it."),
        lay(shop, back, Face.DOWN, "exactly on the lining front, right sides together. Tape both clear of the seam."),
        hinge_seam(purse, purse.lining, "lining front and lining back", gap, (front.key, back.key)),
        Release(f"Take the lining out of the hoop and tear the {foundation} away.", foundation_goes=True),
        Trim(
            "lining",
            None,
            f"Trim both layers {s} outside the seam, and {s} above the ends of the seam along the upper edge, by the "
            f"template. Mark both hinge points. {_corners(purse)}",
            keep=grown(purse.lining.outline, purse.allowance),
        ),
        *_boxed(purse, "lining"),
    )
    return HoopingOperations("lining", f"{shop.project.title}, lining", "lining", 0, work)


def _corners(purse: Purse) -> str:
    if purse.boxed:
        return "Cut the squares out of the bottom corners with the same allowance."
    return "Cut notches out of the allowance round the bottom corners, as far as 2 mm from the seam."


def _boxed(purse: Purse, what: str) -> tuple[HandWork, ...]:
    if not purse.boxed:
        return ()
    deep = purse.says(2 * purse.boxed)
    return (
        Hand(
            what,
            f"Box the bottom corners of the {what}: pull each cut-out open until the end of the side seam meets the end of "
            f"the bottom seam, and sew straight across, {purse.says(purse.allowance)} from the edge. The bottom becomes {deep} deep.",
        ),
    )


def _stuffing(purse: Purse) -> str:
    """Return what thickens the allowance, in words: the foundation and its batting."""
    foundation = purse.shop.project.foundation
    return " and ".join(n for n in (foundation.batting, foundation.name) if n)


def _assembly(purse: Purse, gap: LineString) -> tuple[HandWork, ...]:
    s = purse.says(purse.allowance)
    return (
        Hand(
            _OUTER,
            "Slip the shell, right side out, into the lining, which stays inside out: their right sides lie together. "
            "Pin side seam to side seam at the hinge points, and the middles of the upper edges.",
        ),
        Hand(
            "upper edges",
            f"Sew front to front and back to back along the upper edges, {s} from the edge, on a sewing machine or with "
            "backstitches: two seams, each from hinge point to hinge point and locked there. Do not catch the other side.",
        ),
        Hand(
            "upper edges",
            f"Cut {_stuffing(purse)} out of the allowance of the shell along both upper edges, close to the seam, so that the edge "
            "fits the groove of the frame. Stitches that held the front there may be cut.",
        ),
        Hand("upper edges", "Cut notches out of the allowance at the round corners, and snip to the hinge points."),
        Turn(
            between_seams(gap),
            "lining-front",
            "lining-back",
            "Turn the purse right side out through the opening in the lining.",
        ),
        Close(
            gap, "Fold the allowances of the opening inwards and close it with small hand stitches or an edge stitch."
        ),
        Press("all", "Push the lining into the shell, roll the upper edges between your fingers, and press them flat."),
        *_INTO_THE_FRAME,
    )
