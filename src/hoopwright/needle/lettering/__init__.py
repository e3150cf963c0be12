"""Letters: single lines for labels and dates, satin from the maker's own fonts, both fitted into a box."""
