"""German as makers get it: every sentence about the examples and about spoilt project files, its numbers, and what must stay English."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.core.errors import ProjectError
from hoopwright.project.load import parse
from hoopwright.project.starter import starter_text
from hoopwright.translation.catalogue import catalogue, catalogue_of
from hoopwright.translation.marks import numbers_of
from hoopwright.translation.sentences import Speaker, left_in_english, translated
from hoopwright.translation.sentences import _said as kept_translations
from tests.translation.sentences import EXAMPLES, Sentence, of_choices, of_project

ENGLISH = re.compile(
    r"\b(the|is|are|of|and|to|with|its|it|from|by|for|at|on|which|that|this|there|be|been|not|no|nothing|each|every|"
    r"patch|patches|seam|seams|cloth|thread|stitch|stitches|side|sides|edge|line|lines|lay|sewn|hoop|lining|pocket)\b",
    re.IGNORECASE,
)
WRITTEN = re.compile(r"(?<=\)): .*|„[^“]*“|\"[^\"]*\"|'[^']*'|\[[^\]]*\]|[\w.-]+ = .*")
"""What is quoted stays as the maker wrote it: letters to be sewn, settings and lines of the project file."""


def faults(english: str, german: str, names: tuple[str, ...]) -> list[str]:
    """Return what is wrong with the German of a sentence."""
    bare, english = WRITTEN.sub(" ", german), WRITTEN.sub(" ", english)
    for name in sorted(names, key=len, reverse=True):
        bare, english = bare.replace(name, " "), english.replace(name, " ")
    found = [f"English: {word}" for word in ENGLISH.findall(bare)]
    said = set(re.findall(r"[0-9]+(?:,[0-9]+)?", german))
    found += [f"lost: {n}" for n in numbers_of(english) if n != "1" and n.replace(".", ",") not in said]
    found += [f"a point: {n}" for n in numbers_of(bare) if "." in n]
    return found


def of(sentences: Sequence[Sentence]) -> list[tuple[str, str, list[str]]]:
    """Return the sentences that are not wholly German, with what is wrong."""
    rows = [(s, translated(s.text, "de", s.names)) for s in sentences]
    told = [(s.text, german, faults(s.text, german, s.names)) for s, german in rows]
    left = [(s.text, g, ["left in English"]) for s, g in rows if left_in_english(s.text, "de", s.names)]
    return [row for row in told if row[2]] + left


@pytest.mark.no_cover
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.parent.name)
def test_everything_about_an_example_is_german(path: Path) -> None:
    sentences = of_project(path)
    assert len(sentences) > 20
    assert of(sentences) == []


def test_everything_there_is_to_choose_from_is_german() -> None:
    assert of(of_choices()) == []


SPOILT: tuple[tuple[str, Callable[[str], str]], ...] = (
    ("nothing at all", lambda _: ""),
    ("remarks only", lambda _: "# nothing here\n"),
    ("no title", lambda t: re.sub(r"(?m)^title = .*\n", "", t)),
    ("a number as title", lambda t: re.sub(r"(?m)^title = .*", "title = 7", t)),
    ("an empty title", lambda t: re.sub(r"(?m)^title = .*", 'title = ""', t)),
    ("a title over two lines", lambda t: re.sub(r"(?m)^title = .*", r'title = "a\\nb"', t)),
    ("a long title", lambda t: re.sub(r"(?m)^title = .*", f'title = "{"x" * 200}"', t)),
    ("a comma in a number", lambda t: t.replace("width = 108", "width = 108,5", 1)),
    ("a measure without quotes", lambda t: t.replace("width = 108", "width = 4 1/4 in", 1)),
    ("a measure with a comma", lambda t: t.replace("width = 108", 'width = "108,5 mm"', 1)),
    ("a fraction without a unit", lambda t: t.replace("width = 108", 'width = "4 1/4"', 1)),
    ("an unknown unit", lambda t: t.replace("width = 108", 'width = "10 ell"', 1)),
    ("a word for a length", lambda t: t.replace("width = 108", 'width = "broad"', 1)),
    ("too long a length", lambda t: t.replace("width = 108", "width = 20000", 1)),
    ("a negative length", lambda t: t.replace("width = 108", "width = -3.5", 1)),
    ("a length in inches", lambda t: t.replace("width = 108", "width = 4.25", 1)),
    ("too round", lambda t: re.sub(r"(?m)^radius = [0-9.]+", "radius = 90.5", t)),
    ("an unknown shape", lambda t: t.replace('shape = "flap"', 'shape = "flip"', 1)),
    ("a shape far from any", lambda t: t.replace('shape = "flap"', 'shape = "zzzz"', 1)),
    ("an unknown hoop", lambda t: re.sub(r'(?m)^field = "[^"]*"', 'field = "5x7"', t)),
    ("a hoop sold by two names", lambda t: re.sub(r'(?m)^field = "[^"]*"', 'field = "6x10"', t)),
    ("a tiny hoop", lambda t: re.sub(r'(?m)^field = "[^"]*"', "field = [10, 12.5]", t)),
    ("a hoop of one side", lambda t: re.sub(r'(?m)^field = "[^"]*"', "field = [100]", t)),
    ("a hoop that is yes", lambda t: re.sub(r'(?m)^field = "[^"]*"', "field = true", t)),
    ("units that are none", lambda t: t.replace('units = "mm"', 'units = "ell"', 1)),
    ("a setting of nowhere", lambda t: t.replace("[hoop]", "[hoop]\ncolour = 3", 1)),
    ("a setting misspelt", lambda t: t.replace("[hoop]", "[hoop]\nmargn = 3", 1)),
    ("a setting twice", lambda t: t.replace("[hoop]", "[hoop]\nmargin = 3\nmargin = 4", 1)),
    ("a heading twice", lambda t: f"{t}\n[hoop]\nmargin = 3\n"),
    ("a heading left open", lambda t: t.replace("[hoop]", "[hoop", 1)),
    ("curly quotes", lambda t: t.replace('units = "mm"', "units = “mm”", 1)),
    ("no quotes", lambda t: t.replace('units = "mm"', "units = mm", 1)),
    ("quotes left open", lambda t: t.replace('units = "mm"', 'units = "mm', 1)),
    ("a colon for an equals sign", lambda t: t.replace('units = "mm"', 'units: "mm"', 1)),
    ("nothing after the equals sign", lambda t: t.replace('units = "mm"', "units =", 1)),
    (
        "yes with a capital",
        lambda t: f"{t}\n[piecing]\nplacement_lines = Yes\n".replace("\n[piecing]\n", "\nz = Yes\n", 1),
    ),
    ("words among settings", lambda t: t.replace("[hoop]", "my hoop\n[hoop]", 1)),
    ("an older version that cannot be", lambda t: re.sub(r"(?m)^schema = .*", "schema = -1", t)),
    ("a version to come", lambda t: re.sub(r"(?m)^schema = .*", "schema = 99", t)),
    ("a thread that is not there", lambda t: f'{t}\n[panel.seams.1]\nthread = "gilt-thread"\n'),
    ("a cloth that is not there", lambda t: re.sub(r'(?m)^A = "[^"]*"', 'A = "gold-leaf"', t)),
    ("a colour without a hash", lambda t: re.sub(r'colour = "#[0-9a-f]{6}"', 'colour = "red"', t, count=1)),
    ("no cloths", lambda t: re.sub(r"(?ms)^\[cloths.*?(?=^\[threads)", "", t)),
    ("a cut of one end", lambda t: t.replace("cuts = [", "cuts = [[[1, 2]], ", 1)),
    ("a cut of words", lambda t: t.replace("cuts = [", 'cuts = ["across", ', 1)),
    ("a drawing that is not there", lambda t: f'{t}\n[panel.ground]\nkind = "motif"\nfile = "waves.svg"\n'),
)


@pytest.mark.parametrize("spoil", [s for _, s in SPOILT], ids=[name for name, _ in SPOILT])
def test_what_is_wrong_with_a_project_file_is_german(spoil: Callable[[str], str], tmp_path: Path) -> None:
    text = starter_text("Wheel house", "mm")
    spoilt = spoil(text)
    assert spoilt != text
    with pytest.raises(ProjectError) as told:
        project = parse(spoilt, tmp_path)
        raise ProjectError("it can be read", project.findings)
    rows = [(told.value.message, told.value.cure), *((f.message, f.cure) for f in told.value.findings)]
    assert told.value.findings
    assert of([Sentence(part, "spoilt", ("Wheel house",)) for row in rows for part in row if part]) == []


FIXED = catalogue("de").fixed


@cache
def measured() -> tuple[Sentence, ...]:
    """Return the sentences with a measure to a tenth that stands in no sentence of the catalogue."""
    said = dict.fromkeys(s for path in EXAMPLES for s in of_project(path))
    return tuple(s for s in said if any("." in n and n not in FIXED for n in numbers_of(s.text)))


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(range(400)), st.decimals(min_value=0, max_value=999, places=1, allow_nan=False))
def test_a_sentence_with_another_measure_is_german_too(which: int, measure: object) -> None:
    sentence = measured()[which % len(measured())]
    old = next(n for n in numbers_of(sentence.text) if "." in n and n not in FIXED)
    changed = sentence.text.replace(f"{old} ", f"{measure} ")
    assert of([Sentence(changed, sentence.source, sentence.names)]) == []


@pytest.mark.parametrize(
    ("english", "german"),
    [
        ("Lay patch 3 on the lining", "Lay Teil 3 auf das Futter"),
        ("Trim it 6.4 mm outside the seam", "6,5 mm außerhalb der Naht zurückschneiden"),
        ("Trim it 6.4 mm outside the seam", "6.4 mm außerhalb der Naht zurückschneiden"),
        ("Trim it 6.4 mm outside the seam", "Außerhalb der Naht zurückschneiden"),
    ],
)
def test_a_faulty_translation_is_found(english: str, german: str) -> None:
    assert faults(english, german, ())


@pytest.mark.no_cover
def test_english_is_as_it_was() -> None:
    for path in EXAMPLES[:2]:
        assert all(translated(s.text, "en", s.names) == s.text for s in of_project(path))
    assert translated("Lay it down", "xx") == "Lay it down"


def said(english: str, *rows: str, names: tuple[str, ...] = ()) -> str:
    """Return what a small catalogue says, its rows "English = other"."""
    from hoopwright.translation.marks import marked, unmarked

    small = catalogue_of(dict(row.split(" = ") for row in rows))
    found = marked(english, small.fixed, names)
    return unmarked(Speaker(small).best(found.text).text, found.kept)


SMALL = (
    "Lay {1} on {2} = {1} auf {2} legen",
    "the pocket = das Fach",
    "the lining = das Futter",
    "{1} and {2} = {1} und {2}",
)


@pytest.mark.parametrize(
    ("english", "other"),
    [
        ("Lay the pocket on the lining", "das Fach auf das Futter legen"),
        ("Lay the pocket and the lining on the pocket", "das Fach und das Futter auf das Fach legen"),
        (
            "Lay the pocket on the lining. Lay the lining on the pocket.",
            "das Fach auf das Futter legen. Das Futter auf das Fach legen.",
        ),
        ("Lay the pocket on “the lining”", "das Fach auf „das Futter“ legen"),
        ("Lay the pocket on the lining (the pocket)", "das Fach auf das Futter (das Fach) legen"),
        ("the pocket; the lining", "das Fach; das Futter"),
        ("Lay the pocket on 3.5", "das Fach auf 3,5 legen"),
        ("Lay the pocket on waves-3.5.dst", "das Fach auf waves-3.5.dst legen"),
        ('Lay the pocket on "the lining"', 'das Fach auf "the lining" legen'),
        ("Lay the pocket on [the lining]", "das Fach auf [the lining] legen"),
        ("Hang it up", "Hang it up"),
    ],
)
def test_what_fills_a_hole_is_said_in_its_turn(english: str, other: str) -> None:
    assert said(english, *SMALL) == other


def test_the_sentence_with_the_most_letters_of_its_own_is_taken() -> None:
    assert said("Lay the pocket on the lining", *SMALL, "Lay the pocket on {1} = Fach auf {1}") == "Fach auf das Futter"


def test_a_name_is_never_taken_apart() -> None:
    names = ("the pocket and the lining",)
    assert said("Lay the pocket and the lining on the pocket", *SMALL, names=names) == f"{names[0]} auf das Fach legen"


def test_a_hole_may_stay_as_it_is() -> None:
    assert said("the pocket is missing", *SMALL, "{1} is missing = {=1} fehlt") == "the pocket fehlt"


def test_what_is_german_already_stays() -> None:
    for text in ("Das Fach ist noch nicht genäht", "Naht und Futter", "„Wellen“", "Die Naht 3 ist 6,4 mm lang"):
        assert translated(text, "de") == text


def test_a_sentence_with_other_figures_is_only_looked_up() -> None:
    """What a drag asks for twenty times a second must not be taken apart each time."""
    for n in range(30):
        translated(
            f"D meets A and C, both along one straight seam of {n}.7 mm (seam {n}), and nothing else that lies there.",
            "de",
        )
    before = kept_translations.cache_info().misses
    for n in range(30, 300):
        said = translated(
            f"D meets A and C, both along one straight seam of {n}.7 mm (seam {n}), and nothing else that lies there.",
            "de",
        )
        assert f" {n},7 mm (Naht {n})" in said
    assert kept_translations.cache_info().misses - before < 30


@settings(max_examples=40, deadline=None)
@given(st.text(alphabet=st.sampled_from('the of is and lies patch 3.5 ,;:.“”()"[]\n '), max_size=120))
def test_any_text_comes_through(text: str) -> None:
    german = translated(text, "de")
    assert german.count("\n") <= text.count("\n") + 1
    assert not re.search("[\ue000-\uf8ff]", german)


@pytest.mark.parametrize(
    ("english", "german"),
    [
        (
            "Trim the panel 1/4 in outside the sewn outline.",
            "Die Fläche 1/4 Zoll außerhalb des genähten Umrisses zurückschneiden.",
        ),
        ("Make it at least 4 1/4 in", "Nehmen Sie mindestens 4 1/4 Zoll"),
        (
            "A block of 5 1/8 in × 7 in does not fit the hoop",
            "Ein Quiltblock von 5 1/8 Zoll × 7 Zoll passt nicht in den Rahmen",
        ),
        ("3 15/16 × 3 1/8 in", "3 15/16 × 3 1/8 Zoll"),
        ("Choose a ring of 3/4 in to 1 in, or make the tab wider", "einen Ring von 3/4 Zoll bis 1 Zoll"),
        ("4 1/4 in", "4 1/4 Zoll"),
        ("Accents in 2 colours", "Spitzenmotive in 2"),
        ("Patch 2 in Köper", "2 in Köper"),
    ],
)
def test_inches_are_called_so_after_a_number_alone(english: str, german: str) -> None:
    assert german in translated(english, "de")
    assert translated(english, "en") == english


@pytest.mark.parametrize("value", ['"schnell"', "4 1/4", '"two words"', "[1, 2]"])
def test_a_setting_of_another_kind_is_said_so(value: str) -> None:
    said = translated(f"speed = {value} is not a whole number", "de")
    assert said == f"speed = {value} ist keine ganze Zahl"


def test_inches_stay_as_a_project_file_has_them() -> None:
    for text in ('Did you mean width = "4.25 in"?', 'Write a length such as 108, "108 mm" or "4 1/4 in"'):
        assert "Zoll" not in translated(text, "de") and " in" in translated(text, "de")


@pytest.mark.parametrize(
    ("english", "german"),
    [("Accents", "Spitzenmotive"), ("Flap", "Klappe"), ("Front", "Vorderteil"), ("Section S1", "Abschnitt S1")],
)
def test_hoopings_are_called_in_german_below_the_title_of_the_work(english: str, german: str) -> None:
    """As outputs/naming.py has them: "Accents of Gate panel" is "Accents" there."""
    assert (translated(english, "de"), left_in_english(english, "de")) == (german, 0)


@pytest.mark.parametrize("count", range(1, 8))
def test_all_places_where_a_setting_may_stand_are_told_in_german(count: int) -> None:
    places = [f"[panel.part{n}]" for n in range(count)]
    said = translated(f"width belongs {' or '.join(f'below {p}' for p in places)}", "de")
    assert said == f"width gehört dorthin: {' oder '.join(f'unter {p}' for p in places)}"
