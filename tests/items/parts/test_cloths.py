from __future__ import annotations

import pytest

from hoopwright.core.findings import Severity
from hoopwright.items.parts.cloths import ClothWish, Kind, chosen_cloth, cloth_findings, first_of
from hoopwright.project.schema import Project
from tests.items.bags import project


def plain() -> Project:
    return project(
        "panel", cloths={"ash": {"name": "ash", "colour": "#aaaaaa"}, "oak": {"name": "oak", "colour": "#886644"}}
    )


def test_the_wanted_cloth_is_taken_whatever_its_kind() -> None:
    assert chosen_cloth(project("panel"), "felt", "lining") == "felt"


def test_left_out_the_first_of_the_kind_is_taken_else_the_first() -> None:
    assert chosen_cloth(project("panel"), None, "ribbon") == "tape"
    assert chosen_cloth(project("panel"), None, "cloth") == "indigo"
    assert chosen_cloth(plain(), None, "ribbon") == "ash"
    assert first_of(plain(), "ribbon") is None


def test_an_unknown_cloth_blocks_and_the_nearest_is_offered() -> None:
    (finding,) = cloth_findings(plain(), [ClothWish("outer", "back", "oka", "cloth")])
    assert (finding.code, finding.severity, finding.where.path) == ("HW411", Severity.BLOCKS, "make.outer")
    assert 'Did you mean "oak"?' in finding.cure
    assert '"ash", "oak"' in finding.cure


def test_nothing_near_offers_the_whole_list_alone() -> None:
    (finding,) = cloth_findings(plain(), [ClothWish("outer", "back", "velveteen", "cloth")])
    assert "Did you mean" not in finding.cure
    assert '"ash", "oak"' in finding.cure


def test_named_cloths_need_no_note() -> None:
    assert cloth_findings(plain(), [ClothWish("outer", "back", "oak", "cloth")]) == ()


def test_a_cloth_of_another_kind_is_told() -> None:
    wishes = [ClothWish("outer", "back", None, "cloth"), ClothWish("strap_cloth", "strap", None, "ribbon")]
    (note,) = cloth_findings(plain(), wishes)
    assert note.severity is Severity.NOTES
    assert "ash for the back and ash for the strap (there is no cloth of the kind ribbon)" in note.message


@pytest.mark.parametrize(
    ("setting", "wanted", "kind", "others"),
    [
        ("lining", "felt", "lining", "sailcloth, indigo, reed, madder"),
        ("stiffener", "sailcloth", "stiffener", "felt"),
        ("strap_cloth", "felt", "ribbon", "tape, indigo, reed, madder"),
        ("outer", "tape", "cloth", "indigo, reed, madder, sailcloth"),
    ],
)
def test_a_cloth_of_the_wrong_kind_blocks_and_those_that_do_are_offered(
    setting: str, wanted: str, kind: Kind, others: str
) -> None:
    (finding,) = cloth_findings(project("panel"), [ClothWish(setting, setting, wanted, kind)])
    assert (finding.code, finding.severity, finding.where.path) == ("HW415", Severity.BLOCKS, f"make.{setting}")
    assert f'"{wanted}" is of the kind' in finding.message
    assert finding.cure.replace('"', "").endswith(f": {others}")


def test_what_does_not_do_is_not_offered_for_an_unknown_cloth() -> None:
    (finding,) = cloth_findings(project("panel"), [ClothWish("lining", "lining", "felts", "lining")])
    assert "felt" not in finding.cure
    (finding,) = cloth_findings(plain(), [ClothWish("zip", "zip", "zipper", "zip")])
    assert finding.cure == 'Add a cloth of the kind "zip"'


def test_keys_are_told_in_quotes_as_the_file_writes_them() -> None:
    (unknown,) = cloth_findings(project("panel"), [ClothWish("lining", "lining", "felts", "lining")])
    assert unknown.cure == 'Cloths that do: "sailcloth", "indigo", "reed", "madder"'
    (chosen,) = cloth_findings(project("panel"), [ClothWish(s, s, None, "cloth") for s in ("outer", "lining")])
    assert chosen.cure == 'If you want others, name them below [make] ("outer" and "lining")'


def test_a_strap_may_be_cut_from_cloth_and_a_lining_too() -> None:
    wishes = [ClothWish("strap_cloth", "strap", "reed", "ribbon"), ClothWish("lining", "lining", "reed", "lining")]
    assert cloth_findings(project("panel"), wishes) == ()
