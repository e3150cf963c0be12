"""Cloth and thread: how the cloths look, and photographs of them."""

from __future__ import annotations

from typing import Any, Final

from fastapi import APIRouter, Request, Response
from pydantic import BaseModel, ConfigDict
from starlette.concurrency import run_in_threadpool

from hoopwright.core.errors import HoopwrightError
from hoopwright.worktable.looks import Look, Looks, row_of
from hoopwright.worktable.photos import small_photo
from hoopwright.worktable.room import Room

FOREVER: Final = {"cache-control": "private, max-age=31536000, immutable"}


class LookBody(BaseModel):
    """How a cloth looks; null: plain."""

    model_config = ConfigDict(extra="forbid")

    look: Look | None


def cloth_router(room: Room) -> APIRouter:
    """Return the routes of the cloths."""
    router = APIRouter(prefix="/api/projects/{name}/cloth")

    def looks(name: str) -> Looks:
        return Looks(room.desk.find(name).file)

    def there(name: str, key: str) -> None:
        loaded = room.workbook(name).page().loaded
        if loaded is None or key not in loaded.project.cloths:
            raise HoopwrightError("There is no such cloth in this project", "Choose one of the list")

    @router.get("")
    def all_(name: str) -> dict[str, Any]:
        return _rows(looks(name))

    @router.post("/look/{key}")
    def put(name: str, key: str, body: LookBody) -> dict[str, Any]:
        there(name, key)
        kept = looks(name)
        kept.put(key, body.look)
        return _rows(kept)

    def kept_photo(name: str, key: str, data: bytes) -> dict[str, Any]:
        there(name, key)
        made = small_photo(data)
        return {"photo": looks(name).keep_photo(made.data), "pixels": made.pixels, "colour": made.colour}

    @router.post("/photo/{key}")
    async def photo(name: str, key: str, request: Request) -> dict[str, Any]:
        return await run_in_threadpool(kept_photo, name, key, await request.body())

    @router.get("/photo/{print_}.jpg")
    def shown(name: str, print_: str) -> Response:
        return Response(looks(name).photo(print_), media_type="image/jpeg", headers=FOREVER)

    return router


def _rows(looks: Looks) -> dict[str, Any]:
    return {"looks": {key: row_of(look) for key, look in looks.all().items()}}
