"""The swatch sheets on paper and as pictures."""
