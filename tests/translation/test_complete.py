"""Every text that a maker can see has its German, read from the source of the engine: a text that is new and has none is found here."""

from __future__ import annotations

import re

import pytest

from hoopwright.translation.catalogue import LANGUAGES, entries
from hoopwright.translation.sentences import left_in_english
from tests.translation.extraction import ROOT, Text, left_of, texts_of, within_a_sentence

ROOMS = sorted(
    p.name
    for p in ROOT.iterdir()
    if p.suffix == ".py" or (p.is_dir() and not p.name.startswith("__") and p.name != "cli")
)
"""Every room of the package but the command line, which speaks English."""

UNSEEN: tuple[tuple[str, str, str], ...] = (
    # file, text (both regular expressions), why no maker sees it in another language
    (
        "project/syntax.py",
        "Cannot .*|Duplicate .*|Illegal .*|Found .*|Expected .*|Unescaped .*|Unclosed .*",
        "how the reader of TOML begins to complain",
    ),
    ("project/syntax.py", r".*\?P<value>.*", "a pattern for a line of a file"),
    ("project/starter.py|items/starter.py", "(?s).*", "remarks in a first project file, which is written in English"),
    ("needle/accents/proof.py", "[a-z ]+", "names of faults, which checks/accents.py puts in words"),
    ("needle/seam_stitches/stitch.py", "half turn|one way", "a symmetry that is reckoned with"),
    ("items/label.py", "Made for you|with love", "letters to be sewn, which the maker replaces by her own"),
    ("outputs/swatches/.*", ".*", "sheets of swatches and their card come from the command line, in English"),
    ("outputs/.*fonts.py|outputs/drawing/svg.py", ".*Source S.*", "names of fonts"),
    ("outputs/.*|worktable/.*", r"(?s).*(<svg|<path|href=|stroke=|height=\"|<!doctype|</|/>).*", "drawing and markup"),
    ("pipeline/planning.py", "patch map", "the name of a stage, which is timed"),
    ("worktable/.*", r".*(default-src|no-cache|max-age|Max-Age|attachment;).*", "headers for browsers"),
    ("worktable/guard.py", "(?s)Open the worktable by.*Öffnen Sie.*", "said in both languages at once"),
    ("worktable/workbook.py", "changed outside", "a version's name, which the page has words for"),
    ("worktable/making.py", "the results could not be made", "a line of the log"),
)


def unseen(text: Text) -> bool:
    """Return whether a text is declared to be no maker's."""
    return any(declares(row, text) for row in UNSEEN)


def declares(row: tuple[str, str, str], text: Text) -> bool:
    """Return whether a row of UNSEEN fits a text."""
    return bool(re.match(row[0], text.file) and re.fullmatch(row[1], text.text.strip()))


def uncovered(room: str, language: str) -> list[str]:
    """Return the texts of a room that no sentence of the catalogue covers or holds."""
    sentences = "\n".join(e for table in entries(language).values() for e in table)
    texts = (t for t in texts_of(room) if not unseen(t))
    return [str(t) for t in texts if not within_a_sentence(t, sentences) and left_of(t, language)]


@pytest.mark.no_cover
def test_the_rooms_are_the_engine_and_the_worktable() -> None:
    assert {"core", "piecing", "needle", "items", "cloth", "checks", "outputs", "worktable"} <= set(ROOMS)
    assert sum(1 for room in ROOMS for _ in texts_of(room)) > 1500


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("room", ROOMS)
def test_every_text_of_a_room_is_said(room: str, language: str) -> None:
    assert uncovered(room, language) == []


def test_what_is_declared_unseen_is_there() -> None:
    """A declaration that fits nothing any more is taken out, so that the list stays true."""
    texts = [t for room in ROOMS for t in texts_of(room)]
    seen = [row for row in UNSEEN if not any(declares(row, t) for t in texts)]
    assert seen == []


def test_a_text_without_german_is_found() -> None:
    text = Text("piecing/new.py", 1, "Hang the {1} out of the window of the mill", ("cloth",))
    assert left_of(text, "de")
    assert not within_a_sentence(text, "Lay the {1} on the mill\nHang it up")
    assert left_in_english("Hang the laundry out of the window", "de")
