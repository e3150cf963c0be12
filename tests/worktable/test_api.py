from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from tests.worktable.tables import DEMO, shelf, table


@pytest.fixture
def client(tmp_path: Path) -> TestClient:
    return table(shelf(tmp_path))


def page(client: TestClient) -> dict[str, object]:
    return client.get(f"/api/projects/{DEMO}").json()  # type: ignore[no-any-return]


def edit(client: TestClient, base: int, path: str, value: object) -> tuple[int, dict[str, object]]:
    body = {"base": base, "what": "tried", "changes": [{"path": path, "value": value}]}
    answer = client.post(f"/api/projects/{DEMO}/edit", json=body)
    return answer.status_code, answer.json()


def test_a_project_as_plain_data(client: TestClient) -> None:
    row = page(client)
    assert row["version"] == 0 and row["problems"] == []
    assert row["project"]["title"] == "Tide mill flap"  # type: ignore[index]
    view = row["view"]
    assert len(view["panels"][0]["patches"]) == 7  # type: ignore[index]
    assert view["totals"]["stitches"] > 1000  # type: ignore[index]


def test_changes_errors_and_other_windows(client: TestClient) -> None:
    status, row = edit(client, 0, "title", "New")
    assert (status, row["version"], row["undo"]) == (200, 1, "tried")
    assert edit(client, 0, "title", "Late")[0] == 409
    status, said = edit(client, 1, "panel.outline.width", "wide")
    assert status == 422 and said["findings"] and said["findings"][0]["cure"]  # type: ignore[index]
    assert edit(client, 1, "title[[", "x")[0] == 400
    assert client.post(f"/api/projects/{DEMO}/undo").json()["version"] == 0
    assert [v["what"] for v in client.get(f"/api/projects/{DEMO}/versions").json()] == ["opened", "tried"]
    assert client.post(f"/api/projects/{DEMO}/versions/1").json()["project"]["title"] == "New"


def test_a_trial(client: TestClient) -> None:
    body = {"changes": [{"path": "panel.seam_stitch.stitch", "value": "none"}]}
    said = client.post(f"/api/projects/{DEMO}/try", json=body).json()
    assert said["view"]["totals"]["stitches"] < page(client)["view"]["totals"]["stitches"]  # type: ignore[index]


@pytest.mark.parametrize("name", ["..", "%2e%2e", "nowhere", "..%2f..%2fetc"])
def test_no_name_leads_out_of_the_shelf(client: TestClient, name: str) -> None:
    assert client.get(f"/api/projects/{name}").status_code in (400, 404)
    assert client.get(f"/api/shelf/{name}/picture").status_code in (400, 404)
    assert client.get(f"/parts/{name}").status_code in (400, 404)


def test_shelf_new_copy_rename_archive(client: TestClient) -> None:
    made = client.post("/api/shelf/new", json={"item": "panel", "title": "Sluice <b>gate</b>"}).json()["name"]
    client.post(f"/api/shelf/{made}/rename", json={"title": "Gate"})
    copy = client.post(f"/api/shelf/{made}/duplicate", json={"title": "Gate two"}).json()["name"]
    client.post(f"/api/shelf/{copy}/archive", json={"rest": True})
    rows = {p["name"]: p for p in client.get("/api/shelf").json()["projects"]}
    assert rows[made]["title"] == "Gate" and not rows[made]["archived"]
    assert rows[copy]["archived"]
    assert client.get(f"/api/shelf/{made}/picture").content.startswith(b"\x89PNG")


def test_an_unknown_item_is_told(client: TestClient) -> None:
    answer = client.post("/api/shelf/new", json={"item": "boat", "title": "Boat"})
    assert answer.status_code == 400 and answer.json()["message"]
