"""Where each value of a TOML file stands: its path in words and its line.

A *path* is a tuple of table keys and list positions counted from 0; shown to the maker, list positions count from 1
("panel.patchwork.cuts[2]" is the second cut).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final, TypeAlias

Path: TypeAlias = tuple[str | int, ...]
"""Keys and list positions (from 0) from the top of the file down to a value."""

_BARE: Final = re.compile(r"[A-Za-z0-9_-]+")
_STRING: Final = re.compile(r'"""(?:\\.|[^\\])*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'', re.DOTALL)
_BLANK: Final = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_ATOM: Final = re.compile(r"[^\s,\]}#]+(?: [0-9][^\s,\]}#]*)?")
_ESCAPES: Final = re.compile(r'\\(?:u([0-9a-fA-F]{4})|U([0-9a-fA-F]{8})|(["\\bfnrt]))')
_LETTERS: Final = {'"': '"', "\\": "\\", "b": "\b", "f": "\f", "n": "\n", "r": "\r", "t": "\t"}


def show_path(path: Sequence[str | int]) -> str:
    """Return a path in words: "panel.patchwork.cuts[2]", list positions counted from 1."""
    text = ""
    for part in path:
        if isinstance(part, int):
            text += f"[{part + 1}]"
        else:
            shown = part if _BARE.fullmatch(part) else f'"{part}"'
            text += f".{shown}" if text else shown
    return text


def read_path(text: str) -> Path:
    """Return the path written as ``show_path`` writes it. Raises ValueError for anything else."""
    parts: list[str | int] = []
    pattern = re.compile(r'(?:^|\.)(?:"([^"]*)"|([A-Za-z0-9_-]+))|\[([1-9][0-9]*)\]')
    at = 0
    while at < len(text):
        match = pattern.match(text, at)
        if match is None or (not parts and (match[3] or text[0] == ".")):
            raise ValueError(f"{text!r} is not a place in a project file, such as panel.outline.width")
        parts.append(int(match[3]) - 1 if match[3] else match[1] if match[1] is not None else match[2])
        at = match.end()
    return tuple(parts)


def line_of(lines: dict[Path, int], path: Path) -> int | None:
    """Return the line of ``path``, or of the nearest thing above it that the file names; None for the whole file."""
    for length in range(len(path), 0, -1):
        if path[:length] in lines:
            return lines[path[:length]]
    return None


def lines_of(text: str) -> dict[Path, int]:
    """Return the line (from 1) of every table, list item and value of a TOML text that a TOML reader accepts."""
    return _Walk(text.replace("\r\n", "\n")).lines


class _Walk:
    """One reading of a text from top to bottom; it trusts that the text is valid."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.lines: dict[Path, int] = {}
        self.counted = (0, 1)
        self.table: Path = ()
        self.rows: dict[Path, int] = {}
        self._blank()
        while self.at < len(text):
            self._statement()
            self._blank()

    def _line(self) -> int:
        """Return the number of the line we are on; counts on from the last answer."""
        place, line = self.counted
        self.counted = (self.at, line + self.text.count("\n", place, self.at))
        return self.counted[1]

    def _note(self, path: Path) -> None:
        self.lines.setdefault(path, self._line())

    def _blank(self) -> None:
        match = _BLANK.match(self.text, self.at)
        self.at = match.end() if match else self.at

    def _statement(self) -> None:
        if self.text[self.at] == "[":
            self._header()
        else:
            self._pair(self.table)

    def _header(self) -> None:
        """Read "[table]" or "[[list of tables]]" and remember what follows belongs to it."""
        many = self.text.startswith("[[", self.at)
        self.at += 2 if many else 1
        path = self._into_rows(self._key())
        if many:
            self._note(path)
            self.rows[path] = self.rows.get(path, -1) + 1
            path = (*path, self.rows[path])
        self._note_all(path)
        self.table = path
        self._blank()
        self.at += 2 if many else 1

    def _into_rows(self, keys: tuple[str, ...]) -> Path:
        """Return the path of ``keys``, going into the newest row of every list of tables on the way."""
        path: Path = ()
        for i, key in enumerate(keys):
            path = (*path, key)
            if path in self.rows and i < len(keys) - 1:
                path = (*path, self.rows[path])
        return path

    def _note_all(self, path: Path) -> None:
        for length in range(1, len(path) + 1):
            self._note(path[:length])

    def _key(self) -> tuple[str, ...]:
        """Read a key, dotted or not."""
        parts: list[str] = []
        while True:
            self._blank()
            quoted = _STRING.match(self.text, self.at)
            match = quoted or _BARE.match(self.text, self.at)
            if match is None:
                self.at = len(self.text)
                return tuple(parts)
            self.at = match.end()
            parts.append(_unquoted(match[0]) if quoted else match[0])
            self._blank()
            if not self.text.startswith(".", self.at):
                return tuple(parts)
            self.at += 1

    def _pair(self, table: Path) -> None:
        line = self._line()
        path = (*table, *self._key())
        for length in range(len(table) + 1, len(path) + 1):
            self.lines.setdefault(path[:length], line)
        self.at += 1
        self._value(path)

    def _value(self, path: Path) -> None:
        self._blank()
        opening = self.text[self.at : self.at + 1]
        if opening in ("[", "{") and opening:
            self._group(path, opening)
            return
        match = _STRING.match(self.text, self.at) or _ATOM.match(self.text, self.at)
        self.at = match.end() if match else len(self.text)

    def _group(self, path: Path, opening: str) -> None:
        """Read a list or an inline table."""
        closing = "]" if opening == "[" else "}"
        self.at += 1
        number = 0
        self._blank()
        while self.at < len(self.text) and self.text[self.at] != closing:
            if opening == "[":
                self._note((*path, number))
                self._value((*path, number))
                number += 1
            else:
                self._pair(path)
            self._blank()
            self.at += self.text.startswith(",", self.at)
            self._blank()
        self.at += 1


def _unquoted(text: str) -> str:
    """Return the meaning of a quoted key."""
    if text[0] == "'":
        return text[1:-1]
    return _ESCAPES.sub(lambda m: _LETTERS[m[3]] if m[3] else chr(int(m[1] or m[2], 16)), text[1:-1])
