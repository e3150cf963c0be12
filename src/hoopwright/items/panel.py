"""Panel: one pieced panel, trimmed an allowance outside its outline, for whatever the maker sews it into."""

from __future__ import annotations

from hoopwright.items.pieced import pieced_hoopings, pieced_promise
from hoopwright.items.recipe import Making, NoSettings, Recipe, Wanted, Workshop
from hoopwright.project.schema import Project

KEY = "panel"


def _wanted(_settings: NoSettings, project: Project) -> tuple[Wanted, ...]:
    return (Wanted(KEY, project.title, None),)


def _make(shop: Workshop) -> Making:
    return Making(pieced_hoopings(shop, KEY, shop.project.title), promise=pieced_promise(KEY))


PANEL = Recipe(
    name="panel",
    title="Panel",
    summary="A pieced panel with its allowance, to be sewn into anything.",
    settings=NoSettings,
    make=_make,
    wanted=_wanted,
)
