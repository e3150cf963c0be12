"""Minutes and metres."""
