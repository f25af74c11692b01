"""Where a rule meets a doorway."""
