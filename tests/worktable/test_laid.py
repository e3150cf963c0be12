"""What lies on a panel, through the worktable: added, moved, taken away; files of the maker's own taken in."""

from __future__ import annotations

import shutil
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from typing import Any

import font_source_sans_pro
import pytest
from starlette.testclient import TestClient

from hoopwright.needle.accents.table import MOTIFS
from hoopwright.pipeline import build, results
from hoopwright.project.load import load
from hoopwright.worktable import beside
from hoopwright.worktable.texts import NAMES, words
from tests.worktable.tables import DEMO, shelf, table

BASE = f"/api/projects/{DEMO}"
HUES = "thread=9d4632&cloth=a9c4b8"
FONT = Path(str(font_source_sans_pro.__file__)).parent / "files" / "SourceSansPro-Semibold.ttf"
WAVE = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">'
    b'<path d="M0 10C5 0 5 0 10 10S15 20 20 10"/></svg>'
)


@pytest.fixture
def home(tmp_path: Path) -> Path:
    return shelf(tmp_path) / DEMO


@pytest.fixture
def client(home: Path) -> TestClient:
    return table(home.parent)


@pytest.fixture(scope="module")
def mark() -> bytes:
    loaded = load(Path(__file__).parents[2] / "examples" / "mill-label" / "project.toml")
    make = {**loaded.project.make, "width": 50.0, "height": 24.0, "lines": ["mark"], "border": "none"}
    return results(build(loaded.project.model_copy(update={"make": make})), despite=True)[1]["machine/label.dst"]


def edited(client: TestClient, *changes: tuple[str, Any]) -> dict[str, Any]:
    version = client.get(f"{BASE}/version").json()["version"]
    rows = [{"path": path, "value": value} for path, value in changes]
    answer = client.post(f"{BASE}/edit", json={"base": version, "what": "laid", "changes": rows})
    assert answer.status_code == 200, answer.json()
    said: dict[str, Any] = answer.json()
    return said


def taken(client: TestClient, kind: str, called: str, data: bytes) -> tuple[int, dict[str, Any]]:
    answer = client.post(f"{BASE}/beside/{kind}", params={"called": called}, content=data)
    return answer.status_code, answer.json()


def laid(page: dict[str, Any]) -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = page["view"]["panels"][0]["laid"]
    return rows


# What lies there


def test_things_come_move_and_go(client: TestClient, home: Path) -> None:
    before = (home / "project.toml").read_text()
    page = edited(client, ("panel.lettering", [{"lines": ["Tide"], "width": 40}]))
    page = edited(client, ("panel.lettering[2]", {"lines": ["mill"], "at": [10, -5], "turn": 90}))
    assert [(r["kind"], r["number"], r["turn"]) for r in laid(page)] == [("lettering", 1, 0), ("lettering", 2, 90)]
    (first, second) = laid(page)
    assert [round(b - a, 3) for a, b in zip(first["at"], second["at"], strict=True)] == [10.0, -5.0]
    page = edited(client, ("panel.accents", [{"motif": "leaf", "size": 32}]), ("panel.lettering[1]", None))
    assert [(r["kind"], r["number"]) for r in laid(page)] == [("lettering", 1), ("accents", 1)]
    edited(client, ("panel.lettering", None), ("panel.accents", None))
    assert (home / "project.toml").read_text().split() == before.split()


def test_a_hand_sees_it_moved_before_it_is(client: TestClient, home: Path) -> None:
    edited(client, ("panel.lettering", [{"lines": ["Tide"], "width": 40}]))
    before = (home / "project.toml").read_bytes()
    said = client.post(f"{BASE}/try", json={"changes": [{"path": "panel.lettering[1].at", "value": [3, 4]}]}).json()
    there = laid(client.get(BASE).json())[0]["at"]
    assert [round(b - a, 3) for a, b in zip(there, laid(said)[0]["at"], strict=True)] == [3.0, 4.0]
    assert (home / "project.toml").read_bytes() == before


def test_an_item_without_a_panel_says_so(tmp_path: Path) -> None:
    client = table(shelf(tmp_path, "mill-label"))
    page = client.get("/api/projects/mill-label").json()
    assert page["view"]["panels"] == [] and page["view"]["totals"]["hoopings"] == 1
    rows = [{"path": "panel.lettering", "value": [{"lines": ["lost"]}]}]
    page = client.post(
        "/api/projects/mill-label/edit", json={"base": page["version"], "what": "laid", "changes": rows}
    ).json()
    assert ("HW490", "panel.lettering") in {(f["code"], f["path"]) for f in page["view"]["findings"]}


# Files of one's own


def test_files_are_taken_in_and_used(client: TestClient, home: Path, mark: bytes) -> None:
    status, stitches = taken(client, "stitches", "Mühlen Zeichen (2).DST", mark)
    assert status == 200 and stitches["file"] == "muhlen-zeichen-2.dst" and stitches["stitches"] > 100
    assert (home / stitches["file"]).read_bytes() == mark
    status, font = taken(client, "font", "Old Hand.ttf", FONT.read_bytes())
    assert (status, font) == (200, {"file": "old-hand.ttf", "lacking": ""})
    status, motif = taken(client, "motif", "wave.svg", WAVE)
    assert (status, motif) == (200, {"file": "wave.svg", "lines": 1})
    assert client.get(f"{BASE}/beside").json() == {
        "stitches": [stitches["file"]],
        "font": [font["file"]],
        "motif": ["wave.svg"],
    }
    page = edited(
        client,
        ("panel.placed", [{"file": stitches["file"]}]),
        ("panel.lettering", [{"lines": ["Tide"], "width": 40, "font": font["file"]}]),
        ("panel.ground", {"kind": "drawing", "file": "wave.svg"}),
    )
    letters, placed = laid(page)
    assert letters["sound"] and placed["sound"] and placed["blocks"]
    assert not [f for f in page["view"]["findings"] if f["code"] in ("HW361", "HW380", "HW392", "HW396")]


def test_one_file_is_kept_once_and_another_of_its_name_too(client: TestClient, home: Path, mark: bytes) -> None:
    other = WAVE.replace(b"M0 10", b"M0 11")
    names = [taken(client, "motif", "wave.svg", data)[1]["file"] for data in (WAVE, WAVE, other, other)]
    assert names == ["wave.svg", "wave.svg", "wave-2.svg", "wave-2.svg"]
    assert (home / "wave-2.svg").read_bytes() == other


def test_two_of_one_name_at_once_are_both_kept(home: Path) -> None:
    files = [WAVE.replace(b"M0 10", b"M0 %d" % n) for n in range(8)]
    with ThreadPoolExecutor(4) as hands:
        names = list(hands.map(lambda data: beside.keep_beside(home, "wave.svg", ".svg", data), files))
    assert len(set(names)) == 8 and [(home / n).read_bytes() for n in names] == files


@pytest.mark.parametrize(
    "called",
    ["../../over.svg", "..\\..\\over.svg", "/etc/over.svg", "<script>over</script>.svg", "project.toml.svg", "..svg", ".hoopwright/over.svg", "a" * 250 + ".svg"],
)  # fmt: skip
def test_names_are_made_plain(client: TestClient, home: Path, called: str) -> None:
    around = {p for p in home.parent.rglob("*") if p.is_file()}
    status, said = taken(client, "motif", called, WAVE)
    if status == 200:
        name = str(said["file"])
        assert set(name.removesuffix(".svg")) <= set("abcdefghijklmnopqrstuvwxyz0123456789-") and len(name) <= 44
        assert {p for p in home.parent.rglob("*") if p.is_file()} - around == {home / name}
    else:
        assert status in (400, 422) and {p for p in home.parent.rglob("*") if p.is_file()} == around


@pytest.mark.parametrize(
    ("kind", "called", "data"),
    [
        ("stitches", "notes.pdf", b"%PDF-1.4"),
        ("stitches", "mark.dst", b""),
        ("stitches", "mark.dst", b"LA:cut short"),
        ("stitches", "mark.pes", b"<html><script>1</script></html>"),
        ("stitches", "mark.toml", b"schema = 1"),
        ("stitches", "mark.jef", bytes(4000)),
        ("font", "hand.ttf", b""),
        ("font", "hand.ttf", b"OTTO" + bytes(200)),
        ("font", "hand.woff2", b"wOF2"),
        ("font", "hand.ttf", WAVE),
        ("motif", "wave.svg", b"<svg"),
        ("motif", "wave.svg", b'<svg xmlns="http://www.w3.org/2000/svg"/>'),
        ("motif", "wave.svg", WAVE.replace(b"<path", b"<script>1</script><path")),
        ("motif", "wave.svg", b'<!DOCTYPE x [<!ENTITY a "b">]>' + WAVE),
        ("motif", "wave.png", WAVE),
        ("elsewhere", "wave.svg", WAVE),
    ],
)
def test_what_cannot_be_used_is_refused_in_words(
    client: TestClient, home: Path, kind: str, called: str, data: bytes
) -> None:
    around = sorted(p.name for p in home.iterdir())
    status, said = taken(client, kind, called, data)
    assert status in (400, 422) and said["message"] and said["cure"]
    assert sorted(p.name for p in home.iterdir()) == around


def test_files_are_bounded(client: TestClient, home: Path, monkeypatch: pytest.MonkeyPatch, mark: bytes) -> None:
    monkeypatch.setitem(beside.KINDS, "stitches", replace(beside.KINDS["stitches"], most=len(mark) - 1))
    status, said = taken(client, "stitches", "mark.dst", mark)
    assert status == 400 and "larger" in said["message"] and not (home / "mark.dst").exists()
    huge = client.post(f"{BASE}/beside/stitches", params={"called": "huge.dst"}, content=bytes(13_000_000))
    assert huge.status_code == 413


def test_a_stitch_file_of_too_many_stitches_is_refused(
    client: TestClient, monkeypatch: pytest.MonkeyPatch, mark: bytes
) -> None:
    monkeypatch.setattr("hoopwright.pipeline.taking_in.MOST_STITCHES", 50)
    monkeypatch.setattr("hoopwright.pipeline.taking_in.placed_file", None)  # it is counted, not placed
    status, said = taken(client, "stitches", "mark.dst", mark)
    assert status == 400 and "at most 50" in said["message"]


def test_a_motif_that_is_a_tangle_is_refused_and_found_in_a_project(client: TestClient, home: Path) -> None:
    places = ((k * 7 % 20, k * k * 3 % 20, k * 11 % 20, k * k * k % 20) for k in range(400))
    lines = "".join(f'<path d="M{a} {b}L{c} {d}"/>' for a, b, c, d in places)
    data = WAVE.split(b"<path")[0] + lines.encode() + b"</svg>"
    status, said = taken(client, "motif", "tangle.svg", data)
    assert status == 400 and "cross each other too often" in said["message"]
    (home / "tangle.svg").write_bytes(data)
    page = edited(client, ("panel.grounds", {"A": {"kind": "drawing", "file": "tangle.svg"}}))
    assert "HW396" in {f["code"] for f in page["view"]["findings"]}
    assert client.get(f"{BASE}/beside/motif/drawing.svg?{HUES}&file=tangle.svg").status_code == 400


def test_links_and_strange_places_are_not_told(client: TestClient, home: Path) -> None:
    (home.parent / "secret.svg").write_bytes(WAVE)
    (home / "led.svg").symlink_to(home.parent / "secret.svg")
    (home / "folder.svg").mkdir()
    shutil.copy(FONT, home / ".hidden.ttf")
    assert client.get(f"{BASE}/beside").json() == {"stitches": [], "font": [], "motif": []}
    for name in ("led.svg", "../secret.svg", "nothing.svg", "folder.svg"):
        answer = client.get(f"{BASE}/beside/motif/drawing.svg?{HUES}", params={"file": name})
        assert answer.status_code in (400, 422), name


# Pictures


def test_own_motifs_and_accents_are_shown(client: TestClient, home: Path) -> None:
    (home / "wave.svg").write_bytes(WAVE)
    own = client.get(f"{BASE}/beside/motif/drawing.svg?{HUES}&file=wave.svg")
    boat = client.get(f"/api/swatches/ground/drawing.svg?{HUES}")
    assert own.status_code == 200 and own.headers["content-type"].startswith("image/svg+xml")
    assert b"script" not in own.content and own.content != boat.content
    for picture in (own, boat):
        assert picture.headers["content-security-policy"] == "default-src 'none'; style-src 'unsafe-inline'; sandbox"
    leaf = client.get(f"/api/swatches/motif/leaf.svg?{HUES}").content
    for more in ("&lobes=7", "&fullness=0.9", "&seed=4"):
        assert client.get(f"/api/swatches/motif/leaf.svg?{HUES}{more}").content != leaf
    for wrong in ("motif/wheel.svg?", "motif/leaf.svg?fullness=2&", "motif/leaf.svg?lobes=99&"):
        assert client.get(f"/api/swatches/{wrong}{HUES}").status_code in (400, 422)


def test_a_second_row_is_shown_over_its_first_in_its_own_thread(client: TestClient) -> None:
    address = "/api/swatches/stitch/coral.svg?thread=ffffff&cloth=3d6180"
    over = client.get(f"{address}&over=feather&below=e0a52f").text
    assert 0 < over.index("#e0a52f") < over.index('stroke="#ffffff"')
    assert client.get(f"{address}&over=herringbone&below=e0a52f").text != over
    assert client.get(f"{address}&over=nothing&below=e0a52f").status_code == 400
    assert client.get(f"{address}&over=feather&below=red").status_code == 422


@pytest.mark.parametrize("language", list(NAMES))
def test_every_motif_has_a_name_in_every_language(language: str) -> None:
    told = words(language)
    wanted = {f"motif.{name}{part}" for name in MOTIFS for part in ("", ".about", ".lobes")}
    assert sorted(wanted - set(told)) == [] and len({told[f"motif.{n}"] for n in MOTIFS}) == len(MOTIFS)
    if language == "en":
        assert {n: told[f"motif.{n}"] for n in MOTIFS} == {m.name: m.title for m in MOTIFS.values()}
