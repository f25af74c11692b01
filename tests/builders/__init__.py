"""Small things made by hand for tests."""
