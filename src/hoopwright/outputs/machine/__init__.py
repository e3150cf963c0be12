"""Stitch files: written, compared with the plan when read back, and described.

Words: a *machine step* is 0.1 mm; a *kind* is a sort of stitch file, named by its ending; a *block* is what is sewn
in one colour, between two halts; a *travel* is a move without sewing.
"""
