"""What all tests share: the flag that writes golden files anew."""

from __future__ import annotations

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--write-goldens", action="store_true", help="write the golden files anew instead of comparing")


@pytest.fixture
def write_goldens(request: pytest.FixtureRequest) -> bool:
    """Whether golden files are written rather than compared."""
    return bool(request.config.getoption("--write-goldens"))
