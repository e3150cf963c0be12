"""Templates at true size on paper."""

from hoopwright.outputs.templates.pdf import templates_pdf

__all__ = ["templates_pdf"]
