"""What the shelf shows of a project: title, item, size, picture; kept beside the versions, so that a full shelf opens at once."""

from __future__ import annotations

import contextlib
import hashlib
import json
import threading
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any, Final

from hoopwright import __version__
from hoopwright.core.errors import ProjectError
from hoopwright.pipeline import build, face, finished_sizes
from hoopwright.project.load import LARGEST_FILE, load
from hoopwright.worktable.desk import Place
from hoopwright.worktable.history import FOLDER
from hoopwright.worktable.whole import read_whole, write_whole

FACE: Final = "face.json"
PICTURE: Final = "face.picture"
LONGEST: Final = 480
"""Pixels of the longer side of a picture."""
KINDS: Final = ("image/png", "image/svg+xml")
MOST_KEPT: Final = 5_000_000
"""Bytes of a kept picture that is shown again."""
MOST_SAID: Final = 100_000
"""Bytes of what is kept of a face beside its picture."""

_one_at_a_time = threading.Lock()


@dataclass(frozen=True, slots=True)
class Face:
    """A project as its card shows it. ``sizes`` are width and height, mm; ``kind`` is the picture's media type, None for no picture.

    ``print`` stands for the contents of the project's folder: with another print, another face.
    """

    print: str
    title: str
    item: str
    units: str
    sizes: tuple[tuple[float, float], ...]
    kind: str | None


def kept_face(place: Place) -> Face | None:
    """Return the face of a project if it was drawn since the project was changed."""
    try:
        row = json.loads(read_whole(place.file.parent / FOLDER / FACE, MOST_SAID))
        found = Face(**{**row, "sizes": tuple((float(w), float(h)) for w, h in row["sizes"])})
    except (OSError, ValueError, TypeError, KeyError, RecursionError):
        return None
    return found if found.print == print_of(place) and found.kind in (None, *KINDS) else None


def drawn_face(place: Place) -> Face:
    """Return the face of a project, drawn and kept if it was not yet. Raises ProjectError for one that cannot be read."""
    with _one_at_a_time:
        kept = kept_face(place)
        if kept is not None:
            return kept
        stamp = print_of(place)
        loaded = load(place.file)
        project = loaded.project
        made = build(project, dict(loaded.drawings), prove=False)
        picture = face(made, LONGEST)
        kind = None if picture is None else picture[0]
        found = Face(stamp, project.title, project.item, project.units, finished_sizes(made), kind)
        _keep(place, found, b"" if picture is None else picture[1])
        return found


def picture(place: Place) -> tuple[str, bytes] | None:
    """Return media type and picture of a project's card; None when there is nothing to show. Raises like ``drawn_face``."""
    found = kept_face(place) or drawn_face(place)
    path = place.file.parent / FOLDER / PICTURE
    if found.kind is None:
        return None
    with contextlib.suppress(OSError):
        return found.kind, read_whole(path, MOST_KEPT)
    loaded = load(place.file)
    return face(build(loaded.project, dict(loaded.drawings), prove=False), LONGEST)


def plain_row(place: Place) -> dict[str, Any]:
    """Return title, item and units of a project without drawing it; one that cannot be read keeps its name, and says so."""
    try:
        project = load(place.file).project
    except ProjectError:
        return {"title": place.name, "item": "", "units": "mm", "sound": False}
    return {"title": project.title, "item": project.item, "units": project.units, "sound": True}


def print_of(place: Place) -> str:
    """Return what stands for the contents of a project's folder: the project file, and size and time of the files beside it."""
    said = hashlib.sha256(__version__.encode())
    with contextlib.suppress(OSError), place.file.open("rb") as file:
        said.update(file.read(LARGEST_FILE + 1))
    for path in _beside(place.file.parent):
        with contextlib.suppress(OSError):
            found = path.stat()
            said.update(f"{path.name}\0{found.st_size}\0{found.st_mtime_ns}\n".encode("utf-8", "surrogateescape"))
    return said.hexdigest()[:24]


def _beside(home: Path) -> list[Path]:
    try:
        return sorted(
            p for p in home.iterdir() if p.name != "project.toml" and not p.name.startswith(".") and p.is_file()
        )
    except OSError:
        return []


def _keep(place: Place, found: Face, data: bytes) -> None:
    """Keep a face; on a full disk it is drawn again next time."""
    home = place.file.parent / FOLDER
    with contextlib.suppress(OSError):
        write_whole(home / PICTURE, data)
        write_whole(home / FACE, json.dumps(asdict(found)).encode())
