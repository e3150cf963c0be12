from __future__ import annotations

from hoopwright.core.findings import Severity
from hoopwright.items.flap_pouch_sizes import FlapPouchSettings
from hoopwright.items.parts.bag_cloths import bag_cloth_findings, stiffener_cloth
from hoopwright.project.schema import Project
from tests.items.bags import CLOTHS, project

ALL = {"outer": "indigo", "lining": "sailcloth", "pocket_cloth": "reed", "strap_cloth": "tape", "stiffener": "felt"}


def codes(settings: FlapPouchSettings, one: Project, *, pocket: bool = True, strap: bool = True) -> list[str]:
    found = bag_cloth_findings(settings, one, pocket=pocket, strap=strap, soft="HW428", what="the pouch")
    return [f.code for f in found]


def test_named_cloths_need_no_word() -> None:
    assert codes(FlapPouchSettings.model_validate(ALL), project("flap-pouch")) == []


def test_cloths_of_parts_that_are_not_there_are_not_asked_for() -> None:
    settings = FlapPouchSettings.model_validate({**ALL, "pocket_cloth": "gold", "strap_cloth": "gold"})
    assert codes(settings, project("flap-pouch")) == ["HW411", "HW411"]
    assert codes(settings, project("flap-pouch"), strap=False) == ["HW411"]
    assert codes(settings, project("flap-pouch"), pocket=False, strap=False) == []


def test_a_bag_without_a_stiffener_becomes_soft_and_is_told_so() -> None:
    settings = FlapPouchSettings.model_validate({**ALL, "stiffener": None})
    one = project("flap-pouch", cloths={key: cloth for key, cloth in CLOTHS.items() if key != "felt"})
    (found,) = bag_cloth_findings(settings, one, pocket=True, strap=True, soft="HW428", what="the pouch")
    assert (found.code, found.severity) == ("HW428", Severity.NOTES)
    assert stiffener_cloth(settings, one) is None
    wanted_soft = settings.model_copy(update={"stiffened": False})
    assert codes(wanted_soft, one) == []


def test_an_unknown_stiffener_gives_way_to_the_projects_own() -> None:
    settings = FlapPouchSettings.model_validate({**ALL, "stiffener": "gold"})
    assert stiffener_cloth(settings, project("flap-pouch")) == "felt"
    assert codes(settings, project("flap-pouch")) == ["HW411"]
