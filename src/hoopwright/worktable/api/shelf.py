"""The shelf: projects, new ones from recipes, copies, the archive."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Response
from pydantic import BaseModel, ConfigDict, Field

from hoopwright.core.errors import HoopwrightError, ProjectError
from hoopwright.pipeline import finished_pictures, items, new_project
from hoopwright.project.load import load
from hoopwright.worktable.api.answers import page_row
from hoopwright.worktable.desk import Place
from hoopwright.worktable.room import Room
from hoopwright.worktable.workbook import Change

Title = Annotated[str, Field(min_length=1, max_length=120)]


class NewBody(BaseModel):
    """A new project: what is made, its title, the maker's units."""

    model_config = ConfigDict(extra="forbid")

    item: Annotated[str, Field(max_length=60)]
    title: Title
    units: Literal["mm", "in"] = "mm"


class TitleBody(BaseModel):
    """A title."""

    model_config = ConfigDict(extra="forbid")

    title: Title


class RestBody(BaseModel):
    """Whether a project goes to rest in the archive."""

    model_config = ConfigDict(extra="forbid")

    rest: bool


def shelf_router(room: Room) -> APIRouter:
    """Return the routes of the shelf."""
    router = APIRouter(prefix="/api/shelf")

    @router.get("")
    def shelf() -> dict[str, Any]:
        return {
            "folder": room.desk.folder.name,
            "projects": [_row(p) for p in room.desk.places()],
            "recipes": [{"name": r.name, "title": r.title, "summary": r.summary} for r in items()],
        }

    @router.post("/new")
    def new(body: NewBody) -> dict[str, str]:
        return {"name": room.desk.put(body.title, new_project(body.item, body.title, body.units)).name}

    @router.post("/{name}/duplicate")
    def duplicate(name: str, body: TitleBody) -> dict[str, str]:
        return {"name": room.desk.duplicate(room.desk.find(name), body.title).name}

    @router.post("/{name}/rename")
    def rename(name: str, body: TitleBody) -> dict[str, Any]:
        book = room.workbook(name)
        return page_row(book.edit(book.page().version, [Change("title", body.title)], "renamed"))

    @router.post("/{name}/archive")
    def archive(name: str, body: RestBody) -> dict[str, str]:
        return {"name": room.desk.archive(room.desk.find(name), rest=body.rest).name}

    @router.get("/{name}/picture.png")
    def picture(name: str) -> Response:
        build = room.workbook(name).page().build
        pictures = () if build is None else finished_pictures(build, 360)
        if not pictures:
            raise HoopwrightError("There is no picture yet", "Mend what is said about the drawing")
        return Response(pictures[0][1], media_type="image/png", headers={"cache-control": "no-cache"})

    return router


def _row(place: Place) -> dict[str, Any]:
    """Return a project on the shelf; one that cannot be read keeps its name, and says so."""
    try:
        project = load(place.file).project
        title, item, sound = project.title, project.item, True
    except ProjectError:
        title, item, sound = place.name, "", False
    changed = place.file.stat().st_mtime
    return {
        "name": place.name,
        "title": title,
        "item": item,
        "sound": sound,
        "archived": place.archived,
        "changed": changed,
    }
