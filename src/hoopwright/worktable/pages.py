"""The pages: one frame for every screen; what a screen shows is drawn by our own components in the browser."""

from __future__ import annotations

from typing import Final

from nicegui import ui

SCREENS: Final = ("draw", "cloth", "sew", "take")
"""The screens of one project, in the order of the work."""


class Worktable(ui.element, component="components/root.js"):
    """The whole worktable in the browser."""

    def __init__(self, screen: str, name: str) -> None:
        """Show a screen of the project ``name`` ("" for the shelf)."""
        super().__init__()
        self.props["screen"] = screen
        self.props["name"] = name


def add_pages() -> None:
    """Add the pages of the worktable to the application."""

    @ui.page("/", title="Hoopwright")
    def shelf() -> None:
        _frame("shelf", "")

    @ui.page("/project/{name}/{screen}", title="Hoopwright")
    def project(name: str, screen: str) -> None:
        _frame(screen if screen in SCREENS else SCREENS[0], name)


def _frame(screen: str, name: str) -> None:
    ui.add_head_html('<link rel="stylesheet" href="/parts/style.css">')
    ui.add_head_html('<link rel="stylesheet" href="/parts/sew.css">')
    ui.add_head_html('<link rel="stylesheet" href="/parts/take.css">')
    ui.query(".nicegui-content").classes(replace="table-content")
    Worktable(screen, name)
