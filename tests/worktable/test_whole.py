"""Files are written whole, and never through a link."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from hoopwright.worktable.whole import read_whole, write_whole

needs_links = pytest.mark.skipif(os.name == "nt", reason="links need rights of their own there")


def test_what_is_written_lies_there_alone(tmp_path: Path) -> None:
    place = tmp_path / "new" / "now.json"
    write_whole(place, b"one")
    write_whole(place, b"two")
    assert place.read_bytes() == b"two"
    assert [p.name for p in place.parent.iterdir()] == ["now.json"]


def test_a_failed_write_leaves_what_was_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    place = tmp_path / "now.json"
    write_whole(place, b"one")

    def full(_number: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        write_whole(place, b"two")
    assert place.read_bytes() == b"one"
    assert [p.name for p in tmp_path.iterdir()] == ["now.json"]


@needs_links
def test_nothing_outside_is_written_through_a_link(tmp_path: Path) -> None:
    outside, home = tmp_path / "mine.txt", tmp_path / "home"
    outside.write_bytes(b"mine")
    home.mkdir()
    (home / "now.json").symlink_to(outside)
    with pytest.raises(OSError, match="link"):
        write_whole(home / "now.json", b"theirs")
    assert outside.read_bytes() == b"mine"


@needs_links
def test_a_link_left_where_files_are_begun_is_not_followed(tmp_path: Path) -> None:
    """An earlier worktable began its files under this name."""
    outside, home = tmp_path / "mine.txt", tmp_path / "home"
    outside.write_bytes(b"mine")
    home.mkdir()
    (home / "now.json.part").symlink_to(outside)
    write_whole(home / "now.json", b"ours")
    assert outside.read_bytes() == b"mine"


@needs_links
def test_nothing_is_written_in_a_folder_that_is_a_link(tmp_path: Path) -> None:
    (tmp_path / "far").mkdir()
    (tmp_path / "home").symlink_to(tmp_path / "far")
    with pytest.raises(OSError, match="link"):
        write_whole(tmp_path / "home" / "now.json", b"theirs")
    assert not list((tmp_path / "far").iterdir())


def test_no_more_is_read_than_may_be(tmp_path: Path) -> None:
    place = tmp_path / "now.json"
    place.write_bytes(b"x" * 100)
    assert read_whole(place, 100) == b"x" * 100
    with pytest.raises(OSError, match="too large"):
        read_whole(place, 99)


@needs_links
def test_nothing_outside_is_read_through_a_link(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_bytes(b"mine")
    (tmp_path / "link.json").symlink_to(tmp_path / "mine.txt")
    with pytest.raises(OSError, match="link"):
        read_whole(tmp_path / "link.json", 100)
