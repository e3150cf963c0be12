from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import pytest

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.items.plan import Plan
from hoopwright.outputs.drawing.shapes import Circle, Drawing, Label
from hoopwright.outputs.drawing.svg import to_svg
from hoopwright.outputs.pictures.map import map_drawing
from hoopwright.pipeline import plan
from hoopwright.pipeline.planning import UNSEWN
from hoopwright.project.load import load

FLAP = Path(__file__).parents[2] / "examples" / "tide-mill-flap" / "project.toml"


@pytest.fixture(scope="module")
def flap_plan() -> Plan:
    return plan(load(FLAP).project)


def words(drawing: Drawing) -> list[str]:
    return [s.text for s in drawing.shapes if isinstance(s, Label)]


def test_every_letter_number_and_seam_is_named_inside_its_patch(flap_plan: Plan) -> None:
    panel = flap_plan.panels[0]
    drawing = map_drawing(flap_plan, "panel")
    places = {s.text: s.at for s in drawing.shapes if isinstance(s, Label) and s.bold}
    assert sorted(places) == list("ABCDEFG")
    for letter, (x, y) in places.items():
        left, low, right, high = panel.map.polygon(letter).bounds
        assert left < x < right
        assert low < y < high
    seams = sorted(str(s.number) for s in panel.map.seams)
    assert all(words(drawing).count(n) >= 2 for n in seams), "each is a seam's number and a patch's"


def test_a_panel_without_an_order_still_has_a_map(flap_plan: Plan) -> None:
    bare = replace(flap_plan.panels[0], order=UNSEWN, patches=())
    drawing = map_drawing(replace(flap_plan, panels=(bare,)), "panel")
    assert {"A", "G"} <= set(words(drawing))
    assert ET.fromstring(to_svg(drawing)).tag.endswith("svg")


def test_places_of_grave_findings_are_ringed(flap_plan: Plan) -> None:
    rings = [
        len(
            [
                s
                for s in map_drawing(flap_plan, "panel", [Finding("HW213", s, "x", "y", Where(point=(3, 4)))]).shapes
                if isinstance(s, Circle) and s.centre == (3, 4)
            ]
        )
        for s in (Severity.BLOCKS, Severity.WARNS, Severity.NOTES)
    ]
    assert rings == [2, 2, 0]
