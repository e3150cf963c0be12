from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import get_args

import pystitch
import pytest

from hoopwright.catalog.kinds import FileKind, kind_named, kinds
from hoopwright.project.schema import Kind


def test_every_kind_of_the_schema_is_known_and_no_other() -> None:
    assert {k.key for k in kinds()} == set(get_args(Kind))
    assert all(k.ending == f".{k.key}" and k.note and k.source for k in kinds())


def test_largest_stitches() -> None:
    """dst: 121 steps of 0.1 mm (achatina.de/sewing/main/DST.HTM); exp: 127 (hwiegman.home.xs4all.nl, fileformats/M)."""
    assert kind_named("dst").largest_stitch == 12.1
    assert kind_named("exp").largest_stitch == 12.7


def test_unknown_kind() -> None:
    with pytest.raises(KeyError):
        kind_named("hus")


@pytest.mark.parametrize("kind", kinds(), ids=lambda k: k.key)
def test_a_stitch_of_the_largest_length_stays_one_stitch(kind: FileKind, tmp_path: Path) -> None:
    """Written and read back by a general stitch-file library: no splitting, no jump, up to the stated length."""
    pattern = pystitch.EmbPattern()
    reach = round(kind.largest_stitch * 10)
    for x, y in ((0, 0), (reach, 0), (reach, reach), (0, reach)):
        pattern.add_stitch_absolute(pystitch.STITCH, x, y)
    pattern.add_command(pystitch.END)
    file = str(tmp_path / f"square{kind.ending}")
    pystitch.write(pattern, file)
    sewn = [(s[0], s[1]) for s in pystitch.read(file).stitches if s[2] & 0xFF == pystitch.STITCH]
    steps = [(round(b[0] - a[0]), round(b[1] - a[1])) for a, b in pairwise(sewn)]
    assert [s for s in steps if s != (0, 0)] == [(reach, 0), (0, reach), (-reach, 0)]


def test_only_a_kind_that_must_name_a_hoop_has_a_largest_one() -> None:
    assert {k.key: k.largest_hoop for k in kinds() if k.largest_hoop} == {"jef": 200}
