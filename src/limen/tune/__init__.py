"""What to set so that everything holds, and where a unit really hangs."""
