"""Taking everything away: what is downloaded, what must be mended first, what happens when the worktable does not answer."""

from __future__ import annotations

import zipfile
from pathlib import Path
from typing import Final, Literal

import pytest
from playwright.sync_api import expect
from typer.testing import CliRunner

from hoopwright.cli.main import app
from tests.browser.conftest import Opener
from tests.browser.finding import rules
from tests.browser.looking import amiss, violations
from tests.browser.running import RunningTable
from tests.browser.window import BUSY, LOCALES, SIZES, Window


def made(maker: Window) -> None:
    """Make everything and wait for it."""
    maker.button("take.make").click()
    expect(maker.page.get_by_role("heading", name=maker.word("take.slip.made"))).to_be_visible(timeout=3 * BUSY)


def by_command(project: Path, out: Path) -> dict[str, bytes]:
    said = CliRunner().invoke(app, ["build", str(project), "--out", str(out)])
    assert said.exit_code == 0, said.output
    return {p.relative_to(out).as_posix(): p.read_bytes() for p in out.rglob("*") if p.is_file()}


def test_the_downloaded_file_holds_what_the_command_writes(window: Opener, table: RunningTable, tmp_path: Path) -> None:
    name = table.put()
    maker = window()
    maker.go("take", name)
    maker.page.get_by_label(maker.word("take.paper.Letter")).check()
    maker.page.get_by_label(maker.word("take.language.de")).check()
    maker.page.locator(".take-kind", has_text=".u01").get_by_role("checkbox").check()
    maker.saved()
    maker.button("take.kinds.leave", ending=".jef").click()
    expect(maker.button("take.kinds.leave", ending=".jef")).to_have_count(0, timeout=BUSY)
    maker.saved()
    made(maker)
    with maker.page.expect_download() as coming:
        maker.page.keyboard.press("Enter")
    with zipfile.ZipFile(coming.value.path()) as archive:
        taken = {n.partition("/")[2]: archive.read(n) for n in archive.namelist()}
    assert coming.value.suggested_filename == f"{name}.zip"
    assert "machine/panel.u01" in taken
    assert "machine/panel.jef" not in taken
    assert "Stoff, rechte Seite oben" in taken["pictures/legend.svg"].decode()
    assert taken == by_command(table.file(name), tmp_path / "out")


def test_undone_changes_bring_the_results_back(window: Opener, table: RunningTable) -> None:
    name = table.put()
    maker = window()
    maker.go("take", name)
    made(maker)
    maker.page.get_by_label(maker.word("take.paper.Letter")).check()
    expect(maker.button("take.make.again")).to_be_enabled(timeout=BUSY)
    maker.page.keyboard.press("Control+z")
    expect(maker.page.get_by_role("heading", name=maker.word("take.slip.made"))).to_be_visible(timeout=BUSY)


def test_what_must_be_mended_is_told_first(window: Opener, table: RunningTable) -> None:
    name = table.put(change=lambda text: text.replace('field = "130x180"', 'field = "100x100"'))
    maker = window()
    maker.go("take", name)
    expect(maker.page.get_by_role("heading", name=maker.word("take.mend"))).to_be_visible(timeout=BUSY)
    expect(maker.button("take.make")).to_be_disabled()
    maker.page.get_by_label(maker.word("take.field")).select_option("130x180")
    expect(maker.button("take.make")).to_be_enabled(timeout=BUSY)
    expect(maker.page.get_by_role("heading", name=maker.word("take.mend"))).to_have_count(0)


def test_made_all_the_same_it_says_that_it_must_not_be_sewn(window: Opener, table: RunningTable) -> None:
    name = table.put(change=lambda text: text.replace('field = "130x180"', 'field = "100x100"'))
    maker = window()
    maker.go("take", name)
    maker.page.get_by_label(maker.word("take.despite")).check()
    made(maker)
    expect(maker.page.get_by_text(maker.word("take.stamped"))).to_be_visible()
    maker.button("take.put").click()
    expect(maker.page.get_by_text(maker.word("take.done.put"))).to_be_visible(timeout=BUSY)
    assert (table.file(name).parent / "out" / "DO-NOT-SEW.txt").is_file()


def test_files_of_the_maker_in_the_folder_are_named(window: Opener, table: RunningTable) -> None:
    name = table.put()
    notes = table.file(name).parent / "out" / "notes.txt"
    notes.parent.mkdir()
    notes.write_text("mine")
    maker = window(expect_faults=["507"])
    maker.go("take", name)
    made(maker)
    maker.button("take.put").click()
    alert = maker.page.get_by_role("alert").filter(has_text=maker.word("take.trouble.put"))
    expect(alert).to_contain_text("notes.txt", timeout=BUSY)
    assert notes.read_text() == "mine"


def test_no_answer_while_everything_is_made(window: Opener, table: RunningTable) -> None:
    name = table.put(change=lambda text: text.replace("Tide mill flap", "Flap of a long evening"))
    maker = window(expect_faults=["ERR_FAILED"])
    maker.go("take", name)
    maker.page.route("**/take/make/*", lambda route: route.abort())
    maker.button("take.make").click()
    expect(maker.page.get_by_text(maker.word("take.lost"))).to_be_visible(timeout=BUSY)
    expect(maker.page.get_by_role("progressbar")).to_be_visible()
    maker.page.unroute_all()
    expect(maker.page.get_by_role("heading", name=maker.word("take.slip.made"))).to_be_visible(timeout=BUSY)


@pytest.mark.parametrize("size", ["laptop", "phone"])
def test_a_finding_leads_to_its_place(window: Opener, table: RunningTable, size: str) -> None:
    name = table.put(change=lambda text: text + '\n[panel.ground]\nkind = "meander"\nspacing = 1.5\n')
    maker = window(size=SIZES[size], language="de")
    maker.go("draw", name)
    found = maker.page.get_by_role("complementary", name=maker.word("findings.title"))
    if size == "phone":
        found.get_by_role("button", expanded=False).click()
    found.get_by_role("link", name=maker.word("findings.show.cloth")).click()
    maker.stands("cloth")
    assert maker.page.url.endswith(f"/project/{name}/cloth")
    if size == "laptop":
        what_is_said_follows_the_language(maker, name)


def what_is_said_follows_the_language(maker: Window, name: str) -> None:
    """What was found, and the run sheet at the block where it is, are said anew in the language that is chosen."""
    spoken = maker.page.locator(".tools select").nth(1)
    found = maker.page.locator(".findings .said").first
    expect(found).to_contain_text("Enger als 2 mm wird nicht genäht")
    spoken.select_option("en")
    expect(found).to_contain_text("is not sewn closer than 2 mm", timeout=BUSY)
    maker.page.goto(f"{maker.table.origin}/project/{name}/sew")
    told = maker.page.locator(".sew-sentence")
    expect(told).to_contain_text("Hoop the tear-away stabilizer", timeout=BUSY)
    maker.page.keyboard.press("PageDown")
    expect(told).not_to_contain_text("Hoop the", timeout=BUSY)
    spoken.select_option("de")
    expect(told).to_contain_text("Teil", timeout=BUSY)
    assert maker.page.locator(".runsheet").get_by_text("Platzierungslinie").count() > 0


def with_much_to_say(text: str) -> str:
    """A work with all that can be found: what must be mended, what to mind, what is good to know."""
    text = text.replace('field = "130x180"', 'field = "100x100"').replace("kinds = [", 'kinds = ["u01", ')
    return text + '\n[panel.ground]\nkind = "meander"\nspacing = 1.5\n'


@pytest.mark.parametrize("language", LOCALES)
def test_made_opened_and_found_it_is_still_readable(window: Opener, table: RunningTable, language: str) -> None:
    name = table.put(change=with_much_to_say)
    maker = window(language=language)
    maker.go("take", name)
    maker.page.get_by_label(maker.word("take.despite")).check()
    made(maker)
    maker.button("take.put").click()
    expect(maker.page.get_by_role("heading", name=maker.word("take.folder"))).to_be_visible(timeout=BUSY)
    for size in ("phone", "laptop"):
        maker.sized(size)
        for closed in maker.page.locator("details:not([open]) > summary").all():
            if closed.is_visible():
                closed.click()
    looked_at(maker)
    maker.button("totals.more").click()
    looked_at(maker)
    maker.button("totals.more").click()
    maker.sized("tablet")
    maker.page.locator(".findings-strip").click()
    looked_at(maker, "tablet", "phone")
    maker.page.locator(".findings-strip").click()
    maker.sized("laptop")
    maker.page.locator(".take-choices").get_by_role("button", name=maker.word("set.title")).click()
    sheet = maker.page.get_by_role("dialog", name=maker.word("set.title"))
    sheet.get_by_label(maker.word("set.machine.speed"), exact=True).fill("750")
    sheet.get_by_label(maker.word("set.day.own")).check()
    sheet.locator("summary", has_text=maker.word("set.rare")).click()
    maker.saved()
    looked_at(maker)
    assert "speed = 750" in table.file(name).read_text()


def looked_at(maker: Window, *sizes: str) -> None:
    """Nothing is cut or lies on other words at any size, and no rule of accessibility is broken seriously in what is shown here."""
    maker.quiet()
    for size in sizes or SIZES:
        maker.sized(size)
        assert amiss(maker) == [], size
        for light in RULED.get(size, ()):
            maker.shine(light)
            found = violations(maker) if rules() is not None else []
            assert [v for v in found if "Control+Y" not in v] == [], (size, light)
        maker.shine("light")


RULED: Final[dict[str, tuple[Literal["light", "dark"], ...]]] = {"laptop": ("light", "dark"), "phone": ("dark",)}
"""Where the rules are asked: colours change with the light, places with the size."""
