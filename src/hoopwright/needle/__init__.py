"""Where operations become stitches: runs, locks, seam stitches, numerals, routing, limits."""
