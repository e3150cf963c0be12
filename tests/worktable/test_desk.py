from __future__ import annotations

from pathlib import Path

import pytest

from hoopwright.core.errors import HoopwrightError, OutputError, ProjectError
from hoopwright.pipeline import new_project
from hoopwright.project.load import load
from hoopwright.worktable.beside import plain_name
from hoopwright.worktable.desk import ARCHIVE, RESTING, Desk
from tests.worktable.tables import DEMO, shelf


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(shelf(tmp_path / "shelf"))


def test_projects_are_folders_with_a_project_file(desk: Desk) -> None:
    (desk.folder / "no-project").mkdir()
    (desk.folder / ".hidden").mkdir()
    (desk.folder / ".hidden" / "project.toml").write_text("")
    assert [(p.name, p.archived) for p in desk.places()] == [(DEMO, False)]


def test_a_link_that_leads_out_of_the_folder_is_not_followed(desk: Desk, tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "project.toml").write_text("")
    (desk.folder / "linked").symlink_to(outside)
    (desk.folder / "half").mkdir()
    (desk.folder / "half" / "project.toml").symlink_to(outside / "project.toml")
    assert [p.name for p in desk.places()] == [DEMO]


@pytest.mark.parametrize("name", ["..", "../outside", "/etc", "", ".", f"{DEMO}/../{DEMO}", "archive", f"{DEMO}\0"])
def test_only_names_that_are_there_are_found(desk: Desk, name: str) -> None:
    with pytest.raises(HoopwrightError):
        desk.find(name)


def test_a_new_project_is_named_after_its_title_and_is_the_one_of_the_command_line(desk: Desk) -> None:
    text = new_project("panel", "Møller’s flap", "mm")
    place = desk.put("Møller’s flap", text)
    assert place.name == "mllers-flap"
    assert place.file.read_text(encoding="utf-8") == text
    assert desk.put("Møller’s flap", text).name == "mllers-flap-2"


@pytest.mark.parametrize("title", ["...", "///", "archive", "out", "水車", "con" * 60, "Con", "NUL", "lpt1"])
def test_any_title_gives_a_safe_folder(desk: Desk, title: str) -> None:
    name = desk.free_name(title)
    assert name and set(name) <= set("abcdefghijklmnopqrstuvwxyz0123456789-") and len(name) <= 64
    assert name not in (ARCHIVE, "out", DEMO, "con", "nul", "lpt1")


@pytest.mark.parametrize(
    ("called", "kept"), [("AUX.svg", "aux-1.svg"), ("com9.svg", "com9-1.svg"), ("Console.svg", "console.svg")]
)
def test_a_file_beside_a_project_is_not_called_like_a_device(called: str, kept: str) -> None:
    assert plain_name(called, ".svg") == kept


def test_a_spoilt_project_is_not_put_on_the_shelf(desk: Desk) -> None:
    with pytest.raises(ProjectError):
        desk.put("Flap", "schema = 1")
    assert [p.name for p in desk.places()] == [DEMO]
    assert [p.name for p in desk.folder.iterdir()] == [DEMO]


def test_a_copy_has_the_drawings_and_neither_results_nor_history(desk: Desk) -> None:
    home = desk.find(DEMO).file.parent
    (home / "lines.svg").write_text("<svg/>")
    for name in ("out", ".hoopwright"):
        (home / name).mkdir()
        (home / name / "x").write_text("x")
    copy = desk.duplicate(desk.find(DEMO), "Second flap")
    assert copy.name == "second-flap"
    assert sorted(p.name for p in copy.file.parent.iterdir()) == ["lines.svg", "project.toml"]
    assert load(copy.file).project.title == "Second flap"
    assert load(desk.find(DEMO).file).project.title == "Tide mill flap"


def test_to_the_archive_and_back(desk: Desk) -> None:
    place = desk.archive(desk.find(DEMO))
    assert place.archived and [p.archived for p in desk.places()] == [True]
    back = desk.archive(place, rest=False)
    assert not back.archived and back.name == DEMO


def test_a_file_is_no_shelf(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(OutputError, match="no folder to work in"):
        Desk(tmp_path / "file")


def test_the_archive_keeps_a_folder_s_own_name(desk: Desk) -> None:
    (desk.folder / DEMO).rename(desk.folder / "Mill Flap (2026)")
    resting = desk.archive(desk.find("Mill Flap (2026)"))
    assert resting.name == "Mill Flap (2026)"
    assert desk.archive(resting, rest=False).file.parent == desk.folder / "Mill Flap (2026)"


def test_one_name_on_the_shelf_and_in_the_archive(desk: Desk) -> None:
    text = desk.find(DEMO).file.read_text(encoding="utf-8")
    twin = desk.folder / ARCHIVE / DEMO
    twin.mkdir(parents=True)
    (twin / "project.toml").write_text(text.replace("Tide mill flap", "Twin"), encoding="utf-8")
    names = [(p.name, p.archived) for p in desk.places()]
    assert names == [(DEMO, False), (DEMO + RESTING, True)]
    assert load(desk.find(DEMO + RESTING).file).project.title == "Twin"
    assert desk.find(DEMO).file.parent == desk.folder / DEMO
    second = desk.archive(desk.find(DEMO))
    assert second.file.parent.name == f"{DEMO}-2" and (twin / "project.toml").is_file()
    assert desk.archive(desk.find(DEMO), rest=False).file.parent == desk.folder / DEMO


def test_a_project_that_cannot_be_read_is_not_copied(desk: Desk) -> None:
    desk.find(DEMO).file.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(ProjectError):
        desk.duplicate(desk.find(DEMO), "Copy")
    assert [p.name for p in desk.folder.iterdir()] == [DEMO]


def test_a_circle_of_links_is_no_project(desk: Desk) -> None:
    (desk.folder / "round").symlink_to(desk.folder / "round")
    (desk.folder / "half").mkdir()
    (desk.folder / "half" / "project.toml").symlink_to("project.toml")
    assert [p.name for p in desk.places()] == [DEMO]
