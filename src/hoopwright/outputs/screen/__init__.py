"""What a screen shows of a build, as plain data."""
