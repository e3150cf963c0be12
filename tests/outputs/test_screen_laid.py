"""Letters, stitch files and accents as a screen moves them, against what is planned to be sewn."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from shapely.geometry import Polygon

from hoopwright.needle.accents.placing import placed_accent
from hoopwright.needle.accents.wishes import wish_of
from hoopwright.operations.vocabulary import Role
from hoopwright.outputs.screen import laid as laid_room
from hoopwright.outputs.screen.draft import draft_view
from hoopwright.pipeline import build, results
from hoopwright.project.load import parse

PROJECT = """
schema = 1
title = "Turned panel"
[cloths.foam]
name = "foam"
colour = "#a9c4b8"
[threads.slate]
name = "slate"
colour = "#3f4147"
[threads.gold]
name = "gold"
colour = "#e0a52f"
[panel]
turn = 30
[panel.outline]
shape = "polygon"
points = [[10, 10], [110, 10], [110, 90], [10, 90]]
[panel.seam_stitch]
stitch = "none"
[[panel.lettering]]
lines = ["TIDE", "mill"]
at = [35, 60]
width = 30
turn = 15
align = "left"
thread = "gold"
[[panel.placed]]
file = "mark.dst"
at = [85, 60]
turn = -40
mirror = true
[[panel.accents]]
motif = "leaf"
size = 40
at = [60, 30]
turn = 80
"""


@pytest.fixture(scope="module")
def mark() -> bytes:
    """A stitch file: a small label with letters, as its maker would buy it."""
    text = Path("examples/mill-label/project.toml").read_text(encoding="utf-8")
    small = parse(text, None).project
    make = {**small.make, "width": 50.0, "height": 24.0, "lines": ["mark"], "border": "none"}
    files = results(build(small.model_copy(update={"make": make})), despite=True)[1]
    return files["machine/label.dst"]


@pytest.fixture(scope="module")
def view(mark: bytes, tmp_path_factory: pytest.TempPathFactory) -> tuple[Any, list[dict[str, Any]]]:
    home = tmp_path_factory.mktemp("laid")
    (home / "mark.dst").write_bytes(mark)
    loaded = parse(PROJECT, home)
    files = dict(loaded.drawings)
    made = build(loaded.project, files, prove=False)
    return made, draft_view(made, files)["panels"][0]["laid"]


def in_hoop(row: dict[str, Any], points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Turn places of a row's own drawing and move them to where it lies."""
    a = math.radians(row["turn"])
    at = np.array(row["at"], dtype=np.float64)
    return np.asarray(points @ np.array([[math.cos(a), math.sin(a)], [-math.sin(a), math.cos(a)]]) + at)


def drawn(row: dict[str, Any]) -> Iterator[NDArray[np.float64]]:
    for rows in row["stitches"]:
        for run in rows["runs"]:
            yield in_hoop(row, np.array(run).reshape(-1, 2) / 100.0)


def sewn(made: Any, role: Role) -> list[NDArray[np.float64]]:
    steps = [s for h in made.plan.hoopings if h.panel == "panel" for s in h.steps if s.stitch.role is role]
    return [run.points for s in steps for run in s.runs]


@pytest.mark.parametrize(("number", "role"), [(0, Role.LETTERING), (1, Role.PLACED)])
def test_what_is_moved_is_what_is_sewn(view: Any, number: int, role: Role) -> None:
    made, rows = view
    planned, shown = sewn(made, role), list(drawn(rows[number]))
    assert [len(run) for run in shown] == [len(run) for run in planned] and len(shown) > 1
    far = max(float(np.hypot(*(a - b).T).max()) for a, b in zip(shown, planned, strict=True))
    assert far < 0.02


def test_an_accent_lies_where_it_will_be_tacked(view: Any) -> None:
    made, rows = view
    one = made.plan.panels[0].frame
    wanted = placed_accent(wish_of(made.plan.project.panel.accents[0]), one.place((60, 30)), 110.0).outline
    shown = Polygon(in_hoop(rows[2], np.array(rows[2]["rings"][0])))
    assert shown.symmetric_difference(wanted).area < 0.005 * wanted.area


def test_a_row_tells_its_size_and_threads(view: Any) -> None:
    _, (letters, mark, leaf) = view
    assert [r["kind"] for r in (letters, mark, leaf)] == ["lettering", "placed", "accents"]
    assert letters["box"][0] == 30 and letters["stitches"][0]["colour"] == "#e0a52f"
    assert max(leaf["box"]) == pytest.approx(40, abs=0.1)
    assert {b["thread"] for b in mark["blocks"]} <= {"slate", "gold"} and mark["sound"]


def test_what_cannot_be_sewn_is_a_box(mark: bytes, tmp_path: Path) -> None:
    (tmp_path / "mark.dst").write_bytes(mark)
    spoilt = PROJECT.replace('["TIDE", "mill"]', '["\u6f6e"]').replace("size = 40", "size = 4")
    loaded = parse(spoilt.replace("mirror = true", "scale = 2.0"), tmp_path)
    made = build(loaded.project, dict(loaded.drawings), prove=False)
    rows = draft_view(made, dict(loaded.drawings))["panels"][0]["laid"]
    assert [r["sound"] for r in rows] == [False] * 3 and not any(r["stitches"] for r in rows)
    assert all(min(r["box"]) > 0 and len(r["rings"]) == 1 for r in rows)
    assert {"HW360", "HW371", "HW381"} <= {f.code for f in made.findings}


def test_what_goes_beyond_the_bound_is_an_outline(view: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    made, rows = view
    count = sum(len(run) // 2 for s in rows[0]["stitches"] for run in s["runs"])
    monkeypatch.setattr(laid_room, "MOST_DRAWN", count)
    found = laid_room.laid(made.plan, made.plan.panels[0], {})
    assert found[0]["stitches"] and not found[2]["stitches"] and found[2]["rings"]
