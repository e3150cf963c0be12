"""Patch maps, sewing orders, sections, templates and lay poses."""
