"""Swatches of seam stitches and grounds, and what there is of both."""

from __future__ import annotations

import hashlib
from typing import Annotated, Any, Final

from fastapi import APIRouter, Header, Query, Response

from hoopwright.pipeline import ground_swatch, seam_stitch_swatch, swatch_catalogue
from hoopwright.project.schema import Weight

Ink = Annotated[str, Query(pattern=r"^[0-9a-fA-F]{6}$")]
"""A colour as rrggbb."""
Known = Annotated[str | None, Header(alias="if-none-match")]

HOUR: Final = "private, max-age=3600"
PRINT: Final = 32


def swatches_router() -> APIRouter:
    """Return the routes of the swatches."""
    router = APIRouter(prefix="/api/swatches")

    @router.get("")
    def all_() -> dict[str, list[dict[str, Any]]]:
        return swatch_catalogue()

    @router.get("/stitch/{name}.svg")
    def stitch(
        name: str, thread: Ink, cloth: Ink, weight: Weight = "bold", mirror: bool = False, known: Known = None
    ) -> Response:
        return _svg(seam_stitch_swatch(name, f"#{thread}", f"#{cloth}", weight=weight, mirror=mirror), known)

    @router.get("/ground/{name}.svg")
    def ground(
        name: str, thread: Ink, cloth: Ink, seed: Annotated[int, Query(ge=0, le=2**31)] = 1, known: Known = None
    ) -> Response:
        return _svg(ground_swatch(name, f"#{thread}", f"#{cloth}", seed=seed), known)

    return router


def _svg(data: bytes, known: str | None) -> Response:
    """Return a picture, or that the browser has it already."""
    tag = f'"{hashlib.sha256(data).hexdigest()[:PRINT]}"'
    headers = {"etag": tag, "cache-control": HOUR}
    if known is not None and tag in [k.strip().removeprefix("W/") for k in known.split(",")]:
        return Response(status_code=304, headers=headers)
    return Response(data, media_type="image/svg+xml", headers=headers)
