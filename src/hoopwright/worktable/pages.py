"""The pages: one frame for every screen; what a screen shows is drawn by our own components in the browser.

The framework puts the frame on the page and has no part in what follows: its line to the server is never opened.
"""

from __future__ import annotations

from typing import Final

from nicegui import ui

SCREENS: Final = ("draw", "cloth", "sew", "take")
"""The screens of one project, in the order of the work."""
SHEETS: Final = ("style", "draw", "cloth", "sew", "take", "machine", "settings")
"""Style sheets, in this order."""


class Worktable(ui.element, component="components/root.js"):
    """The whole worktable in the browser; which project and screen, it reads from the address."""


def add_pages() -> None:
    """Add the pages of the worktable to the application."""

    @ui.page("/", title="Hoopwright")
    def shelf() -> None:
        _frame()

    @ui.page("/project/{name}/{screen}", title="Hoopwright")
    def project(name: str, screen: str) -> None:  # noqa: ARG001 - the page reads both from its address
        _frame()

    @ui.page("/machine/{name}", title="Hoopwright")
    def machine(name: str) -> None:  # noqa: ARG001 - the page reads it from its address
        _frame()


def _frame() -> None:
    for sheet in SHEETS:
        ui.add_head_html(f'<link rel="stylesheet" href="/parts/{sheet}.css">')
    ui.add_head_html('<script type="module" src="/parts/start.js"></script>')
    ui.query(".nicegui-content").classes(replace="table-content")
    Worktable()
