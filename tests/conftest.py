"""What all tests share: the flag that writes golden files anew, and a plain word about what could not be tested."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, settings

# Examples are the same on every run and no clock decides; make soak draws new ones.
settings.register_profile("steady", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("soak", deadline=None, suppress_health_check=[HealthCheck.too_slow], print_blob=True)
settings.load_profile("steady")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--write-goldens", action="store_true", help="write the golden files anew instead of comparing")


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
