"""The papers of the project, and the program that draws their pictures."""

from __future__ import annotations

import importlib.util
import re
import sys
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Final

import numpy as np

ROOT: Final = Path(__file__).parents[2]
DOCS: Final = ROOT / "docs"
NUMBER: Final = re.compile(r"-?\d+(?:\.\d+)?")
NEAR: Final = 0.01
"""Drawn again, no number of a picture differs by more (mm, or degrees)."""


@cache
def drawer() -> ModuleType:
    """Return docs/draw_pictures.py as a module."""
    spec = importlib.util.spec_from_file_location("draw_pictures", DOCS / "draw_pictures.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def same_picture(kept: str, fresh: str) -> bool:
    """Whether two SVG files have the same words and numbers within NEAR; libraries differ in the last decimal."""
    if NUMBER.sub("#", kept) != NUMBER.sub("#", fresh):
        return False
    a, b = (np.array(NUMBER.findall(t), dtype=float) for t in (kept, fresh))
    return bool(np.abs(a - b).max() < NEAR)


def papers() -> tuple[Path, ...]:
    """Return every page for readers."""
    return (*sorted(ROOT.glob("*.md")), *sorted(DOCS.rglob("*.md")))
