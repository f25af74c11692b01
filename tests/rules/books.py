"""A small invented rulebook, to be changed one key at a time."""

from copy import deepcopy
from datetime import date
from typing import Any

from limen.quantity import Grade
from limen.rules import Authority, Rule, Rulebook, Weight, read_rulebook

WIDTH_RULE = "house.1.leaf.gaps"
HOLD_RULE = "house.1.presence.hold_time"

_BOOK = {
    "id": "house",
    "edition": "1",
    "title": "House rules",
    "valid_from": date(2020, 1, 1),
    "document": [{"name": "House paper", "title": "An invented paper"}],
}
_WIDTH = {
    "id": WIDTH_RULE,
    "question": "leaf.gaps",
    "asks": "A gap is small or wide.",
    "weight": "must",
    "limits": {
        "small": "8 mm",
        "wide": {
            "value": "1 in",
            "document": "House paper",
            "clause": "7.1",
            "grade": "memory",
        },
    },
    "source": {
        "document": "House paper",
        "clause": {"1": "4.2", "2": "5.1"},
        "grade": "seen",
        "seen_in": "the paper on the wall",
    },
    "case": [
        {
            "title": "8 mm",
            "says": "holds",
            "given": {"limit": "small", "found": "8 mm", "compare": "at most"},
        },
        {
            "title": "9 mm",
            "says": "fails",
            "given": {"limit": "small", "found": "9 mm", "compare": "at most"},
        },
    ],
}
_HOLD = {
    "id": HOLD_RULE,
    "question": "presence.hold_time",
    "asks": "A still body stays found.",
    "weight": "should",
    "stricter": True,
    "where": {"public": True, "use": ["shop", "school"]},
    "limits": {"hold": {"unset": "nobody saw the figure"}},
    "source": {"document": "House paper", "clause": "tbc", "grade": "unsure"},
}


def files() -> dict[str, dict[str, Any]]:
    """The parsed files of a rulebook without a mistake; free to be changed."""
    return {
        "book.toml": deepcopy(_BOOK),
        "10-topics.toml": {"rule": [deepcopy(_WIDTH), deepcopy(_HOLD)]},
    }


def book() -> Rulebook:
    return read_rulebook(files(), digest="d1")


def rule(id_: str, question: str = "leaf.gaps", **where: Any) -> Rule:
    """A rule that only has conditions."""
    conditions = {
        fact: tuple(said) if isinstance(said, list) else (said,)
        for fact, said in where.items()
    }
    authority = Authority("house", "1", "House paper", "tbc", Grade.SEEN)
    return Rule(id_, question, "", Weight.MUST, False, {}, authority, conditions)
