"""The page's own logic, tried by Node's test runner: one test here for each file of tests there."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

HERE = Path(__file__).parent / "js"
NODE = shutil.which("node")


def test_there_are_files_to_try() -> None:
    assert sorted(p.name for p in HERE.glob("*.test.mjs"))


@pytest.mark.skipif(NODE is None, reason="Node is not installed: the logic of the page in the browser is NOT TESTED")
@pytest.mark.parametrize("name", sorted(p.name for p in HERE.glob("*.test.mjs")))
def test_logic_of_the_page(name: str) -> None:
    command = [str(NODE), "--no-warnings", "--import", "./parts.mjs", "--test", name]
    said = subprocess.run(command, cwd=HERE, capture_output=True, text=True, timeout=120, check=False)
    assert said.returncode == 0, said.stdout + said.stderr
    assert "# tests 0" not in said.stdout and "ℹ tests 0" not in said.stdout, "no test in this file was run"


@pytest.mark.skipif(NODE is None, reason="Node is not installed: the logic of the page in the browser is NOT TESTED")
def test_a_wrong_answer_fails(tmp_path: Path) -> None:
    """The test above can fail."""
    wrong = tmp_path / "wrong.test.mjs"
    wrong.write_text('import test from "node:test";\ntest("wrong", () => { throw new Error("wrong"); });\n')
    said = subprocess.run([str(NODE), "--test", str(wrong)], capture_output=True, text=True, timeout=60, check=False)
    assert said.returncode != 0
