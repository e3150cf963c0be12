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

    ``assembly`` are the minutes of the handwork after the last hooping; ``hands`` holds them too.
    """

    steps: tuple[StepEstimate, ...]
    threads: tuple[ThreadUse, ...]
    cloths: tuple[ClothNeed, ...]
    stitches: int
    machine: Minutes
    hands: Minutes
    assembly: Minutes = 0.0
