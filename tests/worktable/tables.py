"""A worktable for tests: a shelf with the demo on it, and a client that asks as the page does."""

from __future__ import annotations

import shutil
from pathlib import Path

from fastapi import FastAPI
from starlette.testclient import TestClient

from hoopwright.worktable.desk import Desk
from hoopwright.worktable.room import Room
from hoopwright.worktable.server import fit_out

ROOT = Path(__file__).parents[2]
DEMO = "tide-mill-flap"
PORT = 8765
HOME = f"http://127.0.0.1:{PORT}"


class Hours:
    """A clock that goes on by a second each time it is looked at."""

    def __init__(self) -> None:
        self.now = 1_000_000.0

    def __call__(self) -> float:
        self.now += 1.0
        return self.now


def shelf(folder: Path, *names: str) -> Path:
    """Copy examples on a shelf."""
    for name in names or (DEMO,):
        shutil.copytree(ROOT / "examples" / name, folder / name, ignore=shutil.ignore_patterns("out", ".*"))
    return folder


def table(folder: Path) -> TestClient:
    """Return a client of a worktable on ``folder``."""
    app = FastAPI()
    fit_out(app, Room(Desk(folder), Hours()), PORT)
    return TestClient(app, base_url=HOME, headers={"origin": HOME}, raise_server_exceptions=False)
