"""Plane geometry without trade words, on Shapely."""
