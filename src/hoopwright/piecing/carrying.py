"""What the maker gave to patches and seams, carried to a drawing in which letters and numbers are others."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

import shapely
from shapely.geometry import LineString
from shapely.geometry import Point as Dot

from hoopwright.core.tolerances import SCRAP
from hoopwright.core.types import Mm
from hoopwright.piecing.shapes import PatchMap
from hoopwright.project.schema import PanelModel

NEAR: Final[Mm] = 0.5
"""A seam is the same one when its middle lies within this of the old line: the gap that is healed in lines."""


LARGER: Final = 1.001
"""Areas that differ by a smaller part are the same; the earlier letter then goes on."""


def heirs(old: PatchMap, new: PatchMap) -> dict[str, str]:
    """Return for letters of the old map the letter of the patch that takes its place.

    It is the one that covers most of it; where two old patches become one, the one that gives more goes on.
    """
    tree = shapely.STRtree(list(new.plane.faces))
    claims: dict[str, tuple[float, str]] = {}
    for letter, face in zip(old.letters, old.plane.faces, strict=True):
        near = [int(i) for i in tree.query(face)]
        shared = [(float(new.plane.faces[i].intersection(face).area), new.letters[i]) for i in near]
        area, name = max(shared, key=lambda s: (round(s[0], 1), s[1]), default=(0.0, ""))
        if area > SCRAP and (name not in claims or area > LARGER * claims[name][0]):
            claims[name] = (area, letter)
    return {letter: name for name, (_, letter) in claims.items()}


def seam_heirs(old: PatchMap, new: PatchMap) -> dict[int, tuple[int, ...]]:
    """Return for numbers of the old seams the numbers of those that lie on them.

    A seam on which none lies was moved: it goes on as the one, itself on no old seam, that parts the most of the same patches.
    """
    found = {s.number: tuple(n.number for n in new.seams if _lies_on(n.line, s.line)) for s in old.seams}
    free = {n.number for n in new.seams} - {n for numbers in found.values() for n in numbers}
    to, parted = heirs(old, new), _parted(new)
    for number, pairs in _parted(old).items():
        same = {frozenset(to.get(letter, "") for letter in pair) for pair in pairs}
        shared = {n: len(same & parted[n]) for n in sorted(free)}
        if not found[number] and any(shared.values()):
            found[number] = (max(shared, key=lambda n: shared[n]),)
            free -= {*found[number]}
    return found


def _parted(map_: PatchMap) -> dict[int, set[frozenset[str]]]:
    """Return for each seam the pairs of patches that it parts."""
    edges, chains = map_.plane.edges, map_.plane.chains
    return {
        s.number: {frozenset(map_.letters[f] for f in (edges[e].left, edges[e].right)) for e in chains[s.chain].edges}
        for s in map_.seams
    }


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
