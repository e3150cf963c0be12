"""Putting a build in its folder: whole or not at all, and never over something that is not ours."""

from __future__ import annotations

import json
import os
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import Final, NoReturn

from hoopwright.core.errors import OutputError, reason_of

RECORD = "build.json"
"""The record's name; a folder that holds one was made by this tool."""

SHOWN: Final = 3
"""How many of the files that are in the way are named."""


OTHERWISE: Final = "choose another folder with --out"
"""What the command line offers when a folder cannot be used."""


@dataclass(frozen=True, slots=True)
class Lying:
    """What lies in a folder of results: the files of an earlier build with their sizes in bytes, and up to SHOWN others.

    ``record`` is the earlier build's, None without one; ``when`` is when it was written, in seconds since 1970.
    """

    files: tuple[tuple[str, int], ...]
    foreign: tuple[str, ...]
    record: Mapping[str, object] | None
    when: float


def what_lies(target: Path) -> Lying | None:
    """Return what lies in ``target``; None when it is no folder, or cannot be looked into."""
    try:
        if not target.is_dir():
            return None
        record = _record(target)
        ours = _ours(target)
        foreign = tuple(islice(_foreign_files(target, ours), SHOWN))
        paths = [(n, target / n) for n in sorted(ours) if record is not None and _there(n)]
        home = target.resolve()
        inside = ((n, p) for n, p in paths if p.is_file() and not p.is_symlink() and p.resolve().is_relative_to(home))
        files = tuple((n, p.stat().st_size) for n, p in inside)
        when = 0.0 if record is None else (target / RECORD).stat().st_mtime
    except OSError:
        return None
    return Lying(files, foreign, record, when)


def _there(name: str) -> bool:
    """Whether a name in a record stays in the folder."""
    return not name.startswith(("/", "\\")) and ".." not in name.split("/") and "\\" not in name and ":" not in name


def put_folder(files: Mapping[str, bytes], target: Path, otherwise: str = OTHERWISE) -> None:
    """Write ``files`` (names with forward slashes) as the folder ``target``.

    Everything is written to a temporary folder beside it and moved in one step. An earlier build there is replaced;
    a folder with anything else in it is left alone. Raises OutputError with the cure when that is not possible;
    ``otherwise`` is what else the maker may do then.
    """
    temporary: Path | None = None
    try:
        target = Path(os.path.realpath(target))
        refuse_foreign(target, otherwise)
        target.parent.mkdir(parents=True, exist_ok=True)
        temporary = Path(tempfile.mkdtemp(prefix=".hoopwright-", dir=target.parent))
        new = temporary / "new"
        for name, data in sorted(files.items()):
            path = new / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)
        _swap(new, target, temporary / "old")
    except OSError as error:
        raise OutputError(
            f"The results could not be written to {target}: {reason_of(error)}",
            f"Check that the disk has room and that you may write there, or {otherwise}.",
        ) from error
    finally:
        if temporary is not None:
            shutil.rmtree(temporary, ignore_errors=True)


def _swap(new: Path, target: Path, old: Path) -> None:
    """Move ``new`` to ``target``; what stood there goes to ``old`` and comes back when the move fails or is broken off."""
    try:
        if target.exists():
            target.rename(old)
        new.rename(target)
    except BaseException:
        if old.exists() and not target.exists():
            old.rename(target)
        raise


def refuse_foreign(target: Path, otherwise: str = OTHERWISE) -> None:
    """Raise OutputError for a folder that holds anything but an earlier build; see ``put_folder``."""
    if not target.exists():
        return
    if not target.is_dir():
        raise OutputError(f"{target} is a file, not a folder", f"Move it elsewhere, or {otherwise}.")
    foreign = list(islice(_foreign_files(target, _ours(target)), SHOWN + 1))
    if foreign:
        some = ", ".join(foreign[:SHOWN]) + (" and others" if len(foreign) > SHOWN else "")
        raise OutputError(
            f"{target} holds files that are not from an earlier build: {some}",
            f"Move them elsewhere, or {otherwise}; nothing was changed.",
        )


def _foreign_files(target: Path, ours: set[str]) -> Iterator[str]:
    """Yield the names of files in ``target`` that are not in ``ours``, folder by folder in order of their names."""
    for folder, inner, names in os.walk(target, onerror=_raise):
        inner.sort()
        links = [n for n in inner if (Path(folder) / n).is_symlink()]
        found = ((Path(folder) / n).relative_to(target).as_posix() for n in sorted([*names, *links]))
        yield from (name for name in found if name not in ours)


def _raise(error: OSError) -> NoReturn:
    raise error


def _record(target: Path) -> Mapping[str, object] | None:
    """Return the record of an earlier build, None when it is missing or not ours."""
    try:
        record = json.loads((target / RECORD).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    ours = isinstance(record, dict) and str(record.get("made_by", "")).startswith("hoopwright")
    return record if ours else None


def _ours(target: Path) -> set[str]:
    """Return the names an earlier build left there, empty without a record."""
    record = _record(target)
    names = None if record is None else record.get("files")
    return {RECORD, *(n for n in names if isinstance(n, str))} if isinstance(names, list) else set()


def put_file(path: Path, data: bytes) -> None:
    """Write one file whole or not at all. Raises OutputError when that is not possible."""
    temporary = path.with_name(f".{path.name}.part")
    try:
        temporary.write_bytes(data)
        temporary.replace(path)
    except OSError as error:
        raise OutputError(
            f"{path} could not be written: {reason_of(error)}", "Choose a folder where you may write."
        ) from error
    finally:
        temporary.unlink(missing_ok=True)
