"""Results being made: stitch files, templates, booklet and pictures of one state of a project, in a thread of its own.

Words: a *making* is one run of that work; its *print* is a fingerprint of all that it is made from, so the same project gives
the same making again, also after other changes were made and undone. A making holds its files in memory; nothing is
written until the maker says where.
"""

from __future__ import annotations

import hashlib
import logging
import threading
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from hoopwright.build import Build
from hoopwright.core.errors import BlockedError, HoopwrightError
from hoopwright.core.findings import Finding
from hoopwright.pipeline import RESULT_STAGES, results
from hoopwright.project.load import Loaded

KEPT: Final = 4
"""Makings that are kept at hand."""
PRINT: Final = 16
"""Letters of a print."""

State: TypeAlias = Literal["working", "ready", "blocked", "failed"]

log = logging.getLogger(__name__)


def print_of(loaded: Loaded, *, despite: bool = False) -> str:
    """Return the fingerprint of a project as it was read, with the drawings it names."""
    found = hashlib.sha256()
    for part in (loaded.text.encode(), *(p for n, d in sorted(loaded.drawings) for p in (n.encode(), d))):
        found.update(len(part).to_bytes(8, "big") + part)
    found.update(b"despite" if despite else b"sound")
    return found.hexdigest()[:PRINT]


@dataclass(frozen=True, slots=True, eq=False)
class Progress:
    """How far a making is: its state, the number of stages done, the files when ready, what was found, why it failed."""

    state: State = "working"
    done: int = 0
    files: Mapping[str, bytes] | None = None
    findings: tuple[Finding, ...] = ()
    blocked: bool = False
    trouble: HoopwrightError | None = None


class Making:
    """One run of the work. Its ``progress`` is replaced as a whole, so that any thread may look at it."""

    def __init__(self, print_: str, loaded: Loaded, build: Build, *, despite: bool) -> None:
        """Get ready to make the results of ``build``, which was made from ``loaded``."""
        self.print = print_
        self.loaded = loaded
        self.build = build
        self.despite = despite
        self.progress = Progress()

    def run(self) -> None:
        """Make everything; whatever goes wrong is told by ``progress``."""
        try:
            made, files = results(self.build, despite=self.despite, tell=self._tell, text=self.loaded.text)
            findings = (*self.loaded.findings, *made.findings)
            self.progress = Progress("ready", len(RESULT_STAGES), files, findings, made.blocked)
        except BlockedError as error:
            self.progress = Progress("blocked", 0, None, (*self.loaded.findings, *error.findings), True, error)
        except HoopwrightError as error:
            self.progress = Progress("failed", self.progress.done, trouble=error)
        except Exception:
            log.exception("the results could not be made")
            self.progress = Progress("failed", self.progress.done, trouble=_surprise())

    def _tell(self, stage: str) -> None:
        self.progress = Progress("working", RESULT_STAGES.index(stage))


class Makings:
    """The makings of all projects. May be asked from several threads; one making works at a time."""

    def __init__(self) -> None:
        """Begin with none."""
        self._kept: OrderedDict[str, Making] = OrderedDict()
        self._lock = threading.Lock()
        self._turn = threading.Lock()

    def start(self, loaded: Loaded, build: Build, *, despite: bool) -> Making:
        """Begin to make the results of a project as it stands, or return the making that did so already."""
        print_ = print_of(loaded, despite=despite)
        with self._lock:
            making = self._kept.get(print_)
            if making is None or making.progress.state == "failed":
                making = self._kept[print_] = Making(print_, loaded, build, despite=despite)
                threading.Thread(target=self._work, args=(making,), daemon=True).start()
            self._kept.move_to_end(print_)
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
            return making

    def find(self, print_: str) -> Making:
        """Return a making by its print. Raises HoopwrightError when it is no longer at hand."""
        with self._lock:
            making = self._kept.get(print_)
        if making is None:
            raise HoopwrightError("These results are no longer at hand", "Make them again")
        return making

    def _work(self, making: Making) -> None:
        with self._turn:
            making.run()


def _surprise() -> HoopwrightError:
    return HoopwrightError(
        "The results could not be made, and nothing was written",
        "Undo the last change and try again; your project is as it was",
    )
