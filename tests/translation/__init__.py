"""German for what the engine says."""
