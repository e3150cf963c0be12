"""Every command of README.md works as it stands there, in the order in which it stands there."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from typer.testing import CliRunner

from hoopwright.cli.main import app
from hoopwright.worktable import server
from tests.docs.papers import ROOT

README = (ROOT / "README.md").read_text(encoding="utf-8")
FOUND = re.findall(r"^    (?:\S*[/\\])?hoopwright ([^#\n]+)", README, re.MULTILINE)
COMMANDS = list(dict.fromkeys(c.strip().replace("\\", "/") for c in FOUND))
"""Each once: the page tells some for every kind of machine."""


def test_the_commands_work(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "examples").symlink_to(ROOT / "examples")
    assert {c.split()[0] for c in COMMANDS} == {"items", "new", "check", "build", "stitches", "swatches", "worktable"}
    served: list[Path] = []
    monkeypatch.setattr(server, "serve", lambda folder, _port, **_more: served.append(folder))
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    for command in COMMANDS:
        result = CliRunner().invoke(app, shlex.split(command))
        assert result.exit_code == 0, f"{command}: {result.output}"
    assert (tmp_path / "map.svg").is_file()
    assert served == [Path("my-projects")], "the page itself is tried in tests/browser"


def test_the_folder_is_as_the_table_says(tmp_path: Path) -> None:
    project, out = tmp_path / "my-flap.toml", tmp_path / "my-flap"
    CliRunner().invoke(app, ["new", str(project)])
    CliRunner().invoke(app, ["build", str(project), "--out", str(out)])
    told = set(re.findall(r"^\| `([a-z.]+)/?` \|", README, re.MULTILINE))
    assert told == {p.name for p in out.iterdir()}


def test_make_has_the_targets_that_are_told() -> None:
    makefile = (ROOT / "Makefile").read_text(encoding="utf-8")
    for target in re.findall(r"^    make ([a-z]+)", README, re.MULTILINE):
        assert re.search(rf"^{target}:", makefile, re.MULTILINE)
