"""Whether a thread is seen: screens and findings say the same of it."""

from __future__ import annotations

import random

import pytest

from hoopwright.outputs.screen.draft import draft_view
from hoopwright.pipeline import build
from hoopwright.project.load import parse

PROJECT = """
schema = 1
title = "Two strips"
[cloths.one]
name = "one"
colour = "{one}"
[cloths.two]
name = "two"
colour = "{two}"
[threads.silk]
name = "silk"
colour = "{silk}"
[panel.outline]
shape = "rectangle"
width = 90
height = 60
[panel.patchwork]
way = "lines"
lines = [[[0, -30], [0, 30]]]
[panel.cloths]
A = "one"
B = "two"
"""


def said(one: str, two: str, silk: str) -> tuple[set[str], bool]:
    """Return the cloths on which the screen calls the thread hard to see, and whether a finding does."""
    made = build(parse(PROJECT.format(one=one, two=two, silk=silk), None).project, prove=False)
    rows = [r for r in draft_view(made)["panels"][0]["contrast"] if r["way"] == "thread"]
    assert all(r["apart"] < r["plain"] == 12.0 and r["patches"] for r in rows)
    return {r["cloths"][0] for r in rows}, any(f.code == "HW607" for f in made.findings)


@pytest.mark.no_cover
def test_screens_and_findings_agree() -> None:
    """Nearly 200 triples of greys and earth colours, near each other as they are on a real panel."""
    draw = random.Random(7)
    found = []
    for _ in range(190):
        base = [draw.randrange(60, 190) for _ in range(3)]
        hues = ["#" + "".join(f"{min(255, max(0, c + draw.randrange(-45, 45))):02x}" for c in base) for _ in range(3)]
        cloths, told = said(*hues)
        assert bool(cloths) is told, hues
        found.append(told)
    assert 20 < sum(found) < 170


@pytest.mark.parametrize(
    ("silk", "cloths"),
    [("#f2c94c", set()), ("#d19c48", {"one"})],
    ids=["corn gold on ochre, 15.8 apart, is plain", "straw on ochre is lost"],
)
def test_gold_on_ochre(silk: str, cloths: set[str]) -> None:
    assert said("#c6923b", "#2c4166", silk)[0] == cloths
