from __future__ import annotations

import json
import shlex
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from hoopwright.cli.main import app

EXAMPLES = Path(__file__).parents[2] / "examples"
FLAP = EXAMPLES / "tide-mill-flap" / "project.toml"

MISSING_CUT = """
schema = 1
title = "Trial"
[cloths.linen]
name = "linen"
colour = "#808080"
[threads.slate]
name = "slate"
colour = "#222222"
[panel.outline]
shape = "rectangle"
width = {width}
height = 80
[panel.patchwork]
way = "lines"
lines = {lines}
"""

WINDMILL = "[[[-30, -10], [10, -10]], [[10, -40], [10, 10]], [[30, 10], [-10, 10]], [[-10, 40], [-10, -10]]]"


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(app, [str(w) for w in words])


def project(folder: Path, width: float = 60, lines: str = "[[[0, -40], [0, 40]]]") -> Path:
    path = folder / "project.toml"
    path.write_text(MISSING_CUT.format(width=width, lines=lines))
    return path


@pytest.fixture(scope="module")
def flap(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Result]:
    """The example built once: its folder and what the command said."""
    out = tmp_path_factory.mktemp("flap") / "out"
    return out, run("build", FLAP, "--out", out)


def test_new_writes_a_project_that_checks_clean(tmp_path: Path) -> None:
    made = run("new", tmp_path / "harbour-flap")
    assert made.exit_code == 0
    path = tmp_path / "harbour-flap.toml"
    assert 'title = "Harbour flap"' in path.read_text()
    checked = run("check", path, "--json")
    findings = json.loads(checked.stdout)["findings"]
    assert [f for f in findings if f["severity"] != "notes"] == []
    assert checked.exit_code == 0


def test_new_never_overwrites(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text("mine")
    result = run("new", path)
    assert result.exit_code == 2
    assert "exists already" in result.stderr
    assert path.read_text() == "mine"


def test_build_makes_everything_and_tells_what_to_open(flap: tuple[Path, Result]) -> None:
    out, result = flap
    assert result.exit_code == 0, result.output
    for name in ("booklet.pdf", "templates.pdf", "build.json", "pictures/finished.png", "machine/panel.dst"):
        assert (out / name).is_file(), name
    assert "booklet.pdf" in result.stdout
    record = json.loads((out / "build.json").read_text(encoding="utf-8"))
    found = {p.relative_to(out).as_posix() for p in out.rglob("*") if p.is_file()}
    assert found == {*record["files"], "build.json"}


@pytest.mark.no_cover
def test_two_builds_of_one_project_have_the_same_bytes(tmp_path: Path, flap: tuple[Path, Result]) -> None:
    again = tmp_path / "again"
    quiet = run("build", FLAP, "--out", again, "--quiet")
    assert quiet.exit_code == 0
    assert quiet.stdout == ""
    names = sorted(p.relative_to(flap[0]) for p in flap[0].rglob("*") if p.is_file())
    assert len(names) > 20
    for name in names:
        assert (flap[0] / name).read_bytes() == (again / name).read_bytes(), name


def test_a_blocked_build_writes_nothing(tmp_path: Path) -> None:
    path = project(tmp_path, lines=WINDMILL)
    result = run("build", path, "--out", tmp_path / "out")
    assert result.exit_code == 2
    assert not (tmp_path / "out").exists()
    assert "Nothing was written" in result.stderr


def test_a_blocked_build_written_on_demand_says_so_everywhere(tmp_path: Path) -> None:
    path = project(tmp_path, width=140)
    out = tmp_path / "out"
    assert run("build", path, "--out", out).exit_code == 2
    result = run("build", path, "--out", out, "--despite-findings")
    assert result.exit_code == 2
    assert json.loads((out / "build.json").read_text())["blocked"] is True
    assert "past the field" in (out / "DO-NOT-SEW.txt").read_text()
    assert b"DO NOT SEW" in (out / "machine" / "panel.dst").read_bytes()[:40]


def test_every_problem_of_a_file_is_told_at_once(tmp_path: Path) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(MISSING_CUT.format(width='"wide"', lines="[[[0, 0]]]").replace("title", "tittle"))
    result = run("check", path)
    assert result.exit_code == 2
    for place in ("tittle", "panel.outline.width", "panel.patchwork.lines"):
        assert place in result.output
    assert "Traceback" not in result.output


@pytest.mark.parametrize("command", ["check", "build", "stitches"])
def test_a_missing_file_is_told_in_words(tmp_path: Path, command: str) -> None:
    result = run(command, tmp_path / "nothing-here.toml")
    assert result.exit_code == 2
    assert "nothing-here.toml" in result.stderr
    assert "Traceback" not in result.output


@pytest.mark.parametrize("content", [b"", b"\x00\xff\xfe", b"schema = ", b"[[[[", b"x = nan"])
def test_rubbish_is_refused_with_words(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "rubbish.toml"
    path.write_bytes(content)
    result = run("check", path)
    assert result.exit_code == 2
    assert result.stderr.strip()
    assert "Traceback" not in result.output


def test_stitches_tells_what_a_file_holds(flap: tuple[Path, Result]) -> None:
    record = json.loads((flap[0] / "build.json").read_text(encoding="utf-8"))
    files = sorted((flap[0] / "machine").iterdir())
    assert len(files) == 6
    for file in files:
        facts = json.loads(run("stitches", file, "--json").stdout)
        assert facts["stitches"] == record["totals"]["stitches"], file.name


def test_a_cut_short_stitch_file_is_refused(tmp_path: Path, flap: tuple[Path, Result]) -> None:
    """The 2-byte kind (exp) has no end mark, so a cut between two of its records cannot be told."""
    for file in sorted((flap[0] / "machine").iterdir()):
        short = tmp_path / file.name
        data = file.read_bytes()
        short.write_bytes(data[: (len(data) // 4) * 2 + 1])
        result = run("stitches", short)
        assert result.exit_code == 2, file.name
        assert "Traceback" not in result.output


def test_version() -> None:
    assert run("--version").stdout.startswith("hoopwright ")


LONG_NAME = "x" * 300


@pytest.mark.parametrize(
    "words", [("new", LONG_NAME), ("build", FLAP, "--out", LONG_NAME), ("stitches", f"{LONG_NAME}.dst")]
)
def test_a_name_no_folder_can_hold_is_told_in_words(words: tuple[str | Path, ...]) -> None:
    result = run(*words)
    assert result.exit_code == 2
    assert "too long" in result.stderr
    assert result.exception is None or isinstance(result.exception, SystemExit)


@pytest.mark.parametrize("title", ["", "   ", "two\nlines", "bell\a", "t" * 121])
def test_new_refuses_a_title_and_leaves_no_file(tmp_path: Path, title: str) -> None:
    result = run("new", tmp_path / "a.toml", "--title", title)
    assert result.exit_code == 2
    assert "title" in result.stderr
    assert not (tmp_path / "a.toml").exists()


def test_new_inside_a_file_does_not_say_that_it_exists(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    result = run("new", tmp_path / "file" / "a.toml")
    assert result.exit_code == 2
    assert "exists already" not in result.stderr


def test_new_prints_commands_that_can_be_typed(tmp_path: Path) -> None:
    result = run("new", tmp_path / "my harbour flap.toml")
    line = next(row for row in result.stdout.splitlines() if "hoopwright check" in row)
    assert shlex.split(line)[-1] == str(tmp_path / "my harbour flap.toml")


def test_a_very_long_file_name_still_gives_a_title(tmp_path: Path) -> None:
    result = run("new", tmp_path / f"{'n' * 200}.toml")
    assert result.exit_code == 0
    assert run("check", tmp_path / f"{'n' * 200}.toml", "-q").exit_code == 0


def test_findings_of_later_rooms_tell_the_line(tmp_path: Path) -> None:
    path = tmp_path / "project.toml"
    text = MISSING_CUT.format(width=60, lines="[[[0, -40], [0, 40]]]") + '[panel.cloths]\nZ = "linen"\n'
    path.write_text(text)
    found = json.loads(run("check", path, "--json").stdout)["findings"]
    lines = {f["where"].get("path"): f["where"].get("line") for f in found}
    assert lines["panel.cloths.Z"] == text.splitlines().index('Z = "linen"') + 1


def test_a_stitch_file_name_with_brackets_is_printed_as_it_is(tmp_path: Path, flap: tuple[Path, Result]) -> None:
    file = tmp_path / "[red] a [bold].dst"
    file.write_bytes((flap[0] / "machine" / "panel.dst").read_bytes())
    result = run("stitches", file)
    assert result.exit_code == 0
    assert result.stdout.startswith("[red] a [bold].dst")
    assert "needle holes" in result.stdout


def test_check_draws_a_map_even_when_the_panel_cannot_be_sewn(tmp_path: Path) -> None:
    path = project(tmp_path, lines=WINDMILL)
    target = tmp_path / "map.svg"
    result = run("check", path, "--map", target)
    assert result.exit_code == 2
    assert "<svg" in target.read_text(encoding="utf-8")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["map.svg", "project.toml"]


def test_a_map_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    result = run("check", FLAP, "--map", tmp_path / "no-folder" / "map.svg")
    assert result.exit_code == 2
    assert "could not be written" in result.stderr


def test_items_lists_what_can_be_made() -> None:
    said = run("items")
    assert said.exit_code == 0
    assert "block " in said.stdout
    names = [row["name"] for row in json.loads(run("items", "--json").stdout)["items"]]
    assert {"panel", "block"} <= set(names)
    assert all(name in said.stdout for name in names)


@pytest.mark.no_cover
def test_new_writes_a_project_for_an_item_that_builds(tmp_path: Path) -> None:
    path = tmp_path / "block.toml"
    assert run("new", path, "--item", "block").exit_code == 0
    assert 'item = "block"' in path.read_text(encoding="utf-8")
    result = run("build", path, "--out", tmp_path / "out", "-q")
    assert result.exit_code == 0, result.output
    assert (tmp_path / "out" / "booklet.pdf").is_file()


def test_new_refuses_an_unknown_item_and_leaves_no_file(tmp_path: Path) -> None:
    result = run("new", tmp_path / "a.toml", "--item", "blok")
    assert result.exit_code == 2
    assert 'Did you mean "block"' in result.stderr
    assert not (tmp_path / "a.toml").exists()
