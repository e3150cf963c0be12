"""What the tests in the browser share: a worktable that runs, a browser, fresh windows, and what is kept of a failure."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Callable, Generator, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, sync_playwright

from tests.browser.finding import NO_BROWSER, browser_program, flags
from tests.browser.running import RunningTable
from tests.browser.window import Window, opened

HERE = Path(__file__).parent
FAILED = pytest.StashKey[bool]()
TRACE = "HOOPWRIGHT_TRACE"

Opener = Callable[..., Window]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Skip every test of this folder where there is no browser."""
    if browser_program() is None:
        for item in items:
            if item.path.is_relative_to(HERE):
                item.add_marker(pytest.mark.skip(reason=NO_BROWSER))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Let the windows know whether the test went wrong."""
    report = yield
    item.stash[FAILED] = item.stash.get(FAILED, False) or report.failed
    return report


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    """One browser for all tests of a run."""
    with sync_playwright() as playwright:
        made = playwright.chromium.launch(executable_path=browser_program(), args=flags())
        yield made
        made.close()


@pytest.fixture(scope="package")
def table(tmp_path_factory: pytest.TempPathFactory) -> Iterator[RunningTable]:
    """One worktable for all tests that do not stop it; each puts projects of its own on the shelf."""
    with running(tmp_path_factory.mktemp("worktable")) as made:
        yield made


@contextlib.contextmanager
def running(home: Path, **settings: Any) -> Iterator[RunningTable]:
    """Run a worktable on an empty shelf."""
    (home / "shelf").mkdir(exist_ok=True)
    made = RunningTable(home / "shelf", home, **settings)
    try:
        yield made.start()
    finally:
        made.stop()


@pytest.fixture
def window(browser: Browser, table: RunningTable, request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Opener]:
    """Open windows; at the end nothing may have gone wrong in any of them. Of a failure a picture is kept.

    A trace of every step is kept too when ``HOOPWRIGHT_TRACE`` is set: each press with it costs a tenth more.
    """
    made: list[Window] = []
    with contextlib.ExitStack() as stack:

        def open_one(on: RunningTable | None = None, **settings: Any) -> Window:
            one = stack.enter_context(opened(browser, on or table, **settings))
            one.traced = TRACE in os.environ
            if one.traced:
                one.context.tracing.start(snapshots=True)
            made.append(one)
            return one

        yield open_one
        wrong = [fault for one in made for fault in one.unexpected()]
        if wrong or request.node.stash.get(FAILED, False):
            for number, one in enumerate(made, 1):
                _keep(one, tmp_path / f"window-{number}")
    assert not wrong


def _keep(window: Window, place: Path) -> None:
    print("the worktable's log:", window.table.log()[-4000:])
    with contextlib.suppress(Exception):
        window.page.screenshot(path=place.with_suffix(".png"))
        print(f"picture of the window: {place.with_suffix('.png')}")
        if window.traced:
            window.context.tracing.stop(path=place.with_suffix(".trace.zip"))
            print(f"trace of the window: {place.with_suffix('.trace.zip')}")
