"""The shelf: projects, new ones from recipes, copies, the archive."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Annotated, Any, Final, Literal

from fastapi import APIRouter, Response
from pydantic import BaseModel, ConfigDict, Field

from hoopwright.core.errors import HoopwrightError
from hoopwright.pipeline import items, new_project, recipe_form
from hoopwright.project.schema import Language
from hoopwright.worktable.api.answers import page_row
from hoopwright.worktable.api.bounds import Plain, Words
from hoopwright.worktable.desk import Place
from hoopwright.worktable.faces import drawn_face, kept_face, picture, plain_row
from hoopwright.worktable.room import Room
from hoopwright.worktable.speech import DRAFT, SHOWN, Say, Speech
from hoopwright.worktable.workbook import Change

PICTURES: Final = Path(__file__).parents[1] / "recipes"
"""A picture of every recipe of ours, made by docs/draw_pictures.py."""
PICTURED: Final = {"image/png": "shaded", "image/svg+xml": "drawn"}
EASY: Final = ("bookmark", "key-tab", "panel")
"""What a beginner sews in an evening: offered first on an empty shelf."""

PAPERS: Final[Mapping[str, Language]] = {"en": "en", "de": "de"}
"""In which language a project begun on a page of a language is printed."""

Title = Annotated[Words, Field(min_length=1, max_length=120)]
Did = Annotated[Words, Field(min_length=1, max_length=120)]


class NewBody(BaseModel):
    """A new project: what is made, its title, the maker's units, settings of the recipe that are not the usual ones."""

    model_config = ConfigDict(extra="forbid")

    item: Annotated[str, Field(max_length=60)]
    title: Title
    units: Literal["mm", "in"] = "mm"
    make: Annotated[dict[Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]{0,40}$")], Plain], Field(max_length=60)] = (
        Field(default_factory=dict)
    )


class TitleBody(BaseModel):
    """A title, and what the change is called in the list of versions."""

    model_config = ConfigDict(extra="forbid")

    title: Title
    what: Did = "renamed"


class RestBody(BaseModel):
    """Whether a project goes to rest in the archive."""

    model_config = ConfigDict(extra="forbid")

    rest: bool


def shelf_router(room: Room) -> APIRouter:
    """Return the routes of the shelf."""
    router = APIRouter(prefix="/api/shelf")

    @router.get("")
    def shelf(say: Say) -> dict[str, Any]:
        rows = [_row(p) for p in room.desk.places()]
        return {
            "folder": room.desk.folder.name,
            "projects": sorted(rows, key=lambda row: (-row["changed"], row["name"])),
            "recipes": [_offered(recipe, say) for recipe in _recipes()],
            "easy": EASY,
        }

    @router.post("/new")
    def new(body: NewBody, say: Say) -> dict[str, str]:
        text = new_project(body.item, body.title, body.units, body.make, PAPERS.get(say.language, "en"))
        return {"name": room.desk.put(body.title, text).name}

    @router.post("/{name}/duplicate")
    def duplicate(name: str, body: TitleBody) -> dict[str, str]:
        return {"name": room.desk.duplicate(room.desk.find(name), body.title).name}

    @router.post("/{name}/rename")
    def rename(name: str, body: TitleBody, say: Say) -> dict[str, Any]:
        book = room.workbook(name)
        return say.of(page_row(book.edit(book.version()[0], [Change("title", body.title)], body.what)), DRAFT)

    @router.post("/{name}/archive")
    def archive(name: str, body: RestBody) -> dict[str, str]:
        return {"name": room.desk.archive(room.desk.find(name), rest=body.rest).name}

    @router.get("/{name}/face")
    def face(name: str) -> dict[str, Any]:
        place = room.desk.find(name)
        drawn_face(place)
        return _row(place)

    @router.get("/{name}/picture")
    def image(name: str) -> Response:
        found = picture(room.desk.find(name))
        if found is None:
            raise HoopwrightError("There is no picture yet", "Mend what is said about the drawing")
        headers = {
            "cache-control": "private, no-cache",
            "content-security-policy": "default-src 'none'; style-src 'unsafe-inline'",
        }
        return Response(found[1], media_type=found[0], headers=headers)

    return router


@cache
def _recipes() -> list[dict[str, Any]]:
    return [
        {
            "name": r.name,
            "title": r.title,
            "summary": r.summary,
            "picture": (PICTURES / f"{r.name}.svg").is_file(),
            "form": recipe_form(r),
        }
        for r in items()
    ]


def _offered(recipe: dict[str, Any], say: Speech) -> dict[str, Any]:
    """Return a recipe in the maker's language, letters to begin with too."""
    said: dict[str, Any] = say.of(recipe, SHOWN)
    return {**said, "form": say.rows(said["form"])}


def _row(place: Place) -> dict[str, Any]:
    """Return a project on the shelf; ``print`` None says that its picture is still to be drawn."""
    face = kept_face(place)
    try:
        changed = place.file.stat().st_mtime
    except OSError:
        changed = 0.0
    row: dict[str, Any] = {"name": place.name, "archived": place.archived, "changed": changed}
    if face is None:
        return {**row, **plain_row(place), "print": None, "sizes": [], "picture": None}
    return {
        **row,
        "title": face.title,
        "item": face.item,
        "units": face.units,
        "sound": True,
        "print": face.print,
        "sizes": face.sizes,
        "picture": PICTURED.get(face.kind or ""),
    }
