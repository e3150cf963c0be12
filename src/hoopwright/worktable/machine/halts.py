"""The halts of the projects on the shelf, with where the maker is in them: what the page at the machine asks and tells.

Words: the *print* of a hooping is a fingerprint of everything that is shown of it; its *work* is one of what the machine and the
hands do, so that a change after the first stitch is seen, also one that only moves a needle position, but not another title or colour.
"""

from __future__ import annotations

import hashlib
import json
import threading
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from hoopwright.build import Build
from hoopwright.core.errors import HoopwrightError
from hoopwright.pipeline import halt_sheets, needles
from hoopwright.worktable.machine.notes import (
    BEFORE,
    DONE,
    Notebook,
    Stand,
    again,
    gone,
    learnt,
    left_of,
    noted,
    pace_of,
    rested,
    visit,
)
from hoopwright.worktable.room import Room
from hoopwright.worktable.speech import HALTS, Speech, names_of

KEPT: Final = 3
"""Projects whose halts are kept at hand."""
PRINT: Final = 16
"""Letters of a print."""
LAID: Final = ("under", "way", "edge")
"""What of a laid piece cannot change while it is sewn."""


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """One hooping to follow: its key, its data, its pictures by name, its print and work, the estimated minutes by card."""

    key: str
    row: dict[str, Any]
    pictures: Mapping[str, bytes]
    print: str
    work: str
    minutes: Mapping[str, float]


class Halts:
    """The halts of all projects, and where the maker is. May be asked from several threads."""

    def __init__(self, room: Room) -> None:
        """Begin with nothing at hand."""
        self.room = room
        self._kept: OrderedDict[str, tuple[Build, tuple[Course, ...]]] = OrderedDict()
        self._drawn: dict[tuple[str, str], tuple[Build, Mapping[str, Mapping[str, bytes]]]] = {}
        self._notebooks: dict[str, Notebook] = {}
        self._lock = threading.RLock()

    def plan(self, name: str) -> dict[str, Any]:
        """Return every hooping of a project with its cards. Raises HoopwrightError for a project that cannot be sewn yet."""
        build, courses = self._courses(name)
        project = build.plan.project
        return {
            "title": project.title,
            "units": project.units,
            "blocked": build.blocked,
            "hoopings": [{**c.row, "print": c.print} for c in courses],
        }

    def told(self, name: str, say: Speech) -> dict[str, Any]:
        """Return ``plan`` in the language of who asks; the project's title is the maker's own, whatever it is. Raises like ``plan``."""
        plan = self.plan(name)
        return {**say.of(plan, HALTS), "title": plan["title"]}

    def names(self, name: str) -> tuple[str, ...]:
        """Return the names in a project that are the maker's own. Raises like ``plan``."""
        return names_of(self._courses(name)[0].plan.project)

    def stand(self, name: str) -> dict[str, Any]:
        """Return where the maker is in every hooping. Raises like ``plan``."""
        _, courses = self._courses(name)
        last, stands = self._notebook(name).read()
        now = self.room.clock()
        rows = [(c, stands.get(c.key, Stand())) for c in courses]
        pace = pace_of([learnt(s, c.minutes) for c, s in rows])
        left = {c.key: left_of(s, c.minutes, pace or 1.0, now) for c, s in rows}
        return {
            "hooping": last if last in left else courses[0].key,
            "pace": pace,
            "left": sum(left.values()),
            "hoopings": {c.key: _stand_row(c, s, left[c.key], now) for c, s in rows},
        }

    def go(self, name: str, key: str, come_from: str, to: str, *, done: bool) -> dict[str, Any]:
        """Go to a card. When another device has gone on meanwhile, nothing is changed. Raises like ``plan``, also for an unknown card."""
        course = self._course(name, key)
        if to not in (BEFORE, DONE, *course.minutes):
            raise HoopwrightError("This halt is no longer part of the work", "Load the page again")
        now = self.room.clock()

        def going(stand: Stand) -> Stand:
            stale = come_from != _at(course, stand)
            return stand if stale else gone(stand, to, now, course.work, done=done)

        self._notebook(name).change(key, going)
        return self.stand(name)

    def follow(self, name: str, key: str) -> dict[str, Any]:
        """Let another hooping be the one that is sewn now. Raises like ``go``."""
        self._course(name, key)
        self._notebook(name).change(key, lambda s: s)
        return self.stand(name)

    def rest(self, name: str, key: str, *, on: bool) -> dict[str, Any]:
        """Begin or end a break. Raises like ``go``."""
        self._course(name, key)
        now = self.room.clock()
        self._notebook(name).change(key, lambda s: rested(s, now, on=on))
        return self.stand(name)

    def note(self, name: str, key: str, group: str, text: str) -> dict[str, Any]:
        """Keep a note at a halt. Raises like ``go``."""
        course = self._course(name, key)
        if group not in {c["group"] for c in course.row["cards"]}:
            raise HoopwrightError("This halt is no longer part of the work", "Load the page again")
        self._notebook(name).change(key, lambda s: noted(s, group, text), follow=False)
        return self.stand(name)

    def again(self, name: str, key: str) -> dict[str, Any]:
        """Start a hooping again. Raises like ``go``."""
        course = self._course(name, key)
        self._notebook(name).change(key, lambda s: again(s, course.minutes))
        return self.stand(name)

    def accept(self, name: str, key: str) -> dict[str, Any]:
        """Go on with the plan as it is now, though the hooping was begun with another. Raises like ``go``."""
        course = self._course(name, key)
        self._notebook(name).change(key, lambda s: replace(s, work=course.work, at=_at(course, s)))
        return self.stand(name)

    def picture(self, name: str, key: str, print_: str, file: str, language: str) -> bytes:
        """Return a picture (SVG) of a hooping, its words in a language. Raises like ``go``, also for one that the plan no longer has."""
        course = self._course(name, key)
        if course.print != print_ or file not in course.pictures:
            raise HoopwrightError("This picture is no longer part of the work", "Load the page again")
        return self._pictures(name, language)[key][file]

    def _pictures(self, name: str, language: str) -> Mapping[str, Mapping[str, bytes]]:
        """Return all pictures of a project by hooping and file; those in another language than its own are drawn when they are asked for."""
        build, courses = self._courses(name)
        if language == build.plan.project.language:
            return {c.key: c.pictures for c in courses}
        with self._lock:
            kept = self._drawn.get((name, language))
            if kept is None or kept[0] is not build:
                drawn = {s.key: s.pictures for s in halt_sheets(build, language)}
                kept = self._drawn[name, language] = build, drawn
            return kept[1]

    def _course(self, name: str, key: str) -> Course:
        course = next((c for c in self._courses(name)[1] if c.key == key), None)
        if course is None:
            raise HoopwrightError("This hooping is no longer part of the work", "Load the page again")
        return course

    def _courses(self, name: str) -> tuple[Build, tuple[Course, ...]]:
        build = self.room.workbook(name).page().build
        if build is None or not build.plan.hoopings:
            raise HoopwrightError("There is nothing to sew yet", "Mend what is said about the drawing first")
        with self._lock:
            kept = self._kept.get(name)
            if kept is None or kept[0] is not build:
                kept = build, tuple(_course(build, s.key, s.row, s.pictures) for s in halt_sheets(build))
            self._kept[name] = kept
            self._kept.move_to_end(name)
            while len(self._kept) > KEPT:
                gone, _ = self._kept.popitem(last=False)
                self._drawn = {key: drawn for key, drawn in self._drawn.items() if key[0] != gone}
            return kept

    def _notebook(self, name: str) -> Notebook:
        place = self.room.desk.find(name)
        with self._lock:
            book = self._notebooks.get(name)
            if book is None or book.path.parent.parent != place.file.parent:
                book = self._notebooks[name] = Notebook(place.file)
            return book


def _course(build: Build, key: str, row: dict[str, Any], pictures: Mapping[str, bytes]) -> Course:
    shown = json.dumps(row, sort_keys=True).encode()
    print_ = _fingerprint(shown, *(pictures[file] for file in sorted(pictures)))
    work = _fingerprint(json.dumps([_done_at(c) for c in row["cards"]]).encode(), needles(build, key))
    minutes = {c["place"]: c["minutes"]["hands"] + c["minutes"]["machine"] for c in row["cards"]}
    return Course(key, row, pictures, print_, work, minutes)


def _done_at(card: dict[str, Any]) -> list[Any]:
    """Return what machine and hands do at a card, without what it is called and looks like."""
    hands = [(h["work"], h.get("piece"), *(h.get("lay", {}).get(k) for k in LAID)) for h in card["hands"]]
    return [card["place"], hands, [(s["number"], s["change"]) for s in card["sews"]]]


def _fingerprint(*parts: bytes) -> str:
    found = hashlib.sha256()
    for part in parts:
        found.update(len(part).to_bytes(8, "big") + part)
    return found.hexdigest()[:PRINT]


def _at(course: Course, stand: Stand) -> str:
    """Return the card where the maker is; when the plan no longer has it, the nearest one before it."""
    if stand.at in (BEFORE, DONE) or stand.at in course.minutes:
        return stand.at
    number = stand.at.partition("-")[0]
    before = [p for p in course.minutes if number.isdigit() and p[0].isdigit() and int(p.split("-")[0]) <= int(number)]
    return before[-1] if before else list(course.minutes)[-1 if stand.at[:1].isalpha() else 0]


def _stand_row(course: Course, stand: Stand, left: float, now: float) -> dict[str, Any]:
    return {
        "at": _at(course, stand),
        "begun": stand.work is not None,
        "changed": stand.work not in (None, course.work) and stand.at != DONE,
        "resting": stand.resting,
        "visit": round(visit(stand, now), 1),
        "seconds": dict(stand.seconds),
        "done": list(stand.done),
        "notes": dict(stand.notes),
        "print": course.print,
        "left": round(left, 3),
    }
