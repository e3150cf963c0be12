"""Whatever stands in a project file, reading it ends in a project or in findings that a maker can act on."""

from __future__ import annotations

import contextlib
import copy
import datetime
import tomllib
from typing import Any

import pytest
import tomlkit
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hoopwright.core.errors import ProjectError
from hoopwright.core.findings import Finding, Severity
from hoopwright.project.load import Loaded, parse
from hoopwright.project.places import lines_of
from hoopwright.project.starter import starter_text

START = starter_text("Wheel house", "mm")
TREE = tomllib.loads(START)
JARGON = ("union", "tag", "Input", "tuple", "dict", "literal", "validat", "pydantic", "None", "str_", "Error", "nan,")

names = st.sampled_from(
    ["width", "shape", "way", "cuts", "thread", "field", "Ebb", "tide mill", "colour", "", "1", "ü"]
)
atoms = st.one_of(
    st.integers(-(10**30), 10**30),
    st.floats(),
    st.booleans(),
    st.text(max_size=12),
    st.sampled_from(["flap", "crazy-centre", "drawing", "lines", "4 1/4 in", "#335577", "130x180", "1,5", "A", "gold"]),
    st.just(datetime.date(2001, 2, 3)),
)
values = st.recursive(
    atoms,
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(names, inner, max_size=3)),
    max_leaves=8,
)


def spots(tree: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    pairs = tree.items() if isinstance(tree, dict) else enumerate(tree) if isinstance(tree, list) else ()
    return [p for key, value in pairs for p in ((*path, key), *spots(value, (*path, key)))]


SPOTS = spots(TREE)


def with_value(tree: dict[str, Any], path: tuple[Any, ...], value: Any) -> dict[str, Any]:
    changed: dict[str, Any] = copy.deepcopy(tree)
    node: Any = changed
    for key in path[:-1]:
        node = node[key]
    if isinstance(node, dict) and not isinstance(path[-1], str):
        raise TypeError("a table has names, not places")
    if value is None:
        del node[path[-1]]
    else:
        node[path[-1]] = value
    return changed


def outcome(text: str) -> Loaded | tuple[Finding, ...]:
    try:
        return parse(text, None)
    except ProjectError as error:
        assert error.findings
        return error.findings


def assert_readable(findings: tuple[Finding, ...], foreign: str) -> None:
    for finding in findings:
        assert finding.code.startswith("HW1") and finding.severity is Severity.BLOCKS
        assert finding.message and finding.cure
        words = f"{finding.message} {finding.cure}"
        assert not [j for j in JARGON if j in words and j not in foreign], words


@given(st.sampled_from(SPOTS), values | st.none())
@settings(max_examples=60, deadline=None)
def test_one_value_changed(path: tuple[Any, ...], value: Any) -> None:
    text = tomlkit.dumps(with_value(TREE, path, value))
    result = outcome(text)
    if not isinstance(result, Loaded):
        assert_readable(result, text)


@given(st.sampled_from([p[:-1] for p in SPOTS if isinstance(p[-1], str)]), names, values)
@settings(max_examples=80, deadline=None)
def test_one_setting_added(table: tuple[Any, ...], name: str, value: Any) -> None:
    text = tomlkit.dumps(with_value(TREE, (*table, name), value))
    result = outcome(text)
    if not isinstance(result, Loaded):
        assert_readable(result, text)


@given(st.dictionaries(names | st.sampled_from(sorted(TREE)), values, max_size=5))
@settings(max_examples=60, deadline=None)
def test_any_tables(tree: dict[str, Any]) -> None:
    text = tomlkit.dumps(tree)
    result = outcome(text)
    assert not isinstance(result, Loaded)
    assert_readable(result, text)


@given(st.integers(0, len(START)), st.integers(0, 6), st.text(alphabet="\"[]{}=,.#\n\\ a1'\0“", max_size=4))
@settings(max_examples=150, deadline=None)
def test_slips_of_the_keyboard(at: int, taken: int, typed: str) -> None:
    text = START[:at] + typed + START[at + taken :]
    result = outcome(text)
    if not isinstance(result, Loaded):
        assert_readable(result, text)


@given(st.text(max_size=200))
@settings(max_examples=150, deadline=None)
def test_any_text(text: str) -> None:
    assert not isinstance(outcome(text), Loaded)


@pytest.mark.soak
@given(st.lists(st.tuples(st.sampled_from(SPOTS), values | st.none()), min_size=2, max_size=6))
@settings(max_examples=3000, deadline=None, suppress_health_check=list(HealthCheck))
def test_many_values_changed(changes: list[tuple[tuple[Any, ...], Any]]) -> None:
    tree = TREE
    for path, value in changes:
        with contextlib.suppress(KeyError, IndexError, TypeError):
            tree = with_value(tree, path, value)
    text = tomlkit.dumps(tree)
    result = outcome(text)
    if not isinstance(result, Loaded):
        assert_readable(result, text)


@given(st.dictionaries(st.text(min_size=1, max_size=5), values, max_size=5))
@settings(max_examples=80, deadline=None)
def test_every_value_has_a_line(tree: dict[str, Any]) -> None:
    """The walk over the text finds the very places that a TOML reader finds."""
    text = tomlkit.dumps(tree)
    assert set(lines_of(text)) == set(spots(tomllib.loads(text)))
