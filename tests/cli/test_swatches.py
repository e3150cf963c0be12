from __future__ import annotations

import io
import json
from pathlib import Path

import pytest
from PIL import Image
from typer.testing import CliRunner, Result

from hoopwright.cli.main import app


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(app, ["swatches", *(str(w) for w in words)])


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Result]:
    """The grounds for a field of 150 x 240 mm, and what the command said."""
    out = tmp_path_factory.mktemp("swatches") / "out"
    return out, run("--out", out, "--field", "150x240", "--kind", "dst", "--kind", "exp", "--only", "grounds")


def test_it_tells_every_sheet_and_what_to_open(made: tuple[Path, Result]) -> None:
    out, result = made
    assert result.exit_code == 0, result.output
    record = json.loads((out / "build.json").read_text(encoding="utf-8"))
    for hooping in record["hoopings"]:
        stitches = sum(s["stitches"] for s in hooping["steps"])
        assert f"{hooping['title']}: {stitches} stitches" in result.stdout
        minutes = hooping["whole_minutes"]["machine"]
        assert f"about {minutes} minute" in result.stdout
    for name in ("swatch-card.pdf", "machine/", "pictures/"):
        assert name in result.stdout and (out / name).exists()


def test_it_makes_the_kinds_and_the_family_asked_for(made: tuple[Path, Result]) -> None:
    out, _ = made
    files = sorted(p.name for p in (out / "machine").iterdir())
    assert files and {f.split(".")[1] for f in files} == {"dst", "exp"}
    assert all(f.startswith("grounds") for f in files)
    field = json.loads((out / "build.json").read_text(encoding="utf-8"))["field"]
    assert (field["width"], field["height"]) == (150, 240)


@pytest.fixture
def unpainted(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave the pictures white, which take most of the time and say nothing."""
    white = io.BytesIO()
    Image.new("RGB", (8, 8), "white").save(white, "PNG")
    for name in ("entries", "pictures"):
        monkeypatch.setattr(f"hoopwright.outputs.swatches.{name}.cloth_png", lambda *_: white.getvalue())


@pytest.mark.no_cover
@pytest.mark.usefixtures("unpainted")
def test_as_json_it_names_the_folder_and_the_findings(tmp_path: Path) -> None:
    result = run("--out", tmp_path / "out", "--only", "grounds", "--kind", "dst", "--json")
    told = json.loads(result.stdout)
    assert told["folder"] == str(tmp_path / "out")
    assert isinstance(told["findings"], list)


@pytest.mark.no_cover
@pytest.mark.usefixtures("unpainted")
def test_quiet_says_nothing_but_warnings(tmp_path: Path) -> None:
    result = run("--out", tmp_path / "out", "--only", "grounds", "--kind", "dst", "--quiet")
    assert result.exit_code == 0
    assert [line for line in result.stdout.splitlines() if "warns" not in line and not line.startswith(" ")] == []


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--field", "5x7"), "130x180"),
        (("--field", "35x35"), "HW830"),
        (("--kind", "hus"), "vp3"),
    ],
)
def test_a_slip_is_told_with_its_cure_and_nothing_is_written(tmp_path: Path, words: tuple[str, ...], said: str) -> None:
    result = run("--out", tmp_path / "out", *words)
    assert result.exit_code == 2
    assert said in result.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("words", [("--only", "borders"), ("--paper", "A3"), ("--weight", "heavy"), ("--units", "cm")])
def test_only_what_there_is_can_be_asked_for(tmp_path: Path, words: tuple[str, ...]) -> None:
    result = run("--out", tmp_path / "out", *words)
    assert result.exit_code == 2
    assert list(tmp_path.iterdir()) == []


def test_the_page_of_the_swatches_explains_every_option() -> None:
    page = (Path(__file__).parents[2] / "docs" / "swatches.md").read_text(encoding="utf-8")
    command = next(c for c in app.registered_commands if c.callback is not None and c.callback.__name__ == "swatches")
    assert command.callback is not None
    names = set(command.callback.__annotations__) - {"return", "quiet", "as_json"}
    assert names == {row.split("`")[1].removeprefix("--") for row in page.splitlines() if row.startswith("| `--")}
