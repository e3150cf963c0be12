"""The project file: what the maker declares."""
