"""Which picture belongs where, and how wide it may stand."""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from PIL import Image

from hoopwright.core.types import Mm
from hoopwright.outputs.templates.lettering import drawable

_VIEW: Final = re.compile(rb'viewBox="[-0-9.eE]+[ ,]+[-0-9.eE]+[ ,]+([0-9.eE]+)[ ,]+([0-9.eE]+)"')
PACKED: Final = ".packed.svg"
"""Added to the name of a picture of pixels that is packed into an SVG file."""

QUALITY: Final = 90
"""Quality of a photographic picture in the PDF: no loss that the eye sees, a tenth of the bytes."""

_HEAD: Final = 4096
"""The first tag of a picture ends within this many bytes."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture to print: its file name, its width on paper in mm and what it shows in words."""

    file: str
    width: Mm
    alt: str

    def data(self) -> dict[str, object]:
        """Return it as plain data for the page source."""
        return {"file": self.file, "width": round(self.width, 3), "alt": self.alt}


def picture(
    pictures: Mapping[str, bytes], names: tuple[str, ...], alt: str, room: tuple[Mm, Mm]
) -> dict[str, object] | None:
    """Return the first picture of ``names`` that exists, as large as ``room`` allows; None when there is none."""
    for name in names:
        if name in pictures:
            shape = proportion(pictures[name])
            file = name if name.endswith(".svg") else f"{name}{PACKED}"
            return Picture(file, min(room[0], room[1] * shape), alt).data()
    return None


def proportion(data: bytes) -> float:
    """Return width over height of an SVG (by its viewBox) or a picture of pixels; 1 when it does not say."""
    found = _VIEW.search(data[:_HEAD])
    if found is None:
        return _of_pixels(data)
    width, height = (float(x) for x in found.groups())
    return width / height if height > 0 else 1.0


def _of_pixels(data: bytes) -> float:
    try:
        with Image.open(io.BytesIO(data)) as image:
            return image.width / image.height
    except OSError:
        return 1.0


def step_file(hooping: str, index: int, *, hands: bool = False) -> str:
    """Return the name of a step's picture, or of the one that shows what hands do before they lay the next piece."""
    return f"{hooping}-step-{index:02}{'-hands' if hands else ''}.svg"


def lay_file(hooping: str, index: int, number: int) -> str:
    """Return the name of the picture of one of several pieces laid at a halt, counted from 1; the last has the step's own."""
    return f"{hooping}-step-{index:02}-lay-{number}.svg"


def files_of(data: object) -> tuple[str, ...]:
    """Return the names of all picture files that plain data asks for, each once."""
    if isinstance(data, Mapping):
        own = (str(data["file"]),) if "file" in data else ()
        return tuple(dict.fromkeys((*own, *(name for value in data.values() for name in files_of(value)))))
    if isinstance(data, list | tuple):
        return tuple(dict.fromkeys(name for value in data for name in files_of(value)))
    return ()


def as_text(file: str, pictures: Mapping[str, bytes]) -> bytes:
    """Return a picture as the page setter takes it: as SVG text with letters that the fonts have.

    A picture of pixels is packed into an SVG as JPEG. Raises UnicodeDecodeError when an SVG is not text.
    """
    if not file.endswith(PACKED):
        return drawable(pictures[file].decode()).encode()
    data, packed = pictures[file.removesuffix(PACKED)], io.BytesIO()
    with Image.open(io.BytesIO(data)) as image:
        width, height = image.size
        image.convert("RGB").save(packed, "JPEG", quality=QUALITY)
    code = base64.b64encode(packed.getvalue())
    head = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}"><image width="{width}" '
    return head.encode() + f'height="{height}" href="data:image/jpeg;base64,'.encode() + code + b'"/></svg>'
