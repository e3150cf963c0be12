"""Opening the zip of a pouch, laying its back and back lining, closing, turning."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from shapely.geometry import LineString, box

from hoopwright.core.types import Mm
from hoopwright.items.parts.closing import TAPE_OUT, closing_seam
from hoopwright.items.parts.flat import basting, grown, lay
from hoopwright.items.parts.in_hoop import cut_corners, hoop_foundation, taken_out
from hoopwright.items.parts.lining import BESIDE, HEM, OVERLAP, lining_lays, lining_pieces, slit_line
from hoopwright.items.parts.strap import strap_basting, strap_hands, strap_mark, strap_piece
from hoopwright.items.parts.zip_front import FRONT, ON_TAPE, Pouch, front_pieces, panel, side_seam, zip_on, zip_piece
from hoopwright.items.pieced import pieced_hoopings
from hoopwright.items.recipe import HoopingOperations, Look, Making, Piece, Promise
from hoopwright.operations.vocabulary import Close, Face, Fold, HandWork, Open, Operation, Press, Side, Trim, Turn

SPARE: Final[Mm] = 3.0
"""The foundation behind the zip is cut this far from every seam, mm."""

PROMISE: Final = Promise(parts=1, rims=None, euler=4, closed_rims=None, closed_euler=1)
"""Eight discs. Upper front, zip and lower front, joined along two arcs, are one disc, and with the back, joined along the whole
circle of the closing seam, a sphere: 2. Each front lining is sewn down along the whole of its own edge (two seams of the zip's
and the closing seam), a disc on a circle: + 1 - 0, twice, so 4. Each part of the back lining is caught along an arc only, its
hem's ends included: + 1 - 1, twice. The closed zip is one piece of cloth. Closing the slit, whose line ends short of the side seams,
makes one arc of the four that lie on it (two parts, two hems): 4 - 4 + 1 = 1.
"""

CARE: Final = (
    "Close the zip before washing, and wash by hand.",
    "Small pulls and loops keep away from small children.",
)


def making(pouch: Pouch) -> Making:
    """Return everything for the pouch: its hoopings, the pieces that are no patches, and care."""
    shop = pouch.shop
    before = pieced_hoopings(shop, FRONT, f"{shop.project.title}, lower front") if pouch.pieced else ()
    hooping = HoopingOperations("pouch", shop.project.title, "pouch", 0, _operations(pouch))
    pieces = (zip_piece(pouch), *front_pieces(pouch), *_strap_pieces(pouch), _back(pouch), *_back_linings(pouch))
    return Making((*before, hooping), pieces, _assembly(pouch), CARE, _promise(pouch), (_look(pouch),))


def _promise(pouch: Pouch) -> Promise:
    """Return what the pouch is: all its walls and the zip; closing the slit joins the parts of the back lining."""
    back, front = _walls(pouch)
    return replace(PROMISE, shell=("zip", *back, *front), shut=back[1:])


def _look(pouch: Pouch) -> Look:
    """Return how the pouch lies when it is done: the front with its zip above, the back below, linings between."""
    straps = tuple(p.key for p in _strap_pieces(pouch))
    back, front = _walls(pouch)
    return Look("pouch", pouch.outline, (front[0], front[1], "zip", *straps), ("back",), (back, front))


def _walls(pouch: Pouch) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the pieces of the back with its lining and of the front with its own."""
    lower = FRONT if pouch.pieced else "front-lower"
    return ("back", "lining-lower", "lining-upper"), ("front-upper", lower, "front-lining-upper", "front-lining-lower")


def _operations(pouch: Pouch) -> tuple[Operation, ...]:
    shop = pouch.shop
    return (
        hoop_foundation(shop.project.foundation),
        *zip_on(pouch),
        *panel(pouch, 1),
        *panel(pouch, -1),
        *_strapped(pouch),
        *_zip_open(pouch),
        *_backs(pouch),
        closing_seam(
            shop, pouch.outline, None, catches=("zip", *_walls(pouch)[0], *_walls(pouch)[1], *_strap_pieces(pouch))
        ),
        *taken_out(shop, pouch.outline, "the pouch", cut_corners(pouch.corner)),
    )


def _strap_pieces(pouch: Pouch) -> tuple[Piece, ...]:
    return (strap_piece(pouch.shop, pouch.ribbon, pouch.strap),) if pouch.strap else ()


def _strapped(pouch: Pouch) -> tuple[Operation, ...]:
    if pouch.strap is None:
        return ()
    (piece,) = _strap_pieces(pouch)
    mark, held = strap_mark(pouch.shop, piece, pouch.strap), strap_basting(pouch.shop, piece, pouch.strap)
    return mark, *strap_hands(pouch.shop, piece, pouch.strap), held


def _zip_open(pouch: Pouch) -> tuple[Operation, ...]:
    """Return cutting the foundation away behind the zip, opening the zip, and holding its ends together."""
    shop, foundation = pouch.shop, pouch.shop.project.foundation
    upper, lower = side_seam(pouch, 1), side_seam(pouch, -1)
    away = box(-pouch.half + SPARE, lower + SPARE, pouch.half - SPARE, upper - SPARE)
    layers = tuple(n for n in (foundation.name, foundation.batting) if n)
    cuts = tuple(
        Trim(
            name,
            away,
            f"Turn the hoop over and cut the {name} away behind the zip, between the two seams and up to {pouch.says(SPARE)} from "
            "the outline. Do not cut the zip.",
        )
        for name in layers
    )
    opened = Open(
        "zip",
        f"OPEN THE ZIP half way, {pouch.says(pouch.opened)}: the pull now lies inside the pouch, clear of every seam. Lay both "
        "tapes on the right side close together and tape them. A pouch whose zip is closed cannot be turned.",
    )
    x = pouch.half + shop.project.stitching.tack_outside
    reach = pouch.tape / 2 - ON_TAPE
    ends = tuple(LineString([(w * x, pouch.zip_y - reach), (w * x, pouch.zip_y + reach)]) for w in (-1, 1))
    words = "Both ends of the zip are held together in the allowance."
    return *cuts, opened, basting(shop, "Basting of the zip's ends", ends, words, "zip")


def _back(pouch: Pouch) -> Piece:
    return Piece("back", "Back", pouch.outer, grown(pouch.outline, pouch.allowance), pouch.outline)


def _back_linings(pouch: Pouch) -> tuple[Piece, ...]:
    lower, upper = lining_pieces(pouch.outline, pouch.inner, pouch.allowance, pouch.slit)
    return replace(lower, title="Lower back lining"), replace(upper, title="Upper back lining")


def _backs(pouch: Pouch) -> tuple[HandWork, ...]:
    """Return laying the back on top and its lining, in two parts, under the hoop."""
    where = "over everything, its raw edges even with those of the front all round. Tape its edges; strap and pull stay inside."
    return lay(pouch.shop, _back(pouch), Face.DOWN, where), *_lining_lays(pouch)


def _lining_lays(pouch: Pouch) -> tuple[HandWork, ...]:
    """Return laying the two parts of the back lining; the upper part first, whose fold covers the other one inside.

    A hem is folded away from the hoop, to the wrong side, so it comes to lie under its part.
    """
    shop = pouch.shop
    work: list[HandWork] = []
    for piece, plain in zip(_back_linings(pouch)[::-1], lining_lays(shop, _back_linings(pouch)), strict=True):
        assert plain.fold is not None
        where = "on the linings of the front, its outer edges even with theirs. Tape it well."
        work.append(lay(shop, piece, Face.UP, where, side=Side.UNDER))
        work.append(Fold((piece.key,), plain.fold, Side.UNDER, _hem_words(pouch, piece)))
    return tuple(work)


def _hem_words(pouch: Pouch, piece: Piece) -> str:
    edge = "upper" if piece.key == "lining-lower" else "lower"
    over = (
        ""
        if edge == "lower"
        else f", so that its fold lies {pouch.says(OVERLAP)} past that of the upper part, below it"
    )
    return f"Fold the {edge} edge of the {piece.title.lower()} in by {pouch.says(HEM)}, away from the hoop, wrong sides together{over}. Tape it."


def _assembly(pouch: Pouch) -> tuple[HandWork, ...]:
    """Return turning through the slit in the lining, then through the zip, and closing the slit."""
    slit = slit_line(2 * pouch.half, pouch.slit)
    inner = pouch.half - BESIDE
    zip_line = LineString([(pouch.half - pouch.opened, pouch.zip_y), (inner, pouch.zip_y)])
    return (
        Turn(
            slit,
            "lining-upper",
            "front-lining-lower",
            "Turn the work through the slit between the two parts of the back lining: now the linings are outside.",
        ),
        Turn(
            zip_line,
            "zip",
            "back",
            "Reach in through the open zip and turn the pouch through it: now the outer cloth is outside. Push the corners out "
            "with something blunt, through the slit.",
        ),
        *_strips(pouch),
        Press(
            "all",
            f"{TAPE_OUT}. Roll the seam between your fingers so that it lies on the edge, and press; keep the iron off the zip.",
        ),
        Close(
            slit, "Pull the lining out through the zip and sew the fold of its upper part to the lower part by hand."
        ),
    )


def _strips(pouch: Pouch) -> tuple[Trim, ...]:
    """Return tearing away what was left of the foundation behind the zip, which would show inside."""
    foundation = pouch.shop.project.foundation
    strips = box(-pouch.half, side_seam(pouch, -1), pouch.half, side_seam(pouch, 1))
    words = "Tear the narrow strips of {} behind the zip away up to its two seams: they would show inside."
    return tuple(Trim(n, strips, words.format(n)) for n in (foundation.name, foundation.batting) if n)
