from __future__ import annotations

from tests.outputs.paper_builds import build_of, small_panel

from hoopwright.outputs.templates import templates_pdf


def test_equal_builds_give_equal_bytes() -> None:
    assert templates_pdf(build_of(small_panel())) == templates_pdf(build_of(small_panel()))


def test_the_title_changes_the_bytes() -> None:
    assert templates_pdf(build_of(small_panel())) != templates_pdf(build_of(small_panel(), title="Sluice mat"))
