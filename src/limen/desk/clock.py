"""The one place that reads the clock, and how moments that were kept are read."""

from datetime import UTC, date, datetime


def today() -> date:
    """The day it is here."""
    return date.today()


def now() -> datetime:
    """The time it is, the same for all zones."""
    return datetime.now(UTC)


def moment_kept(text: str) -> datetime:
    """A moment as it was written down (ISO 8601); by UTC where it names no zone."""
    at = datetime.fromisoformat(text)
    return at if at.tzinfo else at.replace(tzinfo=UTC)
