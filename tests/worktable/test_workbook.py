from __future__ import annotations

import threading
from pathlib import Path

import pytest

from hoopwright.core.errors import HoopwrightError, OutputError, ProjectError
from hoopwright.project.load import load
from hoopwright.worktable.history import FOLDER
from hoopwright.worktable.workbook import OUTSIDE, Change, GoneError, OtherWindowError, Workbook
from tests.worktable.tables import DEMO, Hours, shelf


@pytest.fixture
def book(tmp_path: Path) -> Workbook:
    return Workbook(shelf(tmp_path) / DEMO / "project.toml", Hours())


def title(book: Workbook) -> str:
    return load(book.file).project.title


def test_a_change_is_saved_at_once_and_comments_stay(book: Workbook) -> None:
    before = book.file.read_text(encoding="utf-8")
    page = book.edit(book.page().version, [Change("title", "Other flap")], "renamed")
    assert title(book) == "Other flap"
    after = book.file.read_text(encoding="utf-8")
    assert [x for x, y in zip(before.splitlines(), after.splitlines(), strict=True) if x != y] == [
        'title = "Tide mill flap"'
    ]
    assert (page.version, page.undo, page.redo) == (1, "renamed", None)


def test_undo_and_redo_also_after_a_restart(book: Workbook) -> None:
    before = book.file.read_text(encoding="utf-8")
    book.edit(book.page().version, [Change("title", "One")], "first")
    book.edit(1, [Change("title", "Two")], "second")
    later = Workbook(book.file, Hours())
    assert later.page().undo == "second"
    later.undo()
    page = later.undo()
    assert later.file.read_text(encoding="utf-8") == before
    assert (page.undo, page.redo) == (None, "first")
    later.redo()
    assert later.redo().text == book.file.read_text(encoding="utf-8")
    assert title(book) == "Two"
    with pytest.raises(HoopwrightError, match="nothing to do again"):
        later.redo()


def test_a_slower_window_is_told_and_spoils_nothing(book: Workbook) -> None:
    base = book.page().version
    book.edit(base, [Change("title", "Mine")], "renamed")
    with pytest.raises(OtherWindowError, match="another window"):
        book.edit(base, [Change("title", "Yours")], "renamed")
    assert title(book) == "Mine"


def test_what_holds_already_is_asked_for_again_without_harm(book: Workbook) -> None:
    """A page that is loaded anew before it hears of its change sends it once more."""
    base = book.page().version
    first = book.edit(base, [Change("title", "Mine"), Change("machine.speed", 700)], "renamed")
    again = book.edit(base, [Change("title", "Mine"), Change("machine.speed", 700)], "renamed")
    assert (again.version, again.text, again.undo) == (first.version, first.text, "renamed")
    with pytest.raises(OtherWindowError):
        book.edit(base, [Change("title", "Mine"), Change("machine.speed", 800)], "both")


def test_a_change_in_a_text_editor_becomes_a_version(book: Workbook) -> None:
    base = book.page().version
    book.file.write_text(book.file.read_text(encoding="utf-8").replace("Tide mill flap", "By hand"), encoding="utf-8")
    with pytest.raises(OtherWindowError):
        book.edit(base, [Change("title", "Yours")], "renamed")
    page = book.page()
    assert (page.version, page.undo) == (1, OUTSIDE)
    assert book.undo().text.count("Tide mill flap") >= 1


def test_what_makes_no_project_is_not_saved(book: Workbook) -> None:
    before = book.file.read_bytes()
    with pytest.raises(ProjectError):
        book.edit(book.page().version, [Change("panel.outline.width", -5)], "outline")
    assert book.file.read_bytes() == before
    assert len(book.versions()) == 1


def test_taking_out_what_is_not_there_is_no_fault_and_no_version(book: Workbook) -> None:
    page = book.edit(book.page().version, [Change("panel.order", None)], "order")
    assert page.version == 0 and len(book.versions()) == 1


def test_a_trial_changes_nothing(book: Workbook) -> None:
    before = book.file.read_bytes()
    _, made = book.tried([Change("panel.seam_stitch.stitch", "herringbone")])
    names = {getattr(s.stitch.style, "stitch", None) for h in made.plan.hoopings for s in h.steps}
    assert "herringbone" in names
    assert book.file.read_bytes() == before


def test_a_file_that_cannot_be_read_is_shown_with_its_problems(book: Workbook) -> None:
    book.file.write_text("schema = 1\ntitle = 3\n", encoding="utf-8")
    page = book.page()
    assert page.build is None and page.problems
    assert page.text.startswith("schema")


def test_a_full_disk_is_told_and_the_file_stays(book: Workbook, monkeypatch: pytest.MonkeyPatch) -> None:
    base, before = book.page().version, book.file.read_bytes()

    def full(_fd: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(OutputError, match="No space left"):
        book.edit(base, [Change("title", "New")], "renamed")
    monkeypatch.undo()
    assert book.file.read_bytes() == before
    assert book.edit(base, [Change("title", "New")], "renamed").version == 1


def test_windows_at_once_make_one_row_of_versions(book: Workbook) -> None:
    book.page()
    said: list[str] = []

    def work(k: int) -> None:
        try:
            book.edit(0, [Change("title", f"Title {k}")], f"{k}")
            said.append("done")
        except OtherWindowError:
            said.append("late")

    threads = [threading.Thread(target=work, args=(k,)) for k in range(6)]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    assert sorted(said) == ["done"] + ["late"] * 5
    assert len(book.versions()) == 2


def test_history_stands_beside_the_project_file_not_in_it(book: Workbook) -> None:
    book.edit(book.page().version, [Change("title", "New")], "renamed")
    assert sorted(p.name for p in book.file.parent.iterdir() if p.name.startswith(".")) == [FOLDER]


def test_what_was_changed_elsewhere_on_another_place_stands_beside_it(book: Workbook) -> None:
    base = book.page().version
    book.edit(base, [Change("title", "Mine")], "renamed")
    page = book.edit(base, [Change("machine.speed", 700)], "slower")
    assert page.loaded is not None
    assert (page.loaded.project.title, page.loaded.project.machine.speed) == ("Mine", 700)
    with pytest.raises(OtherWindowError):
        book.edit(base, [Change("machine.speed", 800), Change("title", "Yours")], "both")
    with pytest.raises(OtherWindowError):
        book.edit(99, [Change("machine.speed", 800)], "of no version")
    assert load(book.file).project.machine.speed == 700


def test_the_way_back_from_a_file_that_cannot_be_read(book: Workbook) -> None:
    book.edit(book.page().version, [Change("title", "Good")], "renamed")
    good = book.file.read_text(encoding="utf-8")
    book.file.write_text(good.replace("[hoop]", "[hoop"), encoding="utf-8")
    page = book.page()
    assert page.loaded is None and page.sound == 1 and page.problems[0].where.line
    with pytest.raises(HoopwrightError):
        book.edit(page.version, [Change("title", "New")], "renamed")
    assert book.go(page.sound).loaded is not None
    assert book.file.read_text(encoding="utf-8") == good
    assert [v.what for v in book.versions()][-1] == OUTSIDE, "what the editor wrote is kept too"


@pytest.mark.parametrize("spoilt", [b"\xff\xfe\x00", b"title = \xe4", b"x" * 1_000_001, b"a\0b"])
def test_a_file_that_is_no_text_is_put_by(book: Workbook, spoilt: bytes) -> None:
    before = book.page()
    book.file.write_bytes(spoilt)
    page = book.page()
    assert (page.version, page.whole, page.loaded, page.sound) == (before.version, False, None, before.version)
    assert book.version() == (before.version, False) and page.problems
    with pytest.raises(HoopwrightError, match="cannot be read"):
        book.edit(page.version, [Change("title", "New")], "renamed")
    with pytest.raises(HoopwrightError, match="cannot be read"):
        book.tried([Change("title", "New")])
    assert book.go(before.version).whole
    kept = book.file.parent / FOLDER / "unreadable-1.toml"
    assert kept.read_bytes() == spoilt


def test_a_project_that_is_away_is_told_and_goes_on_when_it_is_back(book: Workbook, tmp_path: Path) -> None:
    base = book.page().version
    home, away = book.file.parent, tmp_path / "away"
    home.rename(away)
    for ask in (book.page, book.version, book.undo, lambda: book.edit(base, [Change("title", "New")], "x")):
        with pytest.raises(GoneError, match="cannot be found"):
            ask()
    assert not home.exists()
    away.rename(home)
    assert book.edit(base, [Change("title", "New")], "x").undo == "x"


def test_versions_that_cannot_be_kept_leave_the_file_as_it_was(book: Workbook) -> None:
    base, before = book.page().version, book.file.read_bytes()
    versions = book.file.parent / FOLDER / "versions.jsonl"
    versions.rename(versions.with_name("aside"))
    versions.mkdir()
    with pytest.raises(OutputError, match="could not be kept"):
        book.edit(base, [Change("title", "New")], "renamed")
    assert book.file.read_bytes() == before


def test_a_look_is_cheap(book: Workbook) -> None:
    """Windows look every 1.5 s: no plan is made for it."""
    book.page()
    calls: list[int] = []
    book._made = lambda _text: calls.append(1)  # type: ignore[assignment, method-assign, return-value]
    assert book.version() == (0, True) and calls == []


def test_a_version_with_a_name(book: Workbook) -> None:
    book.page()
    book.name(0, "first")
    assert [v.name for v in book.versions()] == ["first"]
