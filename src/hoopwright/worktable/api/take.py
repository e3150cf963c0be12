"""Taking away: the results made, as one file or in the folder beside the project, and what lies there already.

Every name that the page asks for is looked up among the files that were made, or among those that lie in the folder.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
from pathlib import Path
from typing import Any, Final

from fastapi import APIRouter, Response
from pydantic import BaseModel, ConfigDict

from hoopwright.core.errors import HoopwrightError, OutputError
from hoopwright.pipeline import (
    RESULT_STAGES,
    bundled,
    expected_stitch_files,
    finding_row,
    lying,
    put_results,
    sold_fields,
    stitch_file_kinds,
)
from hoopwright.worktable.desk import OUT, Place
from hoopwright.worktable.history import FOLDER
from hoopwright.worktable.making import Making, Makings, print_of
from hoopwright.worktable.room import Room
from hoopwright.worktable.speech import FOUND, SHEET, Say
from hoopwright.worktable.whole import read_whole, write_whole
from hoopwright.worktable.workbook import Page

RECORD: Final = "build.json"
TAKEN: Final = "taken.json"
"""Keeps, beside the versions, from which state of the project the results in the folder were made."""
LARGEST_TAKEN: Final = 1_000
OTHERWISE: Final = "download the results as one file instead"
PDF: Final = ".pdf"

PDF_HEADERS: Final = {
    "content-disposition": "inline",
    "cache-control": "no-store",
    "x-content-type-options": "nosniff",
    "content-security-policy": "default-src 'none'; style-src 'unsafe-inline'; object-src 'self'; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
}
"""A page of paper runs nothing and loads nothing; browsers show it in a viewer of their own."""


class MakeBody(BaseModel):
    """Whether to make results of a work that cannot come out."""

    model_config = ConfigDict(extra="forbid")

    despite: bool = False


def take_router(room: Room) -> APIRouter:
    """Return the routes of taking away."""
    router = APIRouter(prefix="/api/projects/{name}/take")
    makings = Makings()

    def made(name: str, print_: str) -> Making:
        room.desk.find(name)
        making = makings.find(print_)
        if making.progress.files is None:
            raise HoopwrightError("The results are not ready yet", "Wait a moment and ask again")
        return making

    @router.get("")
    def take(name: str, say: Say) -> dict[str, Any]:
        place, page = room.desk.find(name), room.workbook(name).page()
        stitch = () if page.build is None else expected_stitch_files(page.build)
        return {
            "kinds": [{"key": k.key, "ending": k.ending, "colours": k.colours} for k in stitch_file_kinds()],
            "fields": [{"name": f.name, "width": f.width, "height": f.height} for f in sold_fields()],
            "stitch": say.of([{"title": title, "files": names} for title, names in stitch], SHEET),
            "stages": RESULT_STAGES,
            "folder": _lying_row(room, place, page),
        }

    @router.post("/make")
    def make(name: str, body: MakeBody, say: Say) -> dict[str, Any]:
        page = room.workbook(name).page()
        if page.loaded is None or page.build is None:
            raise HoopwrightError("The project file cannot be read", "Mend what is said about it first")
        making = makings.start(page.loaded, page.build, despite=body.despite)
        return {**say.of(_making_row(making), FOUND), "version": page.version}

    @router.get("/make/{print_}")
    def progress(name: str, print_: str, say: Say) -> dict[str, Any]:
        room.desk.find(name)
        return say.of(_making_row(makings.find(print_)), FOUND)

    @router.get("/make/{print_}/all.zip")
    def one_file(name: str, print_: str) -> Response:
        place, files = room.desk.find(name), made(name, print_).progress.files or {}
        headers = {
            "content-disposition": f'attachment; filename="{_plain(place.name)}.zip"',
            "cache-control": "no-store",
        }
        return Response(bundled(files, _plain(place.name)), media_type="application/zip", headers=headers)

    @router.get("/make/{print_}/paper/{file}")
    def paper(name: str, print_: str, file: str) -> Response:
        files = made(name, print_).progress.files or {}
        return _paper({n: data for n, data in files.items() if n.endswith(PDF)}.get(file))

    @router.post("/make/{print_}/put")
    def put(name: str, print_: str) -> dict[str, Any] | None:
        place, making = room.desk.find(name), made(name, print_)
        put_results(making.progress.files or {}, _out(room, place), OTHERWISE)
        _note(place, making)
        return _lying_row(room, place, room.workbook(name).page())

    @router.get("/folder/{file}")
    def lying_paper(name: str, file: str) -> Response:
        out = _out(room, room.desk.find(name))
        lies = lying(out)
        names = () if lies is None else [n for n, _ in lies.files if n.endswith(PDF)]
        try:
            return _paper((out / file).read_bytes() if file in names else None)
        except OSError:
            return _paper(None)

    return router


def _making_row(making: Making) -> dict[str, Any]:
    now = making.progress
    return {
        "print": making.print,
        "state": now.state,
        "done": now.done,
        "stages": RESULT_STAGES,
        "despite": making.despite,
        "blocked": now.blocked,
        "files": [] if now.files is None else [{"name": n, "size": len(d)} for n, d in sorted(now.files.items())],
        "findings": [finding_row(f) for f in now.findings],
        "message": None if now.trouble is None else now.trouble.message,
        "cure": None if now.trouble is None else now.trouble.cure,
    }


def _paper(data: bytes | None) -> Response:
    if data is None:
        raise HoopwrightError("This page is not among the results", "Make them again")
    return Response(data, media_type="application/pdf", headers=PDF_HEADERS)


def _out(room: Room, place: Place) -> Path:
    """Return the folder of results. Raises OutputError when it is a link out of the shelf."""
    out = place.file.parent / OUT
    if not out.resolve().is_relative_to(room.desk.folder):
        raise OutputError("The folder for the results is a link that leads out of the shelf", OTHERWISE.capitalize())
    return out


def _plain(name: str) -> str:
    """Return a folder's name in letters that every system and every header can carry."""
    return "".join(c if c.isascii() and (c.isalnum() or c in "-_.") else "-" for c in name).strip(".") or "results"


def _lying_row(room: Room, place: Place, page: Page) -> dict[str, Any] | None:
    """Return what lies in the folder of results as plain data, None for nothing."""
    try:
        out = _out(room, place)
    except OutputError:
        return None
    lies = lying(out)
    if lies is None or not (lies.files or lies.foreign):
        return None
    return {
        "where": f"{place.name}/{OUT}",
        "when": lies.when,
        "since": None if lies.record is None else _since(place, page, out, lies.when),
        "blocked": bool(lies.record and lies.record.get("blocked")),
        "files": [{"name": n, "size": size} for n, size in lies.files],
        "foreign": lies.foreign,
    }


def _since(place: Place, page: Page, out: Path, when: float) -> str:
    """Return whether the project changed since the results were made: "same", "changed", or only by the clock "older", "newer"."""
    if page.loaded is None:
        return "changed"
    try:
        kept = json.loads(read_whole(place.file.parent / FOLDER / TAKEN, LARGEST_TAKEN))
        if kept["record"] == _hash((out / RECORD).read_bytes()):
            known = (print_of(page.loaded), print_of(page.loaded, despite=True))
            return "same" if kept["print"] in known else "changed"
    except (OSError, ValueError, KeyError, TypeError):
        pass
    try:
        return "newer" if place.file.stat().st_mtime > when else "older"
    except OSError:
        return "newer"


def _note(place: Place, making: Making) -> None:
    """Remember from what the results in the folder were made; when that cannot be kept, the clock tells it."""
    record = (making.progress.files or {})[RECORD]
    text = json.dumps({"print": making.print, "record": _hash(record)})
    kept = place.file.parent / FOLDER / TAKEN
    with contextlib.suppress(OSError):
        write_whole(kept, text.encode())


def _hash(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
