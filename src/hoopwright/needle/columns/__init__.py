"""Columns of satin: zigzag between two rails, with what is sewn below it."""
