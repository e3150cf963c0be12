"""What the estimate hands on."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.core.types import Minutes


@dataclass(frozen=True, slots=True)
class StepEstimate:
    """One step: minutes the machine sews, minutes the hands need before it, top thread in metres."""

    hooping: str
    index: int
    machine: Minutes
    hands: Minutes
    thread: float


@dataclass(frozen=True, slots=True)
class ThreadUse:
    """Metres of one thread (key of the project's threads, or "bobbin")."""

    thread: str
    metres: float


@dataclass(frozen=True, slots=True)
class ClothNeed:
    """Cloth to buy or find: key, number of pieces, and the strip (width across the bolt x length) that holds them, mm.

    Of a ribbon, ``width`` is its own and ``length`` that of all pieces together; of a zip, ``length`` is that of the
    longest one, and each piece is a zip of its own.
    """

    cloth: str
    pieces: int
    width: float
    length: float


@dataclass(frozen=True, slots=True)
class Estimate:
    """Times and needs of a plan. ``stitches`` counts needle positions; minutes are machine and hands.

    ``assembly`` are the minutes of the handwork after the last hooping, ``ends`` those after the last block of each
    hooping, by its key; ``hands`` holds them all.
    """

    steps: tuple[StepEstimate, ...]
    threads: tuple[ThreadUse, ...]
    cloths: tuple[ClothNeed, ...]
    stitches: int
    machine: Minutes
    hands: Minutes
    assembly: Minutes = 0.0
    ends: tuple[tuple[str, Minutes], ...] = ()

    def machine_of(self, hooping: str) -> Minutes:
        """Return the minutes the machine sews in one hooping."""
        return sum(s.machine for s in self.steps if s.hooping == hooping)

    def hands_of(self, hooping: str) -> Minutes:
        """Return the minutes the hands need in one hooping, with what they do after its last block."""
        return sum(s.hands for s in self.steps if s.hooping == hooping) + dict(self.ends).get(hooping, 0.0)
