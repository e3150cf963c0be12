"""Drafting: the plan while a hand moves a line, cures for what cannot be sewn, pieces by a rule, drawings and sketches."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter
from pydantic import BaseModel, ConfigDict

from hoopwright.core.errors import ProjectError
from hoopwright.pipeline import cure_rows, hand_view
from hoopwright.project.load import Loaded
from hoopwright.project.schema import Patchwork, Project
from hoopwright.worktable.room import Room


class HandBody(BaseModel):
    """The patchwork as the hand holds it; without one, as it is saved."""

    model_config = ConfigDict(extra="forbid")

    patchwork: Patchwork | None = None


def draw_router(room: Room) -> APIRouter:
    """Return the routes of the drafting screen."""
    router = APIRouter(prefix="/api/projects/{name}/draw")

    @router.post("/hand")
    def hand(name: str, body: HandBody) -> dict[str, Any]:
        loaded = _loaded(room, name)
        return hand_view(_held(loaded.project, body), dict(loaded.drawings))

    @router.post("/cures")
    def cures(name: str, body: HandBody) -> list[dict[str, Any]]:
        loaded = _loaded(room, name)
        return cure_rows(_held(loaded.project, body), dict(loaded.drawings))

    return router


def _loaded(room: Room, name: str) -> Loaded:
    """Return a project that can be read. Raises ProjectError for another."""
    page = room.workbook(name).page()
    if page.loaded is None:
        raise ProjectError("The project cannot be read", page.problems, "Mend what is said about it first")
    return page.loaded


def _held(project: Project, body: HandBody) -> Project:
    if body.patchwork is None:
        return project
    return project.model_copy(update={"panel": project.panel.model_copy(update={"patchwork": body.patchwork})})
