"""The one place that reads the clock."""

from datetime import date


def today() -> date:
    """The day it is here."""
    return date.today()
