"""The search of `kernel` in plain NumPy, for where numba is missing and as its check."""
