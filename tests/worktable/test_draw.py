from __future__ import annotations

import io
import json
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from starlette.testclient import TestClient

from hoopwright.worktable import beside
from hoopwright.worktable.whole import write_whole
from tests.worktable.tables import DEMO, shelf, table

AT = f"/api/projects/{DEMO}"
WINDMILL = [[[-55, -15], [18, -15]], [[18, -46], [18, 15]], [[-18, 15], [55, 15]], [[-18, -15], [-18, 46]]]
SVG = b'<svg xmlns="http://www.w3.org/2000/svg" width="110mm" height="92mm" viewBox="0 0 110 92"><path d="M0 40L110 50"/></svg>'


@pytest.fixture
def client(tmp_path: Path) -> TestClient:
    return table(shelf(tmp_path))


def post(client: TestClient, to: str, body: object) -> Any:
    return client.post(f"{AT}/draw/{to}", json=body).json()


def edit(client: TestClient, *changes: tuple[str, object]) -> Any:
    base = client.get(AT).json()["version"]
    rows = [{"path": p, "value": v} for p, v in changes]
    return client.post(f"{AT}/edit", json={"base": base, "what": "tried", "changes": rows}).json()


def test_what_a_hand_sees_is_what_is_saved(client: TestClient) -> None:
    """The light plan shows the same pieces, numbers and seam stitches as the whole one."""
    whole = client.get(AT).json()["view"]["panels"][0]
    hand = post(client, "hand", {})["panels"][0]
    same = ("outline", "patches", "seams", "order", "frame")
    assert [hand[k] for k in same] == [whole[k] for k in same]
    rows = {s["seam"]: holes(s["runs"]) for s in whole["stitches"] if s["role"] == "seam stitch"}
    assert {s["seam"]: holes(s["runs"]) for s in hand["stitches"]} == rows


def holes(runs: list[list[int]]) -> set[tuple[int, int]]:
    """The needle holes, whichever way the row is sewn; locks are left out by their tiny steps."""
    return {(x // 100, y // 100) for run in runs for x, y in zip(run[12:-12:2], run[13:-12:2], strict=True)}


def test_a_hand_moves_a_cut_and_nothing_is_saved(client: TestClient) -> None:
    hand = post(client, "hand", {"patchwork": {"way": "cuts", "cuts": [[[0, 46], [0, -46]]]}})
    assert len(hand["panels"][0]["patches"]) == 2 and "findings" not in hand
    wide = post(
        client,
        "hand",
        {"outline": {"shape": "rectangle", "width": 60, "height": 40}, "patchwork": {"way": "cuts", "cuts": []}},
    )
    assert sorted(map(tuple, wide["panels"][0]["outline"])) == [(-30, -20), (-30, 20), (30, -20), (30, 20)]
    assert client.get(AT).json()["version"] == 0
    wrong = client.post(f"{AT}/draw/hand", json={"patchwork": {"way": "cuts", "cuts": [[[0, "x"], [0, 1]]]}})
    assert wrong.status_code == 422


def test_a_drawing_that_makes_no_pieces_still_has_its_outline(client: TestClient) -> None:
    hand = post(client, "hand", {"patchwork": {"way": "cuts", "cuts": [[[0, 46], [0, 0]]]}})
    assert not hand["panels"][0]["order"]["drawn"] and len(hand["panels"][0]["outline"]) > 4
    assert [f["code"] for f in hand["findings"]] == ["HW213"]


def test_a_knot_is_shown_and_cured(client: TestClient) -> None:
    edit(client, ("panel.patchwork", {"way": "lines", "lines": WINDMILL}), ("panel.order", None))
    hand = post(client, "hand", {})
    assert all(p["stuck"] for p in hand["panels"][0]["patches"]) and hand["findings"]
    cures = post(client, "cures", {})
    assert 1 <= len(cures) <= 4
    for cure in cures:
        values = post(client, "lines", {"lines": cure["lines"]})
        page = edit(client, *((f"panel.{k}", v) for k, v in values.items()))
        assert page["view"]["panels"][0]["order"]["sewable"], cure["sentence"]
        client.post(f"{AT}/undo")


def test_going_on_by_hand_changes_nothing_that_is_seen(client: TestClient) -> None:
    def seen(page: Any) -> set[tuple[str, tuple[float, ...]]]:
        return {(p["cloth"], tuple(round(v, 0) for v in p["at"])) for p in page["view"]["panels"][0]["patches"]}

    before = client.get(AT).json()
    page = edit(client, *((f"panel.{k}", v) for k, v in post(client, "lines", {}).items()))
    assert page["project"]["panel"]["patchwork"]["way"] == "lines"
    assert seen(page) == seen(before)
    threads = [{s["colour"] for s in p["view"]["panels"][0]["stitches"]} for p in (before, page)]
    assert threads[0] == threads[1]


def test_pieces_that_one_likes_stay(client: TestClient) -> None:
    before = {p["letter"]: p for p in post(client, "hand", {})["panels"][0]["patches"]}
    wish = {"way": "crazy-cuts", "seed": 5, "patches": 5}
    said = post(client, "keep", {"letters": ["A"], "wish": wish})
    page = edit(client, *((f"panel.{k}", v) for k, v in said["values"].items()))
    panel = page["view"]["panels"][0]
    assert panel["order"]["sewable"] and said["tried"] >= 1
    near = min(
        panel["patches"], key=lambda p: abs(p["at"][0] - before["A"]["at"][0]) + abs(p["at"][1] - before["A"]["at"][1])
    )
    assert near["cloth"] == before["A"]["cloth"]
    refused = client.post(f"{AT}/draw/keep", json={"letters": list(before), "wish": wish})
    assert refused.status_code == 400 and "nothing is left" in refused.json()["message"]


def test_a_drawing_is_looked_into_before_it_is_kept(client: TestClient, tmp_path: Path) -> None:
    def put(data: bytes, called: str) -> Any:
        return client.post(f"{AT}/draw/drawing", params={"called": called}, content=data)

    assert put(b"<html>", "x.svg").status_code == 400
    assert put(b"not a drawing", "x.svg").status_code == 400
    assert not list((tmp_path / DEMO).glob("*.svg"))
    first = put(SVG, "../../My Drawing.svg").json()
    assert first == {"file": "my-drawing.svg", "lines": 1}
    assert put(SVG, "my drawing.svg").json()["file"] == "my-drawing.svg"
    assert put(SVG + b"\n", "my drawing.svg").json()["file"] == "my-drawing-2.svg"
    page = edit(client, ("panel.patchwork", {"way": "drawing", "file": "my-drawing.svg"}), ("panel.order", None))
    assert len(page["view"]["panels"][0]["patches"]) == 2


def picture(kind: str, size: tuple[int, int], **more: object) -> bytes:
    buffer = io.BytesIO()
    Image.new("RGB", size, "white").save(buffer, kind, **more)
    return buffer.getvalue()


def test_a_sketch_is_made_anew_turned_and_laid(client: TestClient, tmp_path: Path) -> None:
    assert client.get(f"{AT}/draw/sketch").json() is None
    turned = Image.Exif()
    turned[0x0112] = 6  # Exif 2.3: orientation, the first row is the right side
    turned[0x010E] = "where it was taken"
    sent = client.post(f"{AT}/draw/sketch", params={"wide": 110}, content=picture("JPEG", (3000, 1500), exif=turned))
    sheet = sent.json()
    assert (sheet["width"], sheet["height"]) == (1000, 2000)
    assert sheet["scale"] == pytest.approx(0.11)
    kept = client.get(f"{AT}/draw/sketch.jpg").content
    with Image.open(io.BytesIO(kept)) as photo:
        assert photo.size == (1000, 2000) and not photo.getexif()
    body = {"x": 3.0, "y": -2.0, "scale": 0.2, "turn": 12.0, "seen": 0.3, "shown": False}
    assert client.post(f"{AT}/draw/sketch/lay", json=body).json() == {**body, "width": 1000, "height": 2000}
    assert client.get(f"{AT}/draw/sketch").json()["turn"] == 12.0
    assert sorted(p.name for p in (tmp_path / DEMO / ".hoopwright").glob("sketch*")) == ["sketch.jpg", "sketch.json"]
    client.post(f"{AT}/draw/sketch/remove", json={})
    assert client.get(f"{AT}/draw/sketch").json() is None
    assert not list((tmp_path / DEMO / ".hoopwright").glob("sketch*"))


@pytest.mark.parametrize("data", [b"", b"GIF89a", b"<svg/>", picture("PNG", (10, 10))[:30], picture("BMP", (10, 10))])
def test_what_is_no_photograph_is_refused(client: TestClient, data: bytes) -> None:
    said = client.post(f"{AT}/draw/sketch", params={"wide": 100}, content=data)
    assert said.status_code in (400, 422)
    assert client.get(f"{AT}/draw/sketch").json() is None


def test_one_photograph_is_looked_at_like_another(client: TestClient) -> None:
    """Clear pixels become white, small and large ones are refused with their size."""
    clear = io.BytesIO()
    Image.new("RGBA", (40, 30), (200, 0, 0, 0)).save(clear, "PNG")
    client.post(f"{AT}/draw/sketch", params={"wide": 100}, content=clear.getvalue())
    with Image.open(io.BytesIO(client.get(f"{AT}/draw/sketch.jpg").content)) as photo:
        assert photo.getpixel((20, 15)) == (255, 255, 255)
    said = client.post(f"{AT}/draw/sketch", params={"wide": 100}, content=picture("PNG", (10, 300)))
    assert said.status_code == 400 and "10 by 300" in said.json()["message"]


def test_two_drawings_of_one_name_at_once_become_two_files(
    client: TestClient, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def slowly(path: Path, data: bytes) -> None:
        time.sleep(0.1)
        write_whole(path, data)

    monkeypatch.setattr(beside, "write_whole", slowly)
    line = '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40"><path d="M0 {y}H60" stroke="#000"/></svg>'
    sent = [line.format(y=y).encode() for y in (10, 20, 30)]

    def send(data: bytes) -> str:
        said = client.post(f"{AT}/draw/drawing", params={"called": "Sluice.svg"}, content=data)
        assert said.status_code == 200, said.text
        return str(said.json()["file"])

    with ThreadPoolExecutor(3) as hands:
        named = list(hands.map(send, sent))
    assert sorted(named) == ["sluice-2.svg", "sluice-3.svg", "sluice.svg"]
    assert [(tmp_path / DEMO / name).read_bytes() for name in named] == sent


def test_a_sheet_too_large_to_be_ours_is_not_read(client: TestClient, tmp_path: Path) -> None:
    client.post(f"{AT}/draw/sketch", params={"wide": 100}, content=picture("PNG", (40, 30)))
    sheet = tmp_path / DEMO / ".hoopwright" / "sketch.json"
    told = json.loads(sheet.read_text())
    sheet.write_text(json.dumps(told) + " " * 5_000)
    assert client.get(f"{AT}/draw/sketch").json() == told
    sheet.write_text(json.dumps(told) + " " * 50_000)
    assert client.get(f"{AT}/draw/sketch").json() is None
