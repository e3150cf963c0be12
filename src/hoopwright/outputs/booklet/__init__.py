"""The booklet: materials, cutting list, run sheet and every halt with its picture."""

from hoopwright.outputs.booklet.booklet import booklet_pdf

__all__ = ["booklet_pdf"]
