"""What the maker gave to patches and seams, carried to a drawing in which letters and numbers are others."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

import shapely
from shapely.geometry import LineString
from shapely.geometry import Point as Dot

from hoopwright.core.types import Mm
from hoopwright.piecing.shapes import PatchMap
from hoopwright.project.schema import PanelModel

NEAR: Final[Mm] = 0.5
"""A seam is the same one when its middle lies within this of the old line: the gap that is healed in lines."""


def heirs(old: PatchMap, new: PatchMap) -> dict[str, str]:
    """Return for letters of the old map the letter of the patch that takes its place: the largest one that lies in it."""
    places = shapely.point_on_surface(list(new.plane.faces))
    found: dict[str, tuple[float, str]] = {}
    for letter, face in zip(old.letters, old.plane.faces, strict=True):
        inside = face.contains(places)
        parts = [(f.area, n) for f, n, i in zip(new.plane.faces, new.letters, inside, strict=True) if i]
        if parts:
            found[letter] = max(parts, key=lambda p: (round(p[0], 2), p[1]))
    return {letter: name for letter, (_, name) in found.items()}


def seam_heirs(old: PatchMap, new: PatchMap) -> dict[int, tuple[int, ...]]:
    """Return for numbers of the old seams the numbers of those that lie on them."""
    return {s.number: tuple(n.number for n in new.seams if _lies_on(n.line, s.line)) for s in old.seams}


def _lies_on(new: LineString, old: LineString) -> bool:
    places = [Dot(new.interpolate(t, normalized=True)) for t in (0.25, 0.5, 0.75)]
    return all(old.distance(p) <= NEAR for p in places)


def carried(panel: PanelModel, cloths: Mapping[str, str], old: PatchMap, new: PatchMap) -> dict[str, Any]:
    """Return the values of a panel's "cloths", "grounds", "seams", "order" and "first" for a new map.

    ``cloths`` are those of all old patches, proposed ones included, so that what is seen stays. None stands for what falls away.
    """
    to = heirs(old, new)
    numbers = seam_heirs(old, new)
    order = [to.get(letter) for letter in panel.order or ()]
    whole = len(order) == len(new.letters) and None not in order
    return {
        "cloths": {to[k]: v for k, v in cloths.items() if k in to} or None,
        "grounds": {to[k]: _plain(g) for k, g in panel.grounds.items() if k in to} or None,
        "seams": {str(n): _plain(s) for k, s in panel.seams.items() for n in numbers.get(int(k), ())} or None,
        "order": order if whole else None,
        "first": to.get(panel.first) if panel.first else None,
    }


def _plain(model: Any) -> dict[str, Any]:
    return dict(model.model_dump(mode="json", exclude_unset=True, exclude_none=True))
