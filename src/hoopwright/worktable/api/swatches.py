"""Swatches of seam stitches, grounds and accents, and what there is of each."""

from __future__ import annotations

import hashlib
from typing import Annotated, Any, Final

from fastapi import APIRouter, Header, Query, Response

from hoopwright.pipeline import Below, accent_swatch, ground_swatch, seam_stitch_swatch, swatch_catalogue
from hoopwright.project.schema import Weight
from hoopwright.worktable.speech import SHOWN, Say

Ink = Annotated[str, Query(pattern=r"^[0-9a-fA-F]{6}$")]
"""A colour as rrggbb."""
Name = Annotated[str, Query(max_length=40)]
Seed = Annotated[int, Query(ge=0, le=2**31)]
Known = Annotated[str | None, Header(alias="if-none-match")]

HOUR: Final = "private, max-age=3600"
PRINT: Final = 32
ALONE: Final = "default-src 'none'; style-src 'unsafe-inline'; sandbox"
"""A picture runs nothing and loads nothing, also when it is opened by itself."""


def swatches_router() -> APIRouter:
    """Return the routes of the swatches."""
    router = APIRouter(prefix="/api/swatches")

    @router.get("")
    def all_(say: Say) -> dict[str, list[dict[str, Any]]]:
        return say.of(swatch_catalogue(), SHOWN)

    @router.get("/stitch/{name}.svg")
    def stitch(
        name: str,
        thread: Ink,
        cloth: Ink,
        weight: Weight = "bold",
        mirror: bool = False,
        over: Name | None = None,
        below: Ink = "000000",
        below_weight: Weight = "bold",
        below_mirror: bool = False,
        known: Known = None,
    ) -> Response:
        row = None if over is None else Below(over, f"#{below}", below_weight, below_mirror)
        picture = seam_stitch_swatch(name, f"#{thread}", f"#{cloth}", weight=weight, mirror=mirror, over=row)
        return svg_answer(picture, known)

    @router.get("/ground/{name}.svg")
    def ground(name: str, thread: Ink, cloth: Ink, seed: Seed = 1, known: Known = None) -> Response:
        return svg_answer(ground_swatch(name, f"#{thread}", f"#{cloth}", seed=seed), known)

    @router.get("/motif/{name}.svg")
    def accent(
        name: str,
        thread: Ink,
        cloth: Ink,
        lobes: Annotated[int | None, Query(ge=2, le=16)] = None,
        fullness: Annotated[float, Query(ge=0, le=1)] = 0.5,
        seed: Seed = 0,
        known: Known = None,
    ) -> Response:
        return svg_answer(
            accent_swatch(name, f"#{thread}", f"#{cloth}", lobes=lobes, fullness=fullness, seed=seed), known
        )

    return router


def svg_answer(data: bytes, known: str | None) -> Response:
    """Return a picture, or that the browser has it already."""
    tag = f'"{hashlib.sha256(data).hexdigest()[:PRINT]}"'
    headers = {"etag": tag, "cache-control": HOUR, "content-security-policy": ALONE}
    if known is not None and tag in [k.strip().removeprefix("W/") for k in known.split(",")]:
        return Response(status_code=304, headers=headers)
    return Response(data, media_type="image/svg+xml", headers=headers)
