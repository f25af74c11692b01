"""TOML read with patience: every line that is no TOML is told, not only the first."""

import re
import tomllib
from dataclasses import dataclass
from typing import Any

from limen.store.faults import Fault, printable
from limen.store.tomllines import Extent, extent, locate

DEEPEST = 32
"""Brackets within brackets; a site file needs four."""

MOST_VALUES = 100_000
"""Keys and elements of lists; a doorway has about a hundred."""

_PATIENCE = 50
"""Lines that are set aside before the reader gives up."""

_PATIENT_UP_TO = 200_000
"""Characters up to which a text is read again after each broken line."""

_AT = re.compile(r" \(at (?:line (\d+), column \d+|end of document)\)$")
_KEY = r"""(?:[A-Za-z0-9_-]+|"[^"\n]*"|'[^'\n]*')"""
_STATEMENT = re.compile(rf"\s*({_KEY}(?:\s*\.\s*{_KEY})*)\s*=\s*(.*?)\s*(?:#.*)?")


@dataclass(frozen=True, slots=True)
class Toml:
    """What a text holds, as far as it could be read.

    Attributes:
        data: The document; None if its structure is unknown.
        faults: Where it is no TOML.
    """

    data: dict[str, Any] | None
    faults: tuple[Fault, ...]


def read_toml(text: str) -> Toml:
    """Parse TOML; set a broken `key = value` line aside and go on.

    The value of such a line becomes an empty text, so that its key still counts
    as written. After a fault of structure nothing more is read.
    """
    size = extent(text, deepest=DEEPEST, most=MOST_VALUES)
    if size.depth > DEEPEST or size.values > MOST_VALUES:
        return Toml(None, (_too_large(size),))
    faults: list[Fault] = []
    for _ in range(_PATIENCE):
        try:
            return Toml(tomllib.loads(text), tuple(faults))
        except ValueError as error:
            faults.append(_fault(text, error))
        mended = _set_aside(text, faults)
        if mended is None:
            break
        text = mended
    return Toml(None, tuple(faults))


def _too_large(size: Extent) -> Fault:
    if size.depth > DEEPEST:
        why = f"brackets or dots nest more than {DEEPEST} deep"
        return Fault("", size.line, "", why, f"at most {DEEPEST} deep")
    why = f"more than {MOST_VALUES} keys and values"
    return Fault("", None, "", why, "a site in several files")


def _set_aside(text: str, faults: list[Fault]) -> str | None:
    """Return the text without the value of the last faulty line, if that helps."""
    line = faults[-1].line
    tried = [fault.line for fault in faults[:-1]]
    if line is None or line in tried or len(text) > _PATIENT_UP_TO:
        return None
    lines = text.split("\n")
    statement = _STATEMENT.fullmatch(lines[line - 1].rstrip("\r"))
    if statement is None:
        return None
    twice = faults[-1].why == _TWICE
    lines[line - 1] = "" if twice else f'{statement[1]} = ""'
    return "\n".join(lines)


# In words --------------------------------------------------------------------

_TWICE = "this key is written twice"
_QUOTES = "text, and every number with a unit, stands in quotes"

_HUGE = re.compile(r"\d{4301}")

_WORDS: tuple[tuple[str, str, str, str], ...] = (
    ("Cannot overwrite a value", _TWICE, "each key once in a table", ""),
    ("Duplicate inline table key", _TWICE, "each key once in a table", ""),
    (
        "Cannot declare",
        "this table is written twice",
        "each [table] once; a list of tables has double brackets",
        "[[doorway]]",
    ),
    (
        "Cannot mutate",
        "this adds to a table or list that was written in one piece",
        "all its keys in one place",
        "",
    ),
    (
        "Expected '=' after a key",
        "a key without = and a value",
        "a key, = and a value",
        'name = "Main entrance"',
    ),
    (
        "Invalid statement",
        "neither a key nor a [table]",
        "a key, = and a value; a comment begins with #",
        'name = "Main entrance"',
    ),
    (
        "Invalid initial character for a key",
        "a key is missing or has characters that need quotes",
        "letters, digits, - and _",
        'clear_width = "1800 mm"',
    ),
    (
        "Invalid value (at end",
        "a list is not closed",
        "[ … , … ]",
        'planes = ["0 mm", "60 mm"]',
    ),
    (
        "Unclosed array",
        "a list is not closed, or an element lacks its comma",
        "[ … , … ]",
        'planes = ["0 mm", "60 mm"]',
    ),
    (
        "Unclosed inline table",
        "a { is not closed, or a comma is missing",
        "{ key = value, key = value } on one line",
        "",
    ),
    ("Expected \"'", "a quote is not closed", "the same quote at both ends", ""),
    (
        "Found invalid character '\\n'",
        "a quote is not closed on its line",
        "the same quote at both ends",
        "",
    ),
    ("Unterminated string", "a quote is not closed", "the same quote at both ends", ""),
    (
        "Illegal character '\\n'",
        "a quote is not closed on its line",
        "the same quote at both ends",
        "",
    ),
    (
        "Unescaped '\\'",
        "a backslash in double quotes begins a sign of its own",
        "single quotes, in which a backslash is a backslash",
        "note = 'a\\b'",
    ),
    (
        "Invalid date",
        "no such day or time",
        "year-month-day without quotes",
        "commissioned = 2026-05-31",
    ),
    ("Invalid hex value", "not a Unicode character", "", ""),
    ("Escaped character", "not a Unicode character", "", ""),
    (
        "Found invalid character",
        "a control character",
        "printable characters",
        "",
    ),
    (
        "Illegal character",
        "a control character",
        "printable characters",
        "",
    ),
    ("Expected ']", "a [table] is not closed", "[table] or [[table]]", "[[doorway]]"),
    (
        "Exceeds the limit",
        "a whole number of thousands of digits",
        "numbers of a sensible size",
        "",
    ),
)


def _fault(text: str, error: ValueError) -> Fault:
    """Say in words what the parser says in its own."""
    message = str(error)
    line = _line(text, message)
    written = text.split("\n")[line - 1].strip() if line else ""
    statement = _STATEMENT.fullmatch(written)
    key = statement[1] if statement else ""
    if statement and not statement[2]:
        return Fault(key, line, printable(written), "nothing after =", "a value")
    for begins, why, accepted, example in _WORDS:
        if message.startswith(begins):
            return Fault(key, line, printable(written), why, accepted, example)
    example = _quoted(statement) if statement else 'name = "Main entrance"'
    return Fault(key, line, printable(written), "not a value", _QUOTES, example)


_OPEN = ("Unterminated", 'Expected "', "Unclosed", "Invalid value")
"""What the parser says when something that began earlier has no end."""


def _line(text: str, message: str) -> int | None:
    """Find the line; what has no end is found where it begins."""
    at = _AT.search(message)
    if at and at[1]:
        return int(at[1])
    huge = None if at else _HUGE.search(text)
    if huge:
        return text.count("\n", 0, huge.start()) + 1
    if message.startswith(_OPEN):
        return max(locate(text).values(), default=None)
    return text.rstrip().count("\n") + 1


def _quoted(statement: re.Match[str]) -> str:
    bare = statement[2].replace('"', "").strip("'")
    bare = re.sub(r"(\d),(\d)", r"\1.\2", bare)
    mark = "'" if "\\" in bare else '"'
    return printable(f"{statement[1]} = {mark}{bare}{mark}")
