"""Facts of the trade as TOML data, each with its source."""
