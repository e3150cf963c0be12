from __future__ import annotations

import pytest

from hoopwright.cloth.materials import BATTING_UNDER_FOOT
from hoopwright.items.parts.hooped import hooped_thickness
from tests.items.bags import project


def test_batting_adds_what_the_sheet_stack_takes_it_for() -> None:
    bare = hooped_thickness(project("bookmark"))
    padded = hooped_thickness(project("bookmark", foundation={"batting": "thin cotton batting"}))
    assert bare > 0.0
    assert padded - bare == pytest.approx(BATTING_UNDER_FOOT)
