"""Files of the maker's own: taken in, told, and the motif of a ground shown."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

from fastapi import APIRouter, Header, Query, Request, Response
from starlette.concurrency import run_in_threadpool

from hoopwright.pipeline import ground_swatch
from hoopwright.worktable.api.swatches import Ink, svg_answer
from hoopwright.worktable.beside import KINDS, Kind, read_beside, take_in, there
from hoopwright.worktable.room import Room

Called = Annotated[str, Query(min_length=1, max_length=300)]
"""What a file is called where it came from."""
Known = Annotated[str | None, Header(alias="if-none-match")]


def beside_router(room: Room) -> APIRouter:
    """Return the routes of a project's own files."""
    router = APIRouter(prefix="/api/projects/{name}/beside")

    def home(name: str) -> Path:
        return room.desk.find(name).file.parent

    @router.get("")
    def told(name: str) -> dict[str, tuple[str, ...]]:
        return {kind: there(home(name), kind) for kind in KINDS}

    @router.post("/{kind}")
    async def taken(name: str, kind: Kind, called: Called, request: Request) -> dict[str, Any]:
        return await run_in_threadpool(take_in, home(name), kind, called, await request.body())

    @router.get("/motif/{ground}.svg")
    def motif(name: str, ground: str, file: Called, thread: Ink, cloth: Ink, known: Known = None) -> Response:
        drawing = read_beside(home(name), "motif", file), file
        return svg_answer(ground_swatch(ground, f"#{thread}", f"#{cloth}", motif=drawing), known)

    return router
