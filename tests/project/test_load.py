from __future__ import annotations

import re
from pathlib import Path

import pytest

from hoopwright.core.errors import ProjectError
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.project.load import LARGEST_FILE, load, parse, with_lines
from hoopwright.project.starter import starter_text

START = starter_text("Wheel house")


def findings_of(text: str) -> tuple[Finding, ...]:
    with pytest.raises(ProjectError) as caught:
        parse(text, None)
    return caught.value.findings


def changed(old: str, new: str) -> str:
    assert old in START
    return START.replace(old, new, 1)


def line_with(text: str, part: str) -> int:
    return next(i for i, line in enumerate(text.splitlines(), 1) if part in line)


def test_loads_a_whole_project(tmp_path: Path) -> None:
    file = tmp_path / "project.toml"
    file.write_text(START, encoding="utf-8")
    loaded = load(file)
    assert loaded.text == START
    assert loaded.findings == ()
    assert loaded.project.panel.outline.shape == "flap"
    assert loaded.project == parse(START, None).project


def test_the_language_of_the_results_is_english_unless_the_file_says_otherwise() -> None:
    line = next(row for row in START.splitlines(keepends=True) if row.startswith("language"))
    assert parse(START.replace(line, ""), None).project.language == "en"
    assert parse(START.replace(line, 'language = "de"\n'), None).project.language == "de"


def test_lengths_with_units_are_millimetres_once_read() -> None:
    project = parse(changed("width = 108", 'width = "4 1/4 in"'), None).project
    assert project.panel.outline.width == pytest.approx(107.95)  # type: ignore[union-attr]


def test_every_problem_at_once_with_place_line_and_cure() -> None:
    text = START
    for old, new in (
        ("speed = 600", 'speed = "fast"'),
        ("width = 108", 'width = "10,8 cm"'),
        ('thread = "gold"', 'thread = "golt"'),
        ("[hoop]", "[hoop]\nmargn = 2"),
        ('colour = "#2f4468"', 'colour = "blue"'),
        ('A = "madder"', 'A = "mader"'),
    ):
        text = text.replace(old, new, 1)
    found = findings_of(text)
    assert {(f.where.path, f.code) for f in found} == {
        ("machine.speed", "HW112"),
        ("panel.outline.width", "HW113"),
        ("panel.seam_stitch.thread", "HW124"),
        ("hoop.margn", "HW111"),
        ("cloths.indigo.colour", "HW116"),
        ("panel.cloths.A", "HW124"),
    }
    for finding in found:
        assert finding.where.path is not None
        assert (
            finding.where.line == line_with(text, f"{finding.where.path.split('.')[-1]} = ") or finding.code == "HW116"
        )
        assert finding.severity is Severity.BLOCKS
        assert finding.cure
    assert [f.where.line for f in found] == sorted(f.where.line or 0 for f in found)


@pytest.mark.parametrize(
    ("old", "new", "path", "says", "cure"),
    [
        ("speed = 600", "speed = 600.5", "machine.speed", "not a whole number", "whole number"),
        ("speed = 600", "speed = true", "machine.speed", "not a whole number", "whole number"),
        ("speed = 600", 'speed = "600"', "machine.speed", "not a whole number", "without quotes: 600"),
        ("speed = 600", f"speed = {'9' * 200}", "machine.speed", "at most 2000", "at most 2000"),
        ("width = 108", "width = nan", "panel.outline.width", "measured", "plain number"),
        ("width = 108", "width = -inf", "panel.outline.width", "measured", "plain number"),
        ("width = 108", "width = 0", "panel.outline.width", "more than 0 mm", "more than 0 mm"),
        ("width = 108", "width = true", "panel.outline.width", "not a length", "108 mm"),
        ("width = 108", "width = [1]", "panel.outline.width", "not a length", "108 mm"),
        ("chance = 0.01", "chance = nan", "piecing.chance", "can be measured", "plain number"),
        ("chance = 0.01", 'chance = "1%"', "piecing.chance", "not a number", "0.01"),
        ("tack_flipped = false", 'tack_flipped = "no"', "piecing.tack_flipped", "not yes or no", "false"),
        ('units = "mm"', 'units = "inch"', "units", "not a choice", '"in"'),
        ('language = "en"', 'language = "German"', "language", "not a choice", '"de"'),
        ('title = "Wheel house"', "title = 7", "title", "not text", '"7"'),
        ('title = "Wheel house"', 'title = ""', "title", "empty", "words"),
        ('title = "Wheel house"', 'title = "a\\nb"', "title", "line break", "one line"),
        ('title = "Wheel house"', f'title = "{"a" * 121}"', "title", "121 characters", "at most 120"),
        ('shape = "flap"', 'shape = "flab"', "panel.outline.shape", "not a shape", '"flap"'),
        ('way = "cuts"', 'way = "pinwheel"', "panel.patchwork.way", "not a way", '"crazy-centre"'),
        ('way = "cuts"', "", "panel.patchwork", "way is missing", '"cuts"'),
        ('field = "130x180"', 'field = "130x185"', "hoop.field", "no field", '"130x180"'),
        ('field = "130x180"', "field = [130]", "hoop.field", "two numbers", "[130, 180]"),
        ('field = "130x180"', "field = 130", "hoop.field", "neither a name nor a size", "[130, 180]"),
        ('halt_at = "stay"', 'halt_at = "back"', "machine.halt_at", "not known", '"stay"'),
        ('halt_at = "stay"', "halt_at = [0]", "machine.halt_at", "only one", "[x, y]"),
        ('halt_at = "stay"', 'halt_at = [0, "x"]', "machine.halt_at[2]", "not a length", "108 mm"),
        ("cuts = [", "cuts = [[[1, 2], [3, 4, 5]],", "panel.patchwork.cuts[1][2]", "here are 3", "point"),
        ("cuts = [", "cuts = [[1, 2],", "panel.patchwork.cuts[1][1]", "square brackets", "[x, y]"),
        ("[cloths.reed]", "[cloths.Reed]", "cloths.Reed", "not a key", '"reed"'),
        ("[panel.cloths]", "[panel.cloths]\na = 'reed'", "panel.cloths.a", "not a patch letter", '"A"'),
        ("[hoop]", "[hoop]\nspeed = 3", "hoop.speed", "not a setting of [hoop]", "[machine]"),
        ("[hoop]", "[hoop]\nlongest_stich = 3", "hoop.longest_stich", "not a setting", '"longest_stitch"'),
        ('layout = "slate"', 'layout = "slade"', "guides.layout", "no thread", '"slate"'),
        ('"exp", "pes"', '"dst", "pes"', "machine.kinds[2]", "twice", "take the other out"),
        ("schema = 1", "schema = 2", "schema", "version 2", "newer"),
        ("schema = 1", "schema = -1", "schema", "no version -1", "schema = 1"),
        ("radius = 32", "radius = 55", "panel.outline.radius", "does not fit", "at most 54 mm"),
        ("shortest_stitch = 1 ", "shortest_stitch = 2 ", "machine.shortest_stitch", "", ""),
    ],
)
def test_a_slip_is_named_and_cured(old: str, new: str, path: str, says: str, cure: str) -> None:
    text = changed(old, new)
    if path == "machine.shortest_stitch":
        text, says, cure = text.replace("longest_stitch = 7", "longest_stitch = 2"), "not shorter", "smaller"
    finding = next(f for f in findings_of(text) if f.where.path == path)
    assert says.lower() in finding.message.lower()
    assert cure in finding.cure
    assert finding.where.line == line_with(text, new.strip().splitlines()[-1] if new else "[panel.patchwork]")


def test_a_mistyped_shape_hides_no_other_problem_of_its_table() -> None:
    text = changed('shape = "flap"', 'shape = "flab"').replace("width = 108", "widht = 108")
    assert {f.where.path for f in findings_of(text)} >= {
        "panel.outline.shape",
        "panel.outline.widht",
        "panel.outline.width",
    }


def test_a_setting_of_another_shape_is_refused_with_what_this_shape_has() -> None:
    text = re.sub(r'shape = "flap".*', 'shape = "ellipse"', START)
    (finding,) = findings_of(text)
    assert 'when shape = "ellipse"' in finding.message
    assert '"shape", "width" or "height"' in finding.cure


def test_a_wrong_name_is_told_once() -> None:
    (finding,) = findings_of(changed('thread = "gold"', 'thread = "Gold"'))
    assert finding.cure == 'Did you mean "gold"?'


def test_order_is_checked() -> None:
    text = changed("[panel.outline]", '[panel]\norder = ["A", "B", "A"]\nfirst = "B"\n\n[panel.outline]')
    assert {(f.code, f.where.path) for f in findings_of(text)} == {
        ("HW123", "panel.order[3]"),
        ("HW125", "panel.first"),
    }


def test_nothing_but_a_title_tells_all_that_is_missing() -> None:
    assert {f.where.path for f in findings_of('title = "x"')} == {"cloths", "threads", "panel.outline"}


@pytest.mark.parametrize(
    ("old", "new", "says", "cure"),
    [
        ("width = 108", "width = 108 mm", "without quotes", '"108 mm"'),
        ("width = 108", "width = 4 1/4 in", "without quotes", '"4 1/4 in"'),
        ("width = 108", 'width = 4 1/4"', "without quotes", '"4 1/4 in"'),
        ("width = 108", 'width = "4 1/4""', "inch mark", '"4 1/4 in"'),
        ("width = 108", "width = 10,8", "comma", "width = 10.8"),
        ("width = 108", "width = 10,8 cm", "comma", 'width = "10.8 cm"'),
        ("width = 108", "width =", "nothing stands", "value"),
        ("width = 108", "width: 108", "colon", "width ="),
        ('colour = "#d9ccae"', "colour = #d9ccae", "colour", 'colour = "#d9ccae"'),
        ('name = "indigo twill"', "name = indigo twill", "without quotes", 'name = "indigo twill"'),
        ('name = "indigo twill"', "name = “indigo twill”", "curly", "straight"),
        ('name = "indigo twill"', 'name = "indigo twill', "not closed", "Close"),
        ('name = "indigo twill"', "name = 'indigo twill", "not closed", "Close"),
        ('name = "indigo twill"', 'name = "indigo\\twill\\q"', "backslash", "slash"),
        ('name = "indigo twill"', 'name = indigo twill"', "was not opened", 'name = "indigo twill"'),
        ('name = "indigo twill"', "name = indigo twill'  # x", "was not opened", 'name = "indigo twill"'),
        ("tack_flipped = false", "tack_flipped = No", "yes and no", "tack_flipped = false"),
        ("speed = 600", "speed = 600\nspeed = 700", "twice", "take the other out"),
        ("[guides]", "[hoop]", "heading stands twice", "together"),
        ("[guides]", "[guides", "heading is not closed", "[panel.outline]"),
        ("[guides]", "Guides come here", "neither a heading nor a setting", "#"),
    ],
)
def test_slips_of_writing(old: str, new: str, says: str, cure: str) -> None:
    text = changed(old, new)
    finding = findings_of(text)[0]
    assert finding.code == "HW105"
    assert says.lower() in finding.message.lower()
    assert cure in finding.cure
    assert "column" in finding.message
    assert finding.where.line == line_with(text, new.splitlines()[-1]) or new == "[hoop]"


def test_several_slips_of_writing_at_once() -> None:
    text = (
        changed("width = 108", "width = 108 mm").replace("height = 92", "height = 9,2").replace("run = 2.5", "run = ")
    )
    assert [f.where.line for f in findings_of(text)] == [
        line_with(text, s) for s in ("run = ", "width = 108 mm", "9,2")
    ]


def test_an_open_bracket_is_told_with_its_line() -> None:
    (finding,) = findings_of(START + "\n[panel.seams]\nx = [1, 2\n\ny = 3\n")
    assert "bracket" in finding.message
    assert finding.where.line is not None


@pytest.mark.parametrize("text", ["", "   \n\n", "# only a remark\n"])
def test_an_empty_file_is_told(text: str) -> None:
    (finding,) = findings_of(text)
    assert finding.code == "HW104"


@pytest.mark.parametrize("text", ["a = " + "[" * 100_000, "a = " + "[" * 60 + "]" * 60, f"a = {'9' * 5000}"])
def test_monstrous_texts_are_refused(text: str) -> None:
    (finding,) = findings_of(text)
    assert finding.code == "HW105"


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"\x89PNG\r\n\0\0", "HW103"),
        (b'title = "caf\xe9"', "HW103"),
        (b"#" * (LARGEST_FILE + 1), "HW102"),
        (b"\xef\xbb\xbf", "HW104"),
    ],
)
def test_files_that_are_no_project(tmp_path: Path, content: bytes, code: str) -> None:
    file = tmp_path / "project.toml"
    file.write_bytes(content)
    with pytest.raises(ProjectError) as caught:
        load(file)
    assert [f.code for f in caught.value.findings] == [code]


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be"])
def test_a_file_in_wide_letters_is_to_be_saved_as_utf_8(tmp_path: Path, encoding: str) -> None:
    file = tmp_path / "m.toml"
    file.write_bytes(START.encode(encoding))
    with pytest.raises(ProjectError) as caught:
        load(file)
    (finding,) = caught.value.findings
    assert finding.code == "HW103"
    assert '"m.toml"' in finding.message and "UTF-16" in finding.message
    assert "save it again with the encoding UTF-8" in finding.cure


@pytest.mark.parametrize("content", [None, b"\x89PNG\r\n\0\0"])
def test_file_names_keep_their_case(tmp_path: Path, content: bytes | None) -> None:
    file = tmp_path / "m.toml"
    if content is not None:
        file.write_bytes(content)
    with pytest.raises(ProjectError) as caught:
        load(file)
    assert '"m.toml"' in caught.value.findings[0].message


def test_a_few_plain_millimetres_are_taken_for_forgotten_inches() -> None:
    small = (
        changed("width = 108", "width = 3.5")
        .replace("height = 92 ", "height = 4 ")
        .replace("height = 92", "height = 4")
    )
    found = findings_of(re.sub(r"radius = \d+", 'radius = "1/2 in"', small))
    assert [(f.code, f.where.path) for f in found] == [
        ("HW127", "panel.outline.width"),
        ("HW127", "panel.outline.height"),
        ("HW126", "panel.outline.radius"),
    ]
    assert [f.severity for f in found] == [Severity.WARNS, Severity.WARNS, Severity.BLOCKS]
    assert 'width = "3.5 in"' in found[0].cure and 'height = "4 in"' in found[1].cure and '"3.5 in"' in found[2].cure


@pytest.mark.parametrize(("width", "codes"), [("11", ["HW127"]), ("12", []), ('"11 mm"', []), ('"3.5 in"', [])])
def test_only_plain_small_numbers_are_doubted_and_they_still_load(width: str, codes: list[str]) -> None:
    loaded = parse(re.sub(r"radius = \d+", "radius = 1", changed("width = 108", f"width = {width}")), None)
    assert [f.code for f in loaded.findings] == codes


@pytest.mark.parametrize("name", [".", "none.toml", "a\0b", "x" * 5000])
def test_names_that_are_no_file(tmp_path: Path, name: str) -> None:
    with pytest.raises(ProjectError) as caught:
        load(tmp_path / name)
    assert [f.code for f in caught.value.findings] == ["HW101"]


def test_a_byte_order_mark_and_windows_line_ends_do_no_harm(tmp_path: Path) -> None:
    file = tmp_path / "project.toml"
    file.write_bytes(b"\xef\xbb\xbf" + START.replace("\n", "\r\n").encode())
    assert load(file).project == parse(START, None).project


def test_findings_of_later_rooms_get_the_line_of_their_path() -> None:
    there = Finding("HW221", Severity.BLOCKS, "m", "c", Where(path="panel.patchwork.cuts[2]"))
    nowhere = Finding("HW221", Severity.BLOCKS, "m", "c", Where(path="not a place"))
    placeless = Finding("HW221", Severity.BLOCKS, "m", "c", Where(patch="B"))
    found = with_lines((there, nowhere, placeless), START)
    assert [f.where.line for f in found] == [line_with(START, "cuts = [") + 2, None, None]


@pytest.mark.parametrize(
    ("old", "new", "place"),
    [
        ('name = "unbleached sailcloth"', 'name = "two\\nlines"', "cloths"),
        ('name = "tear-away stabilizer"', 'name = "bell\\u0007"', "foundation.name"),
    ],
)
def test_names_are_one_printable_line(old: str, new: str, place: str) -> None:
    example = (Path(__file__).parents[2] / "examples" / "tide-mill-flap" / "project.toml").read_text(encoding="utf-8")
    assert old in example
    (finding,) = findings_of(example.replace(old, new))
    assert finding.code == "HW121"
    assert str(finding.where.path).startswith(place)


def test_wrong_parts_of_a_list_are_told_but_not_as_missing() -> None:
    outline = START[START.index("[panel.outline]") : START.index("[panel.patchwork]")]
    polygon = '[panel.outline]\nshape = "polygon"\npoints = [[10050, 0], [20000, 9], [10050, 10051]]\n'
    codes = {f.code for f in findings_of(changed(outline, polygon))}
    assert codes == {"HW113"}


@pytest.mark.parametrize("number", ["0", "01", "-1", "two"])
def test_a_seam_number_is_written_one_way_only(number: str) -> None:
    found = findings_of(f'{START}\n[panel.seams."{number}"]\nstitch = "fly"\n')
    assert [f.code for f in found] == ["HW116"]


def test_a_blank_title_is_told_once() -> None:
    assert [f.code for f in findings_of(changed('title = "Wheel house"', 'title = "   "'))] == ["HW118"]
