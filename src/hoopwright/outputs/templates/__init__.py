"""Templates at true size on paper."""

from hoopwright.outputs.templates.templates import templates_pdf

__all__ = ["templates_pdf"]
