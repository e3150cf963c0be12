"""One project: how it stands, changes, trial changes, undo, versions."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter
from pydantic import BaseModel, ConfigDict, Field

from hoopwright.pipeline import draft_view, finding_row
from hoopwright.worktable.api.answers import page_row
from hoopwright.worktable.api.bounds import Plain, Words
from hoopwright.worktable.room import Room
from hoopwright.worktable.speech import DRAFT, Say
from hoopwright.worktable.workbook import Change


class ChangeBody(BaseModel):
    """One value of the project file; null takes it out."""

    model_config = ConfigDict(extra="forbid")

    path: Annotated[Words, Field(min_length=1, max_length=200)]
    value: Plain = None


class EditBody(BaseModel):
    """Changes to make together, what they are in a word, and the version the page had."""

    model_config = ConfigDict(extra="forbid")

    base: int
    what: Annotated[Words, Field(min_length=1, max_length=120)]
    changes: Annotated[list[ChangeBody], Field(min_length=1, max_length=500)]


class NameBody(BaseModel):
    """The name of a version; null takes it away."""

    model_config = ConfigDict(extra="forbid")

    name: Annotated[Words, Field(min_length=1, max_length=60)] | None


class TryBody(BaseModel):
    """Changes to try without making them."""

    model_config = ConfigDict(extra="forbid")

    changes: Annotated[list[ChangeBody], Field(max_length=500)]


def project_router(room: Room) -> APIRouter:
    """Return the routes of one project."""
    router = APIRouter(prefix="/api/projects/{name}")

    @router.get("")
    def page(name: str, say: Say) -> dict[str, Any]:
        return say.of(page_row(room.workbook(name).page()), DRAFT)

    @router.post("/edit")
    def edit(name: str, body: EditBody, say: Say) -> dict[str, Any]:
        return say.of(page_row(room.workbook(name).edit(body.base, _changes(body.changes), body.what)), DRAFT)

    @router.post("/try")
    def tried(name: str, body: TryBody, say: Say) -> dict[str, Any]:
        loaded, made = room.workbook(name).tried(_changes(body.changes))
        view, problems = draft_view(made, dict(loaded.drawings)), [finding_row(f) for f in loaded.findings]
        return say.of({"view": view, "problems": problems}, DRAFT)

    @router.post("/undo")
    def undo(name: str, say: Say) -> dict[str, Any]:
        return say.of(page_row(room.workbook(name).undo()), DRAFT)

    @router.post("/redo")
    def redo(name: str, say: Say) -> dict[str, Any]:
        return say.of(page_row(room.workbook(name).redo()), DRAFT)

    @router.get("/versions")
    def versions(name: str) -> list[dict[str, Any]]:
        rows = room.workbook(name).versions()
        return [{"number": v.number, "parent": v.parent, "when": v.when, "what": v.what, "name": v.name} for v in rows]

    @router.get("/version")
    def version(name: str) -> dict[str, Any]:
        number, whole = room.workbook(name).version()
        return {"version": number, "whole": whole}

    @router.post("/versions/{number}/name")
    def call(name: str, number: int, body: NameBody) -> dict[str, int]:
        book = room.workbook(name)
        book.name(number, body.name)
        return {"version": book.version()[0]}

    @router.post("/versions/{number}")
    def go(name: str, number: int, say: Say) -> dict[str, Any]:
        return say.of(page_row(room.workbook(name).go(number)), DRAFT)

    return router


def _changes(bodies: list[ChangeBody]) -> list[Change]:
    return [Change(b.path, b.value) for b in bodies]
