"""One text for one value: canonical JSON, written and read strictly.

Source:
    RFC 8785, JSON Canonicalization Scheme (2020): keys in the order of their UTF-16
    code units (3.2.3), numbers as ECMAScript writes them (3.2.2.3), UTF-8, no space.
"""

import json
from collections.abc import Mapping, Sequence
from math import isfinite
from typing import NoReturn, cast

import rfc8785

DEEPEST = 60
"""Levels of a text that is read: deeper ones are made to exhaust the reader."""

LARGEST_WHOLE = 2**53 - 1
"""The largest of the whole numbers that all programs tell apart (RFC 7493, 2.2)."""

Plain = Mapping[str, "Plain"] | Sequence["Plain"] | str | int | float | bool | None
"""What JSON can say."""

Table = dict[str, object]
"""What was read, by key."""


class NotCanonicalError(ValueError):
    """A text that is not the one text of its value, or a value that has none."""


def canonical(value: Plain) -> bytes:
    """The one text of a value.

    Args:
        value: text, numbers, truth values, lists and tables by text.

    Raises:
        NotCanonicalError: a number that is not finite or an integer beyond 2**53 - 1,
            half a character, a key that is no text.
    """
    try:
        return rfc8785.dumps(value)  # pyright: ignore[reportArgumentType]
    except (rfc8785.CanonicalizationError, UnicodeError, RecursionError) as error:
        raise NotCanonicalError(str(error)) from error


def read(text: bytes) -> Table:
    """The table that a canonical text says.

    Args:
        text: UTF-8, without a mark at its start.

    Raises:
        NotCanonicalError: it is no JSON, no table, says a key twice, or is not the
            canonical text of what it says.
    """
    if _depth(text) > DEEPEST:
        raise NotCanonicalError("too deep")
    try:
        value: object = json.loads(
            text.decode("utf-8"),
            object_pairs_hook=_once,
            parse_constant=_refused,
            parse_float=_finite,
            parse_int=_whole,
        )
    except (ValueError, RecursionError) as error:
        raise NotCanonicalError(str(error)) from error
    table = as_table(value)
    if canonical(cast("Plain", table)) != text:
        raise NotCanonicalError("not in canonical form")
    return table


def as_table(value: object) -> Table:
    """A value that must be a table.

    Raises:
        NotCanonicalError: it is none.
    """
    if not isinstance(value, dict):
        raise NotCanonicalError("not a table")
    return cast("Table", value)


def _depth(text: bytes) -> int:
    """How deep brackets are open at most, those inside words counted too."""
    deep = most = 0
    for byte in text:
        if byte in b"[{":
            deep += 1
            most = max(most, deep)
        elif byte in b"]}":
            deep -= 1
    return most


def _once(pairs: list[tuple[str, object]]) -> Table:
    table = dict(pairs)
    if len(table) != len(pairs):
        raise NotCanonicalError("a key stands there twice")
    return table


def _refused(word: str) -> NoReturn:
    raise NotCanonicalError(f"{word} is no number")


def _whole(text: str) -> int | float:
    """A whole number; one that is too large to be told from the next, as a double."""
    number = int(text)
    return number if abs(number) <= LARGEST_WHOLE else _finite(text)


def _finite(text: str) -> float:
    number = float(text)
    if not isfinite(number):
        raise NotCanonicalError(f"{text} is too large")
    return number
