"""All questions on one doorway."""
