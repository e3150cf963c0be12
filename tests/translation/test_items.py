"""German for recipes: every sentence of many ways to make an item, and of what is refused, is covered, and some are said word by word.

The German was written by hand; that it is good German is not for a test to say. These find what is left in English, and pieces of a
sentence put in the wrong place.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest

from hoopwright.items.plan import Plan
from hoopwright.items.registry import recipes
from hoopwright.items.settings import read_settings
from hoopwright.items.swatches.sheets import swatch_sheets
from hoopwright.items.swatches.wish import SwatchWish
from hoopwright.pipeline import plan
from hoopwright.project.schema import Project
from hoopwright.translation.sentences import left_in_english, translated
from tests.items.bags import project

LETTERS = re.compile(r"“[^”]*”")
"""What the maker wants sewn as letters stays as it is."""

OUTLINE = {"shape": "rectangle", "width": 100, "height": 90}
CRAZY = {"way": "crazy-centre", "patches": 4, "seed": 4}
GRID = {"way": "cuts", "cuts": [[[0, -45], [0, 45]], [[-50, 0], [0, 0]], [[0, 0], [50, 0]]]}
"""Two by two: in sections only."""
PLAIN_LINES = {"placement_lines": False, "tack_flipped": True}
ACCENTS = [{"motif": m, "size": 24, "at": [x, 0]} for m, x in (("leaf", -25), ("star", 25))]

WAYS: dict[str, tuple[str, dict[str, Any], dict[str, Any]]] = {
    "panel without placement lines": ("panel", {}, {"piecing": PLAIN_LINES, "panel": {"outline": OUTLINE}}),
    "panel in sections": ("panel", {}, {"panel": {"outline": OUTLINE, "patchwork": GRID}}),
    "panel in sections without placement lines": (
        "panel",
        {},
        {"panel": {"outline": OUTLINE, "patchwork": GRID}, "piecing": PLAIN_LINES},
    ),
    "panel with accents": ("panel", {}, {"panel": {"accents": ACCENTS, "outline": OUTLINE}}),
    "block": ("block", {}, {"foundation": {"name": "tear-away stabilizer", "batting": "thin cotton batting"}}),
    "pouch turned through its lining": ("flap-pouch", {"opening": "lining", "strap_side": "left"}, {}),
    "soft pouch": ("flap-pouch", {"stiffened": False, "strap": 0, "ground": 0}, {}),
    "sleeve with everything": (
        "glasses-sleeve",
        {"flap": 60, "pocket": 60, "strap": 40},
        {"hoop": {"field": "200x300"}},
    ),
    "open sleeve": (
        "glasses-sleeve",
        {"corner": 0, "strap_cloth": "indigo", "strap": 30},
        {"hoop": {"field": "150x240"}},
    ),
    "round mat": ("mat", {"width": 100, "height": 110, "corner": 12}, {}),
    "one bookmark": ("bookmark", {"count": 1, "corner": 8}, {}),
    "three bookmarks": ("bookmark", {"count": 3, "width": 30, "tail": 0}, {}),
    "one key tab": ("key-tab", {"count": 1}, {"foundation": {"name": "stabilizer", "batting": "batting"}}),
    "boxed purse, both sides pieced": ("frame-purse", {"boxed": 12, "pieced": "both"}, {}),
    "plain purse": ("frame-purse", {"pieced": "none"}, {"foundation": {"batting": "thin cotton batting"}}),
    "pouch with a zip": ("zip-pouch", {"strap": "left"}, {}),
    "pieced pouch with a zip": ("zip-pouch", {"pieced": True, "corner": 0}, {}),
    "ironed label": ("label", {"fasten": "ironed", "border": "feather", "border_inside": 8}, {}),
    "label with a satin edge": ("label", {"edge": "satin"}, {}),
    "accents on net": ("accent", {"base": "net", "count": 3}, {}),
    "one accent": ("accent", {"count": 1, "motif": "shell"}, {}),
}
"""Items made in ways that the examples do not show: item, settings, further tables."""


@cache
def made(way: str) -> Plan:
    item, make, more = WAYS[way]
    panel = {"patchwork": CRAZY, "seam_stitch": {"stitch": "feather"}, **more.get("panel", {})}
    return plan(project(item, make, **{**more, "panel": panel}))


def own(of: Project) -> tuple[str, ...]:
    return (of.title, *(c.name for c in of.cloths.values()), *(t.name for t in of.threads.values()))


def told(of: Plan) -> Iterator[str]:
    """Yield every text of a plan that its recipe wrote."""
    for hooping in of.hoopings:
        yield hooping.title
        for step in hooping.steps:
            yield from (h.sentence for h in step.hands)
            yield from (step.stitch.title, step.stitch.sentence)
        yield from (h.sentence for h in hooping.after)
    making = of.making
    yield from (h.sentence for h in making.assembly)
    yield from making.care
    for piece in making.pieces:
        yield from (piece.title, piece.note, f"the {piece.title.lower()}")


@pytest.mark.parametrize("way", WAYS)
def test_nothing_is_left_in_english(way: str) -> None:
    of = made(way)
    texts = {LETTERS.sub("“7”", t) for t in told(of)}
    assert len(texts) > 5
    assert [t for t in texts if left_in_english(t, "de", own(of.project))] == []


def test_swatch_sheets_are_covered() -> None:
    for field in ("130x180", "60x70"):
        of = swatch_sheets(SwatchWish(field=field)).plan
        assert [t for t in told(of) if left_in_english(t, "de")] == []


REFUSED: dict[str, list[dict[str, Any]]] = {
    "block": [{"width": 300}, {"width": 500}],
    "flap-pouch": [
        {"contents": [300, 300, 10]},
        {"body": [40, 80]},
        {"contents": [90, 90, 10], "body": [60, 60]},
        {"flap": 400, "flap_radius": 200, "corner": 60, "strap": 299, "strap_width": 40, "pocket": 299},
        {"strap": 5},
        {"opening_width": 20},
        {"opening": "lining", "opening_width": 60},
        {"stiffener": "twill"},
    ],
    "glasses-sleeve": [
        {"body": [60, 150]},
        {"body": [28, 143]},
        {"flap": 5, "pocket": 3, "strap": 4},
        {"corner": 60, "pocket": 290, "strap": 290},
        {"flap": 80, "opening_width": 60},
    ],
    "mat": [{"width": 400}, {"overlap": 120}, {"corner": 60, "width": 100}, {"overlap": 20}],
    "bookmark": [{"count": 8, "width": 60}, {"tail": 300}, {"ribbon_width": 40}, {"corner": 30}],
    "key-tab": [{"count": 8, "width": 100}, {"ring": 32}, {"corner": 60}, {"edge": 6}],
    "frame-purse": [
        {"frame_radius": 80},
        {"flare": 40},
        {"spread": 50},
        {"bottom_radius": 150},
        {"boxed": 60},
        {"opening": 200},
        {"opening": 25},
        {"depth": 300},
    ],
    "zip-pouch": [
        {"zip_made_of": "metal"},
        {"zip_tape": 14},
        {"zip_length": 100},
        {"zip_below_top": 12},
        {"height": 40},
        {"corner": 60},
        {"strap": "right", "strap_loop": 300, "strap_width": 40},
        {"width": 300},
    ],
    "label": [{"width": 300}, {"border": "fether"}, {"border_inside": 40}, {"border_inside": 2, "edge": "satin"}],
}
"""Settings that cannot be, one recipe after the other."""


@pytest.mark.parametrize("item", REFUSED)
def test_what_is_refused_is_told_in_german(item: str) -> None:
    recipe = next(r for r in recipes() if r.name == item)
    cloths = {"twill": {"name": "indigo twill", "colour": "#2f4468"}}
    threads = {"chalk": {"name": "chalk white", "colour": "#f4f1e6"}}
    for make in REFUSED[item]:
        given: dict[str, Any] = {"title": "Werk", "item": item, "cloths": cloths, "threads": threads, "make": make}
        wished = Project.model_validate(given)
        settings, found = read_settings(recipe, make)
        found = found if settings is None else recipe.refuse(settings, wished)
        assert found, make
        assert [t for f in found for t in (f.message, f.cure) if left_in_english(t, "de", own(wished))] == [], make


@pytest.mark.parametrize(
    ("english", "german"),
    [
        (
            "Hoop the tear-away stabilizer, drum-tight and without a crease.",
            "Ausreißvlies einspannen, straff wie eine Trommel und ohne Falte.",
        ),
        (
            "Feather stitch on seam 1, between patches 4, 2 and 5 and patch 6.",
            "Federstich auf Naht 1, zwischen Teil 6 und den Teilen 4, 2 und 5.",
        ),
        (
            "Take its tape off and flip section S1 (patches C, D) open over its seam, to the upper left: its right side now shows.",
            "Klebeband abnehmen und Abschnitt S1 (Teile C, D) über die Naht nach links oben umklappen: Jetzt ist die rechte Seite zu "
            "sehen.",
        ),
        (
            "Seen from its wrong side, D lies at the top, then E, F and C at the bottom.",
            "Von der linken Seite gesehen liegt D oben, dann folgt E, F, und C liegt unten.",
        ),
        ("The flap radius of -1.5 mm is too small", "Runde Ecken der Klappe: -1,5 mm ist zu klein"),
        (
            'There is no cloth "felts" for the lining',
            "Futter: Einen Stoff „felts“ gibt es nicht",
        ),
        (
            "The leaf 1, the leaf 2 and the star are sewn, each of them with a single thread: a net to and fro, then the ribs over its "
            "ends, then the rim round everything.",
            "Blatt 1, Blatt 2 und der Stern werden genäht, jedes Motiv aus einem einzigen Faden: ein Netz hin und her, dann "
            "die Rippen über seine Enden, dann der Rand um alles.",
        ),
        (
            "Make it at most 66 mm, or leave it out. Else: make the body wider, or choose a thinner stiffener",
            "Nehmen Sie höchstens 66 mm, oder lassen Sie die Angabe weg. Sonst: Machen Sie das Stück breiter, oder nehmen Sie eine "
            "dünnere Einlage",
        ),
    ],
)
def test_sentences_with_many_parts(english: str, german: str) -> None:
    assert translated(english, "de") == german
