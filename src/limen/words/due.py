"""What is said of checks that are due."""

from limen.findings import Message
from limen.words.saying import say, say_count


def said_entry(site: str, doorway: str, *, language: str | None = None) -> str:
    """A check in a calendar, in a few words."""
    said = {"site": site, "doorway": doorway}
    return say(Message("due.entry", said), language=language)


def said_state(state: str, left: int | None, *, language: str | None = None) -> str:
    """Whether a check is due, and in how many days."""
    key = f"due.{state.replace(' ', '_')}"
    if left is None or state == "at once":
        return say(Message(key), language=language)
    return say_count(key, abs(left), language=language)
