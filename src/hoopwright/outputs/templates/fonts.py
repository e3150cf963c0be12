"""The open fonts that come as packages: Source Sans Pro for labels, Source Serif Pro for reading."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import font_source_sans_pro
import font_source_serif_pro

SANS = "Source Sans Pro"
SERIF = "Source Serif Pro"


@cache
def font_folders() -> tuple[str, str]:
    """Return the folders that hold Source Sans Pro and Source Serif Pro."""
    sans, serif = (Path(str(m.__file__)).parent / "files" for m in (font_source_sans_pro, font_source_serif_pro))
    return str(sans), str(serif)
