"""Files of the maker's own beside a project: bounded, looked into before they are kept, named plainly.

Words: a *kind* says what a file is for: "stitches" to be placed on a panel, a "font" for letters, a "motif" for a ground. The name that
a browser sends is never made into a path: of it only letters a to z, digits and hyphens are kept, and one of the kind's endings.
"""

from __future__ import annotations

import contextlib
import re
import threading
import unicodedata
from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path, PurePosixPath
from typing import Any, Final, Literal, TypeAlias

from hoopwright.core.errors import HoopwrightError, OutputError, reason_of
from hoopwright.pipeline import look_into_font, look_into_motif, look_into_stitches
from hoopwright.project.drawings import DRAWING_ENDINGS, FONT_ENDINGS, LARGEST_DRAWING, STITCH_ENDINGS
from hoopwright.worktable.whole import read_whole, write_whole

Kind: TypeAlias = Literal["stitches", "font", "motif"]

LONGEST: Final = 40
"""Letters of a name that are kept."""
MOST_OF_A_NAME: Final = 1000
MOST_SHOWN: Final = 200
"""Files told of one kind."""

_keeping = threading.Lock()
"""Files are put beside projects one after the other, so that two of one name at once become two files."""


@dataclass(frozen=True, slots=True)
class Taken:
    """A kind of file: its endings, the most bytes, what it is called, and how it is looked into."""

    endings: tuple[str, ...]
    most: int
    word: str
    smaller: str
    look: Callable[[bytes, str], dict[str, Any]]


KINDS: Final[dict[Kind, Taken]] = {
    "stitches": Taken(
        STITCH_ENDINGS,
        3_000_000,
        "stitch file",
        "Take a smaller design",
        lambda data, name: asdict(look_into_stitches(data, name)),
    ),
    "font": Taken(
        FONT_ENDINGS,
        11_000_000,
        "font file",
        "Choose a font with fewer letters",
        lambda data, _: asdict(look_into_font(data)),
    ),
    "motif": Taken(
        DRAWING_ENDINGS,
        LARGEST_DRAWING,
        "SVG drawing",
        "Keep only the lines of the motif in it",
        lambda data, name: {"lines": look_into_motif(data, name)},
    ),
}


def take_in(home: Path, kind: Kind, called: str, data: bytes) -> dict[str, Any]:
    """Look into a file and keep it in the folder ``home``; return the name it has there and what was seen in it.

    Raises HoopwrightError for one of another kind, too large or not to be used, OutputError when it cannot be kept.
    """
    wanted = KINDS[kind]
    ending = PurePosixPath(called.replace("\\", "/")).suffix.lower()
    if ending not in wanted.endings:
        raise HoopwrightError(
            f"This is no {wanted.word} that can be used", f"Choose one that ends in {' or '.join(wanted.endings)}"
        )
    if len(data) > wanted.most:
        raise HoopwrightError(
            f"This {wanted.word} is larger than {wanted.most // 1_000_000} MB, which cannot be taken", wanted.smaller
        )
    seen = wanted.look(data, plain_name(called, ending))
    return {"file": keep_beside(home, called, ending, data), **seen}


def there(home: Path, kind: Kind) -> tuple[str, ...]:
    """Return the names of the files of a kind in a project's folder, by name; links are left out."""
    endings = KINDS[kind].endings
    try:
        found = sorted(p.name for p in home.iterdir() if p.suffix.lower() in endings and not p.name.startswith("."))
        return tuple(n for n in found if not (home / n).is_symlink() and (home / n).is_file())[:MOST_SHOWN]
    except OSError:
        return ()


def read_beside(home: Path, kind: Kind, name: str) -> bytes:
    """Return one of the files ``there``. Raises HoopwrightError for a name that is not among them."""
    if name in there(home, kind):
        with contextlib.suppress(OSError):
            return read_whole(home / name, KINDS[kind].most)
    raise HoopwrightError(f"This {KINDS[kind].word} is not there", "Choose it again")


DEVICES: Final = frozenset({"con", "prn", "aux", "nul", *(f"{d}{n}" for d in ("com", "lpt") for n in range(1, 10))})
"""Names that some systems keep for devices, whatever the ending; no file or folder can be called so there."""


def plain_name(called: str, ending: str) -> str:
    """Return a name of plain letters made from what a file is called, with its ending."""
    stem = unicodedata.normalize("NFKD", PurePosixPath(called.replace("\\", "/")).stem)
    stem = stem.encode("ascii", "ignore").decode().lower()
    plain = re.sub(r"[^a-z0-9]+", "-", stem).strip("-")[:LONGEST].strip("-") or "file"
    return (f"{plain}-1" if plain in DEVICES else plain) + ending


def keep_beside(home: Path, called: str, ending: str, data: bytes) -> str:
    """Put a file beside the project file under a plain name of its own and return it; the same one is put there once.

    Raises OutputError when it cannot be kept.
    """
    name = plain_name(called, ending)
    names = (name if k == 1 else f"{name.removesuffix(ending)}-{k}{ending}" for k in range(1, MOST_OF_A_NAME))
    try:
        with _keeping:
            for path in (home / n for n in names):
                if path.is_symlink():
                    continue
                if not path.exists():
                    write_whole(path, data)
                    return path.name
                if path.is_file() and path.stat().st_size == len(data) and path.read_bytes() == data:
                    return path.name
    except OSError as error:
        raise OutputError(f"The file could not be kept ({reason_of(error)})", "Make room on the disk") from error
    raise OutputError("The file could not be kept: there are too many of its name", "Give it another name")
