"""Places as a screen reads them: rows of numbers, rounded."""

from __future__ import annotations

from typing import Final

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.types import Mm, Points

PLACES: Final = 3
"""Decimals of a place in mm."""


def hundredths(points: Points) -> list[int]:
    """Return places as x, y, x, y … in whole hundredths of a mm."""
    flat: list[int] = np.round(points * 100.0).astype(np.int64).ravel().tolist()
    return flat


def ring(area: Polygon) -> list[list[Mm]]:
    """Return the corners of an area without holes, the first not repeated."""
    return np.round(np.asarray(area.exterior.coords)[:-1, :2], PLACES).tolist()  # type: ignore[no-any-return]


def rings(shape: BaseGeometry) -> list[list[list[Mm]]]:
    """Return all rings of a shape, outer ones and holes, to be filled by the even-odd rule."""
    found = [p for p in shapely.get_parts(shape) if isinstance(p, Polygon) and not p.is_empty]
    lines = [r for p in found for r in (p.exterior, *p.interiors)]
    return [np.round(np.asarray(r.coords)[:-1, :2], PLACES).tolist() for r in lines]
