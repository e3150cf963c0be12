"""Thread numbers, thread thickness and needle sizes against published figures."""

from __future__ import annotations

import pytest

from hoopwright.catalog.needles import metric_of_us, needle_sizes, us_of_metric
from hoopwright.catalog.threads import System, cotton_diameter, diameter, laid_width, number_of, tex_of


@pytest.mark.parametrize(
    ("system", "number", "tex"),
    [
        # "Thread Numbering", a thread maker's information hub: tex 25 = 250 dtex = 225 den = Nm 40 = Ne 23.62
        ("tex", 25.0, 25.0),
        ("dtex", 250.0, 25.0),
        ("denier", 225.0, 25.0),
        ("nm", 40.0, 25.0),
        ("ne", 23.62, 25.0),
        # the same source: 240 den = tex 26.67
        ("denier", 240.0, 26.67),
        # bobbin thread 60 and 90 wt, by wt = 1000 / tex ("Thread Sizing Guide", a needle maker)
        ("wt", 60.0, 16.7),
        ("wt", 90.0, 11.1),
    ],
)
def test_thread_numbers(system: System, number: float, tex: float) -> None:
    assert tex_of(number, system) == pytest.approx(tex, rel=0.003)
    assert number_of(tex_of(number, system), system) == pytest.approx(number)


def test_forty_weight_is_tex_25_to_27() -> None:
    """The sources differ between these two readings ("Thread Sizing Guide", a needle maker)."""
    assert 25.0 <= tex_of(40, "wt") <= 27.0


def test_english_cotton_number_by_its_definition() -> None:
    """Hanks of 840 yards in a pound, 0.9144 m and 453.59237 g exactly (yard and pound agreement, 1959)."""
    assert tex_of(1, "ne") == pytest.approx(453.59237 / (840 * 0.9144) * 1000, rel=1e-5)


def test_diameter_of_packed_thread() -> None:
    """textiletriangle.com, textile mathematics paper 2018-2: tex 25, density 1.38 gives 0.189 mm."""
    assert diameter(25.0) == pytest.approx(0.189, abs=0.0005)


def test_diameter_of_cotton() -> None:
    """textilecalculation.blogspot.com 2015/04, relation between yarn diameter and count: 0.0374 sqrt(tex)."""
    assert cotton_diameter(25.0) == pytest.approx(0.187, abs=0.0005)


def test_laid_width() -> None:
    """mrxstitch.com/pull-compensation: 40 wt covers about 0.4 mm."""
    assert laid_width() == 0.4


@pytest.mark.parametrize(("us", "metric"), [(8, 60), (9, 65), (10, 70), (11, 75), (12, 80), (14, 90), (16, 100)])
def test_needle_sizes(us: int, metric: int) -> None:
    """apparelscience.com, needle number system."""
    assert metric_of_us(us) == metric
    assert us_of_metric(metric) == us
    assert str(next(n for n in needle_sizes() if n.us == us)) == f"{metric}/{us}"


def test_blade_is_a_hundredth_of_the_metric_size() -> None:
    """apparelscience.com, needle number system: NM = 100 x blade in mm."""
    assert [n.blade for n in needle_sizes()] == pytest.approx([0.6, 0.65, 0.7, 0.75, 0.8, 0.9, 1.0])


@pytest.mark.parametrize("number", [0.0, -1.0, float("nan"), float("inf")])
def test_impossible_threads(number: float) -> None:
    with pytest.raises(ValueError, match="more than 0"):
        tex_of(number, "tex")


def test_impossible_needles() -> None:
    for us in (0, 19):
        with pytest.raises(ValueError, match="needle size"):
            metric_of_us(us)
    for metric in (61, 20, 115):
        with pytest.raises(ValueError, match="needle size"):
            us_of_metric(metric)
