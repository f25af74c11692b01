"""What is said of checks that are due."""

from collections.abc import Sequence

from limen.findings import Message
from limen.words.saying import say, say_count

NAMED = 3
"""Doorways that a line of daily checks names; of more it says how many."""


def said_entry(
    site: str, doorway: str, state: str = "in time", *, language: str | None = None
) -> str:
    """A check in a calendar, in a few words; what is late says so."""
    said = {"site": site, "doorway": doorway}
    late = {"at once": "entry_at_once", "overdue": "entry_overdue"}
    return say(Message(f"due.{late.get(state, 'entry')}", said), language=language)


def said_state(state: str, left: int | None, *, language: str | None = None) -> str:
    """Whether a check is due, and in how many days."""
    key = f"due.{state.replace(' ', '_')}"
    if left is None or state == "at once":
        return say(Message(key), language=language)
    return say_count(key, abs(left), language=language)


def said_group(by: str, name: str, *, language: str | None = None) -> str:
    """A person or a route; also that there is none."""
    key = f"due.{by}" if name else f"due.no_{by}"
    return say(Message(key, {"name": name} if name else {}), language=language)


def said_daily(doors: Sequence[str], who: str, *, language: str | None = None) -> str:
    """Of which doors the owner makes a daily check, and who does it."""
    named = ", ".join(doors)
    if len(doors) > NAMED:
        named = say_count("due.daily.doors", len(doors), language=language)
    said = {"doors": named, "who": who} if who else {"doors": named}
    return say(
        Message("due.daily." + ("by" if who else "nobody"), said), language=language
    )
