from __future__ import annotations

import re
import tomllib
from typing import Annotated, Literal

import pytest
from pydantic import Field

from hoopwright.core.errors import HoopwrightError
from hoopwright.items.recipe import Making, Recipe
from hoopwright.items.registry import OWN
from hoopwright.items.settings import read_settings
from hoopwright.items.starter import Start, item_starter_text
from hoopwright.pipeline import build, items, new_project
from hoopwright.project.lengths import Units
from hoopwright.project.load import parse
from hoopwright.project.schema import Key, Length, Model


class ReedSettings(Model):
    """The reed case, and what it is made of.

    ``width`` is finished. ``lining`` names a cloth.
    """

    width: Annotated[Length, Field(ge=40, le=300)] = 127.0
    gap: Annotated[Length, Field(gt=0, le=9)] = 1.0
    inside: tuple[Length, Length] | None = Field(default=None, examples=[(127, 60)])
    way: Literal["flat", "round"] = "round"
    padded: bool = True
    count: Annotated[int, Field(ge=1, le=4)] = 2
    lining: Key | None = None
    thread: Key | None = None


REED = Recipe("reed-case", "Reed case", "A case for reeds.", ReedSettings, lambda _: Making(()))
START = Start('"200x300"', ("lining",), 5)


def text(units: Units = "mm") -> str:
    return item_starter_text(REED, "Reed case", units, START)


def rows(units: Units = "mm") -> dict[str, str]:
    """The lines below [make] by the setting's name."""
    lines = text(units).split("[make]\n")[1].split("\n\n")[0].splitlines()
    return {line.removeprefix("# ").split(" = ")[0]: line for line in lines}


def test_every_setting_is_written_with_its_usual_value_and_limits() -> None:
    assert list(rows()) == list(ReedSettings.model_fields)
    assert rows()["width"].split("#") == ["width = 127" + " " * 15, " at least 40 mm, at most 300 mm"]
    assert rows()["gap"].endswith("# more than 0 mm, at most 9 mm")
    assert rows()["way"].endswith('# "flat" or "round"')
    assert rows()["padded"].startswith("padded = true ")
    assert rows()["count"].endswith("# at least 1, at most 4")


def test_what_is_left_out_as_a_rule_is_a_remark() -> None:
    assert rows()["inside"].startswith("# inside = [127, 60] ")
    assert rows("in")["inside"].startswith('# inside = ["5 in", "2 3/8 in"] ')


def test_cloths_and_threads_are_named_by_what_they_are_for() -> None:
    assert (rows()["lining"], rows()["thread"]) == ('lining = "ticking"', 'thread = "gold"')


def test_inches_are_written_where_they_are_fine_enough() -> None:
    assert rows("in")["width"].startswith('width = "5 in" ')
    assert rows("in")["width"].endswith("at least 1 9/16 in, at most 11 13/16 in")
    assert rows("in")["gap"].startswith("gap = 1 ")


def test_the_text_loads_with_the_recipes_words_and_what_was_asked_for() -> None:
    loaded = parse(text(), None)
    assert loaded.findings == ()
    assert loaded.project.item == "reed-case"
    assert loaded.project.hoop.field == "200x300"
    assert [c.kind for c in loaded.project.cloths.values()].count("lining") == 1
    assert '# "width" is finished.' in text()
    assert read_settings(REED, loaded.project.make)[1] == ()


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("name", [r.name for r in OWN])
def test_every_example_holds_when_its_mark_is_taken_out_and_every_cloth_named_is_there(name: str, units: Units) -> None:
    recipe = next(r for r in OWN if r.name == name)
    written = new_project(name, "Sluice gate", units)
    table = written.partition("\n[make]\n")[2].split("\n\n")[0]
    remarks = re.findall(r"^# (\w+) = (.*?) *(?:#.*)?$", table, re.MULTILINE)
    for setting, value in remarks:
        make = {**parse(written, None).project.make, **tomllib.loads(f"{setting} = {value}")}
        assert read_settings(recipe, make)[1] == (), setting
    read = tomllib.loads(written)
    keys = {v for k, v in read.get("make", {}).items() if str in cloth_kinds(recipe, k)}
    assert keys <= {*read["cloths"], *read["threads"]}


def cloth_kinds(recipe: Recipe, setting: str) -> tuple[object, ...]:
    """The types a setting may have when it names a key; nothing for choices."""
    info = recipe.settings.model_fields[setting]
    return (str,) if info.annotation == Key | None else ()


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("name", [r.name for r in OWN])
def test_nothing_is_to_be_minded_of_a_first_project_of_any_recipe(name: str, units: Units) -> None:
    loaded = parse(new_project(name, "Sluice gate", units), None)
    assert loaded.findings == ()
    made = build(loaded.project)
    assert [str(f) for f in made.findings if f.severity != "notes"] == []
    assert made.plan.hoopings


def test_a_first_pouch_has_no_batting_and_says_why() -> None:
    """With batting 3.6 mm lie under the foot where 3 mm fit; with it written back in, that is told."""
    written = new_project("flap-pouch", "Sluice gate")
    assert '# batting = "thin cotton batting"    # left out here: with it, more cloth' in written
    assert parse(written, None).project.foundation.batting is None
    thick = parse(written.replace("# batting =", "batting =", 1), None).project
    assert "HW563" in {f.code for f in build(thick).findings}
    assert parse(new_project("mat", "Sluice gate"), None).project.foundation.batting


def test_an_unknown_item_is_refused_with_the_nearest_name() -> None:
    with pytest.raises(HoopwrightError, match='Did you mean "block"'):
        new_project("blok", "Sluice gate")


def test_items_are_the_registered_recipes() -> None:
    assert {r.name for r in OWN} <= {r.name for r in items()}
