"""One project on the table: its text, its versions, its build; every change is saved at once.

Words: a *change* sets values at places of the project file, or takes them out; the *base* is the version that a page had
before it when it asked for the change: when another window was faster, the change is not made and the page is told.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from hoopwright.build import Build
from hoopwright.core.errors import HoopwrightError, ProjectError
from hoopwright.core.findings import Finding
from hoopwright.pipeline import build
from hoopwright.project.load import Loaded, load, parse
from hoopwright.project.save import save, set_value
from hoopwright.worktable.history import History, Version

OPENED: Final = "opened"
OUTSIDE: Final = "changed outside"

Clock = Callable[[], float]


@dataclass(frozen=True, slots=True)
class Change:
    """One value of the project file: ``path`` as findings write it, ``value`` None takes it out."""

    path: str
    value: Any


class OtherWindowError(HoopwrightError):
    """Another window, or another program, changed the project first."""


@dataclass(frozen=True, slots=True, eq=False)
class Page:
    """What a window needs to know of a project: the version, its text, the build with all findings (None: cannot be read).

    ``problems`` are those of the file itself. ``undo`` and ``redo`` say what would be undone and done again, None nothing.
    """

    version: int
    text: str
    loaded: Loaded | None
    build: Build | None
    problems: tuple[Finding, ...]
    undo: str | None
    redo: str | None


class Workbook:
    """A project that is worked on. Its methods may be called from several threads."""

    def __init__(self, file: Path, clock: Clock) -> None:
        """Open the project file ``file``; ``clock`` gives the time of new versions, in seconds since 1970."""
        self.file = file
        self.history = History(file)
        self.clock = clock
        self.lock = threading.RLock()
        self._kept: tuple[str, object, Loaded, Build] | None = None

    def page(self) -> Page:
        """Return how the project stands now. Raises ProjectError for a file that is no text, OutputError for a full disk."""
        with self.lock:
            version = self._now()
            undo, redo = self.history.undo(), self.history.redo()
            loaded, made, problems = self._made(version.text)
            return Page(
                version.number,
                version.text,
                loaded,
                made,
                problems,
                version.what if undo is not None else None,
                redo.what if redo is not None else None,
            )

    def edit(self, base: int, changes: Sequence[Change], what: str) -> Page:
        """Make changes and save the project. Raises HoopwrightError, with nothing changed, when they make no valid project."""
        with self.lock:
            version = self._now()
            if version.number != base:
                raise OtherWindowError(
                    "The project was changed in another window in the meantime", "Here is how it stands now: try again"
                )
            text = changed(version.text, changes)
            if text != version.text:
                save(self.file, text)
                self.history.add(text, what, self.clock())
            return self.page()

    def tried(self, changes: Sequence[Change]) -> tuple[Loaded, Build]:
        """Return the build that changes would give, without the proofs on the cloth; nothing is saved.

        Raises HoopwrightError when they make no valid project.
        """
        text = self.file.read_text(encoding="utf-8-sig")
        loaded = parse(changed(text, changes), self.file.parent)
        return loaded, build(loaded.project, dict(loaded.drawings), prove=False)

    def undo(self) -> Page:
        """Go back to the version from which this one came. Raises HoopwrightError when there is none."""
        return self._go(self.history.undo, "There is nothing to undo")

    def redo(self) -> Page:
        """Go to the newest version that came from this one. Raises HoopwrightError when there is none."""
        return self._go(self.history.redo, "There is nothing to do again")

    def go(self, number: int) -> Page:
        """Let any kept version hold. Raises HoopwrightError when there is no such version."""
        return self._go(lambda: next((v for v in self.history.versions() if v.number == number), None), "Not kept")

    def versions(self) -> tuple[Version, ...]:
        """Return all versions, the oldest first."""
        return self.history.versions()

    def _go(self, to: Callable[[], Version | None], nothing: str) -> Page:
        with self.lock:
            self._now()
            version = to()
            if version is None:
                raise HoopwrightError(nothing, "Go on working")
            save(self.file, version.text)
            self.history.mark(version.number)
            return self.page()

    def _now(self) -> Version:
        """Return the version that holds; the file's text becomes a new one when it was changed elsewhere."""
        text = self.file.read_text(encoding="utf-8-sig")
        versions = self.history.versions()
        number = self.history.now(versions)
        if number is not None and versions[number].text == text:
            return versions[number]
        return self.history.add(text, OPENED if number is None else OUTSIDE, self.clock())

    def _made(self, text: str) -> tuple[Loaded | None, Build | None, tuple[Finding, ...]]:
        try:
            loaded = load(self.file)
        except ProjectError as error:
            return None, None, error.findings
        if self._kept is None or self._kept[0] != text or self._kept[1] != loaded.drawings:
            self._kept = (text, loaded.drawings, loaded, build(loaded.project, dict(loaded.drawings)))
        return loaded, self._kept[3], loaded.findings


def changed(text: str, changes: Sequence[Change]) -> str:
    """Return a project's text with changes made, in order. Raises HoopwrightError for a place that cannot be set."""
    for change in changes:
        if change.value is None and not _there(text, change.path):
            continue
        text = set_value(text, change.path, change.value)
    return text


def _there(text: str, path: str) -> bool:
    """Whether something stands at a place; what is not there need not be taken out."""
    try:
        set_value(text, path, None)
    except HoopwrightError:
        return False
    return True
