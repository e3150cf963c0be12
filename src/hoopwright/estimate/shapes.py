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
    """Cloth to buy or find: key, number of pieces, and the strip (width across the bolt x length) that holds them, mm."""

    cloth: str
    pieces: int
    width: float
    length: float


@dataclass(frozen=True, slots=True)
class Estimate:
    """Times and needs of a plan. ``stitches`` counts needle positions; minutes are machine and hands."""

    steps: tuple[StepEstimate, ...]
    threads: tuple[ThreadUse, ...]
    cloths: tuple[ClothNeed, ...]
    stitches: int
    machine: Minutes
    hands: Minutes
