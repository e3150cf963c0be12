from __future__ import annotations

import errno
import io
import json
import os
import time
import zipfile
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient
from typer.testing import CliRunner

from hoopwright.cli.main import app
from hoopwright.core.errors import HoopwrightError
from hoopwright.worktable import making
from tests.worktable.tables import DEMO, shelf, table

HOME = f"/api/projects/{DEMO}/take"


SMALL = """
schema = 1
title = "Small panel"
[machine]
kinds = ["dst", "exp"]
[cloths.linen]
name = "linen"
colour = "#8899aa"
[threads.red]
name = "red"
colour = "#aa2222"
[panel.outline]
shape = "rectangle"
width = 60
height = 40
[panel.patchwork]
way = "cuts"
cuts = [[[-30, 0], [30, 0]]]
[panel.seam_stitch]
stitch = "none"
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A shelf with one project that is made quickly."""
    (tmp_path / "shelf" / DEMO).mkdir(parents=True)
    (tmp_path / "shelf" / DEMO / "project.toml").write_text(SMALL)
    return tmp_path / "shelf"


@pytest.fixture
def client(folder: Path) -> TestClient:
    return table(folder)


def edit(client: TestClient, path: str, value: object) -> None:
    base = client.get(f"/api/projects/{DEMO}").json()["version"]
    body = {"base": base, "what": "tried", "changes": [{"path": path, "value": value}]}
    assert client.post(f"/api/projects/{DEMO}/edit", json=body).status_code == 200


def made(client: TestClient, *, despite: bool = False) -> dict[str, Any]:
    """Make the results and wait for them."""
    row: dict[str, Any] = client.post(f"{HOME}/make", json={"despite": despite}).json()
    for _ in range(600):
        if row["state"] != "working":
            return row
        time.sleep(0.05)
        row = client.get(f"{HOME}/make/{row['print']}").json()
    raise AssertionError("it never ended")


def on_disk(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def by_command(folder: Path, out: Path, *more: str) -> dict[str, bytes]:
    """Return the files that the command line writes for the same project file."""
    said = CliRunner().invoke(app, ["build", str(folder / DEMO / "project.toml"), "--out", str(out), *more])
    assert said.exit_code in (0, 2), said.output
    return on_disk(out)


def unpacked(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert archive.testzip() is None
        return {n.removeprefix(f"{DEMO}/"): archive.read(n) for n in archive.namelist()}


@pytest.mark.no_cover
def test_the_zip_holds_what_the_command_writes(tmp_path: Path) -> None:
    """Byte for byte, also after the kinds, the paper and the units were chosen on the page."""
    folder = shelf(tmp_path / "demo")
    client = table(folder)
    edit(client, "machine.kinds", ["dst", "pes"])
    edit(client, "paper", "Letter")
    edit(client, "units", "in")
    row = made(client)
    assert (row["state"], row["done"]) == ("ready", len(row["stages"]))
    answer = client.get(f"{HOME}/make/{row['print']}/all.zip")
    assert answer.headers["content-disposition"] == f'attachment; filename="{DEMO}.zip"'
    expected = by_command(folder, tmp_path / "by-command")
    assert sorted(n for n in expected if n.startswith("machine/")) == ["machine/panel.dst", "machine/panel.pes"]
    assert unpacked(answer.content) == expected
    assert {f["name"]: f["size"] for f in row["files"]} == {n: len(d) for n, d in expected.items()}


@pytest.mark.no_cover
def test_german_sheets_are_the_same_from_the_page_and_the_command_whatever_the_page_speaks(
    folder: Path, tmp_path: Path
) -> None:
    client = table(folder)
    edit(client, "language", "de")
    client.headers["accept-language"] = "en"
    answer = client.get(f"{HOME}/make/{made(client)['print']}/all.zip")
    files = unpacked(answer.content)
    assert files == by_command(folder, tmp_path / "by-command")
    assert b"wenn alles gen\xc3\xa4ht ist" in b"".join(d for n, d in files.items() if n.endswith(".svg"))


@pytest.mark.no_cover
def test_the_language_of_the_page_does_not_change_english_sheets(folder: Path) -> None:
    client = table(folder)
    client.headers["accept-language"] = "de"
    files = unpacked(client.get(f"{HOME}/make/{made(client)['print']}/all.zip").content)
    assert b"when all is sewn" in b"".join(d for n, d in files.items() if n.endswith(".svg"))


@pytest.mark.no_cover
def test_the_same_zip_every_time(folder: Path) -> None:
    one, other = table(folder), table(folder)
    zips = [c.get(f"{HOME}/make/{made(c)['print']}/all.zip").content for c in (one, other)]
    assert zips[0] == zips[1]
    with zipfile.ZipFile(io.BytesIO(zips[0])) as archive:
        assert {i.date_time for i in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert archive.namelist() == sorted(archive.namelist())


@pytest.mark.no_cover
def test_the_folder_holds_what_the_command_writes(client: TestClient, folder: Path, tmp_path: Path) -> None:
    row = made(client)
    lies = client.post(f"{HOME}/make/{row['print']}/put").json()
    assert (lies["since"], lies["blocked"], lies["foreign"]) == ("same", False, [])
    assert on_disk(folder / DEMO / "out") == by_command(folder, tmp_path / "by-command")
    assert len(lies["files"]) == len(row["files"])


def test_what_will_be_written_is_what_is_written(client: TestClient) -> None:
    said = client.get(HOME).json()
    promised = {f"machine/{n}" for hooping in said["stitch"] for n in hooping["files"]}
    row = made(client)
    assert promised == {f["name"] for f in row["files"] if f["name"].startswith("machine/")}
    assert {k["ending"] for k in said["kinds"]} >= {".dst", ".exp", ".pes", ".jef", ".vp3", ".xxx"}
    assert {"name": "130x180", "width": 130, "height": 180} in said["fields"]
    assert said["folder"] is None


def test_whether_the_project_changed_since(client: TestClient) -> None:
    client.post(f"{HOME}/make/{made(client)['print']}/put")
    edit(client, "title", "Another flap")
    assert client.get(HOME).json()["folder"]["since"] == "changed"
    client.post(f"/api/projects/{DEMO}/undo")
    assert client.get(HOME).json()["folder"]["since"] == "same", "undone, the results are right again"


def test_a_note_too_large_to_be_ours_is_not_read(client: TestClient, folder: Path) -> None:
    """The clock tells then, as for results of the command line."""
    client.post(f"{HOME}/make/{made(client)['print']}/put")
    note = folder / DEMO / ".hoopwright" / "taken.json"
    assert client.get(HOME).json()["folder"]["since"] == "same"
    note.write_bytes(note.read_bytes() + b" " * 5_000)
    assert client.get(HOME).json()["folder"]["since"] == "older"


def test_results_of_the_command_are_told_by_the_clock(client: TestClient, folder: Path) -> None:
    home = folder / DEMO
    by_command(folder, home / "out")
    os.utime(home / "project.toml", (1000, 1000))
    lies = client.get(HOME).json()["folder"]
    assert lies["since"] == "older" and lies["when"] == pytest.approx((home / "out/build.json").stat().st_mtime)
    os.utime(home / "project.toml", None)
    os.utime(home / "out" / "build.json", (1000, 1000))
    assert client.get(HOME).json()["folder"]["since"] == "newer"


def test_pages_are_shown_and_nothing_else_is(client: TestClient) -> None:
    row = made(client)
    answer = client.get(f"{HOME}/make/{row['print']}/paper/templates.pdf")
    assert answer.content.startswith(b"%PDF-") and answer.headers["content-type"] == "application/pdf"
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["content-disposition"] == "inline"
    assert "default-src 'none'" in answer.headers["content-security-policy"]
    client.post(f"{HOME}/make/{row['print']}/put")
    assert client.get(f"{HOME}/folder/booklet.pdf").content.startswith(b"%PDF-")
    for name in ("build.json", "..%2fproject.toml", "%2e%2e", "nothing.pdf", "pictures%2fmap.svg"):
        assert client.get(f"{HOME}/make/{row['print']}/paper/{name}").status_code in (400, 404)
        assert client.get(f"{HOME}/folder/{name}").status_code in (400, 404)


def test_a_record_from_elsewhere_leads_nowhere(client: TestClient, folder: Path) -> None:
    """A project from somebody else may name in its record what is not in its folder."""
    out = folder / DEMO / "out"
    out.mkdir()
    (folder / "secret.pdf").write_bytes(b"%PDF-secret")
    (out / "link.pdf").symlink_to(folder / "secret.pdf")
    names = ["../../secret.pdf", str(folder / "secret.pdf"), "link.pdf", "..\\..\\secret.pdf"]
    (out / "build.json").write_text(json.dumps({"made_by": "hoopwright 0", "files": names}))
    lies = client.get(HOME).json()["folder"]
    assert [f["name"] for f in lies["files"]] == ["build.json"]
    assert client.get(f"{HOME}/folder/link.pdf").status_code == 400


def test_a_link_out_of_the_shelf_is_not_followed(client: TestClient, folder: Path, tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (folder / DEMO / "out").symlink_to(elsewhere)
    row = made(client)
    answer = client.post(f"{HOME}/make/{row['print']}/put")
    assert answer.status_code == 507 and "link" in answer.json()["message"]
    assert list(elsewhere.iterdir()) == []


def test_foreign_files_are_left_alone(client: TestClient, folder: Path) -> None:
    out = folder / DEMO / "out"
    out.mkdir()
    (out / "my notes.txt").write_text("mine")
    assert client.get(HOME).json()["folder"]["foreign"] == ["my notes.txt"]
    answer = client.post(f"{HOME}/make/{made(client)['print']}/put")
    assert answer.status_code == 507
    said = answer.json()
    assert "my notes.txt" in said["message"] and "download the results as one file" in said["cure"]
    assert "--" not in said["cure"], "the page has no options of the command line"
    assert on_disk(out) == {"my notes.txt": b"mine"}


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EACCES, errno.EROFS])
def test_a_full_disk_leaves_the_earlier_results_whole(
    client: TestClient, folder: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    print_ = made(client)["print"]
    client.post(f"{HOME}/make/{print_}/put")
    before, beside = on_disk(folder / DEMO / "out"), sorted((folder / DEMO).iterdir())
    written, left = Path.write_bytes, [3]

    def full(path: Path, data: bytes) -> int:
        left[0] -= 1
        if left[0] < 0:
            raise OSError(number, os.strerror(number), str(path))
        return written(path, data)

    monkeypatch.setattr(Path, "write_bytes", full)
    answer = client.post(f"{HOME}/make/{print_}/put")
    assert answer.status_code == 507 and os.strerror(number) in answer.json()["message"]
    assert on_disk(folder / DEMO / "out") == before
    assert sorted((folder / DEMO).iterdir()) == beside, "nothing half is left behind"


def test_what_cannot_come_out_is_refused_and_made_only_when_asked(
    client: TestClient, folder: Path, tmp_path: Path
) -> None:
    edit(client, "panel.outline.width", 200)
    refused = made(client)
    assert refused["state"] == "blocked" and refused["files"] == []
    assert any(f["severity"] == "blocks" and f["cure"] for f in refused["findings"])
    assert client.get(f"{HOME}/make/{refused['print']}/all.zip").status_code == 400
    row = made(client, despite=True)
    assert row["state"] == "ready" and row["blocked"]
    files = unpacked(client.get(f"{HOME}/make/{row['print']}/all.zip").content)
    assert "DO-NOT-SEW.txt" in files
    assert files == by_command(folder, tmp_path / "by-command", "--despite-findings")
    assert client.post(f"{HOME}/make/{row['print']}/put").json()["blocked"] is True


def test_stages_come_in_order(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[int] = []
    tell = making.Making._tell

    def telling(self: making.Making, stage: str) -> None:
        tell(self, stage)
        seen.append(self.progress.done)

    monkeypatch.setattr(making.Making, "_tell", telling)
    row = made(client)
    assert seen == list(range(len(row["stages"])))


def test_what_goes_wrong_while_making_is_told(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object, **__: object) -> None:
        raise RuntimeError("secret details")

    with monkeypatch.context() as patch:
        patch.setattr(making, "results", broken)
        row = made(client)
    assert row["state"] == "failed" and row["message"] and row["cure"]
    assert "secret" not in json.dumps(row)
    assert made(client)["state"] == "ready", "it can be tried again"


def test_unknown_results_are_told(client: TestClient) -> None:
    for path in ("make/0123456789abcdef", "make/0123456789abcdef/all.zip", "make/x/paper/booklet.pdf"):
        answer = client.get(f"{HOME}/{path}")
        assert answer.status_code == 400 and answer.json()["cure"]
    assert client.post(f"{HOME}/make/x/put").status_code == 400
    assert client.get("/api/projects/nowhere/take").status_code == 404
    assert client.post(f"{HOME}/make", json={"despite": "often"}).status_code == 422


@pytest.mark.no_cover
def test_only_a_few_makings_are_kept(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(making, "KEPT", 1)
    first = made(client)
    assert made(client)["print"] == first["print"]
    edit(client, "title", "Another")
    made(client)
    assert client.get(f"{HOME}/make/{first['print']}").status_code == 400


def test_the_print_tells_projects_apart() -> None:
    from hoopwright.project.load import Loaded, parse
    from tests.worktable.tables import ROOT

    loaded = parse((ROOT / "examples" / DEMO / "project.toml").read_text(encoding="utf-8"), None)
    one = Loaded(loaded.project, "ab", (("c", b"d"),), ())
    assert making.print_of(one) == making.print_of(Loaded(loaded.project, "ab", (("c", b"d"),), ()))
    others = [
        making.print_of(one, despite=True),
        making.print_of(Loaded(loaded.project, "a", (("bc", b"d"),), ())),
        making.print_of(Loaded(loaded.project, "ab", (("cd", b""),), ())),
    ]
    assert len({making.print_of(one), *others}) == 4
    assert isinstance(making._surprise(), HoopwrightError)
