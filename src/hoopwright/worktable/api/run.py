"""The run sheet of a project: its moments, and in bulk its needle positions, needle holes and thicknesses.

Words: the *print* of a hooping is a fingerprint of its needle positions and of the cloth below; what is asked for by it never
changes, so the browser may keep it. Asked for a print that no longer holds, the worktable says that the project was changed.
"""

from __future__ import annotations

import hashlib
import json
import threading
from collections import OrderedDict
from dataclasses import dataclass
from typing import Any, Final

from fastapi import APIRouter, Response

from hoopwright.build import Build
from hoopwright.core.errors import HoopwrightError
from hoopwright.pipeline import needle_holes, needles, run_sheet, thickness
from hoopwright.worktable.room import Room
from hoopwright.worktable.speech import SHEET, Say, Speech
from hoopwright.worktable.texts import FIRST
from hoopwright.worktable.workbook import OtherWindowError

KEPT: Final = 4
"""Projects whose run sheets are kept at hand."""
PRINT: Final = 16
"""Letters of a print."""
FOREVER: Final = {"cache-control": "private, max-age=31536000, immutable"}


@dataclass(frozen=True, slots=True, eq=False)
class Sheet:
    """One hooping ready to be sent: its run sheet as JSON, its needle positions, its print, which is the same in every language."""

    key: str
    row: bytes
    needles: bytes
    print: str


class Sheets:
    """The run sheets of the projects that were looked at last. May be asked from several threads."""

    def __init__(self) -> None:
        """Begin with none."""
        self._kept: OrderedDict[str, tuple[Build, tuple[Sheet, ...]]] = OrderedDict()
        self._said: dict[tuple[str, str], tuple[tuple[Sheet, ...], bytes]] = {}
        self._lock = threading.Lock()

    def of(self, name: str, build: Build) -> tuple[Sheet, ...]:
        """Return the run sheets of a project as it is built now."""
        with self._lock:
            kept = self._kept.get(name)
            if kept is None or kept[0] is not build:
                kept = build, tuple(_sheet(build, h.key) for h in build.plan.hoopings)
            self._kept[name] = kept
            self._kept.move_to_end(name)
            while len(self._kept) > KEPT:
                gone, _ = self._kept.popitem(last=False)
                self._said = {key: said for key, said in self._said.items() if key[0] != gone}
            return kept[1]

    def said(self, name: str, sheets: tuple[Sheet, ...], say: Speech) -> bytes:
        """Return the run sheets of a project as a JSON list in the language of who asks."""
        key = name, say.language
        with self._lock:
            kept = self._said.get(key)
        if kept is not None and kept[0] is sheets:
            return kept[1]
        rows = [s.row if say.language == FIRST else _packed(say.of(json.loads(s.row), SHEET)) for s in sheets]
        text = b"[" + b", ".join(rows) + b"]"
        with self._lock:
            if name in self._kept:
                self._said[key] = sheets, text
        return text


def run_router(room: Room) -> APIRouter:
    """Return the routes of the run sheet."""
    router = APIRouter(prefix="/api/projects/{name}/run")
    sheets = Sheets()

    def found(name: str) -> tuple[int, Build | None, tuple[Sheet, ...]]:
        page = room.workbook(name).page()
        return page.version, page.build, () if page.build is None else sheets.of(name, page.build)

    def sheet_of(name: str, key: str, print_: str) -> tuple[Build, Sheet]:
        _, build, rows = found(name)
        sheet = next((s for s in rows if s.key == key), None)
        if build is None or sheet is None:
            raise HoopwrightError("This hooping is no longer part of the work", "Load the page again")
        if sheet.print != print_:
            raise OtherWindowError("The project was changed in the meantime", "Load the page again")
        return build, sheet

    @router.get("")
    def run(name: str, say: Say) -> Response:
        version, _, rows = found(name)
        prints = [s.print for s in rows]
        head = json.dumps({"version": version, "prints": prints})[:-1]
        body = head.encode() + b', "hoopings": ' + sheets.said(name, rows, say) + b"}"
        return Response(body, media_type="application/json", headers={"cache-control": "no-store"})

    @router.get("/{key}/{print_}/needles.bin")
    def positions(name: str, key: str, print_: str) -> Response:
        _, sheet = sheet_of(name, key, print_)
        return Response(sheet.needles, media_type="application/octet-stream", headers=FOREVER)

    @router.get("/{key}/{print_}/holes.bin")
    def holes(name: str, key: str, print_: str) -> Response:
        build, _ = sheet_of(name, key, print_)
        return Response(needle_holes(build, key), media_type="application/octet-stream", headers=FOREVER)

    @router.get("/{key}/{print_}/thickness/{moment}")
    def thick(name: str, key: str, print_: str, moment: int) -> Response:
        build, _ = sheet_of(name, key, print_)
        try:
            rows = thickness(build, key, moment)
        except IndexError:
            raise HoopwrightError("This moment is not on the run sheet", "Choose one that is there") from None
        return Response(json.dumps(rows), media_type="application/json", headers=FOREVER)

    return router


def _sheet(build: Build, key: str) -> Sheet:
    row = _packed(run_sheet(build, key))
    bulk = needles(build, key)
    return Sheet(key, row, bulk, hashlib.sha256(row + bulk).hexdigest()[:PRINT])


def _packed(row: dict[str, Any]) -> bytes:
    return json.dumps(row, separators=(",", ":")).encode()
