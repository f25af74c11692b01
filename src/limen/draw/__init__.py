"""Studies as drawings."""
