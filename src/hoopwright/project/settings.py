"""What the schema knows at each place of a project file: which settings may stand there and what they are."""

from __future__ import annotations

import types
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel, BeforeValidator
from pydantic.fields import FieldInfo

from hoopwright.project.lengths import read_length
from hoopwright.project.places import Path
from hoopwright.project.schema import Project

TAGS: Mapping[Path, str] = {("panel", "outline"): "shape", ("panel", "patchwork"): "way"}
"""Tables whose settings depend on one of their own settings."""


@dataclass(frozen=True, slots=True)
class Setting:
    """One setting: the table it stands in (table[s] with free names shown as "*"), its name, what the schema says."""

    table: Path
    name: str
    info: FieldInfo


def settings_of(model: type[BaseModel]) -> dict[str, FieldInfo]:
    """Return the settings of a model by the names used in the file."""
    return {info.alias or name: info for name, info in model.model_fields.items()}


def tags_of(path: Path) -> tuple[str, ...]:
    """Return the allowed values of the deciding setting (``shape`` or ``way``) of the table at ``path``."""
    tag = TAGS[path]
    return tuple(v for m in _models(_kind_at(path)) for v in get_args(m.model_fields[tag].annotation))


def model_at(path: Path, data: Any) -> type[BaseModel] | None:
    """Return the model of the table at ``path`` of the read file ``data``; None when no table can stand there."""
    found = _models(_kind_at(path))
    if path in TAGS:
        chosen = _value_at((*path, TAGS[path]), data)
        found = [m for m in found if chosen in get_args(m.model_fields[TAGS[path]].annotation)]
    return found[0] if found else None


def is_length(path: Path, data: Any) -> bool:
    """Whether the setting at ``path`` is a length (so that its unit may be named in a message)."""
    model = model_at(path[:-1], data) if path else None
    info = settings_of(model).get(str(path[-1])) if model else None
    return info is not None and _measured(info.annotation, tuple(info.metadata))


@cache
def all_settings() -> tuple[Setting, ...]:
    """Return every setting of the project file, depth first, in the order of the schema."""
    return tuple(_below((), Project))


def _below(table: Path, model: type[BaseModel]) -> Iterator[Setting]:
    for name, info in settings_of(model).items():
        yield Setting(table, name, info)
        for path, inner in _inside((*table, name), info.annotation):
            yield from _below(path, inner)


def _inside(path: Path, kind: Any) -> Iterator[tuple[Path, type[BaseModel]]]:
    """Yield the models that a setting of this kind holds, with their places."""
    kind = _bare(kind)
    held = _held(kind)
    for model in _models(kind if held is None else held):
        yield (path if held is None else (*path, "*")), model


def _held(kind: Any) -> Any:
    """Return what a table of free names or a list holds; None for any other kind."""
    if get_origin(kind) is dict:
        return get_args(kind)[1]
    many = get_origin(kind) is tuple and get_args(kind)[1:] == (Ellipsis,)
    return get_args(kind)[0] if many else None


def _kind_at(path: Path) -> Any:
    """Return the declared type of the value at ``path``, None for an unknown place."""
    kind: Any = Project
    for part in path:
        kind = _bare(kind)
        if (held := _held(kind)) is not None:
            kind = held
            continue
        infos = [i for m in _models(kind) if (i := settings_of(m).get(str(part))) is not None]
        if not infos:
            return None
        kind = infos[0].annotation
    return kind


def _models(kind: Any) -> list[type[BaseModel]]:
    """Return the models among the alternatives of a type."""
    kind = _bare(kind)
    choices = get_args(kind) if get_origin(kind) in (Union, types.UnionType) else (kind,)
    plain = [_bare(c) for c in choices]
    nested = [m for c in plain if get_origin(c) in (Union, types.UnionType) for m in _models(c)]
    return [c for c in plain if isinstance(c, type) and issubclass(c, BaseModel)] + nested


def _bare(kind: Any) -> Any:
    return _bare(get_args(kind)[0]) if get_origin(kind) is Annotated else kind


def _measured(kind: Any, metadata: tuple[Any, ...]) -> bool:
    if any(isinstance(m, BeforeValidator) and m.func is read_length for m in metadata):
        return True
    if get_origin(kind) is Annotated:
        return _measured(get_args(kind)[0], get_args(kind)[1:])
    return any(_measured(c, ()) for c in get_args(kind))


def _value_at(path: Path, data: Any) -> Any:
    for part in path:
        data = data.get(part) if isinstance(data, Mapping) else None
    return data if isinstance(data, str) else None
