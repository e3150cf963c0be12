from __future__ import annotations

import pytest

from hoopwright.needle.seam_stitches import SEAM_STITCHES, near_names, offer
from hoopwright.needle.seam_stitches.names import OTHER_NAMES


# Other names as embroidery handbooks have them (from memory); slips of the pen besides.
@pytest.mark.parametrize(
    ("name", "meant"),
    [
        ("buttonhole", "blanket"),
        ("buttonhole-stitch", "blanket"),
        ("briar", "feather"),
        ("briar-stitch", "feather"),
        ("catch-stitch", "herringbone"),
        ("lazy-daisy", "detached-chain-fan"),
        ("flyy", "fly"),
        ("fether", "feather"),
        ("heringbone", "herringbone"),
        ("butonhole", "blanket"),
        ("feather-stitch", "feather"),
        ("double_feather", "double-feather"),
        ("Feather Stitch", "feather"),
    ],
)
def test_other_names_and_slips_are_answered_with_ours_first(name: str, meant: str) -> None:
    assert near_names(name)[0] == meant
    assert offer(name).startswith(f'Did you mean "{meant}"') and offer(name).endswith("?")


@pytest.mark.parametrize("name", ["satin", "satin-stitch", "qqqq", "x"])
def test_all_names_are_listed_when_none_is_near(name: str) -> None:
    assert near_names(name) == ()
    assert all(f" {known}" in offer(name) for known in SEAM_STITCHES)


@pytest.mark.parametrize("other", sorted(OTHER_NAMES))
def test_other_names_are_not_ours_and_lead_to_ours(other: str) -> None:
    assert other not in SEAM_STITCHES
    assert set(OTHER_NAMES[other]) <= set(SEAM_STITCHES)


def test_each_of_our_names_is_its_own_nearest() -> None:
    assert all(near_names(name) == (name,) for name in SEAM_STITCHES)
