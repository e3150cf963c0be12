from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.core.errors import HoopwrightError, OutputError
from hoopwright.worktable import history as module
from hoopwright.worktable.history import FOLDER, MARK, NEWEST, SPARE, VERSIONS, History, Version, thinned, version_of


@pytest.fixture
def history(tmp_path: Path) -> History:
    return History(tmp_path / "project.toml")


def test_nothing_yet(history: History) -> None:
    assert (history.versions(), history.now(), history.undo(), history.redo()) == ((), None, None, None)


def test_versions_remember_what_when_and_from_where(history: History) -> None:
    history.add("one", "opened", 5.0)
    history.add("two\n", "drew a cut", 6.5)
    first, second = History(history.project).versions()
    assert (first.number, first.parent, first.when, first.what, first.text) == (0, None, 5.0, "opened", "one")
    assert (second.number, second.parent, second.text) == (1, 0, "two\n")


def test_a_branch_left_by_undo_stays(history: History) -> None:
    for text in "abc":
        history.add(text, text, 0.0)
    back = history.undo()
    assert back is not None and back.text == "b"
    history.mark(back.number)
    history.add("d", "d", 0.0)
    assert [v.text for v in history.versions()] == list("abcd")
    assert history.versions()[3].parent == 1
    undone = history.undo()
    assert undone is not None and undone.text == "b"
    history.mark(1)
    redone = history.redo()
    assert redone is not None and redone.text == "d"


@given(st.lists(st.sampled_from(["add", "undo", "redo"]), max_size=25))
def test_undo_and_redo_follow_a_model(tmp_path_factory: pytest.TempPathFactory, work: list[str]) -> None:
    """The model keeps plain lists: what was added, its parent, and where we are."""
    history = History(tmp_path_factory.mktemp("h") / "project.toml")
    texts: list[str] = []
    parents: list[int | None] = []
    at: int | None = None
    for k, do in enumerate(work):
        if do == "add":
            history.add(str(k), do, 0.0)
            parents.append(at)
            texts.append(str(k))
            at = len(texts) - 1
        elif do == "undo":
            found = history.undo()
            expected = None if at is None else parents[at]
            assert (None if found is None else found.number) == expected
            if found is not None:
                history.mark(found.number)
                at = found.number
        else:
            found = history.redo()
            children = [i for i, p in enumerate(parents) if p == at and at is not None]
            assert (None if found is None else found.number) == (children[-1] if children else None)
            if found is not None:
                history.mark(found.number)
                at = found.number
    assert [v.text for v in history.versions()] == texts


def test_a_line_cut_off_by_a_full_disk_loses_nothing_before_and_after_it(history: History) -> None:
    history.add("a", "a", 0.0)
    path = history.folder / VERSIONS
    whole = path.read_bytes()
    path.write_bytes(whole + whole[: len(whole) // 2])
    assert [v.text for v in history.versions()] == ["a"]
    history.add("b", "b", 0.0)
    assert [v.text for v in history.versions()] == ["a", "b"]


@pytest.mark.parametrize("mark", ["", "{}", '{"now": 99}', '{"now": "x"}', "[]", '{"now": 0}' + " " * 5_000])
def test_a_mark_that_is_spoilt_means_the_newest(history: History, mark: str) -> None:
    history.add("a", "a", 0.0)
    history.add("b", "b", 0.0)
    (history.folder / MARK).write_text(mark)
    assert history.now() == 1


def test_a_place_where_nothing_can_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / FOLDER).write_text("a file, not a folder")
    with pytest.raises(OutputError, match="could not be kept"):
        History(tmp_path / "project.toml").add("a", "a", 0.0)


def test_what_another_hand_writes_is_seen(history: History) -> None:
    """Two programs with the same project open."""
    history.add("a", "a", 0.0)
    other = History(history.project)
    other.add("b", "b", 0.0)
    assert [v.text for v in history.versions()] == ["a", "b"]
    history.add("c", "c", 0.0)
    other.mark(0)
    assert [v.text for v in other.versions()] == ["a", "b", "c"] and history.now() == 0
    (history.folder / VERSIONS).unlink()
    assert history.versions() == ()


def test_the_file_is_read_once_as_long_as_nobody_changes_it(history: History, monkeypatch: pytest.MonkeyPatch) -> None:
    history.add("a", "a", 0.0)
    read: list[Path] = []
    plain = module._read_all

    def noted(path: Path) -> tuple[Version, ...]:
        read.append(path)
        return plain(path)

    monkeypatch.setattr(module, "_read_all", noted)
    for k in range(20):
        history.add(str(k), "k", 0.0)
        history.undo(), history.redo(), history.now()
    assert read == []
    assert [v.text for v in History(history.project).versions()] == ["a", *map(str, range(20))]


def test_two_hands_at_once_lose_nothing(history: History) -> None:
    """Both had the same versions before they wrote: the numbers of the later one move up."""
    history.add("a", "a", 0.0)
    line = json.dumps({"number": 1, "parent": 0, "when": 1.0, "what": "b", "text": "b"}) + "\n"
    with (history.folder / VERSIONS).open("a") as file:
        file.write(line)
        file.write(line.replace('"b"', '"c"'))
    assert [(v.number, v.text, v.parent) for v in history.versions()] == [(0, "a", None), (1, "b", 0), (2, "c", 0)]


def test_names_stay(history: History) -> None:
    history.add("a", "a", 0.0)
    history.add("b", "b", 0.0)
    history.name(0, "before the ribbon")
    history.name(1, "x")
    history.name(1, None)
    for one in (history, History(history.project)):
        assert [v.name for v in one.versions()] == ["before the ribbon", None]
    with pytest.raises(HoopwrightError, match="no longer kept"):
        history.name(7, "x")


def row(count: int, named: frozenset[int] = frozenset()) -> tuple[Version, ...]:
    return tuple(Version(k, k - 1 if k else None, 0.0, "k", str(k), "n" if k in named else None) for k in range(count))


def test_few_versions_are_all_kept() -> None:
    few = row(NEWEST + SPARE + 1)
    assert thinned(few, 5) == few


@given(
    st.integers(NEWEST + 2, 2000),
    st.frozensets(st.integers(0, 1999), max_size=30),
    st.integers(0, 1999),
    st.integers(0, 900),
)
def test_thinning_keeps_what_it_promises(count: int, named: frozenset[int], now: int, spare: int) -> None:
    before = row(count, named)
    after = thinned(before, now, spare=spare)
    left = {v.number for v in after}
    must = {0, *range(count - NEWEST, count)} | {n for n in (*named, now) if n < count}
    assert must <= left
    assert len(after) == count or len(after) <= len(must) + max(spare, (count - len(must) + 1) // 2)
    assert [v.number for v in after] == sorted(left)
    for v in after:
        assert v.text == str(v.number)
        if v.number:
            assert v.parent == max(n for n in left if n < v.number), "undo goes to the nearest one that stays"


def test_the_file_is_thinned_whole_and_undo_goes_on(history: History, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "NEWEST", 5)
    monkeypatch.setattr(module, "SPARE", 4)
    for k in range(40):
        history.add(str(k), "k", float(k))
        if k == 3:
            history.name(3, "kept")
    rows = History(history.project).versions()
    assert len(rows) < 15 and rows[0].text == "0" and rows[-1].text == "39"
    assert [v.name for v in rows if v.text == "3"] == ["kept"]
    assert [v.text for v in rows[-5:]] == ["35", "36", "37", "38", "39"]
    steps = 0
    while (back := history.undo()) is not None:
        history.mark(back.number)
        steps += 1
    assert steps == len(rows) - 1 and history.now() == 0


@pytest.mark.parametrize(
    "line",
    [
        "[" * 100_000,
        '{"parent": null}',
        '{"number": 0, "parent": null, "when": 1e999, "what": "x", "text": "x"}',
        '{"number": 0, "parent": null, "when": 0, "what": "x", "text": 5}',
        '"x"',
        "\u2028",
    ],
)
def test_lines_that_are_no_versions_are_left_out(history: History, line: str) -> None:
    history.folder.mkdir()
    (history.folder / VERSIONS).write_text(line + "\n", encoding="utf-8")
    assert history.versions() == ()
    history.add("a\u2028b", "a", 0.0)
    assert [v.text for v in History(history.project).versions()] == ["a\u2028b"]


def test_a_number_that_does_not_follow_is_not_taken(history: History) -> None:
    history.folder.mkdir()
    rows = [{"number": n, "parent": 3, "when": 0, "what": "x", "text": "x"} for n in (5, 5, -1, 10**20, True)]
    (history.folder / VERSIONS).write_text("\n".join(map(json.dumps, rows)) + "\n")
    numbers = [v.number for v in history.versions()]
    assert numbers == sorted(set(numbers)) and len(numbers) == 5
    assert all(version_of(history.versions(), n) is not None for n in numbers)


def test_a_link_to_another_place_is_not_written_through(tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
    (tmp_path / "one" / FOLDER).symlink_to(outside)
    (tmp_path / "two" / FOLDER).mkdir()
    (tmp_path / "two" / FOLDER / VERSIONS).symlink_to(outside / "file")
    for name in ("one", "two"):
        with pytest.raises(OutputError, match="link to another place"):
            History(tmp_path / name / "project.toml").add("a", "a", 0.0)
    assert list(outside.iterdir()) == []
