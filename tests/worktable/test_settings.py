"""Settings of a project under way."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from shapely.geometry import LineString, Polygon
from starlette.testclient import TestClient

from hoopwright.items.registry import OWN
from hoopwright.outputs.screen.settings_form import habit_groups, make_form
from hoopwright.project.schema import (
    FoundationModel,
    HoopModel,
    MachineModel,
    Model,
    PiecingModel,
    StitchingModel,
)
from hoopwright.translation.sentences import translated
from tests.worktable.tables import DEMO, shelf, table

POUCH = "quay-pouch"
ELSEWHERE = {"machine.kinds", "machine.halt_at"}
"""Settings that Take away has."""


@pytest.fixture
def client(tmp_path: Path) -> TestClient:
    return table(shelf(tmp_path, DEMO, POUCH))


def resize(client: TestClient, name: str, **changes: object) -> Any:
    rows = [{"path": p.replace("__", "."), "value": v} for p, v in changes.items()]
    return client.post(f"/api/projects/{name}/resize", json={"changes": rows}).json()


def edit(client: TestClient, name: str, *changes: tuple[str, object]) -> Any:
    base = client.get(f"/api/projects/{name}").json()["version"]
    rows = [{"path": p, "value": v} for p, v in changes]
    return client.post(f"/api/projects/{name}/edit", json={"base": base, "what": "sizes", "changes": rows}).json()


def test_every_setting_of_machine_hoop_laying_and_lines_has_a_field() -> None:
    asked = {row["path"] for group in habit_groups() for row in group["rows"]}
    tables: dict[str, type[Model]] = {
        "hoop": HoopModel,
        "machine": MachineModel,
        "foundation": FoundationModel,
        "piecing": PiecingModel,
        "stitching": StitchingModel,
    }
    there = {f"{table}.{name}" for table, model in tables.items() for name in model.model_fields}
    assert asked == there - ELSEWHERE


def test_rows_say_default_limits_and_whether_sixteenths_are_too_coarse() -> None:
    rows = {row["path"]: row for group in habit_groups() for row in group["rows"]}
    assert (
        rows["machine.speed"] | {"kind": "whole", "usual": 600, "least": 100.0, "most": 2000.0} == rows["machine.speed"]
    )
    assert rows["stitching.lock"]["fine"] and rows["stitching.lock"]["most"] == 0.8
    assert "fine" not in rows["piecing.allowance"] and rows["piecing.allowance"]["usual"] == 6.35
    assert rows["foundation.batting"]["usual"] is None


def test_a_form_asks_what_the_item_was_begun_with_and_its_cloths(client: TestClient) -> None:
    said = client.get(f"/api/projects/{POUCH}/settings").json()
    rows = {row["path"]: row["kind"] for row in said["make"]}
    assert (
        rows["make.contents"] == "lengths"
        and rows["make.strap_cloth"] == "cloth"
        and said["turn"]["path"] == "panel.turn"
    )
    assert client.get(f"/api/projects/{DEMO}/settings").json()["make"] == []
    label = next(r for r in OWN if r.name == "label")
    assert {r["name"]: r["kind"] for r in make_form(label)}["border_thread"] == "thread"


def test_cuts_grow_with_the_outline_and_end_on_it_still(client: TestClient) -> None:
    before = client.get(f"/api/projects/{DEMO}").json()["view"]["panels"][0]
    values = resize(client, DEMO, panel__outline__width=130, panel__outline__height=120)["values"]
    made = edit(
        client,
        DEMO,
        ("panel.outline.width", 130),
        ("panel.outline.height", 120),
        *((f"panel.{k}", v) for k, v in values.items()),
    )
    after = made["view"]["panels"][0]
    assert [p["letter"] for p in after["patches"]] == [p["letter"] for p in before["patches"]]
    assert not [f for f in made["view"]["findings"] if f["severity"] == "blocks" and f["patch"]]
    rim = Polygon(after["outline"]).exterior
    cut = LineString(values["patchwork"]["cuts"][0])
    assert max(rim.distance(p) for p in cut.boundary.geoms) < 0.02
    share = [Polygon(p["area"]).area / Polygon(v["outline"]).area for v in (before, after) for p in v["patches"]]
    half = len(share) // 2
    assert max(abs(a - b) for a, b in zip(share[:half], share[half:], strict=True)) < 0.02


def test_another_shape_carries_the_cuts_too(client: TestClient) -> None:
    outline = {"shape": "ellipse", "width": 108, "height": 92}
    values = resize(client, DEMO, panel__outline=outline)["values"]
    made = edit(client, DEMO, ("panel.outline", outline), ("panel.patchwork", values["patchwork"]))
    assert len(made["view"]["panels"][0]["patches"]) == len(values["patchwork"]["cuts"]) + 1


def test_what_goes_inside_changes_the_flap_and_its_cuts_with_it(client: TestClient) -> None:
    said = resize(client, POUCH, make__contents=[86, 88, 8])
    assert said["refused"] == []
    made = edit(client, POUCH, ("make.contents", [86, 88, 8]), ("panel.patchwork", said["values"]["patchwork"]))
    assert len(made["view"]["panels"][0]["patches"]) == 4
    assert made["finished"] == [[98.0, 162.0]]
    assert resize(client, POUCH, make__strap_side="left")["values"] == {}


def test_a_size_that_cannot_be_made_is_told_with_the_hoop_that_would_hold_it(client: TestClient) -> None:
    said = resize(client, POUCH, make__contents=[150, 200, 10])
    assert [f["code"] for f in said["refused"]] == ["HW420"] and said["field"] == "200x300" and said["values"] == {}
    small = resize(client, POUCH, make__contents=[20, 20, 8])
    assert small["refused"] and small["field"] is None
    edit(client, POUCH, ("make.contents", [150, 200, 10]))
    assert resize(client, POUCH, make__contents=[150, 201, 10])["refused"] == []


def test_pieces_and_seams_keep_what_they_have_where_lines_get_other_letters(client: TestClient) -> None:
    """A rectangle becomes a tongue: the piece at the lower right is then the third in reading order, no longer the fourth."""
    lines = [[[-54, -28], [54, -11]], [[-37, -25.32], [-6, 46]], [[20, -46], [0, -19.5]]]
    edit(
        client,
        DEMO,
        ("panel.outline", {"shape": "rectangle", "width": 108, "height": 92}),
        ("panel.patchwork", {"way": "lines", "lines": lines}),
        ("panel.order", None),
        ("panel.first", None),
        ("panel.cloths", {"A": "reed", "B": "silt", "C": "madder", "D": "indigo"}),
    )
    outline = {"shape": "tongue", "width": 108, "height": 92, "tip": 60}
    values = resize(client, DEMO, panel__outline=outline)["values"]
    assert values["cloths"] == {"A": "reed", "B": "silt", "D": "madder", "C": "indigo"}
    made = edit(client, DEMO, ("panel.outline", outline), *((f"panel.{k}", v) for k, v in values.items()))
    right = max(made["view"]["panels"][0]["patches"], key=lambda p: p["at"][0] - p["at"][1])
    assert right["cloth"] == "indigo"


def test_why_a_size_cannot_be_made_is_said_in_the_language_of_the_page(client: TestClient) -> None:
    rows = [{"path": "make.contents", "value": [150, 300, 10]}]
    address = f"/api/projects/{POUCH}/resize"
    english, german = (
        client.post(address, json={"changes": rows}, headers={"accept-language": code}).json()["refused"]
        for code in ("en", "de")
    )
    assert [f["code"] for f in english] == [f["code"] for f in german] != []
    assert all(
        translated(e["message"], "de") == g["message"] != e["message"] for e, g in zip(english, german, strict=True)
    )


def test_a_change_that_cannot_be_read_is_refused(client: TestClient) -> None:
    rows = [{"path": "panel.outline.width", "value": 5000}]
    wrong = client.post(f"/api/projects/{DEMO}/resize", json={"changes": rows})
    assert wrong.status_code == 422 and wrong.json()["findings"]


@pytest.mark.parametrize(("language", "usual"), [("de", "Ausreißvlies"), ("en", "tear-away stabilizer")])
def test_words_that_are_usual_are_told_in_the_language_of_the_page(
    client: TestClient, language: str, usual: str
) -> None:
    found = client.get(f"/api/projects/{POUCH}/settings", headers={"accept-language": language}).json()
    rows = {row["path"]: row for group in found["habits"] for row in group["rows"]}
    assert rows["foundation.name"]["usual"] == usual
    assert rows["foundation.batting"]["usual"] is None
    assert rows["hoop.field"]["usual"] == "130x180", "a name of a setting is none to translate"
