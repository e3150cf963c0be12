from __future__ import annotations

import pytest

from hoopwright.core.findings import Severity
from hoopwright.operations.vocabulary import Role
from hoopwright.pipeline import build
from tests.items.bags import project

HEAD = b'<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40">'
MOTIFS = {
    "two.svg": HEAD + b'<path d="M0 20 L20 0 L40 20 Z M16 14 L24 14 L20 10 Z"/></svg>',
    "comb.svg": HEAD + b'<path d="M0 40 L40 40 M8 40 L8 16 M16 40 L16 16 M24 40 L24 16 M32 40 L32 16"/></svg>',
    "house.svg": HEAD + b'<path d="M4 36 L4 18 L20 4 L36 18 L36 36 Z"/></svg>',
}
SIZES = {"flap-pouch": {"body": [105, 90]}, "glasses-sleeve": {"body": [90, 170]}}
FIELD = {"hoop": {"field": "200x300"}}


def said(item: str, **ground: object) -> list[tuple[str, str | None]]:
    """Return what is said about a body's ground: code and place."""
    done = build(project(item, {**SIZES[item], "ground": ground}, **FIELD), MOTIFS)
    sewn = [s.stitch for h in done.plan.hoopings for s in h.steps if s.stitch.role is Role.GROUND]
    assert sewn
    return [(f.code, f.where.path) for f in done.findings if "HW350" <= f.code <= "HW353"]


@pytest.mark.parametrize("item", SIZES)
@pytest.mark.parametrize(
    ("file", "spacing", "margin", "told"),
    [
        ("two.svg", 20, 3, ["HW351"]),
        ("comb.svg", 20, 3, ["HW352"]),
        ("house.svg", 20, 3, []),
        ("house.svg", 60, 3, []),
        ("house.svg", 60, 25, ["HW353"]),
    ],
)
def test_a_motif_on_a_body_is_told_of_as_on_a_panel(
    item: str, file: str, spacing: int, margin: int, told: list[str]
) -> None:
    found = said(item, kind="drawing", file=file, spacing=spacing, margin=margin)
    assert found == [(code, "make.ground.file") for code in told]


def test_a_motif_that_is_not_there_is_told_once() -> None:
    done = build(project("flap-pouch", {"ground": {"kind": "drawing", "file": "gone.svg"}}, **FIELD), MOTIFS)
    found = [f for f in done.findings if f.where.path is not None and f.where.path.startswith("make.ground")]
    assert [(f.code, f.severity) for f in found] == [("HW392", Severity.BLOCKS)]


def test_a_ground_from_the_table_says_nothing_of_motifs() -> None:
    assert said("flap-pouch", kind="crosshatch", spacing=12) == []
