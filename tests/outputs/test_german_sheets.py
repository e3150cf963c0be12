"""The same work printed in English and in German: nothing is left in English, and no number or size differs."""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from shapely.geometry import Point, box

from hoopwright.build import Build
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.outputs.booklet.content import content
from hoopwright.outputs.drawing.shapes import Label
from hoopwright.outputs.naming import SheetName, name_of
from hoopwright.outputs.pictures.titles import Named, named
from hoopwright.outputs.saying import said_throughout, saying
from hoopwright.outputs.templates.furniture import MARGIN, furniture, sheet_of
from hoopwright.outputs.templates.marks import Words, words_box
from hoopwright.outputs.templates.pieces import pieces_of
from hoopwright.outputs.writing import WARNING_NAME, machine_stage, warning_text
from hoopwright.pipeline import build, results
from hoopwright.project.load import parse
from hoopwright.project.names import names_of
from hoopwright.project.save import set_value
from tests.outputs.paper_builds import build_of, small_panel
from tests.outputs.pdf_reading import opened, paths, squeezed, texts

EXAMPLES = Path(__file__).parents[2] / "examples"
STOP = re.compile(
    r"\b(?:the|of|is|are|and|to|its|it|from|with|by|for|or|be|can|lies|lie|under|over|when|your|you|this|that|sewn|sew|lay|cut|"
    r"edge|side|seam|patch|patches|hands|right|wrong|down|cloth|thread|hooping|page|fold|grain|pieces?|where|between|they|which|"
    r"not|all|one|two|first|last|press|trim)\b",
    re.IGNORECASE,
)
"""English words that no German sentence holds."""
DIVIDED = ("\xad", "\u2010", "-\n", "\ufffe")
"""How a word is divided at the end of a line, as it is read back."""
NUMBER = re.compile(r"(?<![\w.,])[0-9]+(?:[.,][0-9]+)?")


@dataclass(frozen=True, slots=True, eq=False)
class Printed:
    """A work in one language: its build, and its files by name."""

    build: Build
    files: Mapping[str, bytes]


def printed(example: str, language: str) -> Printed:
    text = set_value((EXAMPLES / example / "project.toml").read_text(encoding="utf-8"), "language", language)
    loaded = parse(text, EXAMPLES / example)
    return Printed(*results(build(loaded.project, dict(loaded.drawings), prove=False), text=text))


@pytest.fixture(scope="module")
def english() -> Printed:
    return printed("quay-pouch", "en")


@pytest.fixture(scope="module")
def german() -> Printed:
    return printed("quay-pouch", "de")


def said_in(name: str, data: bytes) -> Iterator[str]:
    """Everything a reader finds in a file: pages without divided words, or titles, descriptions and labels of a picture."""
    if name.endswith(".pdf"):
        for page in texts(data):
            for mark in DIVIDED:
                page = page.replace(f"{mark}\r\n", "").replace(f"{mark}\n", "").replace(mark, "")
            yield page
    if name.endswith(".svg"):
        root = ElementTree.fromstring(data)
        yield from (e.text for e in root.iter() if e.text and e.tag.rpartition("}")[2] in ("title", "desc", "text"))


def english_words(text: str, own: tuple[str, ...]) -> list[str]:
    for name in sorted(own, key=len, reverse=True):
        text = text.replace(name, "")
    text = re.sub(r"\([a-z]+\.[a-z_]+, ", "(", text)  # places of the project file
    return STOP.findall(text)


def test_no_english_is_left_outside_the_makers_names(german: Printed) -> None:
    own = names_of(german.build.plan.project)
    left = {n: w for n, d in german.files.items() for t in said_in(n, d) if (w := english_words(t, own))}
    assert left == {}


def test_english_would_be_found(english: Printed) -> None:
    own = names_of(english.build.plan.project)
    for name in ("booklet.pdf", "templates.pdf", "pictures/legend.svg", "pictures/pouch-step-02.svg"):
        assert any(english_words(t, own) for t in said_in(name, english.files[name])), name


def test_the_makers_names_stay(german: Printed) -> None:
    project = german.build.plan.project
    text = squeezed("".join(texts(german.files["booklet.pdf"])))
    for name in (
        project.title,
        *(c.name for c in project.cloths.values()),
        *(t.name for t in project.threads.values()),
    ):
        assert squeezed(name) in text


def strings(data: object) -> Iterator[str]:
    if isinstance(data, str):
        yield data
    elif isinstance(data, Mapping):
        yield from (s for v in data.values() for s in strings(v))
    elif isinstance(data, list | tuple):
        yield from (s for v in data for s in strings(v))


def test_every_sentence_of_the_booklet_has_the_same_numbers(german: Printed) -> None:
    pictures = {n.removeprefix("pictures/"): d for n, d in german.files.items() if n.startswith("pictures/")}
    plain = content(german.build, pictures)
    said = said_throughout(plain, saying(german.build.plan.project))
    pairs = list(zip(strings(plain), strings(said), strict=True))
    assert len(pairs) > 300
    for one, other in pairs:
        numbers = Counter(n.replace(".", ",") for n in NUMBER.findall(one))
        assert Counter(NUMBER.findall(other)) == numbers, (one, other)


def test_a_long_name_in_a_picture_is_broken_and_not_cut() -> None:
    title = "Futter des oberen Vorderteils"
    sheet = Named(box(20, 20, 80, 34), SheetName("the upper front lining", title), strong=True)
    rows = [s.text for s in named([sheet], Point().buffer(0), (0, 0, 100, 100)) if isinstance(s, Label)]
    assert len(rows) == 2 and " ".join(rows) == title


def test_the_lines_of_the_templates_are_explained_within_the_page() -> None:
    say = saying(build_of(small_panel(), language="de").plan.project)
    for paper in ("A4", "Letter"):
        sheet = sheet_of(paper)
        marks = furniture(sheet, "Klappe", "Templates at true size", 1, 2, legend=True, say=say)
        assert max(words_box(m)[2] for m in marks if isinstance(m, Words) and m.width is None) <= sheet.width - MARGIN


def test_lengths_have_decimal_commas(german: Printed) -> None:
    text = "".join(texts(german.files["booklet.pdf"]))
    assert re.search(r"\b6,4 mm", text)
    assert not re.search(r"[0-9]\.[0-9]+ (mm|m|min)\b", text)


def test_templates_are_as_large_and_their_bar_is_100_mm(english: Printed, german: Printed) -> None:
    one, other = ({p.name: p for p in pieces_of(s.build)} for s in (english, german))
    assert one.keys() == other.keys()
    assert all(one[k].cut.equals(other[k].cut) for k in one)
    for page in opened(german.files["templates.pdf"]):
        boxes = [np.array(p.points) for p in paths(page) if not p.stroke]
        wide = {round(float(np.ptp(b[:, 0])), 2) for b in boxes if np.ptp(b[:, 1]) < 0.5}
        assert {100.0, 101.6} <= wide


def test_stitch_files_and_the_record_are_the_same_in_every_language(english: Printed, german: Printed) -> None:
    assert english.files.keys() == german.files.keys()
    same = [n for n in english.files if n.startswith("machine/")]
    assert same and all(english.files[n] == german.files[n] for n in same)
    one, other = (json.loads(s.files["build.json"]) for s in (english, german))
    assert one["hoopings"] == other["hoopings"] and one["assembly"] == other["assembly"]


def test_a_pdf_says_its_language(english: Printed, german: Printed) -> None:
    for sheets, code in ((english, b"en"), (german, b"de")):
        for name in ("booklet.pdf", "templates.pdf"):
            assert b"/Lang (" + code + b")" in sheets.files[name].replace(b"/Lang(", b"/Lang ("), name
    assert opened(german.files["booklet.pdf"]).get_metadata_dict()["Title"] == "Quay pouch: Nähheft"


def test_equal_builds_give_equal_german_bytes(german: Printed) -> None:
    again = printed("quay-pouch", "de")
    assert {n for n in german.files if german.files[n] != again.files[n]} == set()


@pytest.fixture(scope="module")
def blocked() -> Build:
    """A German build that cannot be sewn."""
    finding = Finding(
        "HW601", Severity.BLOCKS, "The hooping has no stitches at all", "Give it at least one block to sew"
    )
    return build_of(small_panel(), findings=(replace(finding, where=Where(operation=4)),), language="de")


def test_a_blocked_build_says_so_in_german(blocked: Build) -> None:
    text = warning_text(blocked)
    assert "HW601 zu beheben: Die Einspannung hat überhaupt keine Stiche (Schritt 4)." in text
    assert "do not sew" not in text and WARNING_NAME.endswith(".txt")
    checked, files = machine_stage(blocked)
    assert b"NICHT STICKEN" in files[0].data[:40]
    pages = texts(dict(results(checked, despite=True)[1])["templates.pdf"])
    assert all("Nicht zuschneiden: Der Plan hat 1 Fehler." in p for p in pages)


def test_a_name_of_the_maker_s_keeps_its_large_letters_in_a_picture() -> None:
    assert name_of({}, "dünne Baumwollwattierung").sign == "Dünne Baumwollwattierung"
    assert name_of({}, "back-lower").sign == "Back lower"
