from __future__ import annotations

import tomllib

import pytest

from hoopwright.core.errors import ProjectError
from hoopwright.core.findings import Severity
from hoopwright.project.load import parse
from hoopwright.project.schema import SCHEMA_VERSION
from hoopwright.project.upgrade import STEPS, upgraded_text

OLD = """# our oldest flap
schema = 0 # the first form
title = "Old flap" # hung in the shop
hoop = "130x180"   # the wide one

[cloths.reed]
name = "reed"
colour = "#7d8a52"

[threads.gold]
name = "gold"
colour = "#dba632"

[panel]
seam_stitch = "feather" # loved

[panel.outline]
shape = "rectangle"
width = 80
height = 60

[panel.seams]
2 = "fly" # odd one
3 = { stitch = "cretan" }
"""


def test_there_is_a_step_for_every_older_version() -> None:
    assert len(STEPS) == SCHEMA_VERSION


def test_an_old_file_means_the_same_in_the_new_form() -> None:
    data = tomllib.loads(upgraded_text(OLD))
    assert data["schema"] == SCHEMA_VERSION
    assert data["hoop"] == {"field": "130x180"}
    assert data["panel"]["seam_stitch"] == {"stitch": "feather"}
    assert data["panel"]["seams"] == {"2": {"stitch": "fly"}, "3": {"stitch": "cretan"}}
    assert data["title"] == "Old flap"


def test_remarks_survive() -> None:
    new = upgraded_text(OLD)
    for remark in (
        "# our oldest flap",
        "# the first form",
        "# hung in the shop",
        "# the wide one",
        "# loved",
        "# odd one",
    ):
        assert remark in new
    assert len(new.splitlines()) == len(OLD.splitlines())


def test_loading_upgrades_in_memory_and_says_so() -> None:
    loaded = parse(OLD, None)
    assert loaded.text == OLD
    assert loaded.project.hoop.field == "130x180"
    assert loaded.project.panel.seam_stitch.stitch == "feather"
    (note,) = loaded.findings
    assert (note.code, note.severity, note.where.line) == ("HW108", Severity.NOTES, 2)


def test_problems_of_an_old_file_carry_its_own_lines() -> None:
    with pytest.raises(ProjectError) as caught:
        parse(OLD.replace('"130x180"', '"130x185"').replace("width = 80", "width = -80"), None)
    assert [f.where.line for f in caught.value.findings] == [4, 19]


def test_a_new_file_stays_as_it_is() -> None:
    new = upgraded_text(OLD)
    assert upgraded_text(new) == new


def test_a_newer_version_is_refused_with_nothing_else() -> None:
    with pytest.raises(ProjectError) as caught:
        parse("schema = 9\nsails = 4\n", None)
    (finding,) = caught.value.findings
    assert finding.code == "HW106"
    assert "newer Hoopwright" in finding.cure
    with pytest.raises(ValueError, match="no way up"):
        upgraded_text("schema = 9\n")


def test_old_words_in_a_new_file_are_refused() -> None:
    with pytest.raises(ProjectError) as caught:
        parse(OLD.replace("schema = 0", "schema = 1"), None)
    assert {f.where.path for f in caught.value.findings} == {"hoop", "panel.seam_stitch", "panel.seams.2"}
