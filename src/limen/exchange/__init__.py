"""Studies as files for other programs."""
