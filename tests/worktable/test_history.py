from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.core.errors import OutputError
from hoopwright.worktable.history import FOLDER, MARK, VERSIONS, History


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


@pytest.mark.parametrize("mark", ["", "{}", '{"now": 99}', '{"now": "x"}', "[]"])
def test_a_mark_that_is_spoilt_means_the_newest(history: History, mark: str) -> None:
    history.add("a", "a", 0.0)
    history.add("b", "b", 0.0)
    (history.folder / MARK).write_text(mark)
    assert history.now() == 1


def test_a_place_where_nothing_can_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / FOLDER).write_text("a file, not a folder")
    with pytest.raises(OutputError, match="could not be kept"):
        History(tmp_path / "project.toml").add("a", "a", 0.0)
