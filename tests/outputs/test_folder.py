from __future__ import annotations

import json
from pathlib import Path

import pytest

from hoopwright.core.errors import OutputError
from hoopwright.outputs.folder import RECORD, put_folder, what_lies


def record(*names: str) -> bytes:
    return json.dumps({"made_by": "hoopwright 9", "files": list(names)}).encode()


def test_files_arrive_whole_and_nothing_else(tmp_path: Path) -> None:
    put_folder({"machine/a.dst": b"1", RECORD: record("machine/a.dst")}, tmp_path / "deep" / "out")
    found = sorted(p.relative_to(tmp_path).as_posix() for p in tmp_path.rglob("*") if p.is_file())
    assert found == ["deep/out/build.json", "deep/out/machine/a.dst"]


def test_an_earlier_build_is_replaced_whole(tmp_path: Path) -> None:
    out = tmp_path / "out"
    put_folder({"old.txt": b"1", RECORD: record("old.txt")}, out)
    put_folder({"new.txt": b"2", RECORD: record("new.txt")}, out)
    assert sorted(p.name for p in out.iterdir()) == [RECORD, "new.txt"]
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


def test_a_folder_with_the_makers_own_files_is_left_alone(tmp_path: Path) -> None:
    out = tmp_path / "out"
    put_folder({"old.txt": b"1", RECORD: record("old.txt")}, out)
    (out / "notes.txt").write_text("mine")
    with pytest.raises(OutputError, match=r"notes\.txt"):
        put_folder({RECORD: record()}, out)
    assert (out / "old.txt").read_bytes() == b"1"


def test_a_foreign_record_does_not_make_the_folder_ours(tmp_path: Path) -> None:
    (tmp_path / RECORD).write_text('{"files": ["a"]}')
    with pytest.raises(OutputError):
        put_folder({RECORD: record()}, tmp_path)


def test_a_failing_write_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    out = tmp_path / "out"
    put_folder({"old.txt": b"1", RECORD: record("old.txt")}, out)
    write_bytes = Path.write_bytes

    def full_disk(self: Path, data: bytes) -> int:
        if self.name == "b.txt":
            raise OSError(28, "No space left on device")
        return write_bytes(self, data)

    monkeypatch.setattr(Path, "write_bytes", full_disk)
    with pytest.raises(OutputError, match="No space left"):
        put_folder({"a.txt": b"1", "b.txt": b"2", RECORD: record("a.txt", "b.txt")}, out)
    assert sorted(p.name for p in out.iterdir()) == [RECORD, "old.txt"]
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


def test_a_failing_move_brings_the_old_folder_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    out = tmp_path / "out"
    put_folder({"old.txt": b"1", RECORD: record("old.txt")}, out)
    rename = Path.rename

    def stuck(self: Path, target: Path) -> Path:
        if self.name == "new":
            raise OSError(13, "Permission denied")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", stuck)
    with pytest.raises(OutputError, match="Permission denied"):
        put_folder({RECORD: record()}, out)
    assert (out / "old.txt").read_bytes() == b"1"


def test_a_file_in_the_way_is_named(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("x")
    with pytest.raises(OutputError, match="is a file"):
        put_folder({RECORD: record()}, tmp_path / "out")


def test_a_build_that_is_broken_off_brings_the_old_folder_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    out = tmp_path / "out"
    put_folder({"old.txt": b"1", RECORD: record("old.txt")}, out)
    rename = Path.rename

    def broken_off(self: Path, target: Path) -> Path:
        if self.name == "new":
            raise KeyboardInterrupt
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", broken_off)
    with pytest.raises(KeyboardInterrupt):
        put_folder({RECORD: record()}, out)
    assert (out / "old.txt").read_bytes() == b"1"
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


def test_a_folder_reached_by_a_link_is_replaced_where_it_really_is(tmp_path: Path) -> None:
    real, link = tmp_path / "real", tmp_path / "link"
    put_folder({"old.txt": b"1", RECORD: record("old.txt")}, real)
    link.symlink_to(real, target_is_directory=True)
    put_folder({"new.txt": b"2", RECORD: record("new.txt")}, link)
    assert link.is_symlink()
    assert sorted(p.name for p in real.iterdir()) == [RECORD, "new.txt"]


def test_a_link_among_the_results_is_the_makers_own(tmp_path: Path) -> None:
    out = tmp_path / "out"
    (tmp_path / "elsewhere").mkdir()
    put_folder({RECORD: record()}, out)
    (out / "mine").symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    with pytest.raises(OutputError, match="mine"):
        put_folder({RECORD: record()}, out)


def test_a_name_that_is_too_long_is_told_in_words(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="too long"):
        put_folder({RECORD: record()}, tmp_path / ("x" * 300))


def test_only_the_first_files_in_the_way_are_named(tmp_path: Path) -> None:
    for i in range(9):
        (tmp_path / f"{i}.txt").write_text("mine")
    with pytest.raises(OutputError, match=r"0\.txt, 1\.txt, 2\.txt and others"):
        put_folder({RECORD: record()}, tmp_path)


def test_what_lies_there(tmp_path: Path) -> None:
    assert what_lies(tmp_path / "out") is None
    put_folder({"a.txt": b"12", "in/b.txt": b"3", RECORD: record("a.txt", "in/b.txt", "gone.txt")}, tmp_path / "out")
    (tmp_path / "out/mine.txt").write_text("mine")
    lies = what_lies(tmp_path / "out")
    assert lies is not None and lies.record is not None
    assert [n for n, _ in lies.files] == ["a.txt", RECORD, "in/b.txt"]
    assert dict(lies.files)["a.txt"] == 2
    assert lies.foreign == ("mine.txt",)
    assert lies.when == (tmp_path / "out" / RECORD).stat().st_mtime


def test_only_what_lies_in_the_folder_is_listed(tmp_path: Path) -> None:
    """A record may name anything; nothing outside the folder is ever shown."""
    out = tmp_path / "out"
    (tmp_path / "elsewhere").mkdir()
    for place in (tmp_path / "elsewhere/x.txt", tmp_path / "y.txt"):
        place.write_text("secret")
    outside = ["../y.txt", str(tmp_path / "y.txt"), "in/x.txt", "..\\y.txt", "C:y.txt", "link.txt"]
    put_folder({RECORD: record(*outside)}, out)
    (out / "in").symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    (out / "link.txt").symlink_to(tmp_path / "y.txt")
    lies = what_lies(out)
    assert lies is not None and [n for n, _ in lies.files] == [RECORD]


def test_a_folder_of_the_makers_own_has_no_record(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("mine")
    (tmp_path / RECORD).write_text(json.dumps({"made_by": "somebody", "files": ["notes.txt"]}))
    lies = what_lies(tmp_path)
    assert lies is not None and lies.record is None and lies.files == () and lies.when == 0.0
    assert lies.foreign == (RECORD, "notes.txt")


def test_what_else_may_be_done_is_told_in_the_words_of_the_caller(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("mine")
    with pytest.raises(OutputError) as told:
        put_folder({RECORD: record()}, tmp_path, "take the archive")
    assert "take the archive" in told.value.cure and "--out" not in told.value.cure
