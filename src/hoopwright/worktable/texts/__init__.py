"""The words of the worktable, one file a language."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Final

NAMES: Final[Mapping[str, str]] = MappingProxyType({"en": "English", "de": "Deutsch"})
"""Languages by their code (ISO 639-1), each by its own name."""
FIRST: Final = "en"


@cache
def words(language: str) -> Mapping[str, str]:
    """Return all words of a language by key; those of English for a language that is not there."""
    code = language if language in NAMES else FIRST
    text = files("hoopwright.worktable.texts").joinpath(f"{code}.toml").read_text(encoding="utf-8")
    return MappingProxyType(tomllib.loads(text))


def language_of(accepted: str) -> str:
    """Return the first language that a browser accepts and that there are words in; English when there is none."""
    codes = (w.split(";")[0].strip()[:2].lower() for w in accepted[:200].split(","))
    return next((c for c in codes if c in NAMES), FIRST)
