"""What is sewn at its usual size on the example flap raises no alarm: a warning that always comes is read by nobody."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from hoopwright.checks.rules import check
from hoopwright.core.findings import Severity
from hoopwright.items.plan import Plan
from hoopwright.needle.grounds import GROUNDS
from hoopwright.needle.seam_stitches import SEAM_STITCHES
from hoopwright.pipeline import plan
from hoopwright.project.load import parse
from tests.needle.lettering.fonts import font

FLAP = (Path(__file__).parents[2] / "examples" / "tide-mill-flap" / "project.toml").read_text(encoding="utf-8")
PLAIN = FLAP[: FLAP.index("[panel.seam_stitch]")]
ONE_PATCH = PLAIN[: PLAIN.index("# Cuts one")] + '[panel.cloths]\nA = "madder"\n'
OF_FILES = {"drawing", "drawing-rows"}
FIVE_LOOPS_IN_ONE_HOLE = {"detached-chain-fan"}
"""All its cords leave one hole, and where such a fan stands beside the outline the cloth is in fact close to being cut."""


def alarms(made: Plan) -> list[str]:
    found = (*made.findings, *check(made))
    return [f"{f.code} {f.message}" for f in found if f.severity is not Severity.NOTES]


def planned(text: str, font: bytes | None = None) -> Plan:
    if font is None:
        made = plan(parse(text, None).project)
    else:
        with TemporaryDirectory() as folder:
            (Path(folder) / "letters.otf").write_bytes(font)
            project = parse(text, Path(folder)).project
        made = plan(project, {"letters.otf": font})
    assert made.hoopings
    return made


@pytest.mark.parametrize("kind", sorted(set(GROUNDS) - OF_FILES))
def test_every_ground_at_its_usual_spacing(kind: str) -> None:
    assert alarms(planned(f'{PLAIN}[panel.ground]\nkind = "{kind}"\nthread = "slate"\n')) == []


@pytest.mark.parametrize("weight", ["bold", "corded"])
@pytest.mark.parametrize("stitch", sorted(set(SEAM_STITCHES) - FIVE_LOOPS_IN_ONE_HOLE))
def test_every_seam_stitch_at_its_usual_width(stitch: str, weight: str) -> None:
    wish = f'[panel.seam_stitch]\nstitch = "{stitch}"\nweight = "{weight}"\nthread = "gold"\n'
    assert alarms(planned(PLAIN + wish)) == []


@pytest.mark.parametrize("capitals", [8, 10, 12, 15, 20])
@pytest.mark.parametrize("name", ["Sans-Regular.otf", "Sans-Semibold.otf"])
def test_satin_letters_meet_without_lumps(name: str, capitals: int) -> None:
    letters = (
        f'[[panel.lettering]]\nlines = ["MILL", "Sea 85"]\nfont = "letters.otf"\ncapitals = {capitals}\nwidth = 95\n'
    )
    assert alarms(planned(ONE_PATCH + letters + 'thread = "slate"\n', font(name))) == []
