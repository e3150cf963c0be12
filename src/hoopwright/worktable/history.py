"""Every version of a project, kept beside it, so that each change can be undone, also tomorrow.

Words: a *version* is the whole text of the project file at one time, with what was done; it remembers from which version it
came. *Undo* goes back to that one; a change made after it starts a branch, and the other branch stays where it is.
The versions stand in one file, a line each, to which lines are only added; a line may also give an older version a *name*.
The *mark* says which version holds now. When there are very many, old ones are thinned (see ``thinned``): never the
first, the newest, the one that holds, or one with a name.
"""

from __future__ import annotations

import json
import math
import os
import threading
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final, TypeAlias

from hoopwright.core.errors import HoopwrightError, OutputError, reason_of
from hoopwright.worktable.whole import read_whole, write_whole

FOLDER: Final = ".hoopwright"
"""The folder beside a project file in which the worktable keeps what is not part of the project."""
VERSIONS: Final = "versions.jsonl"
MARK: Final = "now.json"
LARGEST_MARK: Final = 1_000
NEWEST: Final = 200
"""So many of the newest versions are never thinned."""
SPARE: Final = 800
"""So many older ones without a name are kept before every second of them goes."""
MOST_BYTES: Final = 64_000_000
"""Beyond it the versions are thinned although they are few; a project file is 10 to 30 KB as a rule, at most 1 MB."""
LARGEST: Final = 4 * MOST_BYTES
"""A file of versions larger than this is not of our making, and is not read."""

Signature: TypeAlias = tuple[int, int, int]
"""Size, time of change and number on the disk: another one, another content."""


@dataclass(frozen=True, slots=True)
class Version:
    """One version: its number, the one it came from (None: none), when (seconds since 1970), what was done, the text, its name."""

    number: int
    parent: int | None
    when: float
    what: str
    text: str
    name: str | None = None


def signature(path: Path) -> Signature | None:
    """Return by what a change of a file is seen; None for one that is not there."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_size, found.st_mtime_ns, found.st_ino


class History:
    """The versions of one project. What was read is kept until the file changes, also by another hand."""

    def __init__(self, project: Path) -> None:
        """Keep the versions of the project file at ``project``."""
        self.folder = project.parent / FOLDER
        self.project = project
        self._lock = threading.RLock()
        self._seen: tuple[Signature, tuple[Version, ...]] | None = None

    def versions(self) -> tuple[Version, ...]:
        """Return all versions, the oldest first. A last line that was cut off (a full disk, a lost battery) is left out."""
        path = self.folder / VERSIONS
        with self._lock:
            stamp = None if self.folder.is_symlink() or path.is_symlink() else signature(path)
            if stamp is None or stamp[0] > LARGEST:
                return ()
            if self._seen is None or self._seen[0] != stamp:
                self._seen = (stamp, _read_all(path))
            return self._seen[1]

    def forget(self) -> None:
        """Let go of what was read; it is read again when it is needed."""
        with self._lock:
            self._seen = None

    def now(self, versions: Sequence[Version] | None = None) -> int | None:
        """Return the number of the version that holds; the newest when the mark is missing; None without versions."""
        all_ = self.versions() if versions is None else versions
        if not all_:
            return None
        try:
            number = json.loads(read_whole(self.folder / MARK, LARGEST_MARK))["now"]
        except (OSError, ValueError, KeyError, TypeError, RecursionError):
            return all_[-1].number
        return number if isinstance(number, int) and version_of(all_, number) is not None else all_[-1].number

    def add(self, text: str, what: str, when: float) -> Version:
        """Keep a new version that came from the one that holds, and let it hold. Raises OutputError when it cannot be kept."""
        with self._lock:
            versions = self.versions()
            number = versions[-1].number + 1 if versions else 0
            version = Version(number, self.now(versions), when, what, text)
            try:
                self._own_folder()
                self._append(_row(version), (*versions, version))
                self._thin()
            except OSError as error:
                raise _lost(error) from error
            self.mark(version.number)
            return version

    def name(self, number: int, name: str | None) -> None:
        """Give a version a name, or take it away. Raises HoopwrightError for one that is not there, OutputError like ``add``."""
        with self._lock:
            versions = self.versions()
            if version_of(versions, number) is None:
                raise HoopwrightError("This version is no longer kept", "Choose another one")
            after = tuple(replace(v, name=name) if v.number == number else v for v in versions)
            try:
                self._append({"named": number, "name": name}, after)
            except OSError as error:
                raise _lost(error) from error

    def mark(self, number: int) -> None:
        """Let a version hold. Raises OutputError when that cannot be kept."""
        try:
            write_whole(self.folder / MARK, json.dumps({"now": number}).encode())
        except OSError as error:
            raise _lost(error) from error

    def undo(self) -> Version | None:
        """Return the version from which the one that holds came; None when there is none."""
        versions = self.versions()
        held = version_of(versions, self.now(versions))
        return None if held is None or held.parent is None else version_of(versions, held.parent)

    def redo(self) -> Version | None:
        """Return the newest version that came from the one that holds; None when there is none."""
        versions = self.versions()
        now = self.now(versions)
        return next((v for v in reversed(versions) if now is not None and v.parent == now), None)

    def _own_folder(self) -> None:
        if self.folder.is_symlink():
            raise OSError(0, f"{FOLDER} is a link to another place")
        self.folder.mkdir(exist_ok=True)

    def _append(self, row: dict[str, Any], after: tuple[Version, ...]) -> None:
        """Add a line; ``after`` is what the file then holds, unless another hand wrote in it meanwhile."""
        path = self.folder / VERSIONS
        if path.is_symlink():
            raise OSError(0, f"{VERSIONS} is a link to another place")
        before = signature(path)
        broken = before is not None and before[0] > 0 and not _ends_whole(path)
        line = (b"\n" if broken else b"") + (json.dumps(row, ensure_ascii=False) + "\n").encode()
        with path.open("ab") as file:
            file.write(line)
            file.flush()
            os.fsync(file.fileno())
        now, seen = signature(path), self._seen
        alone = now is not None and now[0] == (before[0] if before else 0) + len(line)
        known = before is None or (seen is not None and seen[0] == before)
        self._seen = (now, after) if now is not None and alone and known else None

    def _thin(self) -> None:
        """Write the file anew with fewer versions when there are too many; the old one stays until the new one is whole."""
        versions = self.versions()
        size = (self.folder / VERSIONS).stat().st_size
        kept = thinned(versions, self.now(versions), spare=1 if size > MOST_BYTES else SPARE)
        if len(kept) == len(versions):
            return
        lines = (json.dumps(_row(version), ensure_ascii=False) + "\n" for version in kept)
        write_whole(self.folder / VERSIONS, "".join(lines).encode())


def thinned(versions: Sequence[Version], now: int | None, *, spare: int = SPARE) -> tuple[Version, ...]:
    """Return the versions that stay: all of them unless more than ``spare`` may go, else without every second of those.

    What may go is older than the newest ones, has no name, and is neither the first nor the one that holds. What came from
    one that went comes from the nearest one before it that stays.
    """
    free = [v for v in versions[1:-NEWEST] if v.name is None and v.number != now]
    if len(free) <= spare:
        return tuple(versions)
    gone = {v.number: v.parent for v in free[::2]}
    return tuple(replace(v, parent=_kept_parent(v.parent, gone)) for v in versions if v.number not in gone)


def _kept_parent(parent: int | None, gone: dict[int, int | None]) -> int | None:
    while parent in gone:
        parent = gone[parent]
    return parent


def version_of(versions: Sequence[Version], number: int | None) -> Version | None:
    """Return the version with a number; None when it is not there."""
    if number is None:
        return None
    low, high = 0, len(versions)
    while low < high:
        middle = (low + high) // 2
        if versions[middle].number < number:
            low = middle + 1
        else:
            high = middle
    return versions[low] if low < len(versions) and versions[low].number == number else None


def _ends_whole(path: Path) -> bool:
    with path.open("rb") as file:
        file.seek(-1, os.SEEK_END)
        return file.read(1) == b"\n"


def _row(version: Version) -> dict[str, Any]:
    row = {k: getattr(version, k) for k in ("number", "parent", "when", "what", "text")}
    return row if version.name is None else {**row, "name": version.name}


def _read_all(path: Path) -> tuple[Version, ...]:
    try:
        lines = path.read_text(encoding="utf-8", errors="replace").split("\n")
    except OSError:
        return ()
    found: dict[int, Version] = {}
    newest = -1
    for line in lines:
        row = _data(line)
        named = row.get("named")
        if isinstance(named, int) and named in found:
            name = row.get("name")
            found[named] = replace(found[named], name=name if isinstance(name, str) else None)
        version = _version(row, newest, found)
        if version is not None:
            newest = version.number
            found[newest] = version
    return tuple(found.values())


def _data(line: str) -> dict[str, Any]:
    try:
        row = json.loads(line)
    except (ValueError, RecursionError):
        return {}
    return row if isinstance(row, dict) else {}


def _version(row: dict[str, Any], newest: int, found: dict[int, Version]) -> Version | None:
    """Return the version of a row, with the next number when its own does not follow; None for a row that is not whole."""
    try:
        number, parent, name = row.get("number"), row["parent"], row.get("name")
        when, what, text = float(row["when"]), str(row["what"]), row["text"]
    except (ValueError, KeyError, TypeError, OverflowError):
        return None
    if not isinstance(text, str) or not math.isfinite(when):
        return None
    number = number if isinstance(number, int) and newest < number < 2**53 else newest + 1
    parent = parent if isinstance(parent, int) and parent in found else None
    return Version(number, parent, when, what, text, name if isinstance(name, str) else None)


def _lost(error: OSError) -> OutputError:
    return OutputError(
        f"The change could not be kept ({reason_of(error)})", "Make room on the disk or see that you may write there"
    )
