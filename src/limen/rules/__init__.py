"""Rulebooks as data."""
