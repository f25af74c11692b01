"""Arguments in, words out."""
