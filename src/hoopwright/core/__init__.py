"""Words that every room shares: lengths, tolerances, findings, errors."""
