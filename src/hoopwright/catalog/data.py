"""Reading the fact files that stand beside this module."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def facts(name: str) -> dict[str, Any]:
    """Return the facts of ``name`` ("hoops" reads hoops.toml). Raises FileNotFoundError for an unknown name."""
    return tomllib.loads(files("hoopwright.catalog").joinpath(f"{name}.toml").read_text(encoding="utf-8"))
