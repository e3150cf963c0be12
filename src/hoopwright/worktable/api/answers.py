"""How the worktable answers: plain data, and errors as a sentence with its cure."""

from __future__ import annotations

from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.exceptions import HTTPException

from hoopwright.core.errors import BlockedError, HoopwrightError, OutputError, ProjectError
from hoopwright.pipeline import draft_view, finding_row, finished_sizes
from hoopwright.worktable.speech import FOUND, speech_to
from hoopwright.worktable.workbook import GoneError, OtherWindowError, Page

STATUS: tuple[tuple[type[HoopwrightError], int], ...] = (
    (OtherWindowError, 409),
    (GoneError, 404),
    (ProjectError, 422),
    (BlockedError, 422),
    (OutputError, 507),
    (HoopwrightError, 400),
)

AGAIN = "Load the page again; when it happens again, undo the last change"
LOST = """<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>Hoopwright</title><link rel="stylesheet" href="/parts/style.css"><body><main class="table-lost">
<h1>There is nothing at this address</h1><p lang="de">Unter dieser Adresse gibt es nichts.</p>
<p><a href="/">Back to the shelf · <span lang="de">Zurück zum Regal</span></a></p></main>
"""
"""The page at an address that is none. No text of a request stands in it."""


def page_row(page: Page) -> dict[str, Any]:
    """Return a project as it stands, as plain data."""
    loaded, made = page.loaded, page.build
    return {
        "version": page.version,
        "undo": page.undo,
        "redo": page.redo,
        "sound": page.sound,
        "whole": page.whole,
        "problems": [finding_row(f) for f in page.problems],
        "project": None if loaded is None else loaded.project.model_dump(mode="json", by_alias=True),
        "finished": [] if made is None else finished_sizes(made),
        "view": None if made is None or loaded is None else draft_view(made, dict(loaded.drawings)),
    }


def tell_errors(app: FastAPI) -> None:
    """Let an application answer every error of ours with its sentence, cure and findings."""

    @app.exception_handler(HoopwrightError)
    async def told(request: Request, error: HoopwrightError) -> JSONResponse:
        status = next(code for kind, code in STATUS if isinstance(error, kind))
        findings = getattr(error, "findings", ())
        body = {"message": error.message, "cure": error.cure, "findings": [finding_row(f) for f in findings]}
        return JSONResponse(speech_to(request).of(body, FOUND), status)

    @app.exception_handler(RequestValidationError)
    async def misasked(request: Request, _error: RequestValidationError) -> JSONResponse:
        body = {"message": "The worktable does not understand what the page asked", "cure": AGAIN}
        return JSONResponse(speech_to(request).of(body, FOUND), 422)

    @app.exception_handler(404)
    @app.exception_handler(HTTPException)
    async def refused(request: Request, error: HTTPException) -> Response:
        words = {404: "There is nothing at this address", 405: "This cannot be done here"}
        message = words.get(error.status_code, "The worktable cannot do this")
        if "text/html" in request.headers.get("accept", "") and not request.url.path.startswith("/api/"):
            return HTMLResponse(LOST, error.status_code)
        body = {"message": message, "cure": "Go back to the shelf"}
        return JSONResponse(speech_to(request).of(body, FOUND), error.status_code)

    @app.exception_handler(Exception)
    async def failed(request: Request, _error: Exception) -> JSONResponse:
        body = {"message": "Something went wrong in the worktable; your work is as it was", "cure": AGAIN}
        return JSONResponse(speech_to(request).of(body, FOUND), 500)
