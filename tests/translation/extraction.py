"""Every text that the engine may say, read from its source; what only programmers see is left out, by rules that are told here."""

from __future__ import annotations

import ast
import itertools
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import hoopwright
from hoopwright.translation.sentences import left_in_english

ROOT = Path(hoopwright.__file__).parent
LETTERS = 4
"""A text with fewer letters, or without a space, is a word or a sign: what is said with it is looked at as a whole elsewhere."""
CALLERS = frozenset(
    {"ValueError", "KeyError", "IndexError", "TypeError", "AssertionError", "NotImplementedError", "RuntimeError"}
)
"""Errors that tell a caller of a function what is wrong with the call. A maker is told findings, and errors of core/errors.py."""
UNSAID = frozenset(
    {"compile", "sub", "fullmatch", "match", "search", "findall", "split", "getLogger", "append_hatch", "warn"}
)
"""Functions whose texts are patterns."""


@dataclass(frozen=True, slots=True)
class Text:
    """A text in the source: the file below the package, its line, the text with holes {1}, {2} ..., what fills them."""

    file: str
    line: int
    text: str
    fills: tuple[str, ...]

    def __str__(self) -> str:
        filled = f"   <- {' | '.join(self.fills)}" if self.fills else ""
        return f"{self.file}:{self.line}: {self.text!r}{filled}"


def texts_of(room: str) -> Iterator[Text]:
    """Yield the texts of a room (a folder or file of the package), file by file."""
    at = ROOT / room
    for path in sorted(at.rglob("*.py")) if at.is_dir() else [at]:
        yield from _texts_of_file(path)


@cache
def _texts_of_file(path: Path) -> tuple[Text, ...]:
    name = path.relative_to(ROOT).as_posix()
    return tuple(Text(name, *row) for row in _texts(ast.parse(path.read_text(encoding="utf-8"))))


def _texts(tree: ast.AST) -> Iterator[tuple[int, str, tuple[str, ...]]]:
    nodes = list(ast.walk(tree))
    skipped = {id(part) for node in nodes for unsaid in _unsaid(node) for part in ast.walk(unsaid)}
    for node in nodes:
        if id(node) in skipped:
            continue
        if isinstance(node, ast.JoinedStr):
            text, fills = _joined(node)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            text, fills = node.value, ()
        else:
            continue
        bare = re.sub(r"\{[0-9]+\}", "", text)
        if " " in text.strip() and sum(c.isalpha() for c in bare) > LETTERS:
            yield node.lineno, text, fills


def _unsaid(node: ast.AST) -> Iterator[ast.AST]:
    """Yield the parts of a node whose texts no maker sees: docstrings, errors for callers, patterns, types, and parts of a text."""
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant | ast.JoinedStr):
        yield node.value
    if isinstance(node, ast.JoinedStr):
        yield from (v for v in node.values if isinstance(v, ast.Constant))
    if isinstance(node, ast.FormattedValue) and node.format_spec is not None:
        yield node.format_spec
    if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call) and _called(node.exc) in CALLERS:
        yield node.exc
    if isinstance(node, ast.Call) and _called(node) in UNSAID:
        yield from node.args
    if isinstance(node, ast.Assert) and node.msg is not None:
        yield node.msg
    if isinstance(node, ast.AnnAssign | ast.arg) and node.annotation is not None:
        yield node.annotation


def _called(call: ast.Call) -> str:
    return call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")


def _joined(node: ast.JoinedStr) -> tuple[str, tuple[str, ...]]:
    text, fills = "", []
    for value in node.values:
        if isinstance(value, ast.Constant):
            text += str(value.value)
        else:
            fills.append(ast.unparse(value.value) if isinstance(value, ast.FormattedValue) else ast.unparse(value))
            text += f"{{{len(fills)}}}"
    return text, tuple(fills)


def left_of(text: Text, language: str) -> int:
    """Return how many letters of a text stay English, whatever fills its holes (at most of the ways to fill them)."""
    return max(
        min(left_in_english(filled, language, names) for filled in way)
        for way in _ways(text)
        for names in [_names(text)]
    )


def _names(text: Text) -> tuple[str, ...]:
    return tuple(f"Qx{n}" for n in range(1, len(text.fills) + 1))


def _ways(text: Text) -> Iterator[list[str]]:
    """Yield lists of texts with the holes filled; of each list one must be covered.

    A hole that adds an "s" is filled both ways; another one that stands close to a word may be empty.
    """
    must, may = [], []
    for n, source in enumerate(text.fills, 1):
        close = re.search(rf"[\w.,]\{{{n}\}}|\}}\{{{n}\}}|\{{{n}\}}[\w{{]", text.text)
        plural = re.search(r"'(s|es)' if|else '(s|es)'", source)
        ends = [plural[1] or plural[2], ""] if plural else None
        must.append(ends or [""] if plural else [None])
        may.append([""] if plural else [f"Qx{n}", ""] if close else [f"Qx{n}"])
    for fixed in itertools.product(*must):
        free = itertools.islice(itertools.product(*may), 64)
        yield [_fill(text.text, [f if f is not None else m for f, m in zip(fixed, row, strict=True)]) for row in free]


def _fill(text: str, fills: list[str]) -> str:
    return re.sub(r"\{([0-9]+)\}", lambda m: fills[int(m[1]) - 1], text)


def within_a_sentence(text: Text, sentences: str) -> bool:
    """Return whether every sentence of a text stands in one of a catalogue (one a line), with anything in its holes.

    A part of a sentence ("by itself", "of {2} and {3}") is said by the sentences that it becomes a part of.
    """
    return all(_stands_in(part, sentences) for part in re.split(r"(?<=[a-z0-9}])\.\s+", text.text))


def _stands_in(part: str, sentences: str) -> bool:
    pieces = re.split(r"\{[0-9]*\}|\{\w+\}", part.strip(" ,.;:(\n"))
    if sum(c.isalpha() for piece in pieces for c in piece) <= LETTERS:
        return True
    words = [piece.lower() for piece in pieces]
    pattern = re.compile(".{0,200}?".join(re.escape(word) for word in words))
    return any(all(word in line for word in words) and pattern.search(line) for line in _lines(sentences))


@cache
def _lines(sentences: str) -> tuple[str, ...]:
    return tuple(sentences.lower().split("\n"))
