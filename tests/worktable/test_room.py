"""Many projects opened one after another do not fill the memory."""

from __future__ import annotations

from pathlib import Path

import pytest

from hoopwright.pipeline import new_project
from hoopwright.worktable.desk import Desk
from hoopwright.worktable.room import KEPT, Room


@pytest.mark.no_cover
def test_only_the_projects_looked_at_lately_are_kept_at_hand(tmp_path: Path) -> None:
    room = Room(Desk(tmp_path), clock=lambda: 0.0)
    text = new_project("bookmark", "Reed", "mm", {})
    names = [room.desk.put(f"Reed {n}", text).name for n in range(KEPT + 2)]
    pages = [room.workbook(name).page() for name in names]
    room.workbook(names[-1])
    at_hand = [name for name in names if room._open[name]._kept is not None]
    assert at_hand == names[-KEPT:]
    again = room.workbook(names[0]).page()
    assert (again.version, again.text) == (pages[0].version, pages[0].text)
