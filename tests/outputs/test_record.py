from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from hoopwright.outputs.record import record_json
from tests.outputs.small_item import item_build

PAGE = Path(__file__).parents[2] / "docs" / "build-record.md"
TABLES = {"A panel": "panels", "A patch": "patches", "A piece": "pieces", "A hooping": "hoopings"}


@pytest.fixture(scope="module")
def written() -> dict[str, Any]:
    read: dict[str, Any] = json.loads(record_json(item_build(), ("templates.pdf",)))
    return read


def documented(heading: str | None) -> set[str]:
    """The fields in the first column of a table of the page; None is the table before the first heading."""
    parts = re.split(r"^## (.+)$", PAGE.read_text(encoding="utf-8"), flags=re.MULTILINE)
    text = parts[0] if heading is None else parts[parts.index(heading) + 1]
    rows = re.findall(r"^\| (`.+?) \|", text, flags=re.MULTILINE)
    return {name for row in rows for name in re.findall(r"`([a-z_0-9]+)`", row)}


def examples(written: dict[str, Any]) -> Iterator[tuple[str | None, dict[str, Any]]]:
    yield None, written
    panel = written["panels"][0]
    yield "A panel", panel
    yield "A patch", panel["patches"][0]
    yield "A piece", written["pieces"][0]
    yield "A hooping", written["hoopings"][0]


def test_every_field_is_documented_and_every_documented_field_is_written(written: dict[str, Any]) -> None:
    for heading, value in examples(written):
        assert set(value) == documented(heading), heading


def test_inner_fields_are_named_on_the_page(written: dict[str, Any]) -> None:
    text = PAGE.read_text(encoding="utf-8")
    step, hand = written["hoopings"][0]["steps"][0], written["assembly"][0]
    for value in (step, hand, written["totals"], written["totals"]["cloths"][0], written["field"]):
        assert [name for name in value if f"`{name}`" not in text] == []


def test_an_item_tells_its_pieces_assembly_and_care(written: dict[str, Any]) -> None:
    assert [(p["key"], p["count"]) for p in written["pieces"]][-1] == ("lining", 2)
    assert [h["kind"] for h in written["assembly"]] == ["turn", "press", "close", "fold", "press"]
    assert written["care"] == ["Wash it by hand, cool.", "Dry it flat."]
    assert [h["key"] for h in written["hoopings"]] == ["front", "body"]
    assert written["totals"]["assembly_minutes"] > 0
