"""The pictures of the worktable on the first page: each that ``make screenshots`` takes is kept and shown, and no other."""

from __future__ import annotations

import re

from PIL import Image

from tests.browser.screenshots import FOLDER, SHOTS, SIZE
from tests.docs.papers import ROOT

LARGEST = 250_000
"""Bytes of a picture: the first page is read over slow lines too."""


def test_each_picture_is_kept_and_shown_and_no_other() -> None:
    names = {f"{shot.name}.png" for shot in SHOTS}
    shown = re.findall(
        r"!\[[^]]+\]\(docs/pictures/(worktable-[a-z-]+\.png)\)", (ROOT / "README.md").read_text(encoding="utf-8")
    )
    assert sorted(shown) == sorted(names) == sorted(p.name for p in FOLDER.glob("worktable-*"))


def test_they_are_whole_windows_and_small_files() -> None:
    for path in FOLDER.glob("worktable-*.png"):
        with Image.open(path) as picture:
            assert picture.size == SIZE, path.name
            assert len(set(picture.convert("L").resize((64, 40)).tobytes())) > 30, f"{path.name} shows next to nothing"
        assert path.stat().st_size < LARGEST, path.name


def test_each_is_of_an_example() -> None:
    assert all((ROOT / "examples" / shot.example / "project.toml").is_file() for shot in SHOTS)
