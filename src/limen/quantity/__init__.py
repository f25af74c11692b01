"""What a number means: units in and out, uncertainty, comparison with a limit."""
