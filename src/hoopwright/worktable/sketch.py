"""A photograph of a sketch, kept beside the versions of a project, to be traced over: it never belongs to the project file.

Words: the *sheet* says how the photograph lies under the pieces: where its middle lies (mm, in the hoop), how many mm one of
its pixels is long, by how many degrees it is turned, how much of it is seen (0 to 1), and whether it is shown.
"""

from __future__ import annotations

import json
import threading
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any, Final

from hoopwright.core.errors import HoopwrightError, OutputError, reason_of
from hoopwright.worktable.history import FOLDER
from hoopwright.worktable.photos import jpeg, plain_photo
from hoopwright.worktable.whole import read_whole, write_whole

PHOTO: Final = "sketch.jpg"
SHEET: Final = "sketch.json"
LONGEST_SIDE: Final = 2000
"""Pixels of a photograph's longer side as it is kept."""
LARGEST_PHOTO: Final = 20_000_000
LARGEST_SHEET: Final = 10_000
"""Bytes beyond which a file here is not of our making, and is not read."""
_taking = threading.Lock()
"""A photograph and its sheet are kept together: of two that are sent at once the later one stays."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """How the photograph lies; see the module. ``width`` and ``height`` are its pixels."""

    width: int
    height: int
    x: float = 0.0
    y: float = 0.0
    scale: float = 0.1
    turn: float = 0.0
    seen: float = 0.5
    shown: bool = True


class Sketch:
    """The photograph beside one project."""

    def __init__(self, project: Path) -> None:
        """Look beside the project file."""
        self.home = project.parent / FOLDER

    def sheet(self) -> Sheet | None:
        """Return how the photograph lies; None when there is none."""
        try:
            row: dict[str, Any] = json.loads(read_whole(self.home / SHEET, LARGEST_SHEET))
            return Sheet(**row) if (self.home / PHOTO).is_file() else None
        except (OSError, ValueError, TypeError, RecursionError):
            return None

    def photo(self) -> bytes:
        """Return the photograph as JPEG. Raises HoopwrightError when there is none."""
        try:
            return read_whole(self.home / PHOTO, LARGEST_PHOTO)
        except OSError as error:
            raise HoopwrightError("There is no sketch here", "Take one in first") from error

    def take(self, data: bytes, wide: float) -> Sheet:
        """Keep a photograph, made anew and no larger than is needed, ``wide`` mm wide at first.

        Raises HoopwrightError for what is no photograph, OutputError when it cannot be kept.
        """
        photo = plain_photo(data, LONGEST_SIDE)
        sheet = Sheet(photo.width, photo.height, scale=round(wide / photo.width, 6))
        with _taking:
            self._put(PHOTO, jpeg(photo))
            self.lay(sheet)
        return sheet

    def lay(self, sheet: Sheet) -> None:
        """Keep how the photograph lies. Raises OutputError when it cannot be kept."""
        self._put(SHEET, json.dumps(asdict(sheet)).encode())

    def remove(self) -> None:
        """Take the photograph away. Raises OutputError when it cannot be."""
        try:
            (self.home / PHOTO).unlink(missing_ok=True)
            (self.home / SHEET).unlink(missing_ok=True)
        except OSError as error:
            raise OutputError(f"The sketch could not be removed ({reason_of(error)})", "Try again") from error

    def _put(self, name: str, data: bytes) -> None:
        try:
            write_whole(self.home / name, data)
        except OSError as error:
            raise OutputError(f"The sketch could not be kept ({reason_of(error)})", "Make room on the disk") from error
