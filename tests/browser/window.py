"""One window of the browser on the worktable, and what a maker does in it."""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any, Final, Literal

from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Locator, Page, Request, expect

from hoopwright.worktable.pages import SCREENS
from hoopwright.worktable.texts import words
from tests.browser.running import RunningTable

ALL_SCREENS: Final = ("shelf", *SCREENS)
SIZES: Final = {"laptop": (1280, 800), "tablet": (820, 1180), "phone": (390, 844)}
LOCALES: Final = {"en": "en-GB", "de": "de-DE"}
BUSY: Final = 20_000
"""Milliseconds that anything may take on a busy machine."""
STILL_MS: Final = 240
"""Milliseconds without a request after which a page counts as quiet ..."""
STILL: Final = 4
"""... looked at so often."""
FRAMES: Final = "() => new Promise((r) => requestAnimationFrame(() => requestAnimationFrame(() => r())))"
"""Two frames: what changed before the first is drawn by the second."""


@dataclass
class Window:
    """A page with its own storage. Whatever goes wrong in it is kept in ``faults`` and fails the test at its end."""

    table: RunningTable
    context: BrowserContext
    page: Page
    language: str
    expected: list[re.Pattern[str]] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    under_way: set[Request] = field(default_factory=set)
    traced: bool = False

    def word(self, key: str, **values: object) -> str:
        """Return a sentence of the page in the window's language."""
        return words(self.language)[key].format(**values)

    def expecting(self, *patterns: str) -> None:
        """Let complaints of the browser pass that a test brings about on purpose."""
        self.expected.extend(re.compile(p) for p in patterns)

    def go(self, screen: str, name: str = "") -> None:
        """Open a screen and wait until it stands."""
        self.page.goto(self.table.origin + ("/" if screen == "shelf" else f"/project/{name}/{screen}"))
        self.stands(screen)

    def stands(self, screen: str) -> None:
        """Wait until a screen is shown."""
        keys = ("shelf.new", "shelf.more") if screen == "shelf" else (f"frame.{screen}",)
        name = re.compile("^(" + "|".join(re.escape(self.word(key)) for key in keys) + ")$")
        expect(self.page.get_by_role("region", name=name).first).to_be_visible(timeout=BUSY)

    def quiet(self) -> None:
        """Wait until nothing was on its way for a moment, and what came of it is drawn."""
        end, still = time.monotonic() + BUSY / 1000, 0
        while still < STILL and time.monotonic() < end:
            self.page.wait_for_timeout(STILL_MS / STILL)
            still = 0 if self.under_way else still + 1
        self.page.evaluate(FRAMES)

    def drawn(self) -> None:
        """Wait until a change of the window alone, of its size or its light, is drawn, and what it asked for is there."""
        self.page.evaluate(FRAMES)
        if self.under_way:
            self.quiet()

    def sized(self, size: str) -> None:
        """Give the window another size."""
        width, height = SIZES[size]
        self.page.set_viewport_size({"width": width, "height": height})
        self.drawn()

    def shine(self, light: Literal["light", "dark"]) -> None:
        """Look at the page by day or in the evening."""
        self.page.emulate_media(color_scheme=light)
        self.drawn()

    def button(self, key: str, **values: object) -> Locator:
        """Return the button with these words."""
        return self.page.get_by_role("button", name=self.word(key, **values), exact=True)

    def saved(self) -> None:
        """Wait until every change is saved."""
        expect(self.page.get_by_text(self.word("totals.saved"), exact=True)).to_be_visible(timeout=BUSY)

    def board(self) -> Locator:
        """Return the drafting surface."""
        return self.page.get_by_role("group", name=self.word("draw.board"))

    def cuts(self) -> Locator:
        """Return all cuts on the drafting surface."""
        return self._named("draw.stroke.name", "n", r"\d+")

    def cut(self, number: int) -> Locator:
        """Return a cut on the drafting surface."""
        return self._named("draw.stroke.name", "n", str(number))

    def pieces(self) -> Locator:
        """Return all pieces on the drafting surface."""
        return self._named("draw.patch.name", "letter", "[A-Z]+")

    def piece(self, letter: str) -> Locator:
        """Return a piece on the drafting surface."""
        return self._named("draw.patch.name", "letter", letter)

    def end_of_cut(self, number: int) -> Locator:
        """Return the far end of a cut on the drafting surface."""
        return self._named("draw.end.to", "n", str(number))

    def middle_of_cut(self, number: int) -> tuple[float, float]:
        """Return where the middle of a cut lies in the window."""
        self.cut(number).scroll_into_view_if_needed()
        box = self.cut(number).bounding_box()
        assert box is not None
        return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

    def _named(self, key: str, name: str, pattern: str) -> Locator:
        """Return what is called by a sentence of the page up to its second gap, the first gap filled by a pattern."""
        before, after = words(self.language)[key].split("{" + name + "}")
        sentence = re.escape(before) + pattern + re.escape(after.split("{")[0])
        return self.board().get_by_role("button", name=re.compile("^" + sentence))

    def until(self, done: Callable[[], bool]) -> None:
        """Wait until something holds outside the page."""
        end = time.monotonic() + BUSY / 1000
        while not done():
            assert time.monotonic() < end, "it did not come about"
            self.page.wait_for_timeout(50)

    def step_link(self, screen: str) -> Locator:
        """Return the link to another screen of the project."""
        steps = self.page.get_by_role("navigation", name=self.word("frame.steps"))
        return steps.get_by_role("link", name=self.word(f"frame.{screen}"), exact=True)

    def tool(self, key: str) -> Locator:
        """Return a tool of the frame; in a narrow window the tools are opened first."""
        tool = self.page.get_by_role("button").filter(has_text=re.compile("^" + re.escape(self.word(key))))
        if not tool.is_visible():
            self.button("frame.more").click()
        return tool

    def unexpected(self) -> list[str]:
        """Return the faults that no one expected."""
        return [f for f in self.faults if not any(p.search(f) for p in self.expected)]

    def listen(self) -> None:
        """Keep every complaint of the page, and every request to somewhere else."""
        self.page.on("console", self._said)
        self.page.on("pageerror", lambda error: self.faults.append(f"page error: {error}"))
        self.page.on("request", self._asked)
        self.page.on("requestfinished", self._done)
        self.page.on("requestfailed", self._done)

    def _said(self, message: ConsoleMessage) -> None:
        if message.type in ("error", "warning"):
            self.faults.append(f"console {message.type}: {message.text} {message.location['url']}")

    def _done(self, request: Request) -> None:
        self.under_way.discard(request)

    def _asked(self, request: Request) -> None:
        self.under_way.add(request)
        own = (self.table.origin + "/", f"blob:{self.table.origin}", "data:")
        if not request.url.startswith(own):
            self.faults.append(f"asked elsewhere: {request.url}")


@contextmanager
def opened(
    browser: Browser,
    table: RunningTable,
    *,
    size: tuple[int, int] = SIZES["laptop"],
    language: str = "en",
    light: str = "light",
    touch: bool = False,
    scale: float = 1,
    expect_faults: Iterable[str] = (),
    with_key: bool = True,
    motion: bool = False,
) -> Iterator[Window]:
    """Open a fresh window on a worktable; at the end close it."""
    more: dict[str, Any] = {
        "color_scheme": light,
        "reduced_motion": "no-preference" if motion else "reduce",
        "accept_downloads": True,
    }
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]},
        locale=LOCALES[language],
        has_touch=touch,
        is_mobile=touch,
        device_scale_factor=scale,
        **more,
    )
    try:
        context.set_default_timeout(BUSY)
        if with_key:
            context.request.get(table.address, max_redirects=0).dispose()
        window = Window(table, context, context.new_page(), language)
        window.expecting(*expect_faults)
        window.listen()
        yield window
    finally:
        context.close()
