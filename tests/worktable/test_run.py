"""The run sheet over HTTP: once for the page, in bulk for the player, and never an old one for a new project."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from starlette.testclient import TestClient

from hoopwright.checks.holes import MOST
from hoopwright.pipeline import build
from hoopwright.project.load import load
from hoopwright.worktable.api.run import KEPT, Sheets
from hoopwright.worktable.speech import Speech
from tests.worktable.tables import DEMO, ROOT, shelf, table

POUCH = "quay-pouch"


@pytest.fixture
def client(tmp_path: Path) -> TestClient:
    return table(shelf(tmp_path))


def run(client: TestClient, name: str = DEMO) -> dict[str, Any]:
    return client.get(f"/api/projects/{name}/run").json()  # type: ignore[no-any-return]


def bulk(said: dict[str, Any], at: int = 0, name: str = DEMO) -> str:
    return f"/api/projects/{name}/run/{said['hoopings'][at]['key']}/{said['prints'][at]}"


def test_every_hooping_comes_in_order(tmp_path: Path) -> None:
    client = table(shelf(tmp_path, POUCH))
    said = run(client, POUCH)
    assert said["version"] == 0
    assert [h["key"] for h in said["hoopings"]] == ["flap", "stiffener", "pouch"]
    assert len(set(said["prints"])) == 3
    for at, sheet in enumerate(said["hoopings"]):
        words = np.frombuffer(client.get(f"{bulk(said, at, POUCH)}/needles.bin").content, dtype="<u4")
        assert words[:3].tolist() == [1, sheet["runs"], sheet["stitches"]]


def test_bulk_may_be_kept_and_the_sheet_may_not(client: TestClient) -> None:
    said = run(client)
    assert client.get(f"/api/projects/{DEMO}/run").headers["cache-control"] == "no-store"
    for what in ("needles.bin", "holes.bin", "thickness/3"):
        answer = client.get(f"{bulk(said)}/{what}")
        assert answer.status_code == 200 and "immutable" in answer.headers["cache-control"]


def test_holes_fill_the_grid_that_the_sheet_describes(client: TestClient) -> None:
    said = run(client)
    across, up = said["hoopings"][0]["holes"]["size"]
    assert len(client.get(f"{bulk(said)}/holes.bin").content) == across * up


def test_an_old_print_is_refused_after_a_change_and_holds_again_after_undo(client: TestClient) -> None:
    old = run(client)
    body = {"base": 0, "what": "tried", "changes": [{"path": "panel.seam_stitch.stitch", "value": "none"}]}
    assert client.post(f"/api/projects/{DEMO}/edit", json=body).status_code == 200
    answer = client.get(f"{bulk(old)}/needles.bin")
    assert answer.status_code == 409 and answer.json()["cure"]
    assert run(client)["prints"] != old["prints"] and run(client)["version"] == 1
    client.post(f"/api/projects/{DEMO}/undo", json={})
    assert client.get(f"{bulk(old)}/needles.bin").status_code == 200


def test_what_is_not_there_is_told(client: TestClient) -> None:
    said = run(client)
    print_ = said["prints"][0]
    for place in (f"nowhere/{print_}/needles.bin", f"panel/{print_}/thickness/9999", f"panel/{print_}/thickness/-1"):
        answer = client.get(f"/api/projects/{DEMO}/run/{place}")
        assert answer.status_code == 400 and answer.json()["message"] and answer.json()["cure"]
    assert client.get("/api/projects/nowhere/run").status_code == 404


def test_a_project_that_cannot_be_sewn_has_no_hoopings(client: TestClient) -> None:
    body = {"base": 0, "what": "tried", "changes": [{"path": "panel.outline.width", "value": 900}]}
    client.post(f"/api/projects/{DEMO}/edit", json=body)
    assert isinstance(run(client)["hoopings"], list)


def test_a_sheet_is_made_once_for_each_build() -> None:
    loaded = load(ROOT / "examples" / DEMO / "project.toml")
    one, other = build(loaded.project, prove=False), build(loaded.project, prove=False)
    sheets = Sheets()
    first = sheets.of(DEMO, one)
    assert sheets.of(DEMO, one) is first
    again = sheets.of(DEMO, other)
    assert again is not first and [s.print for s in again] == [s.print for s in first]


def test_only_a_few_projects_are_kept() -> None:
    loaded = load(ROOT / "examples" / DEMO / "project.toml")
    made = build(loaded.project, prove=False)
    sheets = Sheets()
    first = sheets.of("0", made)
    for number in range(KEPT):
        sheets.of(str(number + 1), made)
    assert sheets.of("0", made) is not first


def test_what_was_said_of_a_project_that_is_let_go_is_not_kept_again() -> None:
    loaded = load(ROOT / "examples" / DEMO / "project.toml")
    made = build(loaded.project, dict(loaded.drawings), prove=False)
    sheets = Sheets()
    for say in (Speech(), Speech("de")):
        rows = sheets.of("flap", made)
        said = sheets.said("flap", rows, say)
        assert json.loads(said) and sheets.said("flap", rows, say) is said
        for other in range(KEPT):
            sheets.of(str(other), made)
        assert sheets.said("flap", rows, say) is not sheets.said("flap", rows, say)  # said, but not kept


def test_holes_cut_cloth_but_no_lace(tmp_path: Path) -> None:
    client = table(shelf(tmp_path, DEMO, "tide-lace"))
    assert run(client)["hoopings"][0]["holes"]["cuts"] == MOST
    assert run(client, "tide-lace")["hoopings"][0]["holes"]["cuts"] is None
