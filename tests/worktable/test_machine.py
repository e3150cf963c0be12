"""At the machine: every halt is there, where the maker is outlives a restart, her times and notes are kept."""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from hoopwright.build import Build
from hoopwright.core.errors import OutputError
from hoopwright.outputs.screen.halts import HaltSheet
from hoopwright.pipeline import build, expected_stitch_files, halt_sheets
from hoopwright.project.load import load
from hoopwright.worktable.desk import Desk
from hoopwright.worktable.machine.notes import (
    BEFORE,
    DONE,
    ENOUGH,
    LONGEST,
    Notebook,
    Stand,
    again,
    gone,
    learnt,
    left_of,
    noted,
    pace_of,
    rested,
    visit,
)
from hoopwright.worktable.room import Room
from hoopwright.worktable.server import fit_out
from hoopwright.worktable.texts import NAMES, words
from tests.worktable.tables import DEMO, HOME, PORT, ROOT, shelf

POUCH = "quay-pouch"
ZIP = "ferry-zip-pouch"
BUILDS = (DEMO, POUCH, ZIP, "mill-label")


class Watch:
    """A clock that is set by hand."""

    def __init__(self) -> None:
        self.now = 1_000_000.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def watch() -> Watch:
    return Watch()


def table(folder: Path, watch: Watch) -> TestClient:
    app = FastAPI()
    fit_out(app, Room(Desk(folder), watch), PORT)
    return TestClient(app, base_url=HOME, headers={"origin": HOME}, raise_server_exceptions=False)


@pytest.fixture
def client(tmp_path: Path, watch: Watch) -> TestClient:
    return table(shelf(tmp_path, DEMO, POUCH), watch)


def of(name: str = DEMO) -> str:
    return f"/api/projects/{name}/machine"


def plan(client: TestClient, name: str = DEMO) -> dict[str, Any]:
    return client.get(of(name)).json()  # type: ignore[no-any-return]


def stand(client: TestClient, name: str = DEMO) -> dict[str, Any]:
    return client.get(f"{of(name)}/stand").json()  # type: ignore[no-any-return]


def go(client: TestClient, to: str, *, come_from: str, done: bool = True, key: str = "panel") -> dict[str, Any]:
    body = {"hooping": key, "from": come_from, "to": to, "done": done}
    answer = client.post(f"{of()}/go", json=body)
    assert answer.status_code == 200, answer.text
    return answer.json()  # type: ignore[no-any-return]


@cache
def made(name: str) -> Build:
    loaded = load(ROOT / "examples" / name / "project.toml")
    return build(loaded.project, dict(loaded.drawings))


@cache
def sheets_of(name: str) -> tuple[HaltSheet, ...]:
    return halt_sheets(made(name))


def sheets(build_: Build) -> tuple[HaltSheet, ...]:
    return sheets_of(next(n for n in BUILDS if made(n) is build_))


@pytest.fixture(scope="module", params=BUILDS)
def any_build(request: pytest.FixtureRequest) -> Build:
    return made(request.param)


def test_every_block_and_every_hand_is_on_one_card(any_build: Build) -> None:
    """Counted against the plan itself: nothing of it is lost, told twice, or out of order."""
    for sheet, hooping in zip(sheets(any_build), any_build.plan.hoopings, strict=True):
        cards = sheet.row["cards"]
        assert [s["number"] for c in cards for s in c["sews"]] == [s.index for s in hooping.steps]
        last = hooping is any_build.plan.hoopings[-1]
        hands = [h for s in hooping.steps for h in s.hands] + list(hooping.after)
        hands += list(any_build.plan.making.assembly) if last else []
        assert [h["work"] for c in cards for h in c["hands"]] == [type(h).__name__.lower() for h in hands]
        assert sheet.row["colours"] == len(hooping.steps) and sheet.row["halts"] == sum(s.halt for s in hooping.steps)
        assert len({c["place"] for c in cards}) == len(cards)


def test_minutes_of_the_cards_are_those_of_the_estimate(any_build: Build) -> None:
    cards = [c for sheet in sheets(any_build) for c in sheet.row["cards"]]
    assert sum(c["minutes"]["machine"] for c in cards) == pytest.approx(any_build.estimate.machine, abs=0.05)
    assert sum(c["minutes"]["hands"] for c in cards) == pytest.approx(any_build.estimate.hands, abs=0.05)


def test_a_thread_is_put_in_wherever_it_changes(any_build: Build) -> None:
    for sheet, hooping in zip(sheets(any_build), any_build.plan.hoopings, strict=True):
        keys = [s.stitch.thread for s in hooping.steps]
        changes = [a != b for a, b in zip([None, *keys], keys, strict=False)]
        assert [s["change"] for c in sheet.row["cards"] for s in c["sews"]] == changes


def test_the_files_named_are_those_that_are_made(any_build: Build) -> None:
    for sheet, (_, names) in zip(sheets(any_build), expected_stitch_files(any_build), strict=True):
        assert sheet.row["files"] == list(names)


def test_every_picture_named_is_an_svg_that_loads_nothing(any_build: Build) -> None:
    for sheet in sheets(any_build):
        named = {c["picture"] for c in sheet.row["cards"]} | {
            s["picture"] for c in sheet.row["cards"] for s in c["sews"]
        }
        assert named - {None} <= set(sheet.pictures)
        for data in sheet.pictures.values():
            tags = {e.tag.rpartition("}")[2] for e in ElementTree.fromstring(data).iter()}
            assert not tags & {"script", "foreignObject", "image", "use", "a"}


def test_a_laid_patch_is_told_with_its_face_and_its_edge() -> None:
    cards = sheets_of(DEMO)[0].row["cards"]
    lays = [h["lay"] for c in cards for h in c["hands"] if h["work"] == "lay"]
    assert lays[0]["way"] == "up" and lays[0]["edge"] is None
    assert {row["way"] for row in lays[1:]} == {"down"}
    assert {row["edge"]["past"] for row in lays[1:]} == {6.35}


def test_cautions_stand_where_they_apply() -> None:
    sheets = {s.key: s.row for s in sheets_of(ZIP)}
    cards = [c for row in sheets.values() for c in row["cards"]]
    assert {"under", "metal"} <= set(sheets["pouch"]["cautions"])
    assert "film" not in sheets["pouch"]["cautions"]
    for card in cards:
        under = any(h["work"] == "lay" and h["lay"]["under"] for h in card["hands"])
        assert ("under" in card["cautions"]) == under
        trims = card["kind"] == "halt" and any(h["work"] == "trim" for h in card["hands"])
        assert ("scissors" in card["cautions"]) == trims


@pytest.mark.no_cover
def test_film_is_told_to_be_for_water() -> None:
    row = halt_sheets(made("tide-lace"))[0].row
    assert "film" in row["cautions"] and any("film" in c["cautions"] for c in row["cards"] if c["kind"] == "end")


def test_every_code_has_words_in_every_language(any_build: Build) -> None:
    rows = [s.row for s in sheets(any_build)]
    cards = [c for r in rows for c in r["cards"]]
    lays = [h["lay"] for c in cards for h in c["hands"] if "lay" in h]
    asked = {f"machine.caution.{c}" for r in rows for c in r["cautions"]}
    asked |= {f"machine.here.{c}" for card in cards for c in card["cautions"]}
    asked |= {f"machine.work.{h['work']}" for c in cards for h in c["hands"]}
    asked |= {f"machine.way.{row['way']}" for row in lays}
    for language in NAMES:
        assert asked - set(words(language)) == set()


def test_a_picture_runs_nothing_when_it_is_opened(client: TestClient) -> None:
    hooping = plan(client)["hoopings"][0]
    address = f"{of()}/pictures/{hooping['key']}/{hooping['print']}"
    answer = client.get(f"{address}/{hooping['cards'][0]['picture']}")
    assert answer.status_code == 200 and answer.headers["content-type"] == "image/svg+xml"
    assert "sandbox" in answer.headers["content-security-policy"]
    assert "script" not in answer.headers["content-security-policy"]
    for wrong in ("project.toml", "..%2Fproject.toml", "%2e%2e", "panel-step-99.svg"):
        assert client.get(f"{address}/{wrong}").status_code in (400, 404)
    assert client.get(f"{of()}/pictures/panel/0000/panel-step-01.svg").status_code == 400


@pytest.mark.no_cover
def test_where_she_is_outlives_a_restart(client: TestClient, tmp_path: Path, watch: Watch) -> None:
    go(client, "1-1", come_from=BEFORE)
    watch.now += 300
    go(client, "2-1", come_from="1-1")
    row = stand(table(tmp_path, watch))["hoopings"]["panel"]
    assert row["at"] == "2-1" and row["done"] == ["1-1"] and row["seconds"] == {"1-1": 300.0}


def test_each_hooping_has_a_place_of_its_own(client: TestClient) -> None:
    body = {"hooping": "pouch", "from": BEFORE, "to": "1-1", "done": True}
    client.post(f"{of(POUCH)}/go", json=body)
    said = stand(client, POUCH)
    assert said["hooping"] == "pouch"
    assert {k: r["at"] for k, r in said["hoopings"].items()} == {"flap": BEFORE, "stiffener": BEFORE, "pouch": "1-1"}


def test_the_second_of_two_presses_at_once_is_not_a_second_step(client: TestClient) -> None:
    """Two devices show the same card, and next is pressed on both."""
    go(client, "1-1", come_from=BEFORE)
    go(client, "2-1", come_from="1-1")
    assert go(client, "2-1", come_from="1-1")["hoopings"]["panel"]["at"] == "2-1"
    assert go(client, "1-1", come_from="1-1")["hoopings"]["panel"]["at"] == "2-1"


def test_an_unknown_card_or_hooping_is_refused(client: TestClient) -> None:
    for body in (
        {"hooping": "panel", "from": BEFORE, "to": "99-1"},
        {"hooping": "sail", "from": BEFORE, "to": "1-1"},
    ):
        assert client.post(f"{of()}/go", json=body).status_code == 400
    assert client.post(f"{of()}/go", json={"hooping": "panel", "to": "1-1"}).status_code == 422
    assert client.get(of("nothing-there")).status_code == 404


@pytest.mark.no_cover
def test_notes_are_kept_at_once_and_stay_when_begun_again(client: TestClient, tmp_path: Path, watch: Watch) -> None:
    go(client, "1-1", come_from=BEFORE)
    body = {"hooping": "panel", "group": "4", "text": "linen frays: cut larger"}
    assert client.post(f"{of()}/note", json=body).status_code == 200
    assert stand(table(tmp_path, watch))["hoopings"]["panel"]["notes"] == {"4": "linen frays: cut larger"}
    row = client.post(f"{of()}/again", json={"hooping": "panel"}).json()["hoopings"]["panel"]
    assert row["at"] == BEFORE and not row["begun"] and row["seconds"] == {} and row["notes"] == {"4": body["text"]}
    client.post(f"{of()}/note", json={**body, "text": "  "})
    assert stand(client)["hoopings"]["panel"]["notes"] == {}
    assert client.post(f"{of()}/note", json={**body, "group": "99"}).status_code == 400
    assert client.post(f"{of()}/note", json={**body, "text": "x" * 2001}).status_code == 422


def change(client: TestClient, path: str, value: object) -> None:
    version = client.get(f"/api/projects/{DEMO}").json()["version"]
    body = {"base": version, "what": "changed", "changes": [{"path": path, "value": value}]}
    assert client.post(f"/api/projects/{DEMO}/edit", json=body).status_code == 200


@pytest.mark.no_cover
def test_she_is_told_when_the_project_changed_since_she_began(client: TestClient) -> None:
    assert not stand(client)["hoopings"]["panel"]["changed"]
    go(client, "1-1", come_from=BEFORE)
    go(client, "2-1", come_from="1-1")
    change(client, "panel.seam_stitch.stitch", "none")
    row = stand(client)["hoopings"]["panel"]
    assert row["changed"] and row["at"] == "2-1"
    assert client.post(f"/api/projects/{DEMO}/undo", json={}).status_code == 200
    assert not stand(client)["hoopings"]["panel"]["changed"]
    change(client, "panel.seam_stitch.stitch", "none")
    row = client.post(f"{of()}/accept", json={"hooping": "panel"}).json()["hoopings"]["panel"]
    assert not row["changed"] and row["at"] == "2-1" and row["done"] == ["1-1"]


@pytest.mark.no_cover
def test_a_card_that_went_leads_to_the_one_before_it(client: TestClient) -> None:
    last = plan(client)["hoopings"][0]["cards"][-2]["place"]
    go(client, last, come_from=BEFORE, done=False)
    change(client, "panel.seam_stitch.stitch", "none")
    row, places = stand(client)["hoopings"]["panel"], [c["place"] for c in plan(client)["hoopings"][0]["cards"]]
    assert last not in places and row["at"] in places and row["changed"]


@pytest.mark.no_cover
def test_another_title_or_colour_is_shown_and_alarms_nobody(client: TestClient) -> None:
    go(client, "1-1", come_from=BEFORE)
    before = plan(client)["hoopings"][0]["print"]
    change(client, "title", "Another title")
    thread = next(iter(client.get(f"/api/projects/{DEMO}").json()["project"]["threads"]))
    change(client, f"threads.{thread}.colour", "#123456")
    assert plan(client)["title"] == "Another title" and plan(client)["hoopings"][0]["print"] != before
    assert not stand(client)["hoopings"]["panel"]["changed"]


@pytest.mark.no_cover
def test_another_stitch_length_moves_the_needle_and_is_told(client: TestClient) -> None:
    go(client, "1-1", come_from=BEFORE)
    change(client, "stitching.layout_run", 2.0)
    assert stand(client)["hoopings"]["panel"]["changed"]


def test_a_full_disk_is_told_and_nothing_moves(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    go(client, "1-1", come_from=BEFORE)

    def full(_fd: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("hoopwright.worktable.whole.os.fsync", full)
    body = {"hooping": "panel", "from": "1-1", "to": "2-1", "done": True}
    assert client.post(f"{of()}/go", json=body).status_code == 507
    assert stand(client)["hoopings"]["panel"]["at"] == "1-1"


MINUTES = {"1-1": 5.0, "2-1": 2.0, "3-1": 3.0, "end-1": 2.0}


def test_a_visit_is_measured_from_press_to_press() -> None:
    at = gone(Stand(), "1-1", 100.0, "p", done=True)
    assert visit(at, 160.0) == 60.0 and at.work == "p"
    on = gone(at, "2-1", 400.0, "p", done=True)
    assert on.seconds == {"1-1": 300.0} and on.done == ("1-1",) and on.since == 400.0
    back = gone(on, "1-1", 410.0, "p", done=False)
    assert back.seconds == {"1-1": 300.0, "2-1": 10.0} and back.done == ("1-1",)
    assert gone(back, "2-1", 440.0, "p", done=True).seconds["1-1"] == 330.0


def test_a_break_is_not_measured_told_or_not() -> None:
    at = gone(Stand(), "1-1", 0.0, "p", done=True)
    rest = rested(at, 50.0, on=True)
    on = rested(rest, 5000.0, on=False)
    assert rest.resting and visit(rest, 4000.0) == 0.0
    assert gone(on, "2-1", 5010.0, "p", done=True).seconds == {"1-1": 60.0}
    assert gone(at, "2-1", LONGEST + 1.0, "p", done=True).seconds == {}
    assert gone(at, "2-1", -1.0, "p", done=True).seconds == {}, "the clock was set back"


def test_the_pace_is_measured_time_over_estimate() -> None:
    """5 + 2 estimated minutes that took 14 are a pace of 2, and double what is left."""
    slow = Stand("p", "3-1", None, False, {"1-1": 600.0, "2-1": 240.0}, ("1-1", "2-1"))
    assert learnt(slow, MINUTES) == (840.0, 7.0)
    assert pace_of([learnt(slow, MINUTES)]) == pytest.approx(2.0)
    assert left_of(slow, MINUTES, 2.0, 0.0) == pytest.approx(10.0)
    here = Stand("p", "3-1", 0.0, False, {"1-1": 600.0, "2-1": 240.0}, ("1-1", "2-1"))
    assert left_of(here, MINUTES, 2.0, 120.0) == pytest.approx(8.0)
    assert left_of(here, MINUTES, 2.0, 3600.0) == pytest.approx(4.0), "what is late here does not take from the rest"
    assert left_of(Stand(at=DONE), MINUTES, 2.0, 0.0) == 0.0
    assert left_of(Stand(), MINUTES, 1.0, 0.0) == pytest.approx(12.0)


def test_paging_through_teaches_no_pace() -> None:
    quick = Stand("p", "end-1", None, False, {"1-1": 2.0, "2-1": 4.0, "3-1": 10.0}, ("1-1", "2-1", "3-1"))
    assert learnt(quick, MINUTES) == (0.0, 0.0) and pace_of([learnt(quick, MINUTES)]) is None
    seen = Stand("p", "2-1", None, False, {"1-1": 300.0}, ())
    assert learnt(seen, MINUTES) == (0.0, 0.0), "left, but not with next"
    assert pace_of([(60.0, ENOUGH / 2)]) is None
    assert pace_of([(1e9, 10.0)]) == 4.0


def test_what_was_learnt_stays_when_begun_again() -> None:
    slow = noted(Stand("p", "3-1", None, False, {"1-1": 600.0}, ("1-1",)), "1", "a note")
    fresh = again(slow, MINUTES)
    assert (fresh.at, fresh.work, fresh.notes, fresh.earlier) == (BEFORE, None, {"1": "a note"}, (600.0, 5.0))
    assert pace_of([learnt(fresh, MINUTES)]) == pytest.approx(2.0)
    assert learnt(again(fresh, MINUTES), MINUTES) == (600.0, 5.0)


def test_a_spoilt_file_of_notes_is_put_by(tmp_path: Path) -> None:
    book = Notebook(tmp_path / "project.toml")
    book.change("panel", lambda s: noted(s, "1", "kept"))
    assert book.read()[1]["panel"].notes == {"1": "kept"}
    book.path.write_text('{"last": "panel", "hoopings": {"panel": {"notes": {"1": "ke', encoding="utf-8")
    assert book.read() == (None, {})
    assert "ke" in book.path.with_name("machine.json.unreadable").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "row", [3, None, {"at": 5, "seconds": [], "done": "x", "notes": {"1": 3}}, {"since": "now", "earlier": [1]}]
)
def test_what_is_not_as_it_should_be_is_as_before_the_first_card(tmp_path: Path, row: object) -> None:
    book = Notebook(tmp_path / "project.toml")
    book.path.parent.mkdir()
    book.path.write_text(json.dumps({"last": 7, "hoopings": {"panel": row}}), encoding="utf-8")
    assert book.read() == (None, {"panel": Stand()})


def test_a_folder_that_is_a_link_is_not_written_to(tmp_path: Path) -> None:
    other = tmp_path / "other"
    other.mkdir()
    home = tmp_path / "home"
    home.mkdir()
    (home / ".hoopwright").symlink_to(other)
    with pytest.raises(OutputError):
        Notebook(home / "project.toml").change("panel", lambda s: s)
    assert list(other.iterdir()) == []


def test_cards_are_read_without_the_words_of_programming(any_build: Build) -> None:
    told = " ".join(h["sentence"] for s in sheets(any_build) for c in s.row["cards"] for h in c["hands"])
    assert not re.search(r"\b(path|event|null|None|float|index)\b", told)
