"""The booklet: materials, cutting list, run sheet and every halt with its picture."""
