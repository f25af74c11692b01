"""What the check of a sealed file found, in the words of its page.

The page's script says the same by itself (``web/src/verify/telling.ts``); a test holds
that both say the same.
"""

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from limen.desk.seal_checks import KnownHere, Told
from limen.findings import Message
from limen.words import SOURCE, catalogue, reading, say, say_day, visible

BASE = "verify."
MOST = 200
"""Megabytes of a file that is checked."""
GROUP = 4
"""Digits that one reads out in a breath."""
MARKS: Mapping[str, str] = {
    "unchanged": "holds",
    "unknown": "not shown",
    "withdrawn": "not shown",
    "changed": "fails",
    "unusable": "not asked",
}
FACTS = ("site", "name", "number", "claimed")


def page_of(known: KnownHere, results: list[dict[str, Any]]) -> dict[str, Any]:
    """What the page is filled with.

    Args:
        known: whom the desk knows.
        results: of files that were sent.
    """
    words = catalogue(reading())
    return {
        "words": {
            key.removeprefix(BASE): words.sentence(key) for key in words.under(BASE)
        },
        "known": {
            "firms": [{"key": key, "name": name} for key, name in known.firms.items()],
            "withdrawn": list(known.withdrawn),
        },
        "results": results,
        "entry": "verify",
    }


def shown(name: str, told: Told) -> dict[str, Any]:
    """One file as the page tells of it."""
    says = [_says(told)]
    if told.unchanged:
        says.append(say(Message("verify.says.not_door")))
    todo = None
    if told.state != "unchanged":
        todo = say(Message(f"verify.do.{told.state}"))
    return {
        "name": visible(name),
        "mark": MARKS[told.state],
        "word": say(Message(f"verify.word.{told.state}")),
        "says": says,
        "todo": todo,
        "facts": list(_facts(told)),
    }


def grouped(digits: str) -> str:
    """Digits in groups, as one reads them out."""
    return " ".join(
        digits[start : start + GROUP] for start in range(0, len(digits), GROUP)
    )


def _says(told: Told) -> str:
    claimed = _text(told, "claimed")[:10]
    key = told.state
    if told.signer is None:
        key = told.where or "form"
    elif key == "unchanged" and claimed:
        key = "unchanged_on"
    signer = told.signer or {}
    return say(
        Message(
            f"verify.says.{key}",
            {
                "device": str(signer.get("device") or ""),
                "firm": str(signer.get("firm") or ""),
                "day": _day(str(signer.get("withdrawn") or claimed)),
                "most": MOST,
            },
        )
    )


def _facts(told: Told) -> Iterator[tuple[str, str, bool]]:
    """Name, value, and whether it is a row of digits to be compared."""
    rows = [(key, _text(told, key), False) for key in FACTS]
    rows.append(("digest", grouped(told.digest), True))
    rows.append(("carried", grouped(told.carried), True))
    if told.signer:
        rows.append(("key", grouped(str(told.signer["key"])), True))
        rows.append(("firm_key", grouped(str(told.signer["firmKey"])), True))
    for key, value, digits in rows:
        if value:
            yield say(Message(f"verify.fact.{key}")), value, digits


def _text(told: Told, key: str) -> str:
    value = (told.record or {}).get(key)
    plain = isinstance(value, (str, int, float)) and not isinstance(value, bool)
    return visible(str(value)) if plain else ""


def _day(text: str) -> str:
    """A day as the reader's language writes it; English keeps the way of files."""
    if reading() == SOURCE:
        return text
    try:
        return say_day(date.fromisoformat(text), reading())
    except ValueError:
        return text
