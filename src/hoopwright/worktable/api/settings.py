"""Settings of a project under way: what may be set, and what must change with a size."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter
from pydantic import BaseModel, ConfigDict, Field

from hoopwright.core.errors import ProjectError
from hoopwright.pipeline import resized, settings_form
from hoopwright.project.load import Loaded, parse
from hoopwright.worktable.api.project import ChangeBody
from hoopwright.worktable.room import Room
from hoopwright.worktable.speech import FOUND, Say
from hoopwright.worktable.workbook import Change, Page, changed


class SizesBody(BaseModel):
    """Changes of sizes or of the outline that are to be made."""

    model_config = ConfigDict(extra="forbid")

    changes: Annotated[list[ChangeBody], Field(min_length=1, max_length=100)]


def settings_router(room: Room) -> APIRouter:
    """Return the routes of settings."""
    router = APIRouter(prefix="/api/projects/{name}")

    @router.get("/settings")
    def settings(name: str, say: Say) -> dict[str, Any]:
        found = settings_form(_loaded(room.workbook(name).page()).project)
        habits = [{**group, "rows": say.rows(group["rows"])} for group in found["habits"]]
        return {**found, "make": say.rows(found["make"]), "habits": habits}

    @router.post("/resize")
    def resize(name: str, body: SizesBody, say: Say) -> dict[str, Any]:
        book = room.workbook(name)
        page = book.page()
        now = _loaded(page)
        text = changed(page.text, [Change(c.path, c.value) for c in body.changes])
        then = parse(text, book.file.parent)
        found = resized(now.project, dict(now.drawings), then.project, dict(then.drawings))
        return {**found, "refused": say.of(found["refused"], FOUND)}

    return router


def _loaded(page: Page) -> Loaded:
    """Return a project that can be read. Raises ProjectError for another."""
    if page.loaded is None:
        raise ProjectError("The project cannot be read", page.problems, "Mend what is said about it first")
    return page.loaded
