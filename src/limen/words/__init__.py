"""Text for people, one catalogue a language."""
