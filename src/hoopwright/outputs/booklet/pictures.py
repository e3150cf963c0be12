"""Which picture belongs where, and how wide it may stand."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from PIL import Image

from hoopwright.core.types import Mm

_VIEW: Final = re.compile(rb'viewBox="[-0-9.eE]+[ ,]+[-0-9.eE]+[ ,]+([0-9.eE]+)[ ,]+([0-9.eE]+)"')
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
            return Picture(name, min(room[0], room[1] * shape), alt).data()
    return None


def proportion(data: bytes) -> float:
    """Return width over height of an SVG (by its viewBox) or a picture of pixels; 1 when it does not say."""
    found = _VIEW.search(data[:_HEAD])
    if found is None:
        return _of_pixels(data)
    width, height = (float(x) for x in found.groups())
    return width / height if height > 0 else 1.0


def _of_pixels(data: bytes) -> float:
    import io

    try:
        with Image.open(io.BytesIO(data)) as image:
            return image.width / image.height
    except OSError:
        return 1.0


def step_file(hooping: str, index: int) -> str:
    """Return the name of a step's picture."""
    return f"{hooping}-step-{index:02}.svg"
