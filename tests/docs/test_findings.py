"""docs/findings.md explains every code the program can tell, once, in order, with its true severity."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from typing import Final

import pytest

from hoopwright.core.findings import Severity
from tests.docs.papers import DOCS, ROOT

TEXT: Final = (DOCS / "findings.md").read_text(encoding="utf-8")
CODE: Final = re.compile(r"HW\d{3}")
ROWS: Final = re.findall(r"^\| (HW\d{3}) \| ([^|]*) \| ([^|]*) \| ([^|]*) \|$", TEXT, re.MULTILINE)
CODES: Final = [code for code, *_ in ROWS]


def trees() -> Iterator[ast.Module]:
    for path in sorted((ROOT / "src").rglob("*.py")):
        yield ast.parse(path.read_text(encoding="utf-8"))


def told() -> set[str]:
    """Return every code that stands as a text of its own in the source."""
    return {
        node.value
        for tree in trees()
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and CODE.fullmatch(node.value)
    }


def severities() -> dict[str, set[str]]:
    """Return code -> severities, for calls that name both."""
    found: dict[str, set[str]] = {}
    for call in (n for tree in trees() for n in ast.walk(tree) if isinstance(n, ast.Call)):
        codes = [a.value for a in call.args if isinstance(a, ast.Constant) and CODE.fullmatch(str(a.value))]
        named = {
            n.attr.lower()
            for a in call.args
            if not isinstance(a, ast.Call)
            for n in ast.walk(a)
            if isinstance(n, ast.Attribute) and isinstance(n.value, ast.Name) and n.value.id == "Severity"
        }
        for code in codes:
            found.setdefault(str(code), set()).update(named)
    return {code: names for code, names in found.items() if names}


def test_every_code_is_explained_once_and_no_other() -> None:
    assert len(told()) > 100
    assert sorted(CODES) == sorted(told())


def test_every_row_of_a_code_was_read() -> None:
    assert len(CODES) == len(re.findall(r"^\| HW", TEXT, re.MULTILINE))


def test_codes_stand_in_order_under_their_room() -> None:
    assert sorted(CODES) == CODES
    for part in re.split(r"^## ", TEXT, flags=re.MULTILINE)[1:]:
        room = re.match(r".*\(HW(\d)\)$", part.splitlines()[0])
        assert room is not None and set(re.findall(r"^\| HW(\d)", part, re.MULTILINE)) == {room[1]}


@pytest.mark.parametrize(("code", "severity", "meaning", "cure"), ROWS, ids=CODES)
def test_a_row_says_what_it_means_and_what_to_do(code: str, severity: str, meaning: str, cure: str) -> None:
    assert set(severity.split(" or ")) <= set(Severity)
    for sentence in (meaning, cure):
        assert sentence[0].isupper() or sentence[0] in '"`'
        assert sentence.endswith((".", "?"))


def test_severities_are_the_true_ones() -> None:
    true = severities()
    assert len(true) > 50
    written = {code: severity for code, severity, *_ in ROWS}
    assert {c: s for c, s in true.items() if s != set(written[c].split(" or "))} == {}
