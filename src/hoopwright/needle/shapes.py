"""What the needle room hands on: runs, steps, hoopings."""

from __future__ import annotations

from dataclasses import dataclass, field

from hoopwright.core.types import Points
from hoopwright.operations.vocabulary import HandWork, Stitch


@dataclass(frozen=True, slots=True, eq=False)
class Run:
    """Needle positions sewn without a break, shape (n, 2) in mm, read-only, locks included.

    Between two runs of a step the machine trims and travels without sewing.
    """

    points: Points

    @property
    def count(self) -> int:
        """Number of needle positions."""
        return len(self.points)


@dataclass(frozen=True, slots=True, eq=False)
class Step:
    """One block of a hooping: what the hands do before it, what is sewn, and the stitches.

    ``index`` counts from 1. ``halt`` is true when ``hands`` is not empty: the machine must wait there.
    """

    index: int
    stitch: Stitch
    hands: tuple[HandWork, ...]
    runs: tuple[Run, ...]

    @property
    def halt(self) -> bool:
        """Whether hands are needed before this block."""
        return bool(self.hands)

    @property
    def count(self) -> int:
        """Number of needle positions."""
        return sum(r.count for r in self.runs)


@dataclass(frozen=True, slots=True, eq=False)
class Hooping:
    """One loading of the hoop: ``key`` names files, ``panel`` the panel it belongs to, ``section`` its number.

    ``after`` is what the hands do when the last block is sewn.
    """

    key: str
    title: str
    panel: str
    section: int
    steps: tuple[Step, ...]
    after: tuple[HandWork, ...] = field(default=())

    @property
    def count(self) -> int:
        """Number of needle positions."""
        return sum(s.count for s in self.steps)
