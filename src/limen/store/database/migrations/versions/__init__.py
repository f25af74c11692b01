"""One module a step, each after the one that it names."""
