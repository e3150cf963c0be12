"""Changing and saving a project file: comments stay, and the old file is whole until the new one is."""

from __future__ import annotations

import contextlib
import os
import tempfile
import tomllib
from collections.abc import Iterable, MutableMapping, MutableSequence
from pathlib import Path
from typing import Any, TypeAlias

import tomlkit
from tomlkit.exceptions import TOMLKitError

from hoopwright.core.errors import HoopwrightError, OutputError
from hoopwright.project import places
from hoopwright.project.load import parse
from hoopwright.project.places import read_path, show_path
from hoopwright.project.upgrade import upgraded_text

Value: TypeAlias = str | int | float | bool | Iterable["Value"] | dict[str, "Value"]
"""What a project file can hold."""


def set_value(text: str, path: str, value: Value | None) -> str:
    """Return the file's text with the one value at ``path`` changed, added, or (None) taken out; comments stay.

    ``path`` is written as findings write it: "panel.outline.width", "panel.patchwork.cuts[2]" (counted from 1; one
    past the last adds to the list). The result is not checked against the schema: ``save`` does that.
    Raises HoopwrightError when the text is no TOML or the path leads through something that is not a table or list.
    """
    try:
        keys = read_path(path)
        document = tomlkit.parse(text)
        _change(document, keys, _plain(value))
        changed = tomlkit.dumps(document)
        sound = tomllib.loads(changed) == _expected(tomllib.loads(text), keys, _plain(value))
    except (TOMLKitError, tomllib.TOMLDecodeError, ValueError, KeyError, IndexError, TypeError) as error:
        raise HoopwrightError(f"{path} cannot be set in this file ({error})", "Change it in a text editor") from error
    if not sound:
        raise HoopwrightError(f"{path} cannot be set without disturbing the rest", "Change it in a text editor")
    return changed


def _plain(value: Any) -> Any:
    """Return the value with tuples as lists."""
    if isinstance(value, dict):
        return {k: _plain(v) for k, v in value.items()}
    return [_plain(v) for v in value] if isinstance(value, list | tuple) else value


def _change(document: MutableMapping[str, Any], keys: places.Path, value: Any) -> None:
    """Change the value in the document; tables on the way are made when missing."""
    if not keys:
        raise ValueError("no place is named")
    node: Any = document
    for depth, key in enumerate(keys[:-1]):
        if isinstance(node, MutableMapping) and key not in node:
            node[str(key)] = _table(node, below=depth < len(keys) - 2)
        node = node[key]
    _put(node, keys[-1], value)


def _table(parent: Any, below: bool) -> Any:
    """Return a new table of the parent's kind; ``below`` says that it will hold tables only and needs no heading."""
    if isinstance(parent, tomlkit.items.InlineTable):
        return tomlkit.inline_table()
    return tomlkit.table(is_super_table=below)


def _put(node: Any, key: str | int, value: Any) -> None:
    if isinstance(node, MutableSequence):
        if not isinstance(key, int):
            raise TypeError(f"{key} stands in a list, which has numbers only")
        _put_in_list(node, key, value)
    elif not isinstance(node, MutableMapping) or isinstance(key, int):
        raise TypeError(f"nothing can stand at {show_path((key,))}")
    elif value is None:
        del node[key]
    else:
        node[key] = value


def _put_in_list(node: MutableSequence[Any], place: int, value: Any) -> None:
    if value is None:
        del node[place]
    elif place == len(node):
        node.append(value)
    else:
        node[place] = value


def _expected(data: dict[str, Any], keys: places.Path, value: Any) -> dict[str, Any]:
    """Return plain data changed in the same way: what the changed text must mean."""
    node: Any = data
    for key in keys[:-1]:
        node = node.setdefault(key, {}) if isinstance(node, dict) else node[key]
    _put(node, keys[-1], value)
    return data


def save(path: Path, text: str) -> None:
    """Write a project's text to ``path``, all or nothing.

    Raises ProjectError when the text is not a valid project (nothing is written), OutputError when it cannot be
    written; in both cases the old file stays as it was.
    """
    target = path.resolve()
    parse(text, target.parent)
    _replace(target, text.encode("utf-8"))


def save_upgraded(path: Path) -> bool:
    """Bring the file at ``path`` up to date if it is of an older version; return whether it was. Raises like ``save``."""
    text = path.read_text(encoding="utf-8-sig")
    newer = upgraded_text(text)
    if newer == text:
        return False
    save(path, newer)
    return True


def _replace(target: Path, content: bytes) -> None:
    """Write beside the target, make sure it is on the disk, and only then put it in the target's place."""
    beside: Path | None = None
    try:
        with tempfile.NamedTemporaryFile(dir=target.parent, prefix=f".{target.name}.", delete=False) as file:
            beside = Path(file.name)
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        beside.chmod(target.stat().st_mode & 0o777 if target.exists() else 0o644)
        beside.replace(target)
    except OSError as error:
        if beside is not None:
            with contextlib.suppress(OSError):
                beside.unlink(missing_ok=True)
        reason = error.strerror or str(error)
        raise OutputError(
            f"{target.name} was not saved ({reason})", "The old file is as it was; mend this and save again"
        ) from error
