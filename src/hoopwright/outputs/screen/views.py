"""What shows of the cloth, as plain data, each different view once.

Words: a *view* is what shows from the top and from the underside while the layers lie in one way; a *row* of it is a region in
which one surface shows. A *surface* is one side of a sheet as it lies: stitches belong to the surface they were sewn on, go with
it when it is folded, and disappear below the cloth that is laid on it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from hoopwright.cloth.columns import Columns, Shown, columns, visible
from hoopwright.cloth.placing import Placing
from hoopwright.cloth.shapes import Layer, Region, Stack, region_of
from hoopwright.core.types import Mm2
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Lace, Lay, Side
from hoopwright.outputs.pictures.inks import FOUNDATION, cloth_paint, edge_of, thread_paint, wrong_side
from hoopwright.outputs.pictures.laid_panels import laid_panel
from hoopwright.outputs.pictures.sections import panel_cloths, pieced_cloths
from hoopwright.outputs.screen.places import rings

SIDES: Final = (Side.TOP, Side.UNDER)
LEAST: Final[Mm2] = 0.02
"""Regions smaller than this, such as slivers along an edge that was cut, are not shown."""


class Views:
    """Collects the views and surfaces of one hooping; asked again for layers that lie the same, it gives the same number."""

    def __init__(self, plan: Plan, hooping: Hooping) -> None:
        """Begin with none."""
        self.plan = plan
        self.hooping = hooping
        self.rows: list[dict[str, Any]] = []
        """The views, each with its rows "top" and "under"."""
        self.shown: list[tuple[tuple[Shown, ...], tuple[Shown, ...]]] = []
        self.surfaces: list[dict[str, Any]] = []
        self._numbers: dict[tuple[str, bool, Placing], int] = {}
        self._known: dict[tuple[Layer, ...], int] = {}
        self._left: dict[tuple[tuple[Layer, ...], bytes], int] = {}
        self._tables: dict[tuple[Layer, ...], Columns] = {}
        self.laces = dict(_laces(plan, hooping))
        """The accents that are laid, by their names."""

    def of(self, stack: Stack) -> int:
        """Return the number of the view of a stack."""
        if stack.layers not in self._known:
            self._known[stack.layers] = self._add(self.table(stack))
        return self._known[stack.layers]

    def table(self, stack: Stack) -> Columns:
        """Return the columns of a stack."""
        if stack.layers not in self._tables:
            self._tables[stack.layers] = columns(stack)
        return self._tables[stack.layers]

    def without(self, stack: Stack, moved: NDArray[np.bool_]) -> int:
        """Return the number of the view of a stack without some of its layers."""
        key = stack.layers, moved.tobytes()
        if key not in self._left:
            self._left[key] = self._add(_only(self.table(stack), ~moved))
        return self._left[key]

    def alone(self, stack: Stack, moved: NDArray[np.bool_], side: Side) -> list[dict[str, Any]]:
        """Return the rows of some layers of a stack alone."""
        table = _only(self.table(stack), moved)
        return [row for shown in visible(stack, side, table) for row in self._row(table.layers[shown.layer], shown)]

    def surface(self, layer: Layer, right: bool) -> int:
        """Return the number of a surface."""
        place = Placing(*(round(v, 6) + 0.0 for v in _numbers(layer.placing)))
        key = (layer.sheet, right, place)
        if key not in self._numbers:
            self._numbers[key] = len(self.surfaces)
            self.surfaces.append({"piece": layer.sheet, "right": right, "placing": list(_numbers(place))})
        return self._numbers[key]

    def _add(self, table: Columns) -> int:
        stack = Stack(table.layers)
        shown = visible(stack, Side.TOP, table), visible(stack, Side.UNDER, table)
        self.shown.append(shown)
        self.rows.append(
            {
                side.value: [row for s in part for row in self._row(table.layers[s.layer], s)]
                for side, part in zip(SIDES, shown, strict=True)
            }
        )
        return len(self.rows) - 1

    def _row(self, layer: Layer, shown: Shown) -> list[dict[str, Any]]:
        """Return the rows of a region: one with its surface, and for pieced work that shows its right side one more for each of
        its cloths; ``cloth`` is the key of a cloth whose right side shows, ``on`` the surface it shows on.
        """
        if shown.region.area < LEAST:
            return []
        parts = self._parts(layer, shown)
        surface = self.surface(layer, shown.right)
        rows: list[dict[str, Any]] = [
            {"piece": shown.sheet, "paint": paint, "edge": edge_of(paint), "right": shown.right, "rings": rings(region)}
            for paint, region, _ in parts
        ]
        rows[0]["surface"] = surface
        for row, (_, _, cloth) in zip(rows, parts, strict=True):
            if cloth is not None:
                row.update(cloth=cloth, on=surface)
        return rows

    def _parts(self, layer: Layer, shown: Shown) -> list[tuple[str, Region, str | None]]:
        """Return paint and region of what a layer shows, with the key of the cloth where its right side is seen."""
        if layer.foundation:
            return [(FOUNDATION, shown.region, None)]
        if shown.sheet in self.laces:
            return [(thread_paint(self.plan, self.laces[shown.sheet].thread), shown.region, None)]
        paint = cloth_paint(self.plan, layer.cloth)
        if not shown.right:
            return [(wrong_side(paint), shown.region, None)]
        if layer.cloth in self.plan.project.cloths:
            return [(paint, shown.region, layer.cloth)]
        return [(paint, shown.region, None), *self._pieced(layer, shown)]

    def _pieced(self, layer: Layer, shown: Shown) -> Iterator[tuple[str, Region, str]]:
        """Yield paint, region and cloth of what a laid section or a laid panel shows."""
        panel = next((p for p in self.plan.panels if p.key == self.hooping.panel), None)
        found = pieced_cloths(panel, layer.sheet, shown.region) if panel is not None else ()
        laid = laid_panel(self.plan, self.hooping, layer.sheet)
        if laid is not None:
            now = layer.placing.after(laid[1])
            found = tuple((cloth, now.shape(area)) for cloth, area in panel_cloths(laid[0]))
        for cloth, area in found:
            region = region_of(area.intersection(shown.region))
            if not region.is_empty:
                yield cloth_paint(self.plan, cloth), region, cloth


def _only(table: Columns, layers: NDArray[np.bool_]) -> Columns:
    """Return columns with some of the layers only, and without the cells in which none of them lies."""
    present = table.present & layers[None, :]
    covered = present.any(axis=1)
    return replace(table, cells=table.cells[covered], present=present[covered])


def _numbers(p: Placing) -> tuple[float, float, float, float, float, float]:
    return p.a, p.b, p.c, p.d, p.x0, p.y0


def _laces(plan: Plan, hooping: Hooping) -> Iterator[tuple[str, Lace]]:
    """Yield the accents that are laid."""
    hands = (h for s in hooping.steps for h in s.hands)
    for hand in (*hands, *hooping.after, *plan.making.assembly):
        if isinstance(hand, Lay) and hand.lace is not None:
            yield hand.piece, hand.lace
