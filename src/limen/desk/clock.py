"""The one place that reads the clock."""

from datetime import UTC, date, datetime


def today() -> date:
    """The day it is here."""
    return date.today()


def now() -> datetime:
    """The time it is, the same for all zones."""
    return datetime.now(UTC)
