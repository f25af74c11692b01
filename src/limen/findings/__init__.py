"""Verdicts, figures, findings and studies: all that outputs may see."""
