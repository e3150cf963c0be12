"""Needle sizes: the metric number (a hundred times the blade's diameter in mm) and the American one."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Final

from hoopwright.catalog.data import facts
from hoopwright.core.types import Mm

_RULE_BELOW: Final = 19
"""The rule between the two numbers holds for American sizes below this (same source as the table)."""


@dataclass(frozen=True, slots=True)
class NeedleSize:
    """A size as sold: metric number and American number, as in "75/11"."""

    metric: int
    us: int

    @property
    def blade(self) -> Mm:
        """Diameter of the blade in mm."""
        return self.metric / 100

    def __str__(self) -> str:
        """Return the size as printed on the packet."""
        return f"{self.metric}/{self.us}"


@cache
def needle_sizes() -> tuple[NeedleSize, ...]:
    """Return the sizes as sold, finest first."""
    return tuple(NeedleSize(row["metric"], row["us"]) for row in facts("needles")["sizes"])


def metric_of_us(us: int) -> int:
    """Return the metric number of an American size: 60 + 5 (US - 8), for sizes from 1 to 18. Raises ValueError."""
    if not 1 <= us < _RULE_BELOW:
        raise ValueError(f"no rule is known for the American needle size {us}")
    return 60 + 5 * (us - 8)


def us_of_metric(metric: int) -> int:
    """Return the American number of a metric size. Raises ValueError when none belongs to it."""
    us, rest = divmod(metric - 60, 5)
    if rest or not 1 <= us + 8 < _RULE_BELOW:
        raise ValueError(f"no American needle size belongs to {metric}")
    return us + 8
