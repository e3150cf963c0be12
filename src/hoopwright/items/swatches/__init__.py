"""Swatches: every seam stitch in a labelled row, every ground in a labelled square, on sheets that fit the field."""
