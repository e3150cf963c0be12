"""What all parts of the worktable share: the shelf, the open projects, the clock."""

from __future__ import annotations

import threading
import time
from collections import OrderedDict
from typing import Final

from hoopwright.worktable.desk import Desk
from hoopwright.worktable.workbook import Clock, Workbook

KEPT: Final = 8
"""Projects of which what was read and planned is kept at hand."""


class Room:
    """One running worktable."""

    def __init__(self, desk: Desk, clock: Clock = time.time) -> None:
        """Open the worktable on a shelf."""
        self.desk = desk
        self.clock = clock
        self._open: OrderedDict[str, Workbook] = OrderedDict()
        self._lock = threading.Lock()

    def workbook(self, name: str) -> Workbook:
        """Return the open project of this name; windows on the same project share it. Raises HoopwrightError when there is none."""
        place = self.desk.find(name)
        with self._lock:
            book = self._open.get(name)
            if book is None or book.file != place.file:
                book = self._open[name] = Workbook(place.file, self.clock)
            self._open.move_to_end(name)
            if len(self._open) > KEPT:
                list(self._open.values())[-KEPT - 1].forget()
            return book
