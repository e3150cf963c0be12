"""Colour against published values: Sharma, Wu and Dalal, Color Research and Application 30 (2005) 21-30, table 1;
IEC 61966-2-1 primaries; and the library colour-science as an independent implementation."""

from __future__ import annotations

import warnings
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from hoopwright.core.colour import Lab, difference, lab_of

SHARMA: list[tuple[Lab, Lab, float]] = [
    ((50, 2.6772, -79.7751), (50, 0, -82.7485), 2.0425),
    ((50, -1.3802, -84.2814), (50, 0, -82.7485), 1.0000),
    ((50, 0, 0), (50, -1, 2), 2.3669),
    ((50, 2.49, -0.001), (50, -2.49, 0.0010), 7.1792),
    ((50, 2.49, -0.001), (50, -2.49, 0.0011), 7.2195),
    ((50, 2.5, 0), (50, 0, -2.5), 4.3065),
    ((50, 2.5, 0), (73, 25, -18), 27.1492),
    ((50, 2.5, 0), (56, -27, -3), 31.9030),
    ((60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387), 1.2644),
    ((2.0776, 0.0795, -1.1350), (0.9033, -0.0636, -0.5514), 0.9082),
]


@pytest.fixture(scope="module")
def oracle() -> Any:
    """Return the colour-science library; loading it may warn about parts that are not installed."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour
    return colour


@pytest.mark.parametrize(("one", "other", "published"), SHARMA)
def test_published_pairs_of_sharma_wu_and_dalal(one: Lab, other: Lab, published: float) -> None:
    assert difference(one, other) == pytest.approx(published, abs=1e-4)


@pytest.mark.parametrize(
    ("colour", "published"),
    [("#ff0000", (53.23, 80.11, 67.22)), ("#00ff00", (87.74, -86.18, 83.18)), ("#0000ff", (32.30, 79.20, -107.86))],
)
def test_primaries_of_srgb(colour: str, published: Lab) -> None:
    assert lab_of(colour) == pytest.approx(published, abs=0.03)


def random_labs(count: int) -> NDArray[np.float64]:
    dice = np.random.default_rng(2005)
    return np.column_stack([dice.uniform(0, 100, count), dice.uniform(-128, 128, (count, 2))])


def test_random_pairs_against_an_independent_implementation(oracle: Any) -> None:
    ones = random_labs(4000)
    others = ones[::-1].copy()
    others[::2] = ones[::2] + np.random.default_rng(7).normal(0, 2, (2000, 3))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        expected = oracle.delta_E(ones, others, method="CIE 2000")
    ours = [difference(tuple(a), tuple(b)) for a, b in zip(ones, others, strict=True)]
    assert np.abs(np.array(ours) - expected).max() < 1e-9


def test_random_cloth_colours_against_an_independent_implementation(oracle: Any) -> None:
    codes = np.random.default_rng(11).integers(0, 256, (500, 3))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        expected = oracle.XYZ_to_Lab(oracle.sRGB_to_XYZ(codes / 255.0))
    ours = np.array([lab_of(f"#{r:02x}{g:02x}{b:02x}") for r, g, b in codes])
    assert np.abs(ours - expected).max() < 0.03
