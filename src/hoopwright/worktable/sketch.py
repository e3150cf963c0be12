"""A photograph of a sketch, kept beside the versions of a project, to be traced over: it never belongs to the project file.

Words: the *sheet* says how the photograph lies under the pieces: where its middle lies (mm, in the hoop), how many mm one of
its pixels is long, by how many degrees it is turned, how much of it is seen (0 to 1), and whether it is shown.
"""

from __future__ import annotations

import io
import json
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any, Final

from PIL import Image, ImageOps

from hoopwright.core.errors import HoopwrightError, OutputError, reason_of
from hoopwright.worktable.history import FOLDER
from hoopwright.worktable.whole import write_whole

PHOTO: Final = "sketch.jpg"
SHEET: Final = "sketch.json"
LONGEST_SIDE: Final = 2000
"""Pixels of a photograph's longer side as it is kept."""
MOST_PIXELS: Final = 80_000_000
"""A photograph of more pixels is not opened."""
KINDS: Final = ("JPEG", "PNG", "WEBP")
QUALITY: Final = 85


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
            row: dict[str, Any] = json.loads((self.home / SHEET).read_text(encoding="utf-8"))
            return Sheet(**row) if (self.home / PHOTO).is_file() else None
        except (OSError, ValueError, TypeError, RecursionError):
            return None

    def photo(self) -> bytes:
        """Return the photograph as JPEG. Raises HoopwrightError when there is none."""
        try:
            return (self.home / PHOTO).read_bytes()
        except OSError as error:
            raise HoopwrightError("There is no sketch here", "Take one in first") from error

    def take(self, data: bytes, wide: float) -> Sheet:
        """Keep a photograph, made anew and no larger than is needed, ``wide`` mm wide at first.

        Raises HoopwrightError for what is no photograph, OutputError when it cannot be kept.
        """
        photo = _opened(data)
        buffer = io.BytesIO()
        photo.save(buffer, "JPEG", quality=QUALITY)
        sheet = Sheet(photo.width, photo.height, scale=round(wide / photo.width, 6))
        self._put(PHOTO, buffer.getvalue())
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


def _opened(data: bytes) -> Image.Image:
    """Return a photograph upright, in plain colours and with nothing else that the file held."""
    try:
        with Image.open(io.BytesIO(data), formats=KINDS) as photo:
            if photo.width * photo.height > MOST_PIXELS:
                raise HoopwrightError("This photograph is too large", "Make it smaller, 2000 pixels wide is enough")
            photo.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
            upright = ImageOps.exif_transpose(photo).convert("RGB")
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError) as error:
        raise HoopwrightError("This is no photograph that can be opened", "Take a JPEG, PNG or WebP file") from error
    upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    clean = Image.new("RGB", upright.size)
    clean.paste(upright)
    return clean
