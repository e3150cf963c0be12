"""Putting a build in its folder: whole or not at all, and never over something that is not ours."""

from __future__ import annotations

import json
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path

from hoopwright.core.errors import OutputError

RECORD = "build.json"
"""The record's name; a folder that holds one was made by this tool."""


def put_folder(files: Mapping[str, bytes], target: Path) -> None:
    """Write ``files`` (names with forward slashes) as the folder ``target``.

    Everything is written to a temporary folder beside it and moved in one step. An earlier build there is replaced;
    a folder with anything else in it is left alone. Raises OutputError with the cure when that is not possible.
    """
    target = target.absolute()
    _refuse_foreign(target)
    temporary: Path | None = None
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        temporary = Path(tempfile.mkdtemp(prefix=f".{target.name}-", dir=target.parent))
        new = temporary / "new"
        for name, data in sorted(files.items()):
            path = new / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)
        _swap(new, target, temporary / "old")
    except OSError as error:
        raise OutputError(
            f"The results could not be written to {target}: {error.strerror or error}",
            "Check that the disk has room and that you may write there, or choose another folder with --out.",
        ) from error
    finally:
        if temporary is not None:
            shutil.rmtree(temporary, ignore_errors=True)


def _swap(new: Path, target: Path, old: Path) -> None:
    """Move ``new`` to ``target``; what stood there goes to ``old`` and comes back when the move fails."""
    if not target.exists():
        new.rename(target)
        return
    target.rename(old)
    try:
        new.rename(target)
    except OSError:
        old.rename(target)
        raise


def _refuse_foreign(target: Path) -> None:
    if not target.exists():
        return
    if not target.is_dir():
        raise OutputError(f"{target} is a file, not a folder", "Choose another folder with --out.")
    present = {p.relative_to(target).as_posix() for p in target.rglob("*") if not p.is_dir()}
    foreign = sorted(present - _ours(target))
    if foreign:
        some = ", ".join(foreign[:3]) + (" and others" if len(foreign) > 3 else "")
        raise OutputError(
            f"{target} holds files that are not from an earlier build: {some}",
            "Move them elsewhere, or choose another folder with --out; nothing was changed.",
        )


def _ours(target: Path) -> set[str]:
    """Return the names an earlier build left there, empty when its record is missing or not ours."""
    try:
        record = json.loads((target / RECORD).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return set()
    if not isinstance(record, dict) or not str(record.get("made_by", "")).startswith("hoopwright"):
        return set()
    names = record.get("files")
    return {RECORD, *(n for n in names if isinstance(n, str))} if isinstance(names, list) else set()
