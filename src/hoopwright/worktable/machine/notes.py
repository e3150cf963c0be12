"""What is remembered at the machine: where the maker is, how long she took, what she noted; kept beside the project.

Words: a *stand* is how far one hooping is; a *visit* is the time from one press to the next, spent at one card; a *break* ends a
visit until it is over. A card is *timed* when it was left with "next" after a time in which its work can have been done, so that paging
through does not count. The *pace* is the measured time over the estimated one of all timed cards.
All times are seconds of the worktable's clock, measured here and not by the page, so that two devices agree.
"""

from __future__ import annotations

import contextlib
import json
import math
import threading
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import Any, Final

from hoopwright.core.errors import OutputError, reason_of
from hoopwright.worktable.history import FOLDER
from hoopwright.worktable.whole import read_whole, write_whole

FILE: Final = "machine.json"
LARGEST: Final = 4_000_000
"""A file of notes larger than this is not of our making, and is not read."""
BEFORE: Final = "before"
"""The place before the first card: what to have ready, and the cautions."""
DONE: Final = "done"
"""The place after the last card."""
LONGEST: Final = 2 * 3600.0
"""Seconds: a longer visit was a break that nobody told, and is not measured."""
SHORTEST: Final = 5.0
"""Seconds: in less nobody works at a halt."""
SHARE: Final = 0.15
"""A card left after less than this share of its estimate was only looked at."""
ENOUGH: Final = 3.0
"""Estimated minutes of timed cards before a pace is told."""
PACES: Final = (0.25, 4.0)
"""No pace outside is believed."""
LONGEST_NOTE: Final = 2000


@dataclass(frozen=True, slots=True)
class Stand:
    """How far a hooping is. ``work`` is that of the plan with which it was begun, None before.

    ``since`` is when the visit began, None during a break and before the first card; ``seconds`` are spent at each card;
    ``done`` are the cards left with "next"; ``notes`` stand by halt; ``earlier`` are seconds measured and minutes estimated of earlier times
    that this hooping was sewn.
    """

    work: str | None = None
    at: str = BEFORE
    since: float | None = None
    resting: bool = False
    seconds: Mapping[str, float] = field(default_factory=dict)
    done: tuple[str, ...] = ()
    notes: Mapping[str, str] = field(default_factory=dict)
    earlier: tuple[float, float] = (0.0, 0.0)


def visit(stand: Stand, now: float) -> float:
    """Return the seconds of the visit so far; zero for one that was a break."""
    spent = 0.0 if stand.since is None else now - stand.since
    return spent if 0.0 < spent <= LONGEST else 0.0


def gone(stand: Stand, to: str, now: float, work: str, *, done: bool) -> Stand:
    """Return the stand after going to another card; ``done``: what was to do at this one is done."""
    kept = _left(stand, now)
    timed = (*kept.done, stand.at) if done and stand.at not in (BEFORE, DONE, *kept.done) else kept.done
    since = None if to in (BEFORE, DONE) else now
    begun = stand.work or (None if to == BEFORE else work)
    return replace(kept, at=to, since=since, resting=False, done=timed, work=begun)


def rested(stand: Stand, now: float, *, on: bool) -> Stand:
    """Return the stand when a break begins or ends."""
    if on:
        return replace(_left(stand, now), since=None, resting=True)
    return replace(stand, since=None if stand.at in (BEFORE, DONE) else now, resting=False)


def noted(stand: Stand, halt: str, text: str) -> Stand:
    """Return the stand with a note at a halt; an empty one is taken away."""
    rest = {k: v for k, v in stand.notes.items() if k != halt}
    return replace(stand, notes={**rest, halt: text[:LONGEST_NOTE]} if text.strip() else rest)


def again(stand: Stand, minutes: Mapping[str, float]) -> Stand:
    """Return the stand before the first card; notes stay, and what was learnt of the maker's pace."""
    seconds, estimated = learnt(stand, minutes)
    return Stand(notes=stand.notes, earlier=(seconds, estimated))


def learnt(stand: Stand, minutes: Mapping[str, float]) -> tuple[float, float]:
    """Return seconds measured and minutes estimated of all timed cards; ``minutes`` are the estimates by card."""
    timed = [p for p in stand.done if p in minutes and _worked(stand.seconds.get(p, 0.0), minutes[p])]
    seconds = sum(stand.seconds[p] for p in timed)
    return stand.earlier[0] + seconds, stand.earlier[1] + sum(minutes[p] for p in timed)


def pace_of(known: Sequence[tuple[float, float]]) -> float | None:
    """Return the pace from (seconds, estimated minutes); None while too little is known."""
    seconds, estimated = sum(s for s, _ in known), sum(m for _, m in known)
    if estimated < ENOUGH:
        return None
    return min(max(seconds / 60.0 / estimated, PACES[0]), PACES[1])


def left_of(stand: Stand, minutes: Mapping[str, float], pace: float, now: float) -> float:
    """Return the minutes that are left of a hooping, its estimates by card in their order."""
    places = list(minutes)
    if stand.at == DONE:
        return 0.0
    at = places.index(stand.at) if stand.at in minutes else 0
    here = stand.seconds.get(stand.at, 0.0) + visit(stand, now)
    rest = sum(minutes[p] for p in places[at:]) * pace
    spent = here / 60.0 if stand.at in minutes else 0.0
    return rest - min(spent, minutes[places[at]] * pace) if places else 0.0


def _left(stand: Stand, now: float) -> Stand:
    spent = visit(stand, now)
    if stand.at in (BEFORE, DONE) or not spent:
        return stand
    return replace(stand, seconds={**stand.seconds, stand.at: round(stand.seconds.get(stand.at, 0.0) + spent, 1)})


def _worked(seconds: float, minutes: float) -> bool:
    return seconds >= max(SHORTEST, SHARE * minutes * 60.0)


class Notebook:
    """The stands of one project's hoopings, in one file. May be asked from several threads."""

    def __init__(self, project: Path) -> None:
        """Keep the stands of the project file at ``project``."""
        self.path = project.parent / FOLDER / FILE
        self._lock = threading.RLock()

    def read(self) -> tuple[str | None, dict[str, Stand]]:
        """Return the hooping that was followed last, and all stands by hooping."""
        with self._lock:
            data = self._data()
            rows = data.get("hoopings")
            stands = {str(k): _stand(v) for k, v in rows.items()} if isinstance(rows, dict) else {}
            last = data.get("last")
            return last if isinstance(last, str) else None, stands

    def change(self, key: str, work: Callable[[Stand], Stand], *, follow: bool = True) -> Stand:
        """Change the stand of a hooping and keep it; ``follow``: this hooping is the one that is sewn now.

        Raises OutputError, with nothing changed, when it cannot be kept.
        """
        with self._lock:
            last, stands = self.read()
            stands[key] = work(stands.get(key, Stand()))
            self._write({"last": key if follow else last, "hoopings": {k: asdict(s) for k, s in stands.items()}})
            return stands[key]

    def _data(self) -> dict[str, Any]:
        try:
            data = json.loads(read_whole(self.path, LARGEST))
        except OSError:
            return {}
        except (ValueError, RecursionError):
            with contextlib.suppress(OSError):
                self.path.replace(self.path.with_name(f"{FILE}.unreadable"))
            return {}
        return data if isinstance(data, dict) else {}

    def _write(self, data: dict[str, Any]) -> None:
        try:
            write_whole(self.path, json.dumps(data, ensure_ascii=False).encode())
        except OSError as error:
            raise OutputError(
                f"What you did at the machine could not be kept ({reason_of(error)})",
                "Make room on the disk or see that you may write there",
            ) from error


def _stand(row: Any) -> Stand:
    """Return a stand as it was kept; what is not as it should be is as before the first card."""
    if not isinstance(row, dict):
        return Stand()
    at, work, since = row.get("at"), row.get("work"), _number(row.get("since"))
    done, earlier = row.get("done"), row.get("earlier")
    seconds = {k: _number(v) for k, v in _rows(row.get("seconds")).items()}
    pair = [_number(x) for x in earlier] if isinstance(earlier, list) and len(earlier) == 2 else [None]
    return Stand(
        work if isinstance(work, str) else None,
        at if isinstance(at, str) else BEFORE,
        since,
        row.get("resting") is True,
        {k: v for k, v in seconds.items() if v is not None and v >= 0.0},
        tuple(p for p in done if isinstance(p, str)) if isinstance(done, list) else (),
        {k: v[:LONGEST_NOTE] for k, v in _rows(row.get("notes")).items() if isinstance(v, str)},
        (pair[0] or 0.0, pair[1] or 0.0) if len(pair) == 2 else (0.0, 0.0),
    )


def _rows(value: Any) -> dict[str, Any]:
    return {k: v for k, v in value.items() if isinstance(k, str)} if isinstance(value, dict) else {}


def _number(value: Any) -> float | None:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return float(value) if math.isfinite(value) else None
