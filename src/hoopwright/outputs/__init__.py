"""Files for the machine, the printer and the maker's eyes."""
