"""Stitch files: written, read back, compared with the plan."""
