"""Words put together as a language puts them: its colon, its semicolon."""

from collections.abc import Iterable

from limen.findings import Message
from limen.words.saying import say


def apart(parts: Iterable[str], *, language: str | None = None) -> str:
    """Several things one after the other, set apart more than by a comma.

    Args:
        parts: each in the reader's words.
        language: whose; the reader's if None.
    """
    told = ""
    for part in parts:
        joined = {"first": told, "second": part}
        told = say(Message("join.apart", joined), language=language) if told else part
    return told


def named(name: str, what: str, *, language: str | None = None) -> str:
    """A thing and what is said of it.

    Args:
        name: of the thing.
        what: is said of it.
        language: whose; the reader's if None.
    """
    said = {"name": name, "what": what}
    return say(Message("join.named", said), language=language)
