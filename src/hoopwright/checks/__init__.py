"""Rules that look at a plan and return findings; they repair nothing."""
