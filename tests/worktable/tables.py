"""A worktable for tests: a shelf with the demo on it, and a client that asks as the page does."""

from __future__ import annotations

import contextlib
import ipaddress
import shutil
import socket
from pathlib import Path

from fastapi import FastAPI
from starlette.testclient import TestClient

from hoopwright.worktable.desk import Desk
from hoopwright.worktable.machine.sharing import NOWHERE
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


def own_address() -> str | None:
    """Return an address of this machine that other devices can have on their network; None when it has only that of itself."""
    with contextlib.suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        probe.connect(NOWHERE)  # nothing is sent
        found = str(probe.getsockname()[0])
        if not (ipaddress.ip_address(found).is_loopback or ipaddress.ip_address(found).is_unspecified):
            return found
    return None
