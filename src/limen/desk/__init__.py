"""The verbs a person asks for; the only callers of clock and disk."""
