"""What is in the files, and what is said about them."""

from __future__ import annotations

import subprocess
import sys
from itertools import pairwise

import pytest

from hoopwright.core.findings import Severity
from hoopwright.outputs.machine.colours import block_colours, palette
from hoopwright.outputs.machine.headers import plain_name
from hoopwright.outputs.machine.kinds import KINDS
from hoopwright.outputs.machine.limits import waiting_place
from hoopwright.outputs.machine.write import machine_files
from hoopwright.stitchfiles.read import read_stitches
from hoopwright.stitchfiles.record import StitchFile
from tests.outputs.machine_hoopings import ALL_KINDS, FIELD, hooping, project, step, wandering

TWO = hooping([[(0, 0), (2, 0)]], [[(5, 5), (7, 7)]])


def one(kind: str, plan: object = TWO, halt_at: object = "stay", title: str = "Tide mill") -> StitchFile:
    file = machine_files(plan, project(halt_at, [kind]), FIELD, title)[0][0]  # type: ignore[arg-type]
    return read_stitches(file.data, file.name)


def test_files_are_named_after_the_hooping() -> None:
    files, findings = machine_files(TWO, project(), FIELD, "Tide mill")
    assert [f.name for f in files] == [f"flap.{k}" for k in ALL_KINDS]
    assert findings == ()


def test_a_kind_asked_for_twice_is_written_once() -> None:
    assert len(machine_files(TWO, project(kinds=["dst", "dst"]), FIELD, "t")[0]) == 1


def test_same_hooping_same_bytes_in_another_process() -> None:
    program = (
        "import hashlib; from tests.outputs.machine_hoopings import *; from hoopwright.outputs.machine.write import machine_files;"
        "print([hashlib.sha256(f.data).hexdigest() for f in machine_files(wandering(3, 200), project(), FIELD, 't')[0]])"
    )
    runs = {
        subprocess.run(
            [sys.executable, "-c", program], capture_output=True, text=True, check=True, env={"PYTHONHASHSEED": seed}
        ).stdout
        for seed in ("1", "2")
    }
    assert len(runs) == 1


def test_the_date_in_a_jef_file_is_no_clock() -> None:
    assert machine_files(TWO, project(kinds=["jef"]), FIELD, "t")[0][0].data[8:22] == b"20000101000000"


def test_pes_tells_its_entries_twice() -> None:
    """Behind the pictures the entries stand again, then spaces up to 128 bytes, 144 zeros a block, three bytes a colour, 2."""
    data = machine_files(TWO, project(kinds=["pes"]), FIELD, "t")[0][0].data
    first, start = one("pes"), int.from_bytes(data[8:12], "little")
    table = bytes([1, *(b.number or 0 for b in first.blocks)])
    assert data[start + 48 : start + 51] == table
    assert data[len(data) - 2 - 2 * (144 + 3) - 128 :].startswith(table + b" " * 125)


@pytest.mark.parametrize("title", ["Écharpe à moulin — très longue", "潮汐", "\r\nLA:x", "a" * 300, ""])
def test_any_title_gives_readable_files(title: str) -> None:
    for file in machine_files(TWO, project(), FIELD, title)[0]:
        assert read_stitches(file.data, file.name).count == 4


def test_names_are_plain() -> None:
    assert plain_name("Écharpe à moulin très longue", 16) == "Echarpe a moulin"
    assert plain_name("潮汐", 16) == "untitled"
    assert plain_name("a\rb\x1a", 16) == "ab"


def test_palettes_have_no_hole() -> None:
    assert len(palette("jef")) == 78
    assert len(palette("pec")) == 64
    assert len({rgb for _, rgb in palette("pec")}) == 64


@pytest.mark.parametrize("kind", ALL_KINDS)
@pytest.mark.parametrize(
    "wanted", [["#ffffff"] * 9, ["#000000"] * 4, ["#f0f0f0", "#ffffff"] * 3, ["#b2b2b2", "#ffffff"]]
)
def test_neighbours_always_differ(kind: str, wanted: list[str]) -> None:
    facts = KINDS[kind]
    colours = block_colours(wanted, facts)
    assert all(a != b for a, b in pairwise(colours))
    if facts.colours.value in ("palette", "both", "needles"):
        assert all(a.number != b.number for a, b in pairwise(colours))
    if facts.colours.value in ("exact", "both"):
        assert all(a.rgb != b.rgb for a, b in pairwise(colours))


def test_one_needle_is_never_given_to_two_threads() -> None:
    colours = block_colours(["#ffffff", "#ffffff", "#000000", "#000000", "#ffffff"], KINDS["u01"])
    assert [c.number for c in colours] == [1, 14, 2, 13, 1]


@pytest.mark.parametrize("kind", ["pes", "vp3", "xxx"])
def test_exact_colours_are_kept(kind: str) -> None:
    read = one(kind, hooping([[(0, 0)]], [[(1, 0)]], [[(2, 0)]], threads="ewn"))
    assert [b.colour for b in read.blocks] == ["#f4eedd", "#2f5933", "#000000"]


@pytest.mark.parametrize(("kind", "numbers"), [("jef", [5, 1, 5]), ("pec", [38, 20, 38]), ("pes", [38, 20, 38])])
def test_fixed_lists_give_the_nearest_entry(kind: str, numbers: list[int]) -> None:
    """Worked out by hand: the green is an entry of one list; in the other, 28^2 + 15^2 + 19^2 from entry 38 is least."""
    read = one(kind, hooping([[(0, 0)]], [[(1, 0)]], [[(2, 0)]], threads="wnw"))
    assert [b.number for b in read.blocks] == numbers


@pytest.mark.parametrize("kind", [k for k, f in KINDS.items() if f.waits])
@pytest.mark.parametrize(
    ("halt_at", "place"), [("front", (0.0, 87.0)), ((10.0, -20.0), (10.0, -20.0)), ((500, 0), (62, 0))]
)
def test_the_hoop_waits_where_it_should(kind: str, halt_at: object, place: tuple[float, float]) -> None:
    read = one(kind, halt_at=halt_at)
    assert read.blocks[1].waits_at == pytest.approx(place)


@pytest.mark.parametrize("kind", ALL_KINDS)
def test_the_hoop_stays_where_no_hand_is_needed(kind: str) -> None:
    first, second = step(1, [[(0, 0), (2, 0)]]), step(2, [[(5, 5), (7, 7)]], halt=False)
    plan = hooping()
    plan = type(plan)(plan.key, plan.title, plan.panel, 1, (first, second))
    assert one(kind, plan, "front").blocks[1].waits_at == pytest.approx((2.0, 0.0))


def test_front_is_the_far_edge_less_the_margin() -> None:
    assert waiting_place(project("front"), (100, 200)) == (0.0, 97.0)
    assert waiting_place(project("stay"), (100, 200)) is None
    assert waiting_place(project((-90.0, 1.0)), (100, 200)) == (-47.0, 1.0)


def codes(plan: object, **kw: object) -> list[tuple[str, Severity]]:
    files, findings = machine_files(plan, project(**kw), FIELD, "t")  # type: ignore[arg-type]
    assert all(f.message and f.cure for f in findings)
    assert bool(files) != any(f.severity is Severity.BLOCKS for f in findings)
    return [(f.code, f.severity) for f in findings]


def test_an_empty_hooping_is_refused() -> None:
    assert codes(hooping()) == [("HW801", Severity.BLOCKS)]


def test_a_block_without_stitches_is_refused() -> None:
    assert codes(hooping([[(0, 0)]], [[]])) == [("HW802", Severity.BLOCKS)]
    assert codes(hooping([[(0, 0)]], [])) == [("HW802", Severity.BLOCKS)]


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), 1e6])
def test_absurd_places_are_refused(bad: float) -> None:
    assert codes(hooping([[(0, 0), (bad, 0)]])) == [("HW803", Severity.BLOCKS)]


def test_too_many_blocks_are_refused_per_kind() -> None:
    many = hooping(*[[[(i / 10, 0)]] for i in range(251)])
    assert codes(many) == [("HW804", Severity.BLOCKS)] * 2
    assert codes(many, kinds=["dst", "vp3"]) == []


def test_divided_stitches_are_told() -> None:
    assert codes(hooping([[(0, 0), (30, 0)]])) == [("HW805", Severity.NOTES)]
    assert len(one("dst", hooping([[(0, 0), (30, 0)]])).blocks[0].points) == 4


def test_lost_waiting_places_are_told() -> None:
    assert codes(TWO, halt_at="front") == [("HW806", Severity.NOTES)]
    assert codes(TWO, halt_at="front", kinds=["dst"]) == []
    assert codes(hooping([[(0, 0)]]), halt_at="front") == []


def test_waiting_places_outside_are_told() -> None:
    assert codes(TWO, halt_at=(0.0, 300.0), kinds=["dst"]) == [("HW807", Severity.WARNS)]


@pytest.mark.parametrize(("width", "height", "told"), [(199.0, 199.0, False), (199.95, 10, True), (10, 230, True)])
def test_hoops_that_a_file_cannot_name_are_told(width: float, height: float, told: bool) -> None:
    plan = hooping([[(0, 0)], [(width, height)]])
    assert codes(plan, kinds=["jef"]) == ([("HW808", Severity.WARNS)] if told else [])
    assert codes(plan, kinds=["dst"]) == []


def test_the_hoop_named_in_a_jef_file_holds_the_design() -> None:
    """Hoop codes as commonly described (from memory): 0 110x110, 1 50x50, 2 140x200, 3 126x110, 4 200x200."""
    sides = {0: (110, 110), 1: (50, 50), 2: (140, 200), 3: (126, 110), 4: (200, 200)}
    for width, height in ((10, 10), (49, 49), (60, 60), (125, 109), (139, 199), (199, 199), (199, 50), (50, 199)):
        files, _ = machine_files(hooping([[(0, 0)], [(width, height)]]), project(kinds=["jef"]), (200, 200), "t")
        code = int.from_bytes(files[0].data[32:36], "little")
        assert width <= sides[code][0]
        assert height <= sides[code][1]


def test_a_big_hooping_has_a_big_file() -> None:
    files, _ = machine_files(wandering(5, 6000), project(kinds=["dst"]), FIELD, "t")
    assert len(files[0].data) > 6000 * 3
