"""The key to the worktable: kept where only the maker's own account can read it, so that it stays the same tomorrow.

A window that was left open, and a bookmark, then still fit when the worktable is started again.
"""

from __future__ import annotations

import contextlib
import os
import re
import secrets
from pathlib import Path
from typing import Final

LETTERS: Final = re.compile(r"[A-Za-z0-9_-]{40,80}")
BYTES: Final = 32
"""Random bytes in a key."""
FILE: Final = "worktable-key"


def home() -> Path:
    """Return the folder for what programs remember of this account: XDG base directories, on Windows its local data."""
    local = os.environ.get("LOCALAPPDATA") if os.name == "nt" else os.environ.get("XDG_STATE_HOME")
    return (Path(local) if local and Path(local).is_absolute() else Path.home() / ".local" / "state") / "hoopwright"


def kept_key(folder: Path | None = None) -> str:
    """Return the key kept in ``folder`` (None: ``home``), or a new one, which is kept if that is possible."""
    with contextlib.suppress(OSError, RuntimeError, ValueError):
        place = (home() if folder is None else folder) / FILE
        return _read(place) or _write(place)
    return secrets.token_urlsafe(BYTES)


def _read(place: Path) -> str | None:
    """Return the key in a file that nobody else may read; None when there is no such file."""
    try:
        found = place.lstat()
    except OSError:
        return None
    mine = os.name == "nt" or (found.st_uid == os.getuid() and not found.st_mode & 0o077)
    if place.is_symlink() or not mine:
        return None
    key = place.read_text(encoding="ascii").strip()
    return key if LETTERS.fullmatch(key) else None


def _write(place: Path) -> str:
    """Put a new key in a file that only its owner may read, whole or not at all."""
    key = secrets.token_urlsafe(BYTES)
    place.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    part = place.with_name(f"{place.name}.{secrets.token_hex(4)}")
    with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="ascii") as file:
        file.write(key)
    part.replace(place)
    return key
