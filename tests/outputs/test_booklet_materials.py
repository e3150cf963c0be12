from __future__ import annotations

import pytest

from hoopwright.catalog.kinds import kinds
from hoopwright.outputs.booklet.materials import at_the_machine, kind_notes
from tests.outputs.machine_hoopings import project


def test_every_kind_has_a_note_and_shares_it_with_its_like() -> None:
    notes = kind_notes(project())
    named = [e for n in notes for e in n["kind"].replace(" and ", ", ").split(", ")]
    assert sorted(named) == sorted(k.ending for k in kinds())
    assert len({n["note"] for n in notes}) == len(notes) == len({k.colours for k in kinds()})


def test_kinds_that_hold_exact_colours_own_up_to_other_shades() -> None:
    for key in ("pes", "vp3", "xxx"):
        (note,) = kind_notes(project(kinds=(key,)))
        assert "a new shade of the same thread is only there so that the machine halts" in note["note"]


def test_the_warning_for_several_needles_always_stands_there() -> None:
    for halt_at in ("stay", "front", (10, 10)):
        said = at_the_machine(project(halt_at))
        assert "set it to stop at each colour change" in said[0]
        assert "switch off colour sorting" in said[0]


@pytest.mark.parametrize(
    ("kinds", "moves", "stays"),
    [(("dst", "exp"), True, ""), (("dst", "pes", "vp3"), True, ".pes and .vp3"), (("pes",), False, ".pes")],
)
def test_where_the_hoop_waits_is_told_kind_by_kind(kinds: tuple[str, ...], moves: bool, stays: str) -> None:
    """docs/machine-files.md: pes, pec and vp3 cannot hold the waiting place."""
    said = at_the_machine(project("front", kinds))[1]
    assert ("comes forward" in said) is moves
    assert stays in said
    assert ".dst" not in said


def test_a_hoop_that_stays_needs_no_words() -> None:
    assert len(at_the_machine(project("stay"))) == 1
