from __future__ import annotations

from pathlib import Path

import pytest

from hoopwright.core.errors import ProjectError
from hoopwright.project.drawings import LARGEST_DRAWING
from hoopwright.project.load import load
from hoopwright.project.starter import starter_text

DRAWN = """
schema = 1
title = "Sluice"
[cloths.reed]
name = "reed"
colour = "#7d8a52"
[threads.gold]
name = "gold"
colour = "#dba632"
[panel.outline]
shape = "drawing"
file = "{outline}"
[panel.patchwork]
way = "drawing"
file = "{lines}"
"""


def written(folder: Path, outline: str, lines: str) -> Path:
    home = folder / "home"
    home.mkdir(exist_ok=True)
    (home / "flap.svg").write_bytes(b"<svg/>")
    (home / "lines.SVG").write_bytes(b"<svg><g/></svg>")
    (home / "huge.svg").write_bytes(b" " * (LARGEST_DRAWING + 1))
    (folder / "outside.svg").write_bytes(b"<svg/>")
    (home / "project.toml").write_text(DRAWN.format(outline=outline, lines=lines))
    return home / "project.toml"


def test_drawings_are_read_by_name(tmp_path: Path) -> None:
    loaded = load(written(tmp_path, "flap.svg", "lines.SVG"))
    assert loaded.drawings == (("flap.svg", b"<svg/>"), ("lines.SVG", b"<svg><g/></svg>"))


def test_a_project_without_drawings_reads_none(tmp_path: Path) -> None:
    file = tmp_path / "project.toml"
    file.write_text(starter_text("Weir"))
    assert load(file).drawings == ()


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("../outside.svg", "outside"),
        ("/outside.svg", "outside"),
        ("flop.svg", "no drawing"),
        ("huge.svg", "larger"),
        ("project.toml", "not an SVG"),
        ("sub/flap.svg", "no drawing"),
        ("x\\u0000.svg", "cannot be read"),
    ],
)
def test_other_names_are_refused(tmp_path: Path, name: str, says: str) -> None:
    with pytest.raises(ProjectError) as caught:
        load(written(tmp_path, name, "lines.SVG"))
    (finding,) = caught.value.findings
    assert finding.code == "HW130"
    assert finding.where.path == "panel.outline.file"
    assert says in finding.message


def test_a_link_does_not_lead_outside(tmp_path: Path) -> None:
    file = written(tmp_path, "link.svg", "lines.SVG")
    (file.parent / "link.svg").symlink_to(tmp_path / "outside.svg")
    with pytest.raises(ProjectError) as caught:
        load(file)
    assert "outside" in caught.value.findings[0].message


def test_the_nearest_drawing_is_offered(tmp_path: Path) -> None:
    with pytest.raises(ProjectError) as caught:
        load(written(tmp_path, "flap2.svg", "lines.SVG"))
    assert caught.value.findings[0].cure == 'Did you mean "flap.svg"?'
