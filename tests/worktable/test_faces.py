"""The picture that stands for a project, and the forms of recipes: against the recipes' own models."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from hoopwright.items.recipe import Recipe
from hoopwright.items.registry import OWN
from hoopwright.items.settings import read_settings
from hoopwright.outputs.pictures.face import PNG, SVG, face
from hoopwright.pipeline import build, finished_sizes, items, plan, recipe_form
from hoopwright.project.load import load
from hoopwright.worktable.api.shelf import PICTURES
from hoopwright.worktable.desk import Desk
from hoopwright.worktable.faces import FACE, drawn_face, kept_face
from hoopwright.worktable.history import FOLDER
from tests.docs.papers import drawer, same_picture
from tests.worktable.tables import ROOT, shelf

KINDS = {
    "quay-pouch": SVG,
    "tide-mill-flap": PNG,
    "tide-lace": PNG,
    "mill-label": SVG,
    "lockkeeper-purse": PNG,
}
"""Turned, pieced, of thread alone, neither, pieced but not turned in the hoop."""


@pytest.mark.no_cover
@pytest.mark.parametrize("example", sorted(KINDS))
def test_every_kind_of_work_has_a_face(example: str) -> None:
    loaded = load(ROOT / "examples" / example / "project.toml")
    found = face(plan(loaded.project, dict(loaded.drawings)), 120)
    assert found is not None and found[0] == KINDS[example]
    if found[0] == SVG:
        root = ET.fromstring(found[1])
        assert not [e for e in root.iter() if e.tag.endswith(("script", "foreignObject", "image", "a"))]
    else:
        assert found[1].startswith(b"\x89PNG")


def test_a_work_that_cannot_be_planned_has_none() -> None:
    project = load(ROOT / "examples" / "tide-mat" / "project.toml").project.model_copy(update={"item": "boat"})
    assert face(plan(project), 120) is None


def test_the_finished_size_is_that_of_the_settings() -> None:
    """The mat's settings say how large it is when it is turned."""
    project = load(ROOT / "examples" / "tide-mat" / "project.toml").project
    wide, high = finished_sizes(build(project, prove=False))[0]
    assert (wide, high) == (project.make["width"], project.make["height"])


@pytest.mark.parametrize("recipe", [r for r in items() if r.name != "panel"], ids=lambda r: r.name)
def test_usual_values_and_limits_of_a_form_are_those_of_the_recipe(recipe: Recipe) -> None:
    """What the form calls usual is accepted, at both limits too; a little beyond them is not."""
    for row in recipe_form(recipe):
        given = [row[k] for k in ("usual", "least", "most") if row.get(k) is not None]
        for value in given if row["kind"] != "lengths" else given[:1]:
            right = int(value) if row["kind"] == "whole" else value
            assert not _refuses(recipe, row["name"], right), (row, right)
        beyond = [row[k] + d for k, d in (("least", -1), ("most", 1)) if k in row]
        for value in beyond:
            assert _refuses(recipe, row["name"], int(value) if row["kind"] == "whole" else value), (row, value)
        for choice in row.get("choices", ()):
            assert not _refuses(recipe, row["name"], choice)


def _refuses(recipe: Recipe, name: str, value: object) -> bool:
    _, found = read_settings(recipe, {name: tuple(value) if isinstance(value, list) else value})
    return any(f.where.path and f.where.path.startswith(f"make.{name}") for f in found)


@pytest.mark.parametrize("name", sorted(r.name for r in OWN))
def test_the_picture_of_a_recipe_is_what_the_program_draws(name: str) -> None:
    """``make pictures`` draws it anew."""
    kept = (PICTURES / f"{name}.svg").read_text(encoding="utf-8")
    assert same_picture(kept, drawer().shelf_svg(name))


def test_every_picture_on_the_shelf_belongs_to_a_recipe() -> None:
    assert {p.stem for p in PICTURES.iterdir()} == {r.name for r in OWN}


def test_a_face_too_large_to_be_ours_is_drawn_anew(tmp_path: Path) -> None:
    place = Desk(shelf(tmp_path)).places()[0]
    drawn = drawn_face(place)
    kept = place.file.parent / FOLDER / FACE
    kept.write_bytes(kept.read_bytes() + b" " * 10_000)
    assert kept_face(place) == drawn
    kept.write_bytes(kept.read_bytes() + b" " * 200_000)
    assert kept_face(place) is None and drawn_face(place) == drawn
