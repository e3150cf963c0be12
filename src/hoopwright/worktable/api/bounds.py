"""Values that a page may send for a place of a project file: plain data of bounded size and depth."""

from __future__ import annotations

from typing import Annotated, Any, Final, TypeAlias

from pydantic import AfterValidator

DEEPEST: Final = 8
"""So many tables and lists may stand inside each other; the project file needs 6."""
MOST: Final = 60_000
"""So many numbers, texts, lists and tables may a value have: 5,000 lines of two places are 35,000."""


def plain(value: Any) -> Any:
    """Return a value that a project file can hold. Raises ValueError for one too deep, too large or of letters no file can hold."""
    count, level = 0, [value]
    for _ in range(DEEPEST + 1):
        count += len(level)
        if count > MOST:
            raise ValueError("too much at once")
        if not level:
            return value
        for text in (x for x in level if isinstance(x, str)):
            text.encode("utf-8")
        level = [v for x in level if isinstance(x, dict | list) for v in _inside(x)]
    raise ValueError("too deep")


def _inside(value: dict[str, Any] | list[Any]) -> list[Any]:
    return value if isinstance(value, list) else [*value.keys(), *value.values()]


def sayable(text: str) -> str:
    """Return a text that can be written in a file. Raises ValueError for half letters and control signs."""
    text.encode("utf-8")
    if any(ord(sign) < ord(" ") for sign in text):
        raise ValueError("it must be one line")
    return text


Plain: TypeAlias = Annotated[Any, AfterValidator(plain)]
Words: TypeAlias = Annotated[str, AfterValidator(sayable)]
