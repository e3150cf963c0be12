from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient

from hoopwright.pipeline import items
from hoopwright.project.starter import starter_text
from hoopwright.worktable.api.bounds import DEEPEST, MOST, plain
from tests.worktable.tables import DEMO, HOME, shelf, table


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


@pytest.mark.parametrize(
    ("spoken", "printed", "cloth"), [("de", "de", "Köper"), ("en", "en", "twill"), ("fr", "en", "twill")]
)
def test_a_project_begun_on_a_german_page_has_german_sheets(
    client: TestClient, spoken: str, printed: str, cloth: str
) -> None:
    body = {"item": "panel", "title": "Probe"}
    name = client.post("/api/shelf/new", json=body, headers={"accept-language": spoken}).json()["name"]
    begun = client.get(f"/api/projects/{name}").json()["project"]
    assert begun["language"] == printed
    assert cloth in begun["cloths"]["indigo"]["name"]


GERMAN = {"accept-language": "de"}


def test_a_label_begun_on_a_german_page_has_german_letters_unless_the_maker_wrote_them(client: TestClient) -> None:
    def lines(**body: Any) -> Any:
        body = {"item": "label", "title": "Probe", **body}
        name = client.post("/api/shelf/new", json=body, headers=GERMAN).json()["name"]
        return client.get(f"/api/projects/{name}").json()["project"]["make"]["lines"]

    offered = {r["name"]: r["form"] for r in client.get("/api/shelf", headers=GERMAN).json()["recipes"]}
    (shown,) = [row["usual"] for row in offered["label"] if row["name"] == "lines"]
    assert lines() == shown == ["Für dich genäht", "mit Liebe"]
    assert lines(make={"lines": ["with love"]}) == ["with love"]


def test_a_project_begun_in_english_is_the_english_one_to_the_byte(client: TestClient, tmp_path: Path) -> None:
    def begun(item: str) -> str:
        body = {"item": item, "title": "Probe"}
        name: str = client.post("/api/shelf/new", json=body, headers={"accept-language": "en"}).json()["name"]
        (file,) = (tmp_path / name).glob("*.toml")
        return file.read_text(encoding="utf-8")

    assert begun("panel") == starter_text("Probe", "mm", "flap")
    assert 'lines = ["Made for you", "with love"]' in begun("label")


def test_an_unknown_item_is_told(client: TestClient) -> None:
    answer = client.post("/api/shelf/new", json={"item": "boat", "title": "Boat"})
    assert answer.status_code == 400 and answer.json()["message"]


def send(client: TestClient, path: str, body: bytes, kind: str = "application/json") -> tuple[int, dict[str, Any]]:
    """Send bytes as they are; every refusal must be words."""
    answer = client.post(path, content=body, headers={"content-type": kind})
    said = answer.json()
    assert answer.status_code == 200 or (said["message"] and said["cure"] and "Traceback" not in answer.text)
    return answer.status_code, said


EDIT = f"/api/projects/{DEMO}/edit"


def change(value: str, path: str = '"title"') -> bytes:
    return f'{{"base": 0, "what": "x", "changes": [{{"path": {path}, "value": {value}}}]}}'.encode()


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b"[" * 100_000,
        b'{"base": 1e400}',
        change("[" * 400 + "]" * 400),
        change('{"a":' * 400 + "1" + "}" * 400),
        change("[" * 900 + "]" * 900),
        change("NaN"),
        change("Infinity"),
        change("9" * 5000),
        change('"\\ud800"'),
        change("[" + "1," * 200_000 + "1]"),
        change('{"' + '": 1, "'.join(f"k{k}" for k in range(40_000)) + '": 1}'),
        change('"' + "x" * 3_000_000 + '"'),
        change('"a\\u0000b"'),
        change('"x"', '"' + "a." * 5000 + 'a"'),
        change('"x"', '"' + "a." * 90 + 'a"'),
        change('"x"', '"\\ud800"'),
        change('"x"', '"title\\nunits"'),
        change('"x"', '"__proto__.x"'),
        change("1", '"panel.patchwork.cuts[99999999999999999999]"'),
        b'{"base": 0, "what": "a\\nb", "changes": [{"path": "title", "value": "x"}]}',
        b'{"base": 0, "what": "x", "changes": []}',
        b'{"base": 0, "what": "x", "changes": [{"path": "title"}], "more": 1}',
    ],
    ids=lambda b: b[:60].decode("utf-8", "replace"),
)
def test_bombs_and_nonsense_are_refused_in_words_and_change_nothing(
    client: TestClient, tmp_path: Path, body: bytes
) -> None:
    page(client)
    before = (tmp_path / DEMO / "project.toml").read_bytes()
    status, _ = send(client, EDIT, body)
    assert status in (400, 413, 422)
    assert (tmp_path / DEMO / "project.toml").read_bytes() == before
    assert page(client)["version"] == 0


@pytest.mark.parametrize("kind", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x"])
def test_only_json_is_taken(client: TestClient, kind: str) -> None:
    assert send(client, EDIT, change('"Taken over"'), kind)[0] == 422
    assert page(client)["project"]["title"] == "Tide mill flap"  # type: ignore[index]


@pytest.mark.parametrize(
    "title",
    ["<script>alert(1)</script>", '"; drop', "{{ 1 + 1 }}", "${x}", "`", "'" * 3, '"' * 3, "水車", "a\\b"],
)
def test_any_title_is_kept_as_it_was_written(client: TestClient, tmp_path: Path, title: str) -> None:
    made = client.post("/api/shelf/new", json={"item": "panel", "title": title}).json()["name"]
    assert tomllib.loads((tmp_path / made / "project.toml").read_text(encoding="utf-8"))["title"] == title
    row = next(p for p in client.get("/api/shelf").json()["projects"] if p["name"] == made)
    assert row["title"] == title


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=6), inner, max_size=4),
    max_leaves=12,
)
PLACES = (
    "title",
    "panel",
    "panel.patchwork",
    "panel.patchwork.cuts",
    "hoop.field",
    "cloths",
    "make.x",
    "panel.order[1]",
)


@settings(max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.sampled_from(PLACES), JSON)
def test_any_value_at_any_place_is_taken_or_refused_never_a_failure(client: TestClient, path: str, value: Any) -> None:
    body = json.dumps({"base": page(client)["version"], "what": "x", "changes": [{"path": path, "value": value}]})
    status, _ = send(client, EDIT, body.encode("utf-8", "surrogatepass"))
    assert status in (200, 400, 422)
    if status == 200:
        client.post(f"/api/projects/{DEMO}/undo")


def test_bounds_of_values() -> None:
    deep: Any = 1
    for _ in range(DEEPEST - 1):
        deep = [deep]
    assert plain(deep) == deep
    with pytest.raises(ValueError, match="deep"):
        plain([[deep]])
    assert plain([0] * (MOST - 1))
    with pytest.raises(ValueError, match="much"):
        plain([0] * MOST)


def test_two_windows_on_different_places(client: TestClient) -> None:
    page(client)
    assert edit(client, 0, "title", "Mine")[0] == 200
    status, row = edit(client, 0, "machine.speed", 700)
    assert (status, row["version"], row["project"]["title"]) == (200, 2, "Mine")  # type: ignore[index]
    assert edit(client, 0, "title", "Yours")[0] == 409


def test_a_window_learns_of_changes_by_a_look(client: TestClient, tmp_path: Path) -> None:
    look = f"/api/projects/{DEMO}/version"
    assert client.get(look).json() == {"version": 0, "whole": True}
    edit(client, 0, "title", "New")
    assert client.get(look).json()["version"] == 1
    file = tmp_path / DEMO / "project.toml"
    file.write_text(file.read_text(encoding="utf-8").replace("New", "By hand"), encoding="utf-8")
    assert client.get(look).json()["version"] == 2
    file.write_bytes(b"\xff\xfe")
    assert client.get(look).json() == {"version": 2, "whole": False}


def test_a_spoilt_file_is_shown_with_lines_and_the_way_back(client: TestClient, tmp_path: Path) -> None:
    page(client)
    file = tmp_path / DEMO / "project.toml"
    file.write_text(file.read_text(encoding="utf-8").replace("[hoop]", "[hoop"), encoding="utf-8")
    row = page(client)
    assert row["project"] is None and row["view"] is None and row["sound"] == 0
    assert row["problems"][0]["line"] == 9 and row["problems"][0]["cure"]  # type: ignore[index]
    listed = client.get("/api/shelf").json()["projects"][0]
    assert (listed["title"], listed["sound"]) == (DEMO, False)
    assert client.get(f"/api/shelf/{DEMO}/face").status_code == 422
    assert client.post(f"/api/projects/{DEMO}/versions/0").json()["project"]["title"] == "Tide mill flap"


def test_a_project_that_is_away(client: TestClient, tmp_path: Path) -> None:
    page(client)
    (tmp_path / DEMO).rename(tmp_path / ".away")
    assert client.get(f"/api/projects/{DEMO}").status_code == 404
    assert send(client, EDIT, change('"x"'))[0] == 404
    (tmp_path / ".away").rename(tmp_path / DEMO)
    assert page(client)["version"] == 0


def test_names_of_versions(client: TestClient) -> None:
    page(client)
    place = f"/api/projects/{DEMO}/versions"
    assert client.post(f"{place}/0/name", json={"name": "first"}).status_code == 200
    assert [v["name"] for v in client.get(place).json()] == ["first"]
    assert client.post(f"{place}/7/name", json={"name": "x"}).status_code == 400
    assert client.post(f"{place}/7").status_code == 400
    assert client.post(f"{place}/0/name", json={"name": "x" * 61}).status_code == 422


def test_faces_are_drawn_once_and_anew_after_a_change(client: TestClient, tmp_path: Path) -> None:
    first = client.get("/api/shelf").json()["projects"][0]
    assert first["print"] is None and first["title"] == "Tide mill flap"
    drawn = client.get(f"/api/shelf/{DEMO}/face").json()
    assert drawn["sizes"] == [[110.0, 92.0]] and drawn["picture"] == "shaded"
    assert client.get("/api/shelf").json()["projects"][0] == drawn
    kept = (tmp_path / DEMO / ".hoopwright" / "face.picture").read_bytes()
    answer = client.get(f"/api/shelf/{DEMO}/picture")
    assert answer.content == kept and answer.headers["content-type"] == "image/png"
    assert "default-src 'none'" in answer.headers["content-security-policy"]
    edit(client, page(client)["version"], "title", "Other")  # type: ignore[arg-type]
    assert client.get("/api/shelf").json()["projects"][0]["print"] is None
    assert client.get(f"/api/shelf/{DEMO}/face").json()["print"] != drawn["print"]


SPOILT_FACE = '{"print": "x", "title": "<b>", "item": "", "units": "mm", "sizes": [[1]], "kind": "text/html"}'


@pytest.mark.parametrize("row", ["", "[]", '{"print": 1}', "[" * 100_000, SPOILT_FACE], ids=range(5))
def test_a_spoilt_face_is_drawn_anew(client: TestClient, tmp_path: Path, row: str) -> None:
    home = tmp_path / DEMO / ".hoopwright"
    home.mkdir()
    (home / "face.json").write_text(row)
    assert client.get(f"/api/shelf/{DEMO}/face").json()["title"] == "Tide mill flap"


def test_a_kept_face_never_says_what_kind_of_page_it_is(client: TestClient, tmp_path: Path) -> None:
    """A folder from elsewhere may bring a face of its own; only pictures are shown, with scripts forbidden."""
    client.get(f"/api/shelf/{DEMO}/face")
    place = tmp_path / DEMO / ".hoopwright" / "face.json"
    place.write_text(place.read_text().replace("image/png", "text/html"))
    assert client.get(f"/api/shelf/{DEMO}/picture").headers["content-type"] == "image/png"


@pytest.mark.no_cover
def test_every_recipe_has_a_picture_and_a_form_whose_usual_values_begin_a_project(client: TestClient) -> None:
    recipes = {r["name"]: r for r in client.get("/api/shelf").json()["recipes"]}
    assert set(recipes) == {r.name for r in items()}
    for name, recipe in recipes.items():
        assert recipe["picture"] and client.get(f"/recipes/{name}.svg").text.startswith("<")
        numbers = (r for r in recipe["form"] if r["kind"] in ("length", "whole", "number"))
        given = {r["name"]: r["usual"] for r in numbers if r["usual"] is not None}
        if name in ("panel", "bookmark"):
            answer = client.post("/api/shelf/new", json={"item": name, "title": name, "make": given})
            assert answer.status_code == 200, answer.text
    sleeve = {r["name"]: r for r in recipes["glasses-sleeve"]["form"]}
    assert sleeve["width"] == {"name": "width", "kind": "length", "usual": 130.0, "least": 60.0, "most": 220.0}
    assert sleeve["way"]["choices"] == ["upright", "across"] and "outer" not in sleeve and "ground" not in sleeve


@pytest.mark.no_cover
def test_new_work_from_its_contents_and_in_inches(client: TestClient, tmp_path: Path) -> None:
    body = {
        "item": "glasses-sleeve",
        "title": "Sleeve",
        "units": "in",
        "make": {"width": "5 1/2 in", "thickness": 30},
    }
    name = client.post("/api/shelf/new", json=body).json()["name"]
    made = tomllib.loads((tmp_path / name / "project.toml").read_text(encoding="utf-8"))
    assert (made["units"], made["make"]["width"], made["make"]["thickness"]) == ("in", "5 1/2 in", 30)
    assert client.get(f"/api/projects/{name}").json()["view"]["panels"]


@pytest.mark.parametrize(
    ("item", "make"),
    [
        ("glasses-sleeve", {"width": 5000}),
        ("mat", {"nothing": 1}),
        ("mat", {"width": "wide"}),
        ("panel", {"width": 5}),
        ("panel", {"depth": 5}),
        ("panel", {"shape": "heart"}),
        ("panel", {"shape": ["flap"]}),
        ("panel", {"width": [1]}),
    ],
)
def test_sizes_that_cannot_be_are_told_and_nothing_is_put_on_the_shelf(
    client: TestClient, item: str, make: dict[str, Any]
) -> None:
    answer = client.post("/api/shelf/new", json={"item": item, "title": "New", "make": make})
    said = answer.json()
    assert answer.status_code in (400, 422) and (said["findings"] or said["cure"])
    assert [p["name"] for p in client.get("/api/shelf").json()["projects"]] == [DEMO]


@pytest.mark.parametrize("path", ["/nowhere", "/api/nowhere", "/parts/nowhere.js", f"/api/projects/{DEMO}/nowhere"])
def test_what_is_not_there_is_told_in_words(client: TestClient, path: str) -> None:
    answer = client.get(path)
    assert answer.status_code == 404 and answer.json()["message"] == "There is nothing at this address"


def test_a_browser_at_an_address_that_is_none_is_led_back(client: TestClient) -> None:
    answer = client.get("/<script>x</script>", headers={"accept": "text/html,*/*"})
    assert answer.status_code == 404 and 'href="/"' in answer.text and "script" not in answer.text


def test_a_failure_of_our_own_is_told_without_its_insides(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("hoopwright.worktable.workbook.Workbook.page", lambda _self: 1 / 0)
    answer = client.get(f"/api/projects/{DEMO}")
    assert answer.status_code == 500 and answer.json()["cure"] and "division" not in answer.text
    assert answer.headers["content-type"] == "application/json" and HOME not in answer.text
