from __future__ import annotations

import pytest

from hoopwright.catalog.hoops import field_named, fields


def test_fields_commonly_sold() -> None:
    """Sizes: "Hoopla about hoop sizes", 2015; 200x200 and 240x360 are common practice, no source."""
    sold = {(100, 100), (130, 180), (150, 240), (160, 260), (200, 300), (360, 200), (200, 200), (240, 360)}
    assert {(f.width, f.height) for f in fields()} == sold
    assert all(f.source for f in fields())


def test_names_say_the_size() -> None:
    assert all(f.name == f"{f.width:g}x{f.height:g}" for f in fields())


@pytest.mark.parametrize("name", ["130x180", "130 x 180", "130X180", "130×180 mm", " 130x180mm "])
def test_names_are_read_kindly(name: str) -> None:
    assert (field_named(name).width, field_named(name).height) == (130, 180)


@pytest.mark.parametrize("name", ["180x130", "130", "", "5x7"])
def test_unknown_names(name: str) -> None:
    with pytest.raises(KeyError):
        field_named(name)


def test_smallest_first() -> None:
    areas = [f.width * f.height for f in fields()]
    assert areas == sorted(areas)
