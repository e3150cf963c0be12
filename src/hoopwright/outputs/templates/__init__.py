"""Templates at true size on paper."""
