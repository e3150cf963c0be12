"""In which language the worktable answers: sentences of the engine, and refusals, in the language of the page that asks.

A page says its language with every request (RFC 9110, 12.5.4). Only the fields that are declared here are translated, and in
them never the maker's own names.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any, Final, TypeAlias, TypeVar, cast

from fastapi import Depends, Request

from hoopwright.core.errors import HoopwrightError
from hoopwright.project.names import names_of as names_of
from hoopwright.translation.sentences import translated
from hoopwright.worktable.texts import FIRST, language_of

Row = TypeVar("Row")

FOUND: Final = frozenset({"message", "cure"})
"""Findings, refusals and troubles."""
DRAFT: Final = FOUND | {"sentence", "why"}
"""A panel as it is drafted: what was found, what would help, why the order is as it is."""
SHEET: Final = frozenset({"title", "sentence", "words", "sign"})
"""The run sheet, and the hoopings of what is taken away."""
HALTS: Final = SHEET | {"cloth", "lies"}
"""The halts at the machine; a cloth that is none of the maker's is called by what is laid."""
SHOWN: Final = frozenset({"title", "summary", "description"})
"""What there is to choose from: recipes, seam stitches, grounds."""

WORDS: Final = frozenset({"text", "texts"})
"""Kinds of rows in forms that words are written in."""

OWN: Final = frozenset({"project"})
"""Parts of an answer that are the maker's own, and stay as they are."""


@dataclass(frozen=True, slots=True)
class Speech:
    """How one request is answered: its language, and how the names are found that stay as they are."""

    language: str = FIRST
    names: Callable[[], tuple[str, ...]] = tuple

    def of(self, row: Row, fields: frozenset[str]) -> Row:
        """Return plain data with the texts of some fields, at any depth, in this language; English data is not even looked at."""
        if self.language == FIRST:
            return row
        return cast(Row, _said(row, fields, self.language, self.names()))

    def text(self, text: str) -> str:
        """Return a text in this language."""
        return text if self.language == FIRST else translated(text, self.language, self.names())

    def rows(self, form: list[dict[str, Any]]) -> list[dict[str, Any]]:
        """Return the rows of a form, words that are proposed in them in this language."""
        if self.language == FIRST:
            return form
        return [{**row, "usual": self._proposed(row["usual"])} if row["kind"] in WORDS else row for row in form]

    def _proposed(self, usual: Any) -> Any:
        return self.text(usual) if isinstance(usual, str) else [self.text(line) for line in usual] if usual else usual


def speech_to(request: Request) -> Speech:
    """Return how a request is answered."""
    return Speech(language_of(request.headers.get("accept-language", "")), lambda: _names_in(request))


async def _speech(request: Request) -> Speech:
    return speech_to(request)


Say: TypeAlias = Annotated[Speech, Depends(_speech)]


def _names_in(request: Request) -> tuple[str, ...]:
    """Return the names of the project that a request is about."""
    name = request.path_params.get("name")
    with contextlib.suppress(HoopwrightError):
        if isinstance(name, str):
            loaded = request.app.state.room.workbook(name).known()
            return () if loaded is None else names_of(loaded.project)
    return ()


def _said(row: Any, fields: frozenset[str], language: str, names: tuple[str, ...]) -> Any:
    if isinstance(row, dict):
        return {k: _field(k, v, fields, language, names) for k, v in row.items()}
    if isinstance(row, list | tuple) and row and not isinstance(row[0], int | float | str):
        return [_said(one, fields, language, names) for one in row]
    return row


def _field(name: Any, value: Any, fields: frozenset[str], language: str, names: tuple[str, ...]) -> Any:
    if name in OWN:
        return value
    return _texts(value, language, names) if name in fields else _said(value, fields, language, names)


def _texts(value: Any, language: str, names: tuple[str, ...]) -> Any:
    if isinstance(value, str):
        return translated(value, language, names)
    return [_texts(one, language, names) for one in value] if isinstance(value, list | tuple) else value
