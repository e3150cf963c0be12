"""Drafting: the plan while a hand moves a line, cures for what cannot be sewn, pieces by a rule, drawings and sketches."""

from __future__ import annotations

from typing import Annotated, Any, Final

from fastapi import APIRouter, Body, Response
from pydantic import BaseModel, ConfigDict, Field

from hoopwright.core.errors import HoopwrightError, ProjectError
from hoopwright.pipeline import cure_rows, hand_view, kept_changes, line_changes, look_into_drawing, work_changes
from hoopwright.project.drawings import LARGEST_DRAWING
from hoopwright.project.load import Loaded
from hoopwright.project.schema import GeneratedPatchwork, Key, Letter, Outline, Patchwork, Project
from hoopwright.worktable.beside import keep_beside
from hoopwright.worktable.room import Room
from hoopwright.worktable.sketch import Sheet, Sketch
from hoopwright.worktable.speech import DRAFT, Say

Finite = Annotated[float, Field(allow_inf_nan=False, ge=-5000, le=5000)]
Place = tuple[Finite, Finite]
MOST_LINES: Final = 2000


class _Body(BaseModel):
    model_config = ConfigDict(extra="forbid")


class HandBody(_Body):
    """Patchwork and outline as the hand holds them, and cloths by letter; without them, as they are saved."""

    patchwork: Patchwork | None = None
    outline: Outline | None = None
    cloths: dict[Letter, Key] | None = None


class WorkBody(_Body):
    """Another patchwork, for which pieces and seams keep what they have."""

    patchwork: Patchwork


class LinesBody(_Body):
    """Lines in the hoop, mm; without them, the seams as they are."""

    lines: Annotated[tuple[tuple[Place, Place], ...], Field(max_length=MOST_LINES)] | None = None


class KeepBody(_Body):
    """Pieces that stay, and the rule for all others."""

    letters: Annotated[tuple[Letter, ...], Field(min_length=1, max_length=200)]
    wish: GeneratedPatchwork


class SheetBody(_Body):
    """How the photograph of a sketch lies under the pieces."""

    x: Finite
    y: Finite
    scale: Annotated[float, Field(gt=0.001, lt=10, allow_inf_nan=False)]
    turn: Annotated[float, Field(ge=-360, le=360, allow_inf_nan=False)]
    seen: Annotated[float, Field(ge=0, le=1, allow_inf_nan=False)]
    shown: bool


def draw_router(room: Room) -> APIRouter:
    """Return the routes of the drafting screen."""
    router = APIRouter(prefix="/api/projects/{name}/draw")

    @router.post("/hand")
    def hand(name: str, body: HandBody, say: Say) -> dict[str, Any]:
        loaded = _loaded(room, name)
        return say.of(hand_view(_held(loaded.project, body), dict(loaded.drawings)), DRAFT)

    @router.post("/cures")
    def cures(name: str, say: Say) -> list[dict[str, Any]]:
        loaded = _loaded(room, name)
        return say.of(cure_rows(loaded.project, dict(loaded.drawings)), DRAFT)

    @router.post("/lines")
    def lines(name: str, body: LinesBody) -> dict[str, Any]:
        loaded = _loaded(room, name)
        return line_changes(loaded.project, dict(loaded.drawings), body.lines)

    @router.post("/carry")
    def carry(name: str, body: WorkBody) -> dict[str, Any]:
        loaded = _loaded(room, name)
        return work_changes(loaded.project, dict(loaded.drawings), body.patchwork)

    @router.post("/keep")
    def keep(name: str, body: KeepBody) -> dict[str, Any]:
        loaded = _loaded(room, name)
        found = kept_changes(loaded.project, dict(loaded.drawings), body.letters, body.wish)
        return {"values": None if found is None else found[0], "tried": 0 if found is None else found[1]}

    @router.post("/drawing")
    def drawing(name: str, called: str, data: Annotated[bytes, Body(media_type="image/svg+xml")]) -> dict[str, Any]:
        if len(data) > LARGEST_DRAWING:
            raise HoopwrightError("This drawing is too large", "Keep only the lines of the panel in it")
        found = look_into_drawing(data, called)
        return {"file": keep_beside(room.workbook(name).file.parent, called, ".svg", data), "lines": found}

    _add_sketch(router, room)
    return router


def _add_sketch(router: APIRouter, room: Room) -> None:
    def sketch_of(name: str) -> Sketch:
        return Sketch(room.workbook(name).file)

    @router.get("/sketch")
    def sheet(name: str) -> Sheet | None:
        return sketch_of(name).sheet()

    @router.get("/sketch.jpg")
    def photo(name: str) -> Response:
        return Response(sketch_of(name).photo(), media_type="image/jpeg", headers={"cache-control": "no-store"})

    @router.post("/sketch")
    def take(name: str, wide: float, data: Annotated[bytes, Body(media_type="image/*")]) -> Sheet:
        return sketch_of(name).take(data, min(max(wide, 10.0), 1000.0))

    @router.post("/sketch/lay")
    def lay(name: str, body: SheetBody) -> Sheet:
        sketch = sketch_of(name)
        old = sketch.sheet()
        if old is None:
            raise HoopwrightError("There is no sketch here", "Take one in first")
        new = Sheet(old.width, old.height, **body.model_dump())
        sketch.lay(new)
        return new

    @router.post("/sketch/remove")
    def remove(name: str) -> None:
        sketch_of(name).remove()


def _loaded(room: Room, name: str) -> Loaded:
    """Return a project that can be read. Raises ProjectError for another."""
    page = room.workbook(name).page()
    if page.loaded is None:
        raise ProjectError("The project cannot be read", page.problems, "Mend what is said about it first")
    return page.loaded


def _held(project: Project, body: HandBody) -> Project:
    values = {
        k: v
        for k, v in (("patchwork", body.patchwork), ("outline", body.outline), ("cloths", body.cloths))
        if v is not None
    }
    known = {k: v for k, v in (body.cloths or {}).items() if v in project.cloths}
    values = {**values, "cloths": known} if "cloths" in values else values
    return project.model_copy(update={"panel": project.panel.model_copy(update=values)})
