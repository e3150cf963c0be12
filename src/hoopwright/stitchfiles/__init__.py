"""Stitch files of any kind, read without trusting them. Known to every room that looks at files from outside."""
