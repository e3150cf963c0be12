"""At the machine: the halts of a project, where the maker is in them, and whether another device may look."""

from __future__ import annotations

from typing import Annotated, Any, Final

from fastapi import APIRouter, Query, Response
from pydantic import Field

from hoopwright.worktable.machine.asked import Asked, GoBody, HoopingBody, NoteBody, RestBody
from hoopwright.worktable.machine.halts import Halts
from hoopwright.worktable.machine.sharing import Sharing
from hoopwright.worktable.speech import Say
from hoopwright.worktable.texts import FIRST, language_of

Spoken = Annotated[str, Query(alias="in", max_length=8)]
"""The language of the words in a picture; it stands in the address, because the browser keeps pictures by it."""

PICTURE: Final = {
    "content-security-policy": "default-src 'none'; style-src 'unsafe-inline'; sandbox",
    "cache-control": "private, max-age=86400, immutable",
    "x-content-type-options": "nosniff",
}
"""A picture of a halt runs nothing and loads nothing, also when it is opened by itself."""


class ShareBody(Asked):
    """Which project another device may follow, and at which address of this machine it asks."""

    name: Annotated[str, Field(min_length=1, max_length=120)]
    address: Annotated[str, Field(min_length=2, max_length=60)]


def machine_router(halts: Halts, sharing: Sharing) -> APIRouter:
    """Return the routes of the page at the machine, and of sharing it."""
    router = APIRouter(prefix="/api")
    of = "/projects/{name}/machine"

    @router.get(of)
    def plan(name: str, say: Say) -> dict[str, Any]:
        return halts.told(name, say)

    @router.get(f"{of}/stand")
    def stand(name: str) -> dict[str, Any]:
        return halts.stand(name)

    @router.post(f"{of}/go")
    def go(name: str, body: GoBody) -> dict[str, Any]:
        return halts.go(name, body.hooping, body.come_from, body.to, done=body.done)

    @router.post(f"{of}/follow")
    def follow(name: str, body: HoopingBody) -> dict[str, Any]:
        return halts.follow(name, body.hooping)

    @router.post(f"{of}/rest")
    def rest(name: str, body: RestBody) -> dict[str, Any]:
        return halts.rest(name, body.hooping, on=body.on)

    @router.post(f"{of}/note")
    def note(name: str, body: NoteBody) -> dict[str, Any]:
        return halts.note(name, body.hooping, body.group, body.text)

    @router.post(f"{of}/again")
    def again(name: str, body: HoopingBody) -> dict[str, Any]:
        return halts.again(name, body.hooping)

    @router.post(f"{of}/accept")
    def accept(name: str, body: HoopingBody) -> dict[str, Any]:
        return halts.accept(name, body.hooping)

    @router.get(f"{of}/pictures/{{key}}/{{print_}}/{{file}}")
    def picture(name: str, key: str, print_: str, file: str, spoken: Spoken = FIRST) -> Response:
        data = halts.picture(name, key, print_, file, language_of(spoken))
        return Response(data, media_type="image/svg+xml", headers=PICTURE)

    @router.get("/sharing")
    def shared() -> dict[str, Any]:
        return sharing.row()

    @router.post("/sharing/begin")
    def begin(body: ShareBody) -> dict[str, Any]:
        sharing.begin(body.name, body.address)
        return sharing.row()

    @router.post("/sharing/end")
    def end() -> dict[str, Any]:
        sharing.end()
        return sharing.row()

    return router
