from __future__ import annotations

from tests.outputs.paper_builds import build_of, small_panel

from hoopwright.outputs.booklet import booklet_pdf


def test_equal_builds_give_equal_bytes() -> None:
    assert booklet_pdf(build_of(small_panel()), {}) == booklet_pdf(build_of(small_panel()), {})
