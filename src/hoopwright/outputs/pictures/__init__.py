"""The finished panel and each halt as pictures."""
