"""Sharp corners of middle lines, where one stroke ends on another: as in L, E, Z, N."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import Final

import numpy as np
import shapely
from shapely.geometry import Polygon

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Points
from hoopwright.needle.lettering.middle import even, travelled
from hoopwright.needle.lettering.skeleton import Branch, Floats, Joint

SHARP: Final = math.radians(52.0)
"""A middle line that turns by more within about a stroke's width turns a corner."""

EDGE_CORNER: Final = math.radians(35.0)
"""The border of the area turns by more at a corner of its own."""

NEAR: Final = 2.6
"""A corner of the border belongs to a corner of the middle line within so many radii of it."""

FINE: Final = 0.2
"""Corners are looked for at places this part of a radius apart."""

Split = tuple[tuple[Branch, ...], dict[int, Joint], frozenset[int]]


def split_at_corners(area: Polygon, branches: tuple[Branch, ...], joints: dict[int, Joint]) -> Split:
    """Return branches divided at their sharp corners, all joints, and which of them are such corners."""
    convex = _convex_corners(area)
    known = dict(joints)
    new: set[int] = set()
    parts: list[Branch] = []
    for branch in branches:
        marks = _corners(branch, convex)
        cuts = []
        for at, radius in marks:
            name = -1 - len(new)
            new.add(name)
            known[name] = Joint((float(at[0]), float(at[1])), radius)
            cuts.append((at, name))
        parts.extend(_divided(branch, cuts))
    return tuple(parts), known, frozenset(new)


def _convex_corners(area: Polygon) -> Points:
    """Return the places where the border turns sharply round the area."""
    found = [np.empty((0, 2))]
    for ring in (shapely.geometry.polygon.orient(area).exterior, *shapely.geometry.polygon.orient(area).interiors):
        points = np.asarray(ring.coords, dtype=np.float64)[:-1]
        back, on = points - np.roll(points, 1, axis=0), np.roll(points, -1, axis=0) - points
        turn = np.arctan2(back[:, 0] * on[:, 1] - back[:, 1] * on[:, 0], (back * on).sum(axis=1))
        found.append(points[turn > EDGE_CORNER])
    return np.vstack(found)


def _corners(branch: Branch, convex: Points) -> list[tuple[Points, float]]:
    """Return the places where a branch turns a corner, with the radius there."""
    along = travelled(branch.points)
    if along[-1] < SAME_PLACE or not len(convex):
        return []
    usual = float(np.median(branch.radii))
    step = FINE * usual
    line = even(branch.points, step)
    at = np.linspace(0.0, along[-1], len(line))
    radii = np.interp(at, along, branch.radii)
    turns = _turns(line, radii, step, branch.closed)
    found: list[int] = []
    for k in np.argsort(-turns, kind="stable").tolist():
        if turns[k] <= SHARP:
            break
        clear = all(abs(k - other) * step > 2.5 * radii[k] for other in found)
        near = np.hypot(*(convex - line[k]).T).min() < NEAR * radii[k]
        if clear and near:
            found.append(k)
    return [(line[k], float(radii[k])) for k in sorted(found)]


def _turns(line: Points, radii: Floats, step: float, closed: bool) -> Floats:
    """Return by how much the line turns at each place, from a stroke's width before it to one past it."""
    turns = np.zeros(len(line))
    for k in range(len(line)):
        reach = max(2, round(1.5 * radii[k] / step))
        a, b = k - reach, k + reach
        if not closed and (a < 0 or b >= len(line)):
            continue
        count = len(line) - 1
        back, on = line[k] - line[a % count if closed else a], line[b % count if closed else b] - line[k]
        sizes = float(np.hypot(*back) * np.hypot(*on))
        turns[k] = math.acos(max(-1.0, min(1.0, float(back @ on) / max(sizes, SAME_PLACE**2))))
    return turns


def _divided(branch: Branch, cuts: list[tuple[Points, int]]) -> list[Branch]:
    """Return a branch divided at ``cuts``, places in order along it with the joints that come to lie there."""
    if not cuts:
        return [branch]
    points, radii = branch.points, branch.radii
    rows = [int(np.argmin(np.hypot(*(points - at).T))) for at, _ in cuts]
    names = [name for _, name in cuts]
    if branch.closed:
        points = np.vstack([points[rows[0] : -1], points[: rows[0] + 1]])
        radii = np.concatenate([radii[rows[0] : -1], radii[: rows[0] + 1]])
        rows = [0, *(r - rows[0] for r in rows[1:]), len(points) - 1]
        ends: list[int | None] = [*names, names[0]]
    else:
        rows = [0, *rows, len(points) - 1]
        ends = [branch.start, *names, branch.end]
    return [
        replace(branch, points=points[a : b + 1], radii=radii[a : b + 1], start=ends[i], end=ends[i + 1], closed=False)
        for i, (a, b) in enumerate(pairwise(rows))
        if b > a
    ]
