"""One project on the table: its text, its versions, its build; every change is saved at once.

Words: a *change* sets values at places of the project file, or takes them out; the *base* is the version that a page had
before it when it asked for the change: when another window was faster, the change is not made and the page is told.
"""

from __future__ import annotations

import contextlib
import shutil
import threading
import tomllib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from hoopwright.build import Build
from hoopwright.core.errors import HoopwrightError, OutputError, ProjectError, reason_of
from hoopwright.core.findings import Finding
from hoopwright.pipeline import build
from hoopwright.project.load import LARGEST_FILE, Loaded, load, parse
from hoopwright.project.places import read_path
from hoopwright.project.save import save, set_value
from hoopwright.worktable.history import FOLDER, History, Version, version_of

OPENED: Final = "opened"
OUTSIDE: Final = "changed outside"
SPOILT: Final = "unreadable-{n}.toml"
"""The name under which a project file that is no text is put by, beside the versions, before it is replaced."""
LOOKED_AT: Final = 100
"""So many earlier versions are looked at for one that can be read."""

Clock = Callable[[], float]


@dataclass(frozen=True, slots=True)
class Change:
    """One value of the project file: ``path`` as findings write it, ``value`` None takes it out."""

    path: str
    value: Any


class OtherWindowError(HoopwrightError):
    """Another window, or another program, changed the project first."""


class GoneError(HoopwrightError):
    """The project, or the place where it lay, is no longer there."""


@dataclass(frozen=True, slots=True, eq=False)
class Page:
    """What a window needs to know of a project: the version, its text, the build with all findings (None: cannot be read).

    ``problems`` are those of the file itself. ``undo`` and ``redo`` say what would be undone and done again, None nothing.
    ``sound`` is the number of the newest version that can be read, for a project that cannot. ``whole`` is False for a file that is
    no text: then ``text`` is that of the last version.
    """

    version: int
    text: str
    loaded: Loaded | None
    build: Build | None
    problems: tuple[Finding, ...]
    undo: str | None
    redo: str | None
    sound: int | None = None
    whole: bool = True


class Workbook:
    """A project that is worked on. Its methods may be called from several threads."""

    def __init__(self, file: Path, clock: Clock) -> None:
        """Open the project file ``file``; ``clock`` gives the time of new versions, in seconds since 1970."""
        self.file = file
        self.history = History(file)
        self.clock = clock
        self.lock = threading.RLock()
        self._kept: tuple[str, object, Loaded, Build] | None = None

    def forget(self) -> None:
        """Let go of what can be read and planned again, unless it is being worked with."""
        if self.lock.acquire(blocking=False):
            try:
                self._kept = None
                self.history.forget()
            finally:
                self.lock.release()

    def page(self) -> Page:
        """Return how the project stands now. Raises GoneError for a file that is not there, OutputError for a full disk."""
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
                self._sound(version) if loaded is None else None,
                self._text() is not None,
            )

    def known(self) -> Loaded | None:
        """Return the project as it was read last, also when it was changed since; None for one that cannot be read."""
        kept = self._kept
        return self.page().loaded if kept is None else kept[2]

    def version(self) -> tuple[int, bool]:
        """Return the number of the version that holds and whether the file is a text, without looking further. Raises like ``page``."""
        with self.lock:
            return self._now().number, self._text() is not None

    def edit(self, base: int, changes: Sequence[Change], what: str) -> Page:
        """Make changes and save the project.

        Raises OtherWindowError when places of the changes were changed since the version ``base``, HoopwrightError when they make
        no valid project; nothing is changed then.
        """
        with self.lock:
            version = self._now()
            if version.number != base and not self._apart(base, version, changes):
                raise OtherWindowError(
                    "The project was changed in another window in the meantime", "Here is how it stands now: try again"
                )
            if self._text() is None:
                raise HoopwrightError("The project file cannot be read", "Open the last version that can be read first")
            text = changed(version.text, changes)
            if text != version.text:
                save(self.file, text)
                self._keep(text, version.text, what)
            return self.page()

    def _apart(self, base: int, now: Version, changes: Sequence[Change]) -> bool:
        """Whether all that was changed since the version ``base`` lies elsewhere than the changes, which may then be made too.

        A change that holds already is no other: a page that was left before it heard so asks for it again.
        """
        before = version_of(self.history.versions(), base)
        if before is None:
            return False
        with contextlib.suppress(tomllib.TOMLDecodeError, ValueError, RecursionError):
            then, is_ = tomllib.loads(before.text), tomllib.loads(now.text)
            return all(_at(is_, c.path) in (_at(then, c.path), c.value) for c in changes)
        return False

    def tried(self, changes: Sequence[Change]) -> tuple[Loaded, Build]:
        """Return the build that changes would give, without the proofs on the cloth; nothing is saved.

        Raises HoopwrightError when they make no valid project.
        """
        text = self._text()
        if text is None:
            raise HoopwrightError("The project file cannot be read", "Open the last version that can be read first")
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
        return self._go(lambda: version_of(self.history.versions(), number), "This version is no longer kept")

    def versions(self) -> tuple[Version, ...]:
        """Return all versions, the oldest first."""
        return self.history.versions()

    def name(self, number: int, name: str | None) -> None:
        """Give a version a name, or take it away; one with a name is kept for good. Raises HoopwrightError when it is not there."""
        with self.lock:
            self.history.name(number, name)

    def _go(self, to: Callable[[], Version | None], nothing: str) -> Page:
        with self.lock:
            self._now()
            version = to()
            if version is None:
                raise HoopwrightError(nothing, "Go on working")
            self._put_by()
            save(self.file, version.text)
            self.history.mark(version.number)
            return self.page()

    def _keep(self, text: str, before: str, what: str) -> None:
        """Keep a version of what was just saved; the file becomes what it was when that cannot be done."""
        try:
            self.history.add(text, what, self.clock())
        except OutputError:
            with contextlib.suppress(HoopwrightError):
                save(self.file, before)
            raise

    def _now(self) -> Version:
        """Return the version that holds; the file's text becomes a new one when it was changed elsewhere."""
        text = self._text()
        versions = self.history.versions()
        held = version_of(versions, self.history.now(versions))
        if held is not None and text in (held.text, None):
            return held
        return self.history.add(text or "", OPENED if held is None else OUTSIDE, self.clock())

    def _text(self) -> str | None:
        """Return the file's text, None for one that is no text. Raises GoneError when there is no file to be read."""
        try:
            with self.file.open("rb") as file:
                content = file.read(LARGEST_FILE + 1)
        except OSError as error:
            raise GoneError(
                f"The project cannot be found where it was ({reason_of(error)})",
                "Put its folder back, or go to the shelf and look for it there",
            ) from error
        if len(content) > LARGEST_FILE or b"\0" in content:
            return None
        try:
            return content.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
        except UnicodeDecodeError:
            return None

    def _put_by(self) -> None:
        """Put a project file that is no text by, so that nothing is lost when another version takes its place."""
        if self._text() is not None:
            return
        home = self.file.parent / FOLDER
        names = (home / SPOILT.format(n=n) for n in range(1, 1000))
        try:
            shutil.copyfile(self.file, next(p for p in names if not p.exists()))
        except OSError as error:
            raise OutputError(
                f"The unreadable file could not be put by ({reason_of(error)})", "Make room on the disk"
            ) from error

    def _sound(self, held: Version) -> int | None:
        """Return the newest version that can be read: the one that holds if only its file is spoilt, else an earlier one."""
        earlier = [v for v in reversed(self.history.versions()) if v.number != held.number]
        for version in (held, *earlier[:LOOKED_AT]):
            with contextlib.suppress(ProjectError):
                parse(version.text, self.file.parent)
                return version.number
        return None

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


def _at(data: Any, path: str) -> Any:
    """Return what stands at a place, None for nothing. Raises ValueError for no place."""
    for key in read_path(path):
        try:
            data = data[key]
        except (KeyError, IndexError, TypeError):
            return None
    return data


def _there(text: str, path: str) -> bool:
    """Whether something stands at a place; what is not there need not be taken out."""
    try:
        set_value(text, path, None)
    except HoopwrightError:
        return False
    return True
