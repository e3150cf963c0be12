"""docs/recipes has a page for every recipe, with its true settings, and pictures as the program draws them."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from typing import Any, Final, Literal, get_args, get_origin

import pytest
from pydantic.fields import FieldInfo

from hoopwright.items.parts.grounds import read_ground
from hoopwright.items.recipe import Recipe
from hoopwright.items.registry import OWN
from hoopwright.project.schema import GroundModel
from tests.docs.papers import DOCS, ROOT, drawer, same_picture

FOLDER: Final = DOCS / "recipes"
BY_NAME: Final = {r.name: r for r in OWN}
SHOWN: Final[dict[str, Any]] = drawer().SHOWN
PICTURES: Final = [(recipe, shown) for recipe, (_, rows) in SHOWN.items() for shown in rows]
LARGEST: Final = 100_000
"""No picture of a page has more bytes."""


def page(name: str) -> str:
    return (FOLDER / f"{name}.md").read_text(encoding="utf-8")


def rows(name: str) -> dict[str, tuple[str, str, str, str]]:
    """Return setting -> (meaning, unit, usual, limits) of a recipe's page; a setting told twice fails."""
    found = {}
    for line in page(name).splitlines():
        cells = [c.strip() for c in line.strip("|").split("|")]
        if len(cells) == 5 and cells[0].startswith("`"):
            assert cells[0] not in found
            found[cells[0]] = (cells[1], cells[2], cells[3], cells[4])
    return {key.strip("`"): row for key, row in found.items()}


SETTINGS: Final = [(r.name, key) for r in OWN for key in r.settings.model_fields]


@pytest.mark.parametrize("recipe", OWN, ids=lambda r: r.name)
def test_every_setting_is_described_and_nothing_else(recipe: Recipe) -> None:
    assert list(rows(recipe.name)) == list(recipe.settings.model_fields)


@pytest.mark.parametrize(("name", "key"), SETTINGS)
def test_the_usual_value_is_the_true_one(name: str, key: str) -> None:
    """A usual value stands in backticks as the file would write it; what is left out as a rule is told in words."""
    info = BY_NAME[name].settings.model_fields[key]
    meaning, _, usual, _ = rows(name)[key]
    assert meaning and usual
    default = info.get_default(call_default_factory=True)
    if usual.startswith("`"):
        written = tomllib.loads(f"x = {usual.strip('`')}")["x"]
        assert (read_ground(written) if isinstance(default, GroundModel) else written) == _plain(default)
    else:
        assert default is None


def _plain(default: Any) -> Any:
    """Return the settings of a ground that differ from those of any other ground."""
    if isinstance(default, tuple):
        return list(default)
    return default.model_dump(exclude_unset=True) if isinstance(default, GroundModel) else default


@pytest.mark.parametrize(("name", "key"), SETTINGS)
def test_the_limits_are_the_true_ones(name: str, key: str) -> None:
    info = BY_NAME[name].settings.model_fields[key]
    meaning, _, _, limits = rows(name)[key]
    choices = [c for kind in kinds(info.annotation) if get_origin(kind) is Literal for c in get_args(kind)]
    if choices:
        assert all(f'`"{c}"`' in meaning + limits for c in choices)
    elif any(get_origin(kind) is tuple for kind in kinds(info.annotation)):
        assert not limits
    else:
        assert limits == said(info)


def said(info: FieldInfo) -> str:
    """Return the limits of a number in the words of the pages."""
    found = {word: getattr(m, word, None) for m in metadata(info) for word in ("gt", "ge", "le") if hasattr(m, word)}
    if found.get("ge") is not None:
        return f"{found['ge']:g} to {found['le']:g}"
    return f"up to {found['le']:g}" if found.get("le") is not None and found.get("gt") == 0 else ""


def metadata(info: FieldInfo) -> Iterator[Any]:
    yield from info.metadata
    for part in get_args(info.annotation):
        for more in getattr(part, "__metadata__", ()):
            yield from getattr(more, "metadata", [more])


def kinds(kind: Any) -> tuple[Any, ...]:
    if get_origin(kind) is Literal:
        return (kind,)
    return (kind, *(k for part in get_args(kind) for k in kinds(part)))


def test_the_index_lists_every_recipe_with_its_examples() -> None:
    text = page("README")
    assert re.findall(r"^\| \[([a-z-]+)\]\(\1\.md\) \|", text, re.MULTILINE) and set(BY_NAME) == set(
        re.findall(r"^\| \[([a-z-]+)\]", text, re.MULTILINE)
    )
    listed = {
        line.split("|")[1].split("]")[0].strip(" ["): line for line in text.splitlines() if line.startswith("| [")
    }
    for path in sorted((ROOT / "examples").glob("*/project.toml")):
        item = tomllib.loads(path.read_text(encoding="utf-8")).get("item", "panel")
        assert f"`{path.parent.name}`" in listed[item]


@pytest.mark.parametrize("name", sorted(BY_NAME))
def test_a_page_shows_three_to_five_pictures_of_its_own(name: str) -> None:
    shown = re.findall(r"!\[[^]]+\]\(pictures/([a-z0-9-]+\.svg)\)", page(name))
    assert shown == [f"{name}-{s.name}.svg" for s in SHOWN[name][1]]
    assert 3 <= len(shown) <= 5


def test_every_picture_belongs_to_a_page() -> None:
    kept = {p.name for p in (FOLDER / "pictures").iterdir()}
    assert kept == {f"{recipe}-{s.name}.svg" for recipe, s in PICTURES} | {"legend.svg"}
    assert all(p.stat().st_size < LARGEST for p in (FOLDER / "pictures").iterdir())


@pytest.mark.parametrize(("recipe", "shown"), PICTURES, ids=lambda x: getattr(x, "name", x))
def test_a_picture_is_what_the_program_draws(recipe: str, shown: Any) -> None:
    """``make pictures`` draws it anew."""
    kept = (FOLDER / "pictures" / f"{recipe}-{shown.name}.svg").read_text(encoding="utf-8")
    assert same_picture(kept, drawer().recipe_svg(recipe, shown))


def test_drawn_again_a_picture_has_the_same_bytes() -> None:
    recipe, shown = PICTURES[0]
    module = drawer()
    first = module.recipe_svg(recipe, shown)
    module.recipe_plan.cache_clear()
    assert module.recipe_svg(recipe, shown) == first
    kept = (FOLDER / "pictures" / f"{recipe}-{shown.name}.svg").read_bytes()
    assert kept == first.encode()


def test_another_picture_is_not_taken_for_the_same() -> None:
    """The comparison can fail."""
    a, b = ((FOLDER / "pictures" / f"panel-{name}.svg").read_text(encoding="utf-8") for name in ("lay", "flip"))
    moved = re.sub(r'cx="(\d+)', lambda m: f'cx="{int(m[1]) + 1}', a)
    assert not same_picture(a, b) and not same_picture(a, moved)
