from __future__ import annotations

from collections.abc import Callable

import pytest

from hoopwright.cloth.proofs import prove_panel
from hoopwright.core.findings import Finding, Severity
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Face
from tests.cloth.flap import flap, moved_seam, shifted, swapped_lays, with_face, with_pose, without_flip


def found(change: Callable[[Hooping], Hooping] = lambda h: h) -> tuple[Finding, ...]:
    made = flap()
    return prove_panel(made.panels[0], change(made.hoopings[0]), made.project)


def no_allowance(hooping: Hooping, piece: str) -> Hooping:
    patch = next(p for p in flap().panels[0].patches if p.label == piece)
    from hoopwright.piecing.laying import mirrored

    return with_pose(hooping, piece, lambda _: mirrored(patch.area, patch.seam))


def test_the_demo_is_proved() -> None:
    assert found() == ()


SPOILT: tuple[tuple[str, str, str, Callable[[Hooping], Hooping]], ...] = (
    ("a flip lost", "HW511", "E", lambda h: without_flip(h, "E")),
    ("a patch laid right side up", "HW512", "D", lambda h: with_face(h, "D", Face.UP)),
    ("the first patch laid right side down", "HW512", "A", lambda h: with_face(h, "A", Face.DOWN)),
    ("shifted off the seam", "HW504", "D", lambda h: shifted(h, "D", 0.0, -8.0)),
    ("shifted over the seam", "HW513", "D", lambda h: shifted(h, "D", 0.0, 8.0)),
    ("shifted along the seam", "HW513", "E", lambda h: shifted(h, "E", 8.0, 0.0)),
    ("a template without allowance", "HW515", "G", lambda h: no_allowance(h, "G")),
    ("a seam 5 mm beside its line", "HW503", "B", lambda h: moved_seam(h, "B", 5.0)),
    ("a seam 5 mm beside its line, the other way", "HW503", "F", lambda h: moved_seam(h, "F", -5.0)),
    ("two lays swapped", "HW502", "F", lambda h: swapped_lays(h, "F", "E")),
)


@pytest.mark.parametrize(("title", "code", "patch", "change"), SPOILT, ids=[row[0] for row in SPOILT])
def test_every_fault_has_its_own_finding(
    title: str, code: str, patch: str, change: Callable[[Hooping], Hooping]
) -> None:
    findings = found(change)
    about = [f for f in findings if f.code == code and f.where.patch == patch]
    assert about, [str(f) for f in findings]
    assert all(f.severity is Severity.BLOCKS and f.cure and f.where.point for f in about)
