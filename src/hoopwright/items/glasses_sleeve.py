"""Glasses sleeve: a pieced front wall and a quilted, stiffened back, sewn round and turned through one opening.

The front is lined first, along its upper edge only, so that this edge is finished. Front and lining then lie folded on
the back, right sides together, and hang on it when the work is turned; flipped over to the lining's side the front
closes the sleeve. A pocket on the back is laid under the front and stays on the back.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import shapely
from shapely.affinity import affine_transform
from shapely.geometry import LineString, Polygon, box

from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Point
from hoopwright.items.glasses_sleeve_limits import refuse
from hoopwright.items.glasses_sleeve_sizes import Draft, GlassesSleeveSettings, draft
from hoopwright.items.parts.bag_cloths import stiffener_cloth
from hoopwright.items.parts.closing import closing_seam, gap_on, turning
from hoopwright.items.parts.cloths import chosen_cloth
from hoopwright.items.parts.flat import basting, grown, holding, lay
from hoopwright.items.parts.grounds import ground, ground_said
from hoopwright.items.parts.in_hoop import cut_corners, hoop_foundation, stays_in_hoop, taken_out
from hoopwright.items.parts.lining import SLIT, lining_lays, lining_pieces, slit_line, slit_turning, tape_off
from hoopwright.items.parts.pocket import pocket_lay, pocket_line, pocket_piece
from hoopwright.items.parts.stiffener import cutting_hooping, held, inset_parts, laid
from hoopwright.items.parts.strap import CLEAR, Strap, strap_basting, strap_hands, strap_mark, strap_piece
from hoopwright.items.recipe import HoopingOperations, Look, Making, Piece, Promise, Recipe, Wanted, Workshop
from hoopwright.needle.working_lines import largest, ring
from hoopwright.operations.vocabulary import (
    Face,
    Flip,
    Fold,
    HandWork,
    Lay,
    Operation,
    Press,
    Release,
    Role,
    RunStyle,
    Side,
    Stitch,
    Trim,
)
from hoopwright.project.schema import Project

KEY: Final = "sleeve"
FRONT: Final = "front"
PROMISE: Final = Promise(parts=1, rims=1, euler=1, closed_rims=0, closed_euler=2)
"""Back, front and lining: a bag with one hole; the hole closed, a sphere. Strap, pocket and stiffener do not count."""
CARE: Final = (
    "Wash by hand, lukewarm, and press through a cloth while it is damp.",
    "Shake sand and crumbs out before glasses go in: they scratch, the cloth does not.",
)


def _wanted(settings: GlassesSleeveSettings, project: Project) -> tuple[Wanted, ...]:
    return (Wanted(FRONT, f"Front of {project.title}", draft(settings, project).front_panel),)


def _make(shop: Workshop) -> Making:
    plan = draft(shop.settings, shop.project)
    pieces = _pieces(shop, plan)
    title = shop.project.title
    hoopings = (
        *_front_hoopings(shop, pieces["front-lining"][0]),
        *((cutting_hooping(shop, pieces["stiffener"], KEY),) if pieces["stiffener"] else ()),
        HoopingOperations(KEY, title, KEY, 0, _sleeve(shop, plan, pieces)),
    )
    cut = tuple(p for kind in pieces.values() for p in kind)
    body, lining = ("back",), (p.key for p in pieces["lining"])
    promise = replace(PROMISE if plan.slit is None else SLIT, shell=(*body, *lining))
    said = ground_said(shop, plan.outline, shop.settings.ground)
    return Making(hoopings, cut, _assembly(plan), CARE, promise, _looks(shop, plan, pieces), findings=said)


def _looks(shop: Workshop, plan: Draft, pieces: dict[str, tuple[Piece, ...]]) -> tuple[Look, Look]:
    """Return how the lined front and the finished sleeve lie: the back above, the front below, the lining between."""
    on_top = ("back", *(p.key for key in ("strap", "pocket") for p in pieces[key]))
    linings = tuple(p.key for p in pieces["lining"])
    walls = ((FRONT,), ("back", *linings))
    return (
        Look(FRONT, shop.panels[FRONT].outline, underside=("front-lining",)),
        Look(KEY, plan.outline, on_top, (FRONT, linings[-1]), walls),
    )


def _pieces(shop: Workshop, plan: Draft) -> dict[str, tuple[Piece, ...]]:
    settings: GlassesSleeveSettings = shop.settings
    project, s = shop.project, shop.project.piecing.allowance
    lining = chosen_cloth(project, settings.lining, "lining")
    pocket = chosen_cloth(project, settings.pocket_cloth, "cloth")
    front = shop.panels[FRONT].outline
    strap = _strap_of(settings, plan)
    outer = "Back with flap" if settings.flap else "Back"
    return {
        "back": (
            Piece("back", outer, chosen_cloth(project, settings.outer, "cloth"), grown(plan.outline, s), plan.outline),
        ),
        "stiffener": _stiffener(shop, plan),
        "front-lining": (Piece("front-lining", "Front lining", lining, grown(front, s), front),),
        "strap": (strap_piece(shop, chosen_cloth(project, settings.strap_cloth, "ribbon"), strap),) if strap else (),
        "pocket": (pocket_piece(pocket, plan.width, settings.pocket, plan.low, s),) if settings.pocket else (),
        "lining": lining_pieces(plan.outline, lining, s, plan.slit),
    }


def _stiffener(shop: Workshop, plan: Draft) -> tuple[Piece, ...]:
    """Return the stiffener of the body; a flap stays soft, so that it folds."""
    settings: GlassesSleeveSettings = shop.settings
    cloth = stiffener_cloth(settings, shop.project)
    if cloth is None:
        return ()
    thick = shop.project.cloths[cloth].thickness
    shape, _ = inset_parts(plan.outline, settings.stiffener_inset, plan.hinge, thick)
    note = "Cut on the line, without allowance: it must not reach a seam"
    return (Piece("stiffener", "Stiffener", cloth, shape, note=note),)


def _strap_of(settings: GlassesSleeveSettings, plan: Draft) -> Strap | None:
    """Return the strap in the right seam, close below the upper edge."""
    if not settings.strap:
        return None
    y = plan.hinge - CLEAR - settings.strap_width / 2.0
    return Strap(settings.strap_width, settings.strap, plan.width, y, 1)


def _front_hoopings(shop: Workshop, lining: Piece) -> tuple[HoopingOperations, ...]:
    """Return the hoopings that piece the front, line it along its upper edge and fold the lining behind it."""
    title = f"Front of {shop.project.title}"
    front = stays_in_hoop(shop, FRONT, title, outlined=True)
    s, past = shop.project.piecing.allowance, shop.project.stitching.seam_past_end
    outline = shop.panels[FRONT].outline
    left, _, right, top = outline.bounds
    edge = ((left, top), (right, top))
    raw = ((left - s, top + s), (right + s, top + s))
    where = f"over the front, raw edges even: {shop.length(s)} past the upper edge of the front. Tape it below."
    seam = Stitch(
        Role.SEAM,
        "Seam of the front's lining",
        shop.thread("seam"),
        (LineString([(left - past, top), (right + past, top)]),),
        RunStyle(shop.project.stitching.seam_run, times=2),
        "Front and lining are sewn together along the upper edge only, twice.",
        piece=lining.key,
    )
    work = (
        *front.operations,
        lay(shop, lining, Face.DOWN, where, seam=edge, raw_edge=raw),
        seam,
        *_lined(shop, lining, outline, edge),
    )
    return (*front.before, HoopingOperations(FRONT, title, FRONT, front.section, work))


def _lined(shop: Workshop, lining: Piece, outline: Polygon, edge: tuple[Point, Point]) -> tuple[HandWork, ...]:
    s = shop.project.piecing.allowance
    cut = grown(outline, s)
    above = box(cut.bounds[0] - s, edge[0][1], cut.bounds[2] + s, cut.bounds[3] + s)
    foundation = shop.project.foundation.name
    behind = affine_transform(cut, [1, 0, 0, -1, 0, 2.0 * edge[0][1]])
    return (
        Release("Take the front out of the hoop."),
        Trim(
            "all",
            None,
            f"Trim front and lining together {shop.length(s)} outside the sewn outline, which shows on the underside.",
            keep=cut,
        ),
        Trim(foundation, above, f"Tear the {foundation} out of the allowance along the upper edge."),
        Flip(lining.key, edge, behind, "Flip the lining open over its seam, upwards."),
        Fold(
            (),
            edge,
            Side.UNDER,
            "Fold the lining, and the allowance with it, to the back of the front: right sides are outside now.",
        ),
        Press(
            FRONT,
            "Press the finished edge; the lining must not show in front. Stitch along it if you like, 2 mm inside.",
        ),
    )


def _sleeve(shop: Workshop, plan: Draft, pieces: dict[str, tuple[Piece, ...]]) -> tuple[Operation, ...]:
    """Everything that is laid and sewn in the hooping of the sleeve itself, from the lowest layer to the last."""
    settings: GlassesSleeveSettings = shop.settings
    gap = None if plan.opening is None else gap_on(plan.outline, (0.0, plan.hinge), plan.opening)
    what = cut_corners(settings.corner).removesuffix(".") + (
        ", and leave the allowance of the opening whole." if gap else "."
    )
    return (
        hoop_foundation(shop.project.foundation),
        _lines(shop, plan, pieces["stiffener"]),
        *(laid(shop, p) for p in pieces["stiffener"]),
        *((held(shop, pieces["stiffener"]),) if pieces["stiffener"] else ()),
        *_back(shop, plan, pieces["back"][0]),
        *_strap(shop, plan, pieces["strap"]),
        *_pocket(shop, plan, pieces["pocket"]),
        *_front(shop, plan),
        *lining_lays(shop, pieces["lining"], tape_off(bool(pieces["strap"]))),
        closing_seam(
            shop,
            plan.outline,
            gap,
            catches=("back", FRONT, *(p for key in ("strap", "pocket", "lining") for p in pieces[key])),
            spares=pieces["stiffener"],
        ),
        *taken_out(shop, plan.outline, "the sleeve", what),
    )


def _lines(shop: Workshop, plan: Draft, stiff: tuple[Piece, ...]) -> Stitch:
    inside = " and, inside it, that of the stiffener" if stiff else ""
    return Stitch(
        Role.PLACEMENT,
        "Outline of the sleeve",
        shop.thread("layout"),
        (ring(plan.outline), *(ring(p.cut) for p in stiff)),
        RunStyle(shop.project.stitching.layout_run),
        f"The outline of the sleeve is sewn on the bare foundation{inside}.",
    )


def _back(shop: Workshop, plan: Draft, back: Piece) -> tuple[Operation, ...]:
    settings: GlassesSleeveSettings = shop.settings
    s, outside = shop.length(shop.project.piecing.allowance), shop.project.stitching.hold_outside
    quilt = ground(shop, "the back", plan.outline, settings.ground)
    return (
        lay(shop, back, Face.UP, f"over the outline: it reaches {s} past it all round. Tape its edges."),
        holding(
            shop,
            "Tack-down of the back",
            (ring(plan.outline, outside),),
            f"A line {shop.length(outside)} outside the seam line holds the back.",
            back.key,
        ),
        *quilt,
    )


def _strap(shop: Workshop, plan: Draft, pieces: tuple[Piece, ...]) -> tuple[Operation, ...]:
    strap = _strap_of(shop.settings, plan)
    if strap is None:
        return ()
    (piece,) = pieces
    return strap_mark(shop, piece, strap), *strap_hands(shop, piece, strap), strap_basting(shop, piece, strap)


def _pocket(shop: Workshop, plan: Draft, pieces: tuple[Piece, ...]) -> tuple[Operation, ...]:
    """A folded pocket caught in side and bottom seams; it stays on the outside of the back."""
    if not pieces:
        return ()
    (piece,) = pieces
    sentence = (
        f"Fold the pocket, {shop.cloth(piece.cloth)}, in half with its right side OUT and press the fold. Lay it over the "
        "back with the fold upwards and its raw edges even with those of the back at the bottom and both sides. "
        "Tape its sides outside the line."
    )
    return replace(pocket_lay(shop, piece, plan.low), sentence=sentence), pocket_line(shop, piece, plan.bottom)


def _front(shop: Workshop, plan: Draft) -> tuple[Operation, ...]:
    """The finished front wall, face down with its lining up, its rim below the upper edge; basted in the allowance."""
    s, outside = shop.project.piecing.allowance, shop.project.stitching.hold_outside
    left, low, right, _ = plan.front.bounds
    wall = largest(grown(plan.front, s).intersection(box(left - s, low - s, right + s, plan.rim)))
    unfolded = largest(shapely.union_all([wall, affine_transform(wall, [1, 0, 0, -1, 0, 2.0 * plan.rim])]))
    seen = plan.outline.bounds[3] + s - plan.rim
    sentence = (
        f"Lay the finished front wall, pieced, right side DOWN and its lining up, over the back: its raw edges even with "
        f"those of the back at both sides and at the bottom. Its finished edge then lies {shop.length(seen)} below the raw upper edge "
        "of the back, measured in the middle. Tape it."
    )
    fold = ((left - s, plan.rim), (right + s, plan.rim))
    below = box(left - s, low - s, right + s, plan.rim)
    edge = shapely.line_merge(ring(plan.front, outside).intersection(below))
    paths = tuple(p for p in shapely.get_parts(edge) if isinstance(p, LineString) and p.length > MERGE)
    return (
        Lay(FRONT, "", unfolded, Face.DOWN, Side.TOP, None, None, sentence, fold),
        basting(
            shop, "Basting of the front", paths, "The front is held in the allowance of its three raw edges.", FRONT
        ),
    )


def _assembly(plan: Draft) -> tuple[HandWork, ...]:
    """Turning, and flipping the front wall over to the lining's side."""
    if plan.opening is None:
        turned = slit_turning(slit_line(plan.width, plan.slit or 0.0), FRONT)
    else:
        gap = gap_on(plan.outline, (0.0, plan.hinge), plan.opening)
        turned = turning(gap, "back", "lining", "in the upper edge")
    half = plan.width / 2.0
    front = Flip(
        FRONT,
        ((-half, plan.low), (half, plan.low)),
        plan.front,
        "Turn the front wall over to the lining's side, as you would turn a sleeve inside out, and push its corners out: the "
        "pieced front shows, and the glasses go in between front and back.",
    )
    return (
        *turned,
        front,
        Press("all", "Press the edges through a cloth; stitch along the upper edge of the back if you like."),
    )


GLASSES_SLEEVE: Final = Recipe(
    name="glasses-sleeve",
    title="Glasses sleeve",
    summary="A stiffened sleeve with a pieced front and a quilted back, sized from the glasses; open or with a flap.",
    settings=GlassesSleeveSettings,
    make=_make,
    wanted=_wanted,
    refuse=refuse,
)
