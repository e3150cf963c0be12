"""Swatch sheets, each made once."""

from __future__ import annotations

from functools import cache

from hoopwright.build import Build
from hoopwright.estimate.estimate import estimate
from hoopwright.items.swatches.sheets import Swatches, swatch_sheets
from hoopwright.items.swatches.wish import Paper, SwatchWish, Weight
from hoopwright.outputs.swatches.card import card_pdf
from hoopwright.project.lengths import Units


@cache
def sheets_of(
    field: str = "130x180", paper: Paper = "A4", units: Units = "mm", weight: Weight = "bold"
) -> tuple[Build, Swatches]:
    """The sheets of a field and their build, findings left out."""
    sheets = swatch_sheets(SwatchWish(field=field, units=units, paper=paper, weight=weight))
    return Build(sheets.plan, (), estimate(sheets.plan), ()), sheets


@cache
def card_of(field: str = "130x180", paper: Paper = "A4", units: Units = "mm", weight: Weight = "bold") -> bytes:
    """The card of these sheets."""
    return card_pdf(*sheets_of(field, paper, units, weight))
