"""The sewing order of a patch map: found, or the maker's own, with reasons; or sections; or why it cannot be."""

from __future__ import annotations

from collections.abc import Mapping

from hoopwright.core.types import Mm
from hoopwright.piecing.counting import count_orders
from hoopwright.piecing.order_search import best_order
from hoopwright.piecing.order_words import foundation_of, member_of
from hoopwright.piecing.seam_net import net_of
from hoopwright.piecing.shapes import PatchMap, Section, SewingOrder
from hoopwright.piecing.wishes import pricing_of
from hoopwright.project.schema import WishesModel

SEAM_ALLOWANCE: Mm = 6.35
"""A quarter of an inch, the trade's usual seam allowance."""


def sewing_order(
    patch_map: PatchMap,
    *,
    own: tuple[str, ...] | None = None,
    first: str | None = None,
    wishes: WishesModel | None = None,
    lightness: Mapping[str, float] | None = None,
    allowance: Mm = SEAM_ALLOWANCE,
) -> SewingOrder:
    """Return how a panel is pieced."""
    net = net_of(patch_map.plane)
    base = foundation_of(patch_map, net)
    pricing = pricing_of(patch_map, net, wishes or WishesModel(), lightness or {}, allowance)
    best = best_order(pricing)
    count = count_orders(net)
    if best is None:
        return SewingOrder((), 0, True, (), (), False, ())
    section = Section(1, tuple(member_of(base, s) for s in best.steps))
    return SewingOrder((section,), count.number, count.exact, (), (), False, ())
