from __future__ import annotations

import os
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.core.errors import HoopwrightError, OutputError, ProjectError
from hoopwright.project.load import parse
from hoopwright.project.save import Value, save, save_upgraded, set_value
from hoopwright.project.starter import starter_text

START = starter_text("Wheel house")
OLD = """schema = 0
title = "Old flap"
hoop = "130x180" # the wide one
cloths.reed = { name = "reed", colour = "#7d8a52" }
threads.gold = { name = "gold", colour = "#dba632" }
panel.outline = { shape = "ellipse", width = 80, height = 60 }
"""


def remarks(text: str) -> list[str]:
    return [line.split("#", 1)[1].strip() for line in text.splitlines() if "#" in line and '"#' not in line]


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("title", "Salt marsh"),
        ("panel.outline.width", "4 1/4 in"),
        ("machine.speed", 700),
        ("piecing.tack_flipped", True),
        ("machine.kinds[1]", "u01"),
        ("machine.kinds[7]", "u01"),
        ("panel.patchwork.cuts[2]", ((-20, 20), (-10.5, -46))),
        ("panel.patchwork.cuts[2][1][1]", -20.5),
        ("panel.patchwork.cuts[6]", ((0, 1), (2, 3))),
        ("panel.order", ("A", "B")),
        ("panel.seams.3.stitch", "fly"),
        ("panel.seams.3", {"stitch": "fly", "thread": "gold"}),
        ("cloths.tar", {"name": "tar", "colour": "#202020"}),
        ("panel.wishes.few_turns", 2),
    ],
)
def test_one_value_changes_and_every_remark_stays(path: str, value: Value) -> None:
    changed = set_value(START, path, value)
    assert remarks(changed) == remarks(START)
    assert len(set(START.splitlines()) - set(changed.splitlines())) <= 1
    assert changed != START
    assert set_value(changed, path, value) == changed


def test_the_changed_value_is_there() -> None:
    data = tomllib.loads(set_value(START, "panel.patchwork.cuts[2]", ((1, 2), (3, 4))))
    assert data["panel"]["patchwork"]["cuts"][1] == [[1, 2], [3, 4]]


def test_a_value_is_taken_out() -> None:
    assert "batting" not in tomllib.loads(set_value(START, "foundation.batting", None))["foundation"]
    assert len(tomllib.loads(set_value(START, "panel.patchwork.cuts[5]", None))["panel"]["patchwork"]["cuts"]) == 4


def test_a_table_with_one_wish_may_be_missing_altogether() -> None:
    bare = START[: START.index("# What to weigh")]
    assert parse(set_value(bare, "panel.wishes.centre_outwards", 3), None).project.panel.wishes.centre_outwards == 3


@pytest.mark.parametrize(
    ("text", "path"),
    [
        (START, ""),
        (START, "title.x"),
        (START, "machine.kinds.x"),
        (START, "machine.kinds[99]"),
        (START, "no place"),
        ("a = ", "a"),
    ],
)
def test_impossible_places_are_refused(text: str, path: str) -> None:
    with pytest.raises(HoopwrightError):
        set_value(text, path, 1)


@given(
    st.sampled_from(["title", "hoop.margin", "panel.order", "a.b.c"]),
    st.text(max_size=30) | st.integers() | st.lists(st.booleans()),
)
@settings(max_examples=40, deadline=None)
def test_whatever_is_set_is_read_again(path: str, value: Any) -> None:
    node: Any = tomllib.loads(set_value(START, path, value))
    for key in path.split("."):
        node = node[key]
    assert node == value


def test_saves_what_can_be_loaded(tmp_path: Path) -> None:
    file = tmp_path / "project.toml"
    save(file, START)
    assert file.read_text(encoding="utf-8") == START
    assert [p.name for p in tmp_path.iterdir()] == ["project.toml"]


def test_refuses_what_cannot_be_loaded_and_leaves_the_old_file(tmp_path: Path) -> None:
    file = tmp_path / "project.toml"
    save(file, START)
    with pytest.raises(ProjectError):
        save(file, set_value(START, "machine.speed", "fast"))
    assert file.read_text(encoding="utf-8") == START


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_failing_write_leaves_the_old_file_and_no_scraps(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    file = tmp_path / "project.toml"
    save(file, START)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(os if step == "fsync" else Path, step, full)
        with pytest.raises(OutputError, match="No space left"):
            save(file, START.replace("Wheel house", "Weir"))
    assert file.read_text(encoding="utf-8") == START
    assert [p.name for p in tmp_path.iterdir()] == ["project.toml"]


def test_saving_into_a_missing_folder_is_told(tmp_path: Path) -> None:
    with pytest.raises(OutputError):
        save(tmp_path / "none" / "project.toml", START)


def test_the_file_keeps_its_rights_and_a_link_stays_a_link(tmp_path: Path) -> None:
    file, link = tmp_path / "project.toml", tmp_path / "link.toml"
    save(file, START)
    file.chmod(0o600)
    link.symlink_to(file)
    save(link, START.replace("Wheel house", "Weir"))
    assert link.is_symlink()
    assert file.stat().st_mode & 0o777 == 0o600
    assert "Weir" in file.read_text(encoding="utf-8")


def test_windows_line_ends_are_kept(tmp_path: Path) -> None:
    file = tmp_path / "project.toml"
    save(file, START.replace("\n", "\r\n"))
    assert file.read_bytes().count(b"\r\n") == START.count("\n")


def test_an_older_file_is_brought_up_to_date_only_when_asked(tmp_path: Path) -> None:
    file = tmp_path / "project.toml"
    save(file, OLD)
    assert file.read_text(encoding="utf-8") == OLD
    assert save_upgraded(file)
    assert tomllib.loads(file.read_text(encoding="utf-8"))["schema"] == 1
    assert "# the wide one" in file.read_text(encoding="utf-8")
    assert not save_upgraded(file)
