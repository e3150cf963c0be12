"""Flap pouch: a quilted back that goes on as a pieced flap, a folded front, a wrist strap, all turned through one opening.

Everything is laid on the back: the front as a folded pocket, the strap under it, the lining face down on top. One seam
goes round body and flap. Turned right side out, the pocket hangs on the outer side; flipped over to the lining's side
it is the front. The strap is laid before the pocket: what lies above the pocket would end up inside.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import shapely
from shapely.geometry import LineString

from hoopwright.core.tolerances import MACHINE_STEP
from hoopwright.items.flap_pouch_limits import refuse
from hoopwright.items.flap_pouch_sizes import (
    Draft,
    FlapPouchSettings,
    draft,
)
from hoopwright.items.parts.bag_cloths import stiffener_cloth
from hoopwright.items.parts.closing import CLEAR_OF, closing_seam, gap_on, turning
from hoopwright.items.parts.cloths import chosen_cloth
from hoopwright.items.parts.flap import flap_operations
from hoopwright.items.parts.flat import grown, holding, lay
from hoopwright.items.parts.grounds import ground, ground_said
from hoopwright.items.parts.in_hoop import hoop_foundation
from hoopwright.items.parts.lining import SLIT, lining_lays, lining_pieces, slit_line, slit_turning, tape_off
from hoopwright.items.parts.pocket import pocket_lay, pocket_line, pocket_piece
from hoopwright.items.parts.stiffener import cutting_hooping, held, laid, stiffener_pieces
from hoopwright.items.parts.strap import strap_basting, strap_hands, strap_mark, strap_piece
from hoopwright.items.pieced import pieced_hoopings
from hoopwright.items.recipe import HoopingOperations, Look, Making, Piece, Promise, Recipe, Wanted, Workshop
from hoopwright.needle.working_lines import ring
from hoopwright.operations.vocabulary import (
    Face,
    Flip,
    HandWork,
    Operation,
    Press,
    Release,
    Role,
    RunStyle,
    Stitch,
    Trim,
)
from hoopwright.project.schema import Project

KEY: Final = "pouch"
PROMISE: Final = Promise(parts=1, rims=1, euler=1, closed_rims=0, closed_euler=2)
"""Back, flap, front and lining: a bag with one hole; the hole closed, a sphere. Strap and stiffener do not count."""
CARE: Final = (
    "Wash by hand, lukewarm, and press through a cloth while it is damp.",
    "Strap and small contents keep away from small children.",
)


def _wanted(settings: FlapPouchSettings, project: Project) -> tuple[Wanted, ...]:
    return (Wanted("flap", f"Flap of {project.title}", draft(settings, project).flap.outline),)


def _make(shop: Workshop) -> Making:
    plan = draft(shop.settings, shop.project)
    stiff, pieces = _stiffeners(shop, plan), _pieces(shop, plan)
    title = shop.project.title
    hoopings = (
        *pieced_hoopings(shop, "flap", f"Flap of {title}"),
        *((cutting_hooping(shop, stiff, KEY),) if stiff else ()),
        HoopingOperations(KEY, title, KEY, 0, _pouch(shop, plan, stiff, pieces)),
    )
    cut = (*stiff, *(p for kind in pieces.values() for p in kind))
    body, lining = ("outer", "flap"), (p.key for p in pieces["lining"])
    promise = replace(PROMISE if plan.slit is None else SLIT, shell=(*body, *lining))
    said = ground_said(shop, plan.body, shop.settings.ground)
    return Making(hoopings, cut, _assembly(plan), CARE, promise, (_look(plan, pieces),), findings=said)


def _look(plan: Draft, pieces: dict[str, tuple[Piece, ...]]) -> Look:
    """Return how the pouch lies when it is done: the back and the flap above, the front below, the lining between."""
    linings = tuple(p.key for p in pieces["lining"])
    straps = tuple(p.key for p in pieces["strap"])
    walls = (("pocket",), ("outer", "flap", *linings))
    return Look(KEY, plan.outline, ("outer", "flap", *straps), ("pocket", linings[-1]), walls)


def _stiffeners(shop: Workshop, plan: Draft) -> tuple[Piece, ...]:
    cloth = stiffener_cloth(shop.settings, shop.project)
    if cloth is None:
        return ()
    thickness = shop.project.cloths[cloth].thickness
    return stiffener_pieces(plan.outline, shop.settings.stiffener_inset, plan.hinge, cloth, thickness)


def _pieces(shop: Workshop, plan: Draft) -> dict[str, tuple[Piece, ...]]:
    settings: FlapPouchSettings = shop.settings
    project, s = shop.project, shop.project.piecing.allowance
    outer = chosen_cloth(project, settings.outer, "cloth")
    pocket = chosen_cloth(project, settings.pocket_cloth, "cloth")
    strap = chosen_cloth(project, settings.strap_cloth, "ribbon")
    return {
        "outer": (Piece("outer", "Back", outer, grown(plan.body, s), plan.body),),
        "strap": (strap_piece(shop, strap, plan.strap),) if plan.strap else (),
        "pocket": (pocket_piece(pocket, plan.width, plan.depth, plan.low, s),),
        "lining": lining_pieces(plan.outline, chosen_cloth(project, settings.lining, "lining"), s, plan.slit),
    }


def _pouch(
    shop: Workshop, plan: Draft, stiff: tuple[Piece, ...], pieces: dict[str, tuple[Piece, ...]]
) -> tuple[Operation, ...]:
    """Everything that is laid and sewn in the hooping of the pouch itself, from the lowest layer to the last."""
    gap = None if plan.opening is None else _gap(plan)
    return (
        hoop_foundation(shop.project.foundation),
        _lines(shop, plan, stiff),
        *_stiffened(shop, stiff),
        *_back(shop, plan, pieces["outer"][0]),
        *flap_operations(shop, plan.flap),
        *_strap(shop, plan, pieces["strap"]),
        pocket_lay(shop, pieces["pocket"][0], plan.low),
        pocket_line(shop, pieces["pocket"][0], plan.bottom),
        *lining_lays(shop, pieces["lining"], tape_off(bool(pieces["strap"]))),
        closing_seam(
            shop,
            plan.outline,
            gap,
            catches=("outer", "flap", *(p for key in ("strap", "pocket", "lining") for p in pieces[key])),
            spares=stiff,
        ),
        *_out(shop, plan),
    )


def _stiffened(shop: Workshop, stiff: tuple[Piece, ...]) -> tuple[Operation, ...]:
    return (*(laid(shop, p) for p in stiff), held(shop, stiff)) if stiff else ()


def _lines(shop: Workshop, plan: Draft, stiff: tuple[Piece, ...]) -> Stitch:
    inside = " and, inside it, those of the stiffener" if stiff else ""
    return Stitch(
        Role.PLACEMENT,
        "Outline of body and flap",
        shop.thread("layout"),
        (ring(plan.outline), *(ring(p.cut) for p in stiff)),
        RunStyle(shop.project.stitching.layout_run),
        f"The outline of body and flap is sewn on the bare foundation{inside}.",
    )


def _back(shop: Workshop, plan: Draft, outer: Piece) -> tuple[Operation, ...]:
    settings: FlapPouchSettings = shop.settings
    s = shop.length(shop.project.piecing.allowance)
    outside = shop.project.stitching.hold_outside
    where = f"over the body: it reaches {s} past the outline at the bottom and both sides, and as far into the flap. Tape it."
    quilt = ground(shop, "the back", plan.body, settings.ground)
    sentence = f"A line {shop.length(outside)} outside the seam line holds the back."
    return (
        lay(shop, outer, Face.UP, where),
        holding(shop, "Tack-down of the back", (ring(plan.body, outside),), sentence, outer.key),
        *quilt,
    )


def _strap(shop: Workshop, plan: Draft, pieces: tuple[Piece, ...]) -> tuple[Operation, ...]:
    if plan.strap is None:
        return ()
    (piece,) = pieces
    mark, basted = strap_mark(shop, piece, plan.strap), strap_basting(shop, piece, plan.strap)
    return mark, *strap_hands(shop, piece, plan.strap), basted


def _out(shop: Workshop, plan: Draft) -> tuple[HandWork, ...]:
    s = shop.project.piecing.allowance
    gap = "" if plan.opening is None else " Leave the allowance of the opening whole."
    return (
        Release(f"Take the pouch out of the hoop and tear the {shop.project.foundation.name} away outside the seam."),
        Trim(
            "all",
            None,
            f"Trim everything {shop.length(s)} outside the closing seam. Pink or notch the curve of the flap and clip the "
            f"corners at the bottom, 2 mm from the seam.{gap}",
            keep=grown(plan.outline, s),
        ),
    )


def _gap(plan: Draft) -> LineString:
    """Return the gap in the bottom edge, a machine step longer at both ends than what must pass: there lie the last holes."""
    return gap_on(plan.outline, (0.0, plan.low), (plan.opening or 0.0) + 2.0 * MACHINE_STEP)


def _assembly(plan: Draft) -> tuple[HandWork, ...]:
    """Turning, and flipping the pocket over to the lining's side."""
    if plan.slit is not None:
        below = "pocket" if plan.slit < plan.low + plan.depth else "outer"
        turned = slit_turning(slit_line(plan.width, plan.slit), below)
    else:
        turned = turning(_gap(plan), "pocket", "lining", "in the bottom edge", CLEAR_OF.format("pocket"))
    ends = (plan.bottom.coords[0], plan.bottom.coords[-1])
    front = Flip(
        "pocket",
        ((ends[0][0], ends[0][1]), (ends[1][0], ends[1][1])),
        shapely.box(-plan.width / 2.0, plan.low, plan.width / 2.0, plan.low + plan.depth),
        "Turn the pocket over to the lining's side, as you would turn a sleeve inside out: it is the front now. Push its "
        "corners out and fold the flap over it.",
    )
    last = Press("all", "Press the fold of the flap and the bottom edge through a cloth.")
    return *turned, front, last


FLAP_POUCH: Final = Recipe(
    name="flap-pouch",
    title="Flap pouch",
    summary="A pouch with a pieced flap, a quilted back, a folded front and a wrist strap.",
    settings=FlapPouchSettings,
    make=_make,
    wanted=_wanted,
    refuse=refuse,
)
