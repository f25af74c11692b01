"""A call-out for programs: causes with their probabilities, and what is asked next."""

from collections.abc import Sequence

from limen.exchange.contract import Json
from limen.keep.tracing import Traced
from limen.words.tracing import said_ask, said_cause, said_why

DIGITS = 4


def traced_contract(
    traced: Traced, *, version: str, doorway: str, language: str | None = None
) -> Json:
    """What answers come to, as plain values.

    Args:
        traced: what they come to.
        version: of limen.
        doorway: its name; empty where none is named.
        language: of the sentences; the reader's if None.

    Returns:
        ``ranked`` (likeliest first), ``next`` or None, ``asked``, ``found`` or None.
    """
    following = traced.next
    return {
        "limen": version,
        "schema": 1,
        "doorway": doorway or None,
        "struck": traced.struck,
        "found": traced.found,
        "ranked": _ranked(traced, language),
        "next": None
        if following is None
        else {
            "question": following.question,
            "says": said_ask(following.question, language=language),
            "why": said_why(following.parts, first=following.first, language=language),
            "minutes": following.minutes,
        },
        "asked": list(traced.asked),
    }


def _ranked(traced: Traced, language: str | None) -> Sequence[Json]:
    return [
        {
            "cause": one.cause,
            "says": said_cause(one.cause, language=language),
            "p": round(one.p, DIGITS),
        }
        for one in traced.ranked
    ]
