"""The worktable answers in the language of the page; English answers are what the engine says, and names are the maker's own."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from hoopwright.pipeline import build, draft_view, run_sheet, swatch_catalogue
from hoopwright.project.load import load
from hoopwright.worktable.speech import DRAFT, HALTS, SHEET, Speech
from tests.translation.sentences import texts_in
from tests.worktable.tables import DEMO, shelf, table

POUCH = "quay-pouch"
GERMAN = {"accept-language": "de-DE,de;q=0.9,en;q=0.5"}
ENGLISH = {"accept-language": "en"}


@pytest.fixture
def client(tmp_path: Path) -> TestClient:
    return table(shelf(tmp_path, POUCH, DEMO))


def of(client: TestClient, path: str, name: str = POUCH, **language: str) -> Any:
    return client.get(f"/api/projects/{name}{path}", headers=language or GERMAN).json()


def edited(client: TestClient, path: str, value: object, name: str = POUCH) -> Any:
    base = of(client, "", name)["version"]
    body = {"base": base, "what": "test", "changes": [{"path": path, "value": value}]}
    return client.post(f"/api/projects/{name}/edit", json=body, headers=GERMAN).json()


def test_what_was_found_is_told_in_german_and_its_place_is_the_same(client: TestClient) -> None:
    found = edited(client, "panel.patchwork.cuts", [[[-30, 0], [10, 0]]], DEMO)["view"]["findings"][0]
    assert found["severity"] == "blocks"
    assert "Schnitt" in found["message"] and "cut" not in found["message"].lower()
    same = of(client, "", DEMO, **ENGLISH)["view"]["findings"][0]
    assert {k: v for k, v in found.items() if k not in ("message", "cure")} == {
        k: v for k, v in same.items() if k not in ("message", "cure")
    }
    assert "Cut" in same["message"]


def test_the_run_sheet_is_german_and_its_numbers_are_the_same(client: TestClient) -> None:
    said, english = of(client, "/run"), of(client, "/run", **ENGLISH)
    assert said["prints"] == english["prints"] and said["version"] == english["version"]
    told = [m["sentence"] for h in said["hoopings"] for m in h["moments"]]
    assert "Genäht wird die Naht, die Teil 2 (A) hält." in told
    assert not any(" the " in t for t in told)
    assert [h["title"] for h in said["hoopings"]] == ["Klappe", "Einlage: Schnittlinien", "Quay pouch"]
    assert said["hoopings"][2]["names"]["pocket"]["sign"] == "Fach"
    for one, other in zip(said["hoopings"], english["hoopings"], strict=True):
        for hooping in (one, other):
            hooping.pop("title"), hooping.pop("names")
            for moment in hooping["moments"]:
                moment.pop("sentence"), moment.pop("title", None)
        assert one == other
    bulk = f"/run/{said['hoopings'][0]['key']}/{said['prints'][0]}/needles.bin"
    assert client.get(f"/api/projects/{POUCH}{bulk}", headers=GERMAN).status_code == 200


@pytest.mark.no_cover
def test_languages_may_change_from_one_question_to_the_next(client: TestClient) -> None:
    for path in ("", "/run", "/machine", "/take"):
        english = of(client, path, **ENGLISH)
        german = of(client, path)
        assert german != english or path == ""
        assert of(client, path, **ENGLISH) == english
        assert of(client, path) == german


@pytest.mark.no_cover
def test_english_is_what_the_engine_says(client: TestClient, tmp_path: Path) -> None:
    made = build(
        load(tmp_path / POUCH / "project.toml").project, dict(load(tmp_path / POUCH / "project.toml").drawings)
    )
    plain = json.loads(json.dumps(draft_view(made)))
    for language in ({}, ENGLISH, {"accept-language": "fr"}):
        assert client.get(f"/api/projects/{POUCH}", headers=language).json()["view"]["findings"] == plain["findings"]
        sheets = client.get(f"/api/projects/{POUCH}/run", headers=language).json()["hoopings"]
        told = [list(texts_in(run_sheet(made, s["key"]), SHEET)) for s in sheets]
        assert [list(texts_in(s, SHEET)) for s in sheets] == told
        assert client.get("/api/swatches", headers=language).json() == json.loads(json.dumps(swatch_catalogue()))
    assert (
        client.get(f"/api/projects/{POUCH}/run").content
        == client.get(f"/api/projects/{POUCH}/run", headers=ENGLISH).content
    )


def test_halts_at_the_machine_are_german(client: TestClient) -> None:
    plan = of(client, "/machine")
    assert plan["title"] == "Quay pouch"
    told = list(texts_in(plan, HALTS))
    assert "Im Rahmen ist nur das Vlies." in told
    assert "reed green linen" in told
    assert not any(" the " in t or t.startswith("The ") for t in told)
    lines = [
        h["lay"]["edge"]["line"]
        for o in plan["hoopings"]
        for c in o["cards"]
        for h in c["hands"]
        if h.get("lay", {}).get("edge")
    ]
    assert "the placement line" in lines  # the page has words of its own for these


@pytest.mark.no_cover
def test_pictures_at_the_machine_have_their_words_in_the_language_of_the_page(client: TestClient) -> None:
    plan = of(client, "/machine")
    hooping = plan["hoopings"][2]
    files = [c["picture"] for c in hooping["cards"] if c["picture"]]
    at = f"/api/projects/{POUCH}/machine/pictures/{hooping['key']}/{hooping['print']}"
    pictures = {
        language: [client.get(f"{at}/{f}?in={language}").text for f in files] for language in ("en", "de", "xx")
    }
    assert any(">Strap<" in p for p in pictures["en"]) and not any(">Schlaufe<" in p for p in pictures["en"])
    assert any(">Schlaufe<" in p for p in pictures["de"]) and not any(">Strap<" in p for p in pictures["de"])
    assert pictures["xx"] == pictures["en"] == [client.get(f"{at}/{f}").text for f in files]


def test_what_there_is_to_choose_from_is_german(client: TestClient) -> None:
    titles = {r["name"]: r["title"] for r in client.get("/api/shelf", headers=GERMAN).json()["recipes"]}
    assert titles["bookmark"] == "Lesezeichen"
    stitches = {s["name"]: s["title"] for s in client.get("/api/swatches", headers=GERMAN).json()["stitches"]}
    assert stitches["feather"] == "Federstich"


def test_refusals_are_german(client: TestClient) -> None:
    rows = {
        "Dieses Projekt ist nicht mehr im Regal": client.get("/api/projects/none", headers=GERMAN),
        "Es gibt nichts rückgängig zu machen": client.post(f"/api/projects/{POUCH}/undo", headers=GERMAN),
        "Unter dieser Adresse gibt es nichts": client.get("/api/none", headers=GERMAN),
        "Der Arbeitstisch versteht nicht, was die Seite gefragt hat": client.post(
            f"/api/projects/{POUCH}/edit", json={}, headers=GERMAN
        ),
    }
    for message, answer in rows.items():
        assert answer.status_code >= 400
        assert answer.json()["message"] == message
    large = client.post(f"/api/projects/{POUCH}/edit", content=b"", headers={**GERMAN, "content-length": "99999999"})
    assert large.status_code == 413 and large.text == "Diese Datei ist zu groß: Höchstens 12 MB gehen."


def test_problems_of_a_project_are_german_and_show_its_settings_as_they_are(client: TestClient) -> None:
    body = {"item": "bookmark", "title": "Reed", "make": {"width": 900}}
    answer = client.post("/api/shelf/new", json=body, headers=GERMAN).json()
    assert answer["message"] == "Mit diesen Maßen geht es nicht"
    answer = edited(client, "hoop.margin", -3)
    assert answer["findings"][0]["message"] == "margin ist -3 mm, muss aber mindestens 0 mm sein"


@pytest.mark.no_cover
def test_names_that_are_words_of_ours_stay_the_makers(client: TestClient) -> None:
    key = next(iter(of(client, "")["project"]["cloths"]))
    edited(client, f"cloths.{key}.name", "the lining")
    edited(client, "title", "Front and back")
    page, plan, run = of(client, ""), of(client, "/machine"), of(client, "/run")
    assert page["project"]["title"] == page["view"]["title"] == plan["title"] == "Front and back"
    assert page["project"]["cloths"][key]["name"] == "the lining"
    assert run["hoopings"][2]["title"] == "Front and back"
    laid = [h["lay"]["cloth"] for o in plan["hoopings"] for c in o["cards"] for h in c["hands"] if "lay" in h]
    assert "the lining" in laid


def test_a_title_of_one_word_of_ours_stays_the_makers_at_the_machine(client: TestClient) -> None:
    edited(client, "title", "pocket")
    said = of(client, "/machine")
    assert (
        said["title"] == "pocket"
        and said["hoopings"][0]["title"] != of(client, "/machine", **ENGLISH)["hoopings"][0]["title"]
    )


def test_keys_are_never_words() -> None:
    row = {"cloth": "lining", "panels": [{"patches": [{"letter": "A", "cloth": "lining"}]}], "cure": "Take it out"}
    said = Speech("de").of(row, DRAFT)
    assert said == {**row, "cure": "Nehmen Sie es heraus"}
    assert Speech("en").of(row, DRAFT) is row
    assert "cloth" not in DRAFT | SHEET


def test_rows_of_numbers_are_handed_on_as_they_are() -> None:
    runs = [[1, 2, 3], [4.5, 6.5]]
    said: Any = Speech("de").of({"runs": runs, "why": [["A", "A is laid first, flat, without a seam."]]}, DRAFT)
    assert said["runs"][0] is runs[0]
    assert said["why"] == [["A", "A wird zuerst aufgelegt, flach, ohne Naht."]]
