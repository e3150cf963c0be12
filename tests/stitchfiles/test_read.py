"""Reading never crashes and never goes on for ever: it returns a record, or says in plain words what is wrong."""

from __future__ import annotations

import io
import random
import time
import zlib

import pystitch
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.core.errors import StitchFileError
from hoopwright.outputs.machine.write import machine_files
from hoopwright.stitchfiles.read import LARGEST_FILE, read_stitches, readers
from tests.outputs.machine_hoopings import ALL_KINDS, FIELD, project, wandering

PLAN = wandering(7, 240)
FILES = {f.kind: f.data for f in machine_files(PLAN, project(), FIELD, "Tide mill")[0]}


def refused(data: bytes, name: str) -> str:
    with pytest.raises(StitchFileError) as caught:
        read_stitches(data, name)
    assert caught.value.cure
    return str(caught.value)


@pytest.mark.parametrize("kind", ALL_KINDS)
def test_an_empty_file_is_told(kind: str) -> None:
    assert "is empty" in refused(b"", f"a.{kind}")


@pytest.mark.parametrize("kind", ["dst", "jef", "pec", "u01", "vp3"])
def test_every_cut_is_found(kind: str) -> None:
    data = FILES[kind]
    for length in range(1, len(data)):
        assert "cut short" in refused(data[:length], f"a.{kind}") or length < 120, length


def test_xxx_cuts_are_found_up_to_its_last_colour() -> None:
    data = FILES["xxx"]
    colours_end = int.from_bytes(data[0xFC:0x100], "little") + 6 + 4 * 4
    for length in range(1, colours_end):
        refused(data[:length], "a.xxx")
    assert read_stitches(data[:colours_end], "a.xxx").count == PLAN.count


def test_pes_cuts_are_found_or_leave_every_stitch() -> None:
    data = FILES["pes"]
    whole = 0
    for length in range(1, len(data)):
        try:
            whole += read_stitches(data[:length], "a.pes").count == PLAN.count
        except StitchFileError:
            assert not whole
    assert 0 < whole < 900  # the list behind the pictures: 128 bytes, 147 for each of four colours, 2 at the end


def test_exp_cuts_inside_a_record_are_found() -> None:
    data = FILES["exp"]
    assert "cut short" in refused(data[: len(data) - 1], "a.exp")


def test_exp_has_no_end_mark() -> None:
    """The kind cannot tell a file cut between two records; the comparison with the plan can."""
    assert read_stitches(FILES["exp"][:40], "a.exp").count < PLAN.count


@pytest.mark.parametrize("kind", ALL_KINDS)
def test_bytes_after_the_end_do_no_harm(kind: str) -> None:
    extra = b"" if kind == "exp" else b"\x00\x1a\x00" * 5
    assert read_stitches(FILES[kind] + extra, f"a.{kind}").count == PLAN.count


@pytest.mark.parametrize("kind", ALL_KINDS)
@pytest.mark.parametrize("other", [k for k in ALL_KINDS if k not in ("exp", "pec")])
def test_files_of_another_kind_are_refused(kind: str, other: str) -> None:
    if kind != other and (kind, other) != ("pec", "pes"):  # a pec part alone is a readable pes file
        refused(FILES[kind], f"a.{other}")


FOREIGN = {
    "text": b"Dear maker, this is a letter and no stitch file at all.\n" * 40,
    "zeros": bytes(4000),
    "ones": b"\xff" * 4000,
    "picture": b"\x89PNG\r\n\x1a\n" + zlib.compress(random.Random(1).randbytes(3000)),
    "program": b"MZ" + random.Random(2).randbytes(5000),
}


@pytest.mark.parametrize("what", FOREIGN)
@pytest.mark.parametrize("kind", [k for k in ALL_KINDS if k != "exp"])
def test_foreign_files_are_refused(kind: str, what: str) -> None:
    refused(FOREIGN[what], f"letter.{kind}")


@pytest.mark.parametrize("what", [k for k in FOREIGN if k != "zeros"])
def test_foreign_two_byte_files_are_refused_when_absurd(what: str) -> None:
    """A two-byte file has no mark of its own: only absurd moves and unknown commands give a foreign one away."""
    try:
        left, low, right, high = read_stitches(FOREIGN[what], "letter.exp").extent
    except StitchFileError:
        return
    assert max(right - left, high - low) < 2000


def test_unknown_endings_are_told() -> None:
    assert "not known" in refused(b"abc", "a.xyz")
    assert "not known" in refused(b"abc", "noending")
    assert "csv" not in readers()
    assert "gcode" not in readers()


def test_the_ending_may_be_in_capitals() -> None:
    assert read_stitches(FILES["dst"], "FLAP.DST").kind == "dst"


def test_huge_files_are_refused() -> None:
    assert "megabytes" in refused(bytes(LARGEST_FILE + 1), "a.dst")


def test_absurd_extents_are_refused() -> None:
    far = b"\x7f\x00" * 200
    assert "farther than any hoop" in refused(far, "a.exp")


def test_a_jef_file_with_more_halts_than_colours_is_refused() -> None:
    data = bytearray(FILES["jef"])
    data[24] = 2
    assert "cannot be read" in refused(bytes(data), "a.jef")


def test_a_file_with_moves_but_no_stitch_is_refused() -> None:
    assert "no stitches" in refused(b"\x80\x04\x05\x05\x80\x01\x00\x00", "a.exp")


@pytest.mark.parametrize("kind", ALL_KINDS)
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_damaged_files_never_crash(kind: str, data: st.DataObject) -> None:
    raw = bytearray(FILES[kind])
    for _ in range(data.draw(st.integers(1, 8))):
        raw[data.draw(st.integers(0, len(raw) - 1))] = data.draw(st.integers(0, 255))
    try:
        assert read_stitches(bytes(raw), f"a.{kind}").count > 0
    except StitchFileError as error:
        assert error.cure


@pytest.mark.parametrize("ending", sorted(readers()))
def test_no_reader_hangs_or_crashes_on_noise(ending: str) -> None:
    rng = random.Random(ending)
    samples = [rng.randbytes(n) for n in (1, 9, 300, 3000)] + [*FOREIGN.values(), *FILES.values()]
    begin = time.monotonic()
    for sample in samples:
        try:
            read_stitches(sample, f"noise.{ending}")
        except StitchFileError as error:
            assert error.cure
    assert time.monotonic() - begin < 5.0


@pytest.mark.parametrize("ending", ["tbf"])
def test_other_kinds_that_the_library_writes_are_read(ending: str) -> None:
    pattern = pystitch.EmbPattern()
    pattern.add_thread("#102030")
    for x, y in ((0, 0), (20, 0), (20, 30)):
        pattern.add_stitch_absolute(pystitch.STITCH, x, y)
    pattern.end()
    stream = io.BytesIO()
    pystitch.write_tbf(pattern, stream)
    read = read_stitches(stream.getvalue(), f"a.{ending}")
    assert read.points.round(6).tolist() == [[0, 0], [2, 0], [2, -3]]


def test_halts_and_blocks_of_a_file_with_stops() -> None:
    """A two-byte file written by hand: two stitches, halt, two stitches, halt twice in a row, one stitch."""
    body = bytes.fromhex("0000 0a00 80010000 000a 0a00 80010000 80010000 0000")
    read = read_stitches(body, "hand.exp")
    assert (read.halts, [b.points.round(6).tolist() for b in read.blocks]) == (
        3,
        [[[0, 0], [1, 0]], [[1, 1], [2, 1]], [[2, 1]]],
    )
