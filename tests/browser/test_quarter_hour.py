"""A new maker's first quarter of an hour, from the empty thought to the files for her machine."""

from __future__ import annotations

import io
import re
import tomllib
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

import pytest
from playwright.sync_api import expect
from typer.testing import CliRunner

from hoopwright.cli.main import app
from tests.browser.conftest import Opener
from tests.browser.finding import rules
from tests.browser.hands import Finger, Hand, Keys, Pointer
from tests.browser.looking import amiss, violations
from tests.browser.running import RunningTable
from tests.browser.window import BUSY, SIZES, Window

HANDS: Final[dict[str, tuple[Callable[[Window], Hand], str]]] = {
    **{f"mouse on a {size}": (Pointer, size) for size in SIZES},
    **{f"keys alone on a {size}": (Keys, size) for size in SIZES},
    **{f"finger on a {size}": (Finger, size) for size in ("tablet", "phone")},
}
USUAL: Final = (
    "mouse on a laptop",
    "finger on a tablet",
    "finger on a phone",
    "keys alone on a laptop",
    "keys alone on a tablet",
    "keys alone on a phone",
)
"""Every size with the hand that is usual there, and with keys alone; a mouse on a tablet or a phone is tried in the soak."""
LAST_CLOTH: Final = "ochre cotton"
"""The last cloth that a new project comes with."""


@pytest.mark.parametrize("way", [way if way in USUAL else pytest.param(way, marks=pytest.mark.soak) for way in HANDS])
def test_the_first_quarter_of_an_hour(window: Opener, table: RunningTable, tmp_path: Path, way: str) -> None:
    made, size = HANDS[way]
    maker = window(size=SIZES[size], touch=made is Finger, motion=True)
    hand = made(maker)
    name = begins(maker, hand, f"Evening flap, {way}")
    draws(maker, hand)
    gives_cloth(maker, hand, table.file(name))
    lays_letters(maker, hand, table.file(name))
    before = table.file(name).read_text()
    chooses_a_stitch(maker, hand)
    maker.until(lambda: table.file(name).read_text() != before)
    after = table.file(name).read_text()
    watches(maker, hand)
    assert taken_away(maker, hand) == built(table.file(name), tmp_path / "built")
    comes_back(maker, hand, f"Evening flap, {way}")
    hand.press(maker.tool("frame.undo"))
    maker.until(lambda: table.file(name).read_text() == before)
    hand.press(maker.tool("frame.redo"))
    maker.until(lambda: table.file(name).read_text() == after)


def begins(maker: Window, hand: Hand, title: str) -> str:
    """Begin something new from a recipe; return the project's name."""
    maker.go("shelf")
    recipe = maker.page.get_by_role("button", name=re.compile("^" + re.escape(maker.word("recipe.panel")) + r"\b"))
    hand.press(recipe)
    dialog = maker.page.get_by_role("dialog")
    hand.write(dialog.get_by_label(maker.word("shelf.title"), exact=True), title)
    hand.press(dialog.get_by_role("button", name=maker.word("shelf.make"), exact=True))
    maker.stands("draw")
    expect(maker.page.get_by_role("heading", level=1)).to_contain_text(title)
    return maker.page.url.split("/")[-2]


def draws(maker: Window, hand: Hand) -> None:
    """Draw three cuts through the middle piece, and slide the last one."""
    expect(maker.pieces().first).to_be_visible(timeout=BUSY)
    if maker.cuts().count() == 0:
        hand.press(maker.button("draw.unbind"))
        expect(maker.cuts().first).to_be_visible(timeout=BUSY)
    pieces = maker.pieces().count()
    first = maker.board().get_by_role("button", name=re.compile(re.escape(first_sewn(maker)))).first
    letter = re.findall(r"\b[A-Z]\b", first.get_attribute("aria-label") or "")[0]
    hand.cut(letter)
    expect(maker.pieces()).to_have_count(pieces + 3)
    last = maker.cuts().last
    label = last.get_attribute("aria-label")
    hand.slide(maker.cuts().count())
    expect(last).not_to_have_attribute("aria-label", label or "", timeout=BUSY)
    maker.saved()


def first_sewn(maker: Window) -> str:
    """Return the words that say that a piece is sewn first."""
    sentence = maker.word("draw.patch.name", letter="\0", number=1, cloth="\1")
    return sentence.split("\0")[1].split("\1")[0]


def gives_cloth(maker: Window, hand: Hand, file: Path) -> None:
    """Give a large piece the last of the cloths."""
    before = file.read_text()
    hand.press(maker.step_link("cloth"))
    maker.stands("cloth")
    piece = maker.page.get_by_role("button", name=re.compile(maker.word("cloth.piece.name", letter="C", cloth="")))
    hand.press(piece)
    cloths = maker.page.get_by_role("list", name=maker.word("cloth.give", letter="C"))
    hand.press(cloths.get_by_role("button", name=re.compile("^" + LAST_CLOTH)))
    maker.until(lambda: file.read_text() != before)
    maker.saved()


def lays_letters(maker: Window, hand: Hand, file: Path) -> None:
    """Lay letters on the panel, write other ones, and move them to the right."""
    hand.press(maker.button("cloth.mode.laid"))
    hand.press(maker.button("laid.add.letters"))
    lines = maker.page.get_by_label(maker.word("laid.letters.lines"))
    expect(lines).to_be_focused()
    hand.write(lines, "Tide")
    lines.blur()
    maker.until(lambda: lettering(file).get("lines") == ["Tide"])
    maker.saved()
    title = tomllib.loads(file.read_text())["title"]  # cut where it is long
    assert not [said for said in amiss(maker) if title not in said]
    assert rules() is None or not violations(maker)
    x, y = lettering(file)["at"]
    on_panel = maker.page.get_by_role("group", name=maker.word("cloth.board"))
    hand.shift(on_panel.get_by_role("button", name=maker.word("laid.letters.of", text="Tide")))
    maker.until(lambda: lettering(file)["at"][0] > x)
    assert abs(lettering(file)["at"][1] - y) < 1.0
    maker.saved()


def lettering(file: Path) -> dict[str, Any]:
    """Return the letters that lie on the panel, as the project file says."""
    rows = tomllib.loads(file.read_text())["panel"].get("lettering", [{}])
    found: dict[str, Any] = rows[0]
    return found


def chooses_a_stitch(maker: Window, hand: Hand) -> None:
    """Choose herringbone for all seams."""
    hand.press(maker.button("cloth.mode.seam"))
    hand.press(maker.page.get_by_role("button", name=re.compile(re.escape(maker.word("cloth.seam.choose")))))
    hand.choose(maker.word("stitch.herringbone"))
    maker.saved()


def watches(maker: Window, hand: Hand) -> None:
    """Watch it sewn for a moment, wait, go on to the next halt, and find the place again after a look at the drawing."""
    hand.press(maker.step_link("sew"))
    maker.stands("sew")
    told = maker.page.get_by_role("slider", name=maker.word("sew.bar"))
    at = told.get_attribute("aria-valuetext")
    hand.press(maker.button("sew.on"))
    expect(told).not_to_have_attribute("aria-valuetext", at or "")
    hand.press(maker.button("sew.wait"))
    at = told.get_attribute("aria-valuetext")
    hand.press(maker.button("sew.halt.on"))
    expect(told).not_to_have_attribute("aria-valuetext", at or "")
    at = told.get_attribute("aria-valuetext")
    hand.press(maker.step_link("draw"))
    maker.stands("draw")
    hand.press(maker.step_link("sew"))
    expect(told).to_have_attribute("aria-valuetext", at or "", timeout=BUSY)


def taken_away(maker: Window, hand: Hand) -> dict[str, bytes]:
    """Have everything made and download it; return the files."""
    hand.press(maker.step_link("take"))
    maker.stands("take")
    hand.press(maker.button("take.make"))
    start = maker.word("take.download", size="\0").split("\0")[0]
    download = maker.page.get_by_role("button", name=re.compile("^" + re.escape(start)))
    expect(download).to_be_visible(timeout=3 * BUSY)
    with maker.page.expect_download() as got:
        hand.press(download)
    with zipfile.ZipFile(io.BytesIO(Path(got.value.path()).read_bytes())) as archive:
        return {"/".join(n.split("/")[1:]): archive.read(n) for n in archive.namelist() if not n.endswith("/")}


def built(file: Path, folder: Path) -> dict[str, bytes]:
    """Return the files that the command makes of a project."""
    said = CliRunner().invoke(app, ["build", str(file), "--out", str(folder)])
    assert said.exit_code == 0, said.output
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def comes_back(maker: Window, hand: Hand, title: str) -> None:
    """Load the page again: everything is still there."""
    maker.page.reload()
    maker.stands("take")
    expect(maker.page.get_by_role("heading", level=1)).to_contain_text(title)
    hand.press(maker.step_link("draw"))
    maker.stands("draw")
