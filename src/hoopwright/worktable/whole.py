"""Reading files up to a size, writing them whole or not at all, never through a link: a project's folder may come from somebody else."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path


def read_whole(path: Path, most: int) -> bytes:
    """Return what lies at ``path``. Raises OSError when it is not there, is larger than ``most`` bytes, or is a link to another place."""
    if path.parent.is_symlink() or path.is_symlink():
        raise OSError(0, f"{path.name} is a link to another place")
    with path.open("rb") as file:
        data = file.read(most + 1)
    if len(data) > most:
        raise OSError(0, f"{path.name} is too large to be of our making")
    return data


def write_whole(path: Path, data: bytes) -> None:
    """Put ``data`` at ``path``, whose folder is made if it is not there; until it is on the disk, what was there stays.

    Raises OSError, also where the file or its folder is a link to another place; nothing is changed then.
    """
    home = path.parent
    if home.is_symlink() or path.is_symlink():
        raise OSError(0, f"{path.name} is a link to another place")
    home.mkdir(parents=True, exist_ok=True)
    with tempfile.NamedTemporaryFile(dir=home, prefix=f".{path.name}.", delete=False) as file:
        part = Path(file.name)
        try:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
            file.close()
            part.chmod(0o644)
            part.replace(path)
        except OSError:
            file.close()
            with contextlib.suppress(OSError):
                part.unlink(missing_ok=True)
            raise
