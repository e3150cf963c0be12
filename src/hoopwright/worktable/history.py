"""Every version of a project, kept beside it, so that each change can be undone, also tomorrow.

Words: a *version* is the whole text of the project file at one time, with what was done; it remembers from which version it
came. *Undo* goes back to that one; a change made after it starts a branch, and the other branch stays where it is.
The versions stand in one file, a line each, to which lines are only added; the *mark* says which version holds now.
"""

from __future__ import annotations

import json
import os
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Final

from hoopwright.core.errors import OutputError, reason_of

FOLDER: Final = ".hoopwright"
"""The folder beside a project file in which the worktable keeps what is not part of the project."""
VERSIONS: Final = "versions.jsonl"
MARK: Final = "now.json"


@dataclass(frozen=True, slots=True)
class Version:
    """One version: its number from 0, the one it came from (None: none), when (seconds since 1970), what was done, the text."""

    number: int
    parent: int | None
    when: float
    what: str
    text: str


class History:
    """The versions of one project. Nothing is kept in memory between calls but what stands in the file."""

    def __init__(self, project: Path) -> None:
        """Keep the versions of the project file at ``project``."""
        self.folder = project.parent / FOLDER
        self.project = project

    def versions(self) -> tuple[Version, ...]:
        """Return all versions, the oldest first. A last line that was cut off (a full disk, a lost battery) is left out."""
        try:
            lines = (self.folder / VERSIONS).read_text(encoding="utf-8").splitlines()
        except OSError:
            return ()
        found: list[Version] = []
        for line in lines:
            version = _read(line, len(found))
            if version is not None:
                found.append(version)
        return tuple(found)

    def now(self, versions: Sequence[Version] | None = None) -> int | None:
        """Return the number of the version that holds; the newest when the mark is missing; None without versions."""
        all_ = self.versions() if versions is None else versions
        if not all_:
            return None
        try:
            number = json.loads((self.folder / MARK).read_text(encoding="utf-8"))["now"]
        except (OSError, ValueError, KeyError, TypeError):
            return all_[-1].number
        return number if isinstance(number, int) and 0 <= number < len(all_) else all_[-1].number

    def add(self, text: str, what: str, when: float) -> Version:
        """Keep a new version that came from the one that holds, and let it hold. Raises OutputError when it cannot be kept."""
        versions = self.versions()
        version = Version(len(versions), self.now(versions), when, what, text)
        try:
            self.folder.mkdir(exist_ok=True)
            self._append(version)
        except OSError as error:
            raise _lost(error) from error
        self.mark(version.number)
        return version

    def mark(self, number: int) -> None:
        """Let a version hold. Raises OutputError when that cannot be kept."""
        part = self.folder / f"{MARK}.part"
        try:
            part.write_text(json.dumps({"now": number}), encoding="utf-8")
            part.replace(self.folder / MARK)
        except OSError as error:
            raise _lost(error) from error

    def undo(self) -> Version | None:
        """Return the version from which the one that holds came; None when there is none."""
        versions = self.versions()
        now = self.now(versions)
        parent = None if now is None else versions[now].parent
        return None if parent is None else versions[parent]

    def redo(self) -> Version | None:
        """Return the newest version that came from the one that holds; None when there is none."""
        versions = self.versions()
        now = self.now(versions)
        return next((v for v in reversed(versions) if now is not None and v.parent == now), None)

    def _append(self, version: Version) -> None:
        path = self.folder / VERSIONS
        line = json.dumps(asdict(version), ensure_ascii=False) + "\n"
        broken = path.exists() and path.stat().st_size > 0 and not _ends_whole(path)
        with path.open("ab") as file:
            file.write((b"\n" if broken else b"") + line.encode())
            file.flush()
            os.fsync(file.fileno())


def _ends_whole(path: Path) -> bool:
    with path.open("rb") as file:
        file.seek(-1, os.SEEK_END)
        return file.read(1) == b"\n"


def _read(line: str, number: int) -> Version | None:
    """Return the version on a line; None for a line that is not whole."""
    try:
        row = json.loads(line)
        parent = row["parent"]
        parent = parent if isinstance(parent, int) and 0 <= parent < number else None
        return Version(number, parent, float(row["when"]), str(row["what"]), str(row["text"]))
    except (ValueError, KeyError, TypeError):
        return None


def _lost(error: OSError) -> OutputError:
    return OutputError(
        f"The change could not be kept ({reason_of(error)})", "Make room on the disk or see that you may write there"
    )
