"""Cloth and thread through the worktable: swatches, looks of cloths, photographs."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest
from PIL import Image
from starlette.testclient import TestClient

from hoopwright.core.errors import HoopwrightError
from hoopwright.needle.grounds.table import GROUNDS
from hoopwright.needle.seam_stitches import SEAM_STITCHES
from hoopwright.worktable import looks as looks_room
from hoopwright.worktable.looks import Looks, PhotoLook, PrintLook
from hoopwright.worktable.photos import LONGEST, small_photo
from hoopwright.worktable.texts import NAMES, words
from tests.worktable.tables import DEMO, shelf, table

BASE = f"/api/projects/{DEMO}/cloth"
DOTS = {"way": "dots", "colour": "#ffffff", "size": 2.5, "gap": 5.0, "turn": 45.0}
HUES = "thread=9d4632&cloth=a9c4b8"


@pytest.fixture
def home(tmp_path: Path) -> Path:
    return shelf(tmp_path) / DEMO


@pytest.fixture
def client(home: Path) -> TestClient:
    return table(home.parent)


def cloth_of(client: TestClient) -> str:
    return str(next(iter(client.get(f"/api/projects/{DEMO}").json()["project"]["cloths"])))


def picture(size: tuple[int, int] = (1600, 800), kind: str = "JPEG", **more: object) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", size, (60, 120, 180)).save(out, kind, **more)
    return out.getvalue()


def sent(client: TestClient, data: bytes, key: str | None = None) -> tuple[int, dict[str, object]]:
    answer = client.post(f"{BASE}/photo/{key or cloth_of(client)}", content=data)
    return answer.status_code, answer.json()


# Words


@pytest.mark.parametrize("language", list(NAMES))
def test_every_stitch_and_ground_has_a_name_in_every_language(language: str) -> None:
    wanted = {f"stitch.{n}" for n in SEAM_STITCHES} | {f"ground.{n}" for n in GROUNDS}
    wanted |= {"stitch.none", "ground.none"} | {f"{k}.about" for k in wanted if not k.endswith(".none")}
    assert sorted(wanted - set(words(language))) == []
    names = [words(language)[k] for k in wanted if not k.endswith(".about")]
    assert len(set(names)) == len(names)


def test_english_names_are_those_of_the_tables() -> None:
    told = {f"stitch.{s.name}": s for s in SEAM_STITCHES.values()} | {f"ground.{g.name}": g for g in GROUNDS.values()}
    assert {k: words("en")[k] for k in told} == {k: row.title for k, row in told.items()}
    assert {k: words("en")[f"{k}.about"] for k in told} == {k: row.description for k, row in told.items()}


# Swatches


def test_swatches_of_all_names(client: TestClient) -> None:
    there = client.get("/api/swatches").json()
    assert len(there["stitches"]) == len(SEAM_STITCHES) and len(there["grounds"]) == len(GROUNDS)
    for kind, rows in (("stitch", there["stitches"]), ("ground", there["grounds"])):
        answer = client.get(f"/api/swatches/{kind}/{rows[0]['name']}.svg?{HUES}")
        assert answer.status_code == 200 and answer.headers["content-type"].startswith("image/svg+xml")
        assert b"#9d4632" in answer.content and b"#a9c4b8" in answer.content


def test_a_swatch_is_not_sent_twice(client: TestClient) -> None:
    url = f"/api/swatches/stitch/fly.svg?{HUES}"
    tag = client.get(url).headers["etag"]
    again = client.get(url, headers={"if-none-match": tag})
    assert (again.status_code, again.content) == (304, b"")
    other = client.get(url.replace("9d4632", "9d4633"), headers={"if-none-match": tag})
    assert other.status_code == 200 and other.headers["etag"] != tag


@pytest.mark.parametrize(
    "url",
    [
        f"stitch/nothing.svg?{HUES}",
        f"stitch/..%2f..%2fetc.svg?{HUES}",
        f"ground/none.svg?{HUES}",
        "stitch/fly.svg?thread=red&cloth=a9c4b8",
        "stitch/fly.svg?thread=9d4632%22&cloth=a9c4b8",
        f"stitch/fly.svg?{HUES}&weight=heavy",
        f"ground/vine.svg?{HUES}&seed=-1",
    ],
)
def test_swatches_that_are_not_there(client: TestClient, url: str) -> None:
    assert client.get(f"/api/swatches/{url}").status_code in (400, 404, 422)


# Looks


def test_a_print_is_kept_beside_the_project(client: TestClient, home: Path) -> None:
    before = (home / "project.toml").read_bytes()
    key = cloth_of(client)
    assert client.get(BASE).json() == {"looks": {}}
    assert client.post(f"{BASE}/look/{key}", json={"look": DOTS}).json() == {"looks": {key: DOTS}}
    assert client.get(BASE).json() == {"looks": {key: DOTS}}
    assert json.loads((home / ".hoopwright" / "cloths.json").read_text())["looks"][key] == DOTS
    assert client.post(f"{BASE}/look/{key}", json={"look": None}).json() == {"looks": {}}
    assert (home / "project.toml").read_bytes() == before


@pytest.mark.parametrize(
    "look",
    [
        {**DOTS, "way": "tartan"},
        {**DOTS, "colour": "red"},
        {**DOTS, "size": 0},
        {**DOTS, "more": 1},
        {"way": "photo", "photo": "../../x", "pixels": [4, 4]},
        {"way": "photo", "photo": "0" * 32, "pixels": [4, 4]},
        {"way": "photo", "photo": "0" * 32, "pixels": [4, 4], "width": 1e9},
    ],
)
def test_looks_that_are_none(client: TestClient, look: dict[str, object]) -> None:
    assert client.post(f"{BASE}/look/{cloth_of(client)}", json={"look": look}).status_code in (400, 422)
    assert client.get(BASE).json() == {"looks": {}}


def test_a_cloth_that_is_not_there_has_no_look(client: TestClient) -> None:
    assert client.post(f"{BASE}/look/nowhere", json={"look": DOTS}).status_code == 400
    assert client.post(f"{BASE}/look/..%2f..", json={"look": DOTS}).status_code in (400, 404)
    assert sent(client, picture(), "nowhere")[0] == 400


@pytest.mark.parametrize("text", ["", "[]", '{"looks": 3}', '{"looks": {"a": {"way": "dots"}}}', "{" * 5000, "\udcff"])
def test_a_spoilt_file_of_looks_is_no_look(tmp_path: Path, text: str) -> None:
    (tmp_path / ".hoopwright").mkdir()
    (tmp_path / ".hoopwright" / "cloths.json").write_bytes(text.encode("utf-8", "surrogateescape"))
    kept = Looks(tmp_path / "project.toml")
    assert kept.all() == {}
    kept.put("a", PrintLook(**DOTS))
    assert list(kept.all()) == ["a"]


def test_links_are_not_followed(tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    home = tmp_path / "home"
    home.mkdir()
    (home / ".hoopwright").symlink_to(elsewhere)
    kept = Looks(home / "project.toml")
    with pytest.raises(HoopwrightError, match="link"):
        kept.put("a", PrintLook(**DOTS))
    with pytest.raises(HoopwrightError, match="link"):
        kept.keep_photo(picture())
    assert not any(elsewhere.iterdir())


# Photographs


def test_a_photograph_is_made_small_and_shown(client: TestClient, home: Path) -> None:
    key = cloth_of(client)
    status, said = sent(client, picture())
    assert status == 200 and said["pixels"] == [LONGEST, LONGEST // 2]
    shown = client.get(f"{BASE}/photo/{said['photo']}.jpg")
    assert shown.headers["content-type"] == "image/jpeg" and Image.open(io.BytesIO(shown.content)).size == (900, 450)
    channels = [int(str(said["colour"])[i : i + 2], 16) for i in (1, 3, 5)]
    assert all(abs(a - b) <= 3 for a, b in zip(channels, (60, 120, 180), strict=True))
    look = {"way": "photo", "photo": said["photo"], "pixels": said["pixels"], "width": 80.0}
    assert client.post(f"{BASE}/look/{key}", json={"look": look}).json()["looks"][key] == look
    assert [p.name for p in (home / ".hoopwright" / "cloths").iterdir()] == [f"{said['photo']}.jpg"]


def test_nothing_of_the_sent_file_is_kept() -> None:
    """Neither where and when it was taken, nor what hangs on behind it; turned as the camera said."""
    exif = Image.Exif()
    exif[0x0112] = 6
    exif[0x010E] = "behind the sluice"
    made = small_photo(picture((640, 320), exif=exif) + b"<script>behind</script>")
    assert b"sluice" not in made.data and b"script" not in made.data
    assert made.pixels == (320, 640)
    assert dict(Image.open(io.BytesIO(made.data)).getexif()) == {}


def test_what_shows_through_is_white() -> None:
    out = io.BytesIO()
    Image.new("RGBA", (32, 32), (0, 0, 0, 0)).save(out, "PNG")
    assert small_photo(out.getvalue()).colour == "#ffffff"


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"GIF89a",
        b'<svg xmlns="http://www.w3.org/2000/svg"/>',
        picture()[:400],
        picture((8, 8)),
        picture((9000, 9000), "PNG"),
        b"%PDF-1.4",
    ],
    ids=["nothing", "stump", "drawing", "cut off", "tiny", "huge", "paper"],
)
def test_what_is_no_photograph_is_refused_in_words(client: TestClient, data: bytes) -> None:
    status, said = sent(client, data)
    assert status == 400 and said["message"] and said["cure"]


def test_a_copy_of_a_project_keeps_prints_and_photographs(client: TestClient, home: Path) -> None:
    first, second, third, *_ = client.get(f"/api/projects/{DEMO}").json()["project"]["cloths"]
    said = sent(client, picture(), second)[1]
    photo = {"way": "photo", "photo": said["photo"], "pixels": said["pixels"], "width": 80.0}
    for key, look in ((first, DOTS), (second, photo)):
        client.post(f"{BASE}/look/{key}", json={"look": look})
    lost = json.loads((home / ".hoopwright" / "cloths.json").read_text())
    lost["looks"][third] = {**photo, "photo": "0" * 32}
    (home / ".hoopwright" / "cloths.json").write_text(json.dumps(lost))
    copy = client.post(f"/api/shelf/{DEMO}/duplicate", json={"title": "Second flap"}).json()["name"]
    assert client.get(f"/api/projects/{copy}/cloth").json()["looks"] == {first: DOTS, second: photo}
    shown = client.get(f"/api/projects/{copy}/cloth/photo/{said['photo']}.jpg")
    assert shown.content == client.get(f"{BASE}/photo/{said['photo']}.jpg").content


@pytest.mark.parametrize("name", ["0" * 32, "..%2f..%2fproject", "cloths"])
def test_photographs_that_are_not_there(client: TestClient, name: str) -> None:
    assert client.get(f"{BASE}/photo/{name}.jpg").status_code in (400, 404)


def test_photographs_are_bounded_and_those_in_use_stay(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(looks_room, "MOST_PHOTOS", 2)
    kept = Looks(tmp_path / "project.toml")
    names = [kept.keep_photo(bytes([n])) for n in range(2)]
    for key, name in zip("ab", names, strict=True):
        kept.put(key, PhotoLook(way="photo", photo=name, pixels=(9, 9)))
    with pytest.raises(HoopwrightError, match="already"):
        kept.keep_photo(b"third")
    kept.put("a", None)
    third = kept.keep_photo(b"third")
    assert kept.photo(third) == b"third" and kept.photo(names[1]) == bytes([1])
    with pytest.raises(HoopwrightError):
        kept.photo(names[0])
