"""What all tests share: flags, in which order they run, which of them count lines, and a plain word about what could not be tested."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest
from hypothesis import HealthCheck, is_hypothesis_test, settings

# Examples are the same on every run and no clock decides; make soak draws new ones.
settings.register_profile("steady", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("soak", deadline=None, suppress_health_check=[HealthCheck.too_slow], print_blob=True)
settings.load_profile("steady")

HERE: Final = Path(__file__).parent
LONGEST: Final = ("test_wheel.py", "browser")
"""Tests that take longest and wait most begin first, so that at the end all processors have work to the last."""

UNCOUNTED: Final = (*LONGEST, "docs", "properties", "reference")
"""Tests of another process, of pages, and those that go over much to compare it with something outside the project."""


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--write-goldens", action="store_true", help="write the golden files anew instead of comparing")
    parser.addoption("--count-every-case", action="store_true", help="count covered lines in every test, not a part")


def pytest_configure(config: pytest.Config) -> None:
    """Know the mark also where nothing is there to count lines."""
    config.addinivalue_line("markers", "no_cover: a test that counts no covered lines")


@pytest.hookimpl(wrapper=True)
def pytest_collection(session: pytest.Session) -> Iterator[None]:
    """Count the lines that run when the package is loaded, but not while tests are found, which takes twice as long when counted."""
    counting = getattr(session.config.pluginmanager.getplugin("_cov"), "cov_controller", None)
    if counting is None or not counting.started:
        return (yield)
    import hoopwright

    for room in pkgutil.walk_packages(hoopwright.__path__, "hoopwright."):
        if not room.name.endswith("__main__"):
            importlib.import_module(room.name)
    counting.pause()
    try:
        return (yield)
    finally:
        counting.resume()


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Put the longest first; let lines be counted where that tells something new.

    Counting nearly doubles the work of a test. What it tells is told by the first case of a test; further cases and random examples go over
    the same lines again, and tests in a browser work on another process.
    """
    items.sort(key=lambda item: next((k for k, name in enumerate(LONGEST) if place(item) == name), len(LONGEST)))
    if not config.getoption("--count-every-case"):
        told: set[str] = set()
        for item in items:
            test = item.nodeid.partition("[")[0]
            if test in told or place(item) in UNCOUNTED or is_hypothesis_test(getattr(item, "obj", None)):
                item.add_marker(pytest.mark.no_cover)
            told.add(test)


def place(item: pytest.Item) -> str:
    """Return the folder or file directly below this one in which a test stands."""
    return item.path.relative_to(HERE).parts[0] if item.path.is_relative_to(HERE) else ""


@pytest.fixture
def write_goldens(request: pytest.FixtureRequest) -> bool:
    """Whether golden files are written rather than compared."""
    return bool(request.config.getoption("--write-goldens"))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say plainly, at the very end, what could not be tested on this machine and what to install for it."""
    skipped = terminalreporter.stats.get("skipped", [])
    reasons = {str(r.longrepr[2]).removeprefix("Skipped: ") for r in skipped if isinstance(r.longrepr, tuple)}
    for reason in sorted(r for r in reasons if "NOT TESTED" in r):
        terminalreporter.write_line(f"!! {reason}", yellow=True, bold=True)
