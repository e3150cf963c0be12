"""docs/project-file.md describes every setting, with its true default and an example that is taken."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Annotated, Any

import pytest
from pydantic import TypeAdapter, ValidationError

from hoopwright.project.settings import Setting, all_settings, is_length

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "project-file.md"
HEADING = re.compile(r"## (?:\[([a-z_.*]+)\]|(At the top of the file))")


def rows() -> dict[tuple[str, str], tuple[str, str, str, str]]:
    """Return (table, setting) -> (meaning, unit, usual, example) of the page."""
    found: dict[tuple[str, str], tuple[str, str, str, str]] = {}
    table: str | None = None
    for line in PAGE.read_text(encoding="utf-8").splitlines():
        if line.startswith("## "):
            match = HEADING.match(line)
            table = (match[1] or "") if match else None
        cells = [c.strip() for c in line.strip("|").split("|")]
        if table is not None and len(cells) == 5 and cells[0].startswith("`"):
            found[(table, cells[0].strip("`"))] = (cells[1], cells[2], cells[3], cells[4])
    return found


ROWS = rows()
NAMES = sorted({(".".join(map(str, s.table)), s.name) for s in all_settings()})


def settings_called(place: tuple[str, str]) -> list[Setting]:
    return [s for s in all_settings() if (".".join(map(str, s.table)), s.name) == place]


def value(cell: str) -> Any:
    return _frozen(tomllib.loads(f"x = {cell.strip('`')}")["x"])


def _frozen(thing: Any) -> Any:
    return tuple(map(_frozen, thing)) if isinstance(thing, list) else thing


def test_every_setting_is_described_and_nothing_else() -> None:
    assert sorted(ROWS) == NAMES


@pytest.mark.parametrize("place", NAMES, ids=".".join)
def test_the_usual_value_is_the_true_one(place: tuple[str, str]) -> None:
    meaning, _, usual, _ = ROWS[place]
    assert meaning
    infos = [s.info for s in settings_called(place)]
    if usual == "needed":
        assert all(i.is_required() for i in infos)
    elif usual:
        assert all(value(usual) == i.get_default(call_default_factory=True) for i in infos)
    elif "see [" not in meaning:
        assert all(i.default is None for i in infos) or place == ("panel.outline", "radius")


@pytest.mark.parametrize("place", [p for p in NAMES if ROWS.get(p, ("",) * 4)[3]], ids=".".join)
def test_the_example_is_taken(place: tuple[str, str]) -> None:
    example = value(ROWS[place][3])
    assert any(_taken(s, example) for s in settings_called(place))


def _taken(setting: Setting, example: Any) -> bool:
    kind: Any = setting.info.annotation
    for rule in setting.info.metadata:
        kind = Annotated[kind, rule]
    try:
        TypeAdapter(kind).validate_python(example, strict=True)
    except ValidationError:
        return False
    return True


@pytest.mark.parametrize("place", NAMES, ids=".".join)
def test_lengths_name_their_unit(place: tuple[str, str]) -> None:
    setting = settings_called(place)[0]
    if "*" not in setting.table and is_length((*setting.table, setting.name), {}):
        assert ROWS[place][1] == "mm"
