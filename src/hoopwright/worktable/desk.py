"""The shelf: the projects of a folder, found by name and by nothing else.

Words: the *shelf* is the folder given to the worktable; a *project* there is a folder with a project.toml in it, and its
*name* is the folder's; the *archive* is a folder on the shelf where projects rest that are done.
No name that comes from the page is ever made into a path: it must be one of those that are there.
"""

from __future__ import annotations

import re
import shutil
import tempfile
import unicodedata
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from hoopwright.core.errors import OutputError, reason_of
from hoopwright.project.load import load
from hoopwright.project.save import save, set_value
from hoopwright.worktable.beside import DEVICES
from hoopwright.worktable.history import FOLDER
from hoopwright.worktable.looks import copy_looks
from hoopwright.worktable.workbook import GoneError

PROJECT: Final = "project.toml"
ARCHIVE: Final = "archive"
MOST: Final = 500
"""Projects shown of one shelf."""
LONGEST_NAME: Final = 60
RESTING: Final = "~archive"
"""Stands after the name of a project in the archive while another one of this name is on the shelf."""
OUT: Final = "out"
"""The folder of results beside a project file."""


@dataclass(frozen=True, slots=True)
class Place:
    """A project on the shelf: its name, its file, whether it rests in the archive."""

    name: str
    file: Path
    archived: bool


class Desk:
    """A folder with projects."""

    def __init__(self, folder: Path) -> None:
        """Open a folder. Raises OutputError when it is none, and cannot be made."""
        self.folder = folder.resolve()
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise OutputError(f"{folder} is no folder to work in: {reason_of(error)}", "Name another folder") from error

    def places(self) -> tuple[Place, ...]:
        """Return the projects of the shelf by name, then those of the archive. What links lead out of the folder is not there."""
        there = self._in(self.folder, archived=False)
        taken = {p.name for p in there}
        resting = self._in(self.folder / ARCHIVE, archived=True)
        return (*there, *(replace(p, name=p.name + RESTING) if p.name in taken else p for p in resting))

    def find(self, name: str) -> Place:
        """Return a project by its name. Raises GoneError when there is none."""
        resting = self._in(self.folder / ARCHIVE, archived=True, only=name.removesuffix(RESTING))
        found = next(iter((*self._in(self.folder, archived=False, only=name), *resting)), None)
        if found is None:
            raise GoneError("This project is no longer on the shelf", "Go back to the shelf and look for it there")
        return found

    def put(self, title: str, text: str) -> Place:
        """Put a new project on the shelf, named after its title. Raises like ``save``; nothing is there then."""
        name = self.free_name(title)
        home = self._begun()
        try:
            save(home / PROJECT, text)
            home.rename(self.folder / name)
        except OSError as error:
            raise _failed("The project could not be made", error) from error
        finally:
            shutil.rmtree(home, ignore_errors=True)
        return self.find(name)

    def duplicate(self, place: Place, title: str) -> Place:
        """Put a copy of a project, with its drawings, on the shelf under a new title, without its results and history.

        Raises ProjectError for a project that cannot be read, OutputError when it cannot be copied.
        """
        text = set_value(load(place.file).text, "title", title)
        name = self.free_name(title)
        home = self._begun()
        try:
            copy = home / "copy"
            shutil.copytree(place.file.parent, copy, ignore=shutil.ignore_patterns(FOLDER, OUT, ".*"), symlinks=True)
            save(copy / PROJECT, text)
            copy_looks(place.file, copy / PROJECT)
            copy.rename(self.folder / name)
        except OSError as error:
            raise _failed("The project could not be copied", error) from error
        finally:
            shutil.rmtree(home, ignore_errors=True)
        return self.find(name)

    def archive(self, place: Place, *, rest: bool = True) -> Place:
        """Move a project into the archive, or back. Raises OutputError when it cannot be moved."""
        home = self.folder / ARCHIVE if rest else self.folder
        own = place.file.parent.name
        target = home / (self.free_name(own) if (home / own).exists() else own)
        try:
            home.mkdir(exist_ok=True)
            place.file.parent.rename(target)
        except OSError as error:
            raise _failed("The project could not be moved", error) from error
        return next(p for p in self.places() if p.file.parent == target)

    def free_name(self, title: str) -> str:
        """Return a folder's name made from a title, with a number when it is taken on the shelf or in the archive."""
        plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode()
        slug = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:LONGEST_NAME].strip("-") or "project"
        slug = f"{slug}-1" if slug in {ARCHIVE, OUT, *DEVICES} else slug
        taken = {p.name for home in (self.folder, self.folder / ARCHIVE) if home.is_dir() for p in home.iterdir()}
        return next(n for n in (slug, *(f"{slug}-{k}" for k in range(2, 10_000))) if n not in taken)

    def _begun(self) -> Path:
        """Return a new folder in which a project is made before it is put on the shelf."""
        try:
            return Path(tempfile.mkdtemp(prefix=".new-", dir=self.folder))
        except OSError as error:
            raise _failed("The project could not be made", error) from error

    def _in(self, home: Path, *, archived: bool, only: str | None = None) -> tuple[Place, ...]:
        """Return the projects of a folder, or the one called ``only``, which is compared with what is there, never opened."""
        try:
            names = sorted(p.name for p in home.iterdir() if not p.name.startswith("."))
        except OSError:
            return ()
        files = ((n, home / n / PROJECT) for n in names if only in (None, n))
        return tuple(Place(n, f, archived) for n, f in files if self._inside(f))[:MOST]

    def _inside(self, file: Path) -> bool:
        """Whether there is a project file, in this folder also when links are followed."""
        try:
            return file.is_file() and file.resolve().is_relative_to(self.folder)
        except (OSError, RuntimeError):
            return False


def _failed(what: str, error: OSError) -> OutputError:
    return OutputError(
        f"{what} ({reason_of(error)})", "Make room on the disk, or see that you may write in this folder"
    )
