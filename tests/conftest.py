"""What all tests share: the flag that writes golden files anew."""

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
