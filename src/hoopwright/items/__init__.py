"""Recipes: what can be made, one a file."""
