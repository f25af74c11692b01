"""A small invented overlay on the invented rulebook, to be changed key by key."""

from collections.abc import Mapping
from copy import deepcopy
from typing import Any

from limen.rules import (
    Overlay,
    Rulebook,
    RulebookError,
    lay,
    read_overlay,
    read_rulebook,
)
from rules.books import files

GAPS = "shop.1.leaf.gaps"
_HEAD = {
    "id": "shop",
    "base": "house",
    "title": "Shop rules",
    "notes": ["For shops."],
    "document": [{"name": "Shop paper", "title": "Another invented paper"}],
}
_SOURCE = {
    "document": "Shop paper",
    "clause": "9",
    "grade": "seen",
    "seen_in": "the paper on the counter",
}


def at_most(limit: str, holds: str, fails: str) -> list[dict[str, Any]]:
    """A case on each side of a limit that must not be exceeded."""
    return _cases("at most", limit, holds, fails)


def at_least(limit: str, holds: str, fails: str) -> list[dict[str, Any]]:
    """A case on each side of a limit that must be reached."""
    return _cases("at least", limit, holds, fails)


def layer(question: str = "leaf.gaps", **keys: Any) -> dict[str, Any]:
    """A rule of the overlay, laid on the base's rule of the same name."""
    said = {"id": f"shop.{question}", "question": question, "over": question}
    entry = {**said, "source": deepcopy(_SOURCE), **keys}
    return {key: value for key, value in entry.items() if value is not None}


def overlay(*layers: Mapping[str, Any], **head: Any) -> Overlay:
    parsed = {"overlay.toml": {**deepcopy(_HEAD), **head}, "20.toml": {"rule": layers}}
    parsed["20.toml"] = {"rule": [dict(one) for one in layers]}
    return read_overlay(parsed, "1", ["1", "2"])


def laid(*layers: Mapping[str, Any], base: Rulebook | None = None) -> Rulebook:
    return lay(base or read_rulebook(files(), "d1"), overlay(*layers), "d2")


def why(*layers: Mapping[str, Any]) -> dict[str, str]:
    """What is wrong with an overlay's rules, by key."""
    try:
        laid(*layers)
    except RulebookError as error:
        return {one.key: one.why for one in error.mistakes}
    raise AssertionError("nothing is wrong with it")


def _cases(compare: str, limit: str, holds: str, fails: str) -> list[dict[str, Any]]:
    return [
        {
            "title": found,
            "says": says,
            "given": {"limit": limit, "found": found, "compare": compare},
        }
        for found, says in ((holds, "holds"), (fails, "fails"))
    ]
