"""All files of a build as one file to carry away: a zip archive, the same bytes for the same files on every machine."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from typing import Final

TIME: Final = (1980, 1, 1, 0, 0, 0)
"""The time every file in an archive bears: the earliest that a zip archive can hold (APPNOTE.TXT 4.4.6, from memory)."""
UNIX: Final = 3
"""The system said to have made the archive, so that it is the same from all of them (APPNOTE.TXT 4.4.2, from memory)."""
MODE: Final = 0o100644 << 16
"""A plain file that everybody may read."""


def bundle(files: Mapping[str, bytes], folder: str) -> bytes:
    """Return a zip archive that unpacks to one ``folder`` with ``files`` in it (names with forward slashes).

    The files are stored as they are: how well they were pressed would depend on the machine.
    """
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_STORED) as archive:
        for name, data in sorted(files.items()):
            entry = zipfile.ZipInfo(f"{folder}/{name}", TIME)
            entry.create_system = UNIX
            entry.external_attr = MODE
            archive.writestr(entry, data)
    return stream.getvalue()
