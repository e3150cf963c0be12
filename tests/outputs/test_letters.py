from __future__ import annotations

from hoopwright.outputs.letters import letter_findings
from hoopwright.project.schema import Project
from tests.outputs.machine_hoopings import project


def _called(title: str) -> Project:
    return project().model_copy(update={"title": title})


def test_a_title_in_letters_the_fonts_lack_is_told() -> None:
    (found,) = letter_findings(_called("\u6f6e\u306e\u6c34\u8eca"))
    assert found.code == "HW820"
    assert found.where.path == "title"
    assert "\u6f6e" in found.message


def test_letters_that_the_fonts_have_are_no_finding() -> None:
    """Source Sans and Source Serif hold Latin with its accents, Greek and Cyrillic."""
    assert (
        letter_findings(
            _called(
                "\u0141\u00f3d\u017a, \u041c\u0435\u043b\u044c\u043d\u0438\u0446\u0430, \u039c\u03cd\u03bb\u03bf\u03c2 & G\u00e4rten"
            )
        )
        == ()
    )


def test_names_of_cloths_are_looked_at_too() -> None:
    made = project()
    cloth = made.cloths["linen"].model_copy(update={"name": "\u85cd"})
    (found,) = letter_findings(made.model_copy(update={"cloths": {"linen": cloth}}))
    assert found.where.path == "cloths.linen.name"
