"""The words of the page."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from hoopwright.worktable.texts import FIRST, NAMES, words


def texts_router() -> APIRouter:
    """Return the route that gives all words of a language."""
    router = APIRouter(prefix="/api/texts")

    @router.get("/{language}")
    def texts(language: str) -> dict[str, Any]:
        code = language if language in NAMES else FIRST
        languages = [{"code": c, "name": n} for c, n in NAMES.items()]
        return {"language": code, "languages": languages, "words": dict(words(code))}

    return router
