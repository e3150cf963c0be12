"""How cloths look on the screen: a print of our own drawing, or the maker's photograph, both true to size.

Looks belong to the worktable, not to the project: they stand in a file beside it, by the keys of the cloths, and the project
file stays as it is. Photographs lie in a folder there, each named after its content; those that no cloth has are
cleared away when room is needed.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import threading
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Any, Final, Literal, TypeAlias

from pydantic import Field, TypeAdapter, ValidationError

from hoopwright.core.errors import HoopwrightError, OutputError, reason_of
from hoopwright.project.schema import Colour, Model
from hoopwright.worktable.history import FOLDER
from hoopwright.worktable.whole import read_whole, write_whole

LOOKS: Final = "cloths.json"
PHOTOS: Final = "cloths"
ENDING: Final = ".jpg"
LARGEST: Final = 1_000_000
"""A file of looks larger than this is not of our making, and is not read."""
LARGEST_PHOTO: Final = 5_000_000
MOST_LOOKS: Final = 500
MOST_PHOTOS: Final = 60
"""Photographs kept beside one project, each of some 200 KB."""
PRINT: Final = 32


class PrintLook(Model):
    """A print on the cloth's own colour: figures ``size`` mm large, ``gap`` mm apart, turned by ``turn`` degrees."""

    way: Literal["dots", "stripes", "checks", "leaves", "shells"]
    colour: Colour
    size: Annotated[float, Field(ge=0.5, le=100)] = 4.0
    gap: Annotated[float, Field(ge=0, le=100)] = 4.0
    turn: Annotated[float, Field(ge=-180, le=180)] = 0.0


class PhotoLook(Model):
    """A photograph by its name, its size in pixels, and the ``width`` in mm of the cloth it shows."""

    way: Literal["photo"]
    photo: Annotated[str, Field(pattern=r"^[0-9a-f]{32}$")]
    pixels: tuple[Annotated[int, Field(ge=1, le=10_000)], Annotated[int, Field(ge=1, le=10_000)]]
    width: Annotated[float, Field(ge=5, le=2000)] = 100.0


Look: TypeAlias = Annotated[PrintLook | PhotoLook, Field(discriminator="way")]

_LOOK: Final[TypeAdapter[PrintLook | PhotoLook]] = TypeAdapter(Look)
_lock = threading.Lock()


class NotKeptError(HoopwrightError):
    """A photograph that is not there."""


class Looks:
    """The looks of one project's cloths."""

    def __init__(self, project: Path) -> None:
        """Keep the looks beside the project file at ``project``."""
        self.folder = project.parent / FOLDER
        self.photos = self.folder / PHOTOS

    def all(self) -> Mapping[str, PrintLook | PhotoLook]:
        """Return the looks by the keys of the cloths; what cannot be read is left out."""
        path = self.folder / LOOKS
        try:
            rows = json.loads(read_whole(path, LARGEST))["looks"]
        except (OSError, ValueError, KeyError, TypeError, RecursionError):
            return {}
        found = {key: _look(row) for key, row in rows.items()} if isinstance(rows, dict) else {}
        return {key: look for key, look in found.items() if look is not None}

    def put(self, key: str, look: PrintLook | PhotoLook | None) -> None:
        """Give a cloth a look, None a plain one. Raises HoopwrightError for an unknown photograph, OutputError for a full disk."""
        if isinstance(look, PhotoLook) and look.photo not in self._names():
            raise NotKeptError("This photograph is no longer kept", "Choose it again")
        with _lock:
            rows = {**self.all(), key: look}
            kept = {k: row_of(v) for k, v in rows.items() if v is not None}
            if len(kept) > MOST_LOOKS:
                raise HoopwrightError("There are too many prints and photographs", "Take some away")
            self._write(self.folder / LOOKS, json.dumps({"looks": kept}, indent=1).encode())

    def keep_photo(self, data: bytes) -> str:
        """Keep a photograph (JPEG, already made small) and return its name. Raises HoopwrightError when there are too many."""
        print_ = hashlib.sha256(data).hexdigest()[:PRINT]
        with _lock:
            names = self._names()
            if print_ not in names and len(names) >= MOST_PHOTOS:
                self._clear()
                if len(self._names()) >= MOST_PHOTOS:
                    raise HoopwrightError(
                        f"There are {MOST_PHOTOS} photographs in this project already", "Make some cloths plain again"
                    )
            self._write(self.photos / f"{print_}{ENDING}", data)
        return print_

    def photo(self, print_: str) -> bytes:
        """Return a photograph by its name. Raises HoopwrightError for one that is not there."""
        try:
            if print_ in self._names():
                return read_whole(self.photos / f"{print_}{ENDING}", LARGEST_PHOTO)
        except OSError:
            pass
        raise NotKeptError("This photograph is no longer kept", "Choose it again")

    def _names(self) -> frozenset[str]:
        """Return the names of the photographs that lie there as files of their own."""
        try:
            if self._linked(self.photos):
                return frozenset()
            return frozenset(p.stem for p in self.photos.iterdir() if p.suffix == ENDING and not p.is_symlink())
        except OSError:
            return frozenset()

    def _clear(self) -> None:
        """Take away the photographs that no cloth has."""
        used = {look.photo for look in self.all().values() if isinstance(look, PhotoLook)}
        for name in self._names() - used:
            with contextlib.suppress(OSError):
                (self.photos / f"{name}{ENDING}").unlink()

    def _linked(self, path: Path) -> bool:
        return self.folder.is_symlink() or path.is_symlink()

    def _write(self, path: Path, data: bytes) -> None:
        try:
            if self._linked(path):
                raise OSError(0, f"{path.name} is a link to another place")
            write_whole(path, data)
        except OSError as error:
            raise OutputError(
                f"This could not be kept ({reason_of(error)})", "Make room on the disk or see that you may write there"
            ) from error


def copy_looks(project: Path, to: Path) -> None:
    """Give the copy ``to`` of a project its looks and their photographs. Raises OutputError for a full disk."""
    here, there = Looks(project), Looks(to)
    for key, look in here.all().items():
        with contextlib.suppress(NotKeptError):
            if isinstance(look, PhotoLook):
                there.keep_photo(here.photo(look.photo))
            there.put(key, look)


def row_of(look: PrintLook | PhotoLook) -> dict[str, Any]:
    """Return a look as plain data."""
    return look.model_dump(mode="json")


def _look(row: object) -> PrintLook | PhotoLook | None:
    try:
        return _LOOK.validate_python(row, strict=False)
    except ValidationError:
        return None
