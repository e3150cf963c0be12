from __future__ import annotations

from pathlib import Path

import pytest

from hoopwright.piecing.shapes import Frame
from hoopwright.pipeline import build, cure_rows, draft_view, hand_view, line_changes
from hoopwright.project.load import load, parse
from hoopwright.project.save import set_value

EXAMPLES = Path(__file__).parents[2] / "examples"
FLAP = EXAMPLES / "tide-mill-flap" / "project.toml"


@pytest.mark.parametrize("name", ["tide-mill-flap", "sluice-pennant", "quay-pouch"])
def test_a_hand_sees_the_pieces_of_the_whole_plan(name: str) -> None:
    loaded = load(EXAMPLES / name / "project.toml")
    whole = draft_view(build(loaded.project, dict(loaded.drawings), prove=False))["panels"]
    hand = hand_view(loaded.project, dict(loaded.drawings))["panels"]
    for key in ("key", "outline", "frame", "patches", "seams", "order"):
        assert [p[key] for p in hand] == [p[key] for p in whole]


def test_pieces_of_sections_are_numbered_as_they_are_sewn() -> None:
    """The numbers are those of the patches: one after the other through all sections."""
    text = set_value(
        FLAP.read_text(encoding="utf-8"),
        "panel.patchwork",
        {"way": "lines", "lines": [[[-55, 0], [55, 0]], [[0, -46], [0, 46]]]},
    )
    project = parse(set_value(text, "panel.cloths", None), None).project
    panel = hand_view(project, {})["panels"][0]
    made = build(project, prove=False).plan.panels[0]
    assert len(panel["order"]["sections"]) == 2
    assert {p["letter"]: p["number"] for p in panel["patches"]} == {
        p.letters[0]: p.number for p in made.patches if p.made_of is None
    }
    assert [len(c["lines"]) > 0 and c["sentence"][-1] for c in cure_rows(project, {})] == ["."] * len(
        cure_rows(project, {})
    )


def test_places_go_to_the_file_and_back() -> None:
    frame = Frame((3.0, -4.0), 33.0, (10.0, 2.5))
    for place in ((0.0, 0.0), (12.0, -7.5)):
        assert frame.file_place(frame.place(place)) == pytest.approx(place)


@pytest.mark.parametrize("turn", [0, 90, 20])
def test_lines_of_a_turned_panel_lie_where_its_seams_lay(turn: float) -> None:
    text = set_value(FLAP.read_text(encoding="utf-8"), "panel.turn", turn)
    project = parse(text, None).project
    before = hand_view(project, {})["panels"][0]
    work = line_changes(project, {})["patchwork"]
    after = hand_view(parse(set_value(text, "panel.patchwork", work), None).project, {})["panels"][0]
    places = [sorted([tuple(round(v) for v in p["at"]) for p in panel["patches"]]) for panel in (before, after)]
    assert len(places[0]) == len(places[1])
    assert all(abs(a[0] - b[0]) <= 1 and abs(a[1] - b[1]) <= 1 for a, b in zip(*places, strict=True))
