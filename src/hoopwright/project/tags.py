"""A mistyped ``shape`` or ``way``: reported, and read as its nearest so that its table's other problems show too."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hoopwright.project.problems import Problem, clipped, nearest
from hoopwright.project.settings import TAGS, tags_of


def guessed_tags(data: Mapping[str, Any]) -> tuple[dict[str, Any], list[Problem]]:
    """Return the data with near misses of deciding settings put right, and a problem for each."""
    out = dict(data)
    panel = out.get("panel")
    if not isinstance(panel, Mapping):
        return out, []
    panel = dict(panel)
    problems: list[Problem] = []
    for path, tag in TAGS.items():
        table = panel.get(path[-1])
        if isinstance(table, Mapping) and isinstance(table.get(tag), str):
            near = nearest(table[tag], tags_of(path))
            if near is not None and near != table[tag]:
                message = f"{clipped(table[tag])} is not a {tag} this tool knows"
                problems.append(Problem("HW115", (*path, tag), message, f'Did you mean "{near}"?'))
                panel[str(path[-1])] = {**table, tag: near}
    return {**out, "panel": panel}, problems
