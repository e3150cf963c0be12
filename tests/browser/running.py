"""A worktable that really runs: the command as a maker starts it, on a shelf of its own."""

from __future__ import annotations

import contextlib
import os
import re
import select
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).parents[2]
EXAMPLES: Final = ROOT / "examples"
DEMO: Final = "tide-mill-flap"
PATIENCE: Final = 60.0
"""Seconds that a start may take on a busy machine."""
COMMAND: Final = (sys.executable, "-c", "from hoopwright.cli.main import main; main()")


def free_port() -> int:
    """Return a port of this machine that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@dataclass(slots=True)
class RunningTable:
    """A worktable in a process of its own. ``shelf`` holds the projects, ``home`` what else the process writes."""

    shelf: Path
    home: Path
    port: int = field(default_factory=free_port)
    address: str = ""
    """The whole address with its key, as it was printed."""
    process: subprocess.Popen[str] | None = None
    copies: int = 0

    @property
    def origin(self) -> str:
        """The address without path and key."""
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> RunningTable:
        """Start the command and wait until it answers."""
        environment = {**os.environ, "XDG_STATE_HOME": str(self.home / "state"), "PYTHONUNBUFFERED": "1"}
        for name in ("NICEGUI_SCREEN_TEST_PORT", "PYTEST_CURRENT_TEST", "COV_CORE_SOURCE"):
            environment.pop(name, None)
        words = ("worktable", str(self.shelf), "--port", str(self.port), "--no-show")
        with (self.home / "worktable.log").open("a") as log:
            self.process = subprocess.Popen(
                [*COMMAND, *words],
                cwd=self.home,
                env=environment,
                stdout=subprocess.PIPE,
                stderr=log,
                text=True,
            )
        self.address = self._printed()
        self._await_answer()
        return self

    def stop(self, *, kill: bool = False) -> None:
        """Stop the process as Ctrl and C does, or end it on the spot."""
        process, self.process = self.process, None
        if process is None:
            return
        process.send_signal(signal.SIGKILL if kill else signal.SIGINT)
        try:
            process.wait(10)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait(10)
        if process.stdout is not None:
            process.stdout.close()

    def put(self, name: str = DEMO, change: Callable[[str], str] = lambda text: text) -> str:
        """Put a copy of an example on the shelf under a name of its own, its text changed, and return that name."""
        self.copies += 1
        copy = f"{name}-{self.copies}"
        shutil.copytree(EXAMPLES / name, self.shelf / copy, ignore=shutil.ignore_patterns("out", ".*"))
        file = self.file(copy)
        file.write_text(change(file.read_text()))
        return copy

    def take_off(self, name: str) -> None:
        """Take a project off the shelf again."""
        shutil.rmtree(self.shelf / name)

    def file(self, name: str) -> Path:
        """Return the project file of a project on the shelf."""
        return self.shelf / name / "project.toml"

    def log(self) -> str:
        """Return what the process complained about."""
        return (self.home / "worktable.log").read_text()

    def _printed(self) -> str:
        assert self.process is not None
        assert self.process.stdout is not None
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end and self.process.poll() is None:
            if not select.select([self.process.stdout], [], [], 0.2)[0]:
                continue
            found = re.search(r"http://\S+", self.process.stdout.readline())
            if found:
                return found.group()
        raise AssertionError(f"the worktable did not start: {self.log()}")

    def _await_answer(self) -> None:
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            with contextlib.suppress(OSError):
                try:
                    urllib.request.urlopen(self.origin, timeout=5).close()
                except urllib.error.HTTPError as refused:  # without the key it refuses, which is an answer
                    refused.close()
                return
            time.sleep(0.1)
        raise AssertionError(f"the worktable does not answer: {self.log()}")
