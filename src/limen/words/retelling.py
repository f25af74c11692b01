"""What the rooms that read say of a fault, in the reader's language.

Numbers and files are read where nobody knows the reader: there a fault is told in
English, in the words of `words/en/faults.toml`.  Whoever shows it looks the sentence
up by its text and says it again.  A sentence that is not found stays as it is.
"""

import re
from collections.abc import Mapping
from functools import cache

from limen.findings import Message
from limen.words.catalogue import SOURCE, pieces, written
from limen.words.reading import reading
from limen.words.saying import has, say

_TABLE = "fault."
_KIND = f"{_TABLE}kind."
_KINDS = ("kind", "other")
"""Gaps that hold a kind of measure or value, which has a word of its own."""


_PARTED = "; "
_NUMBER = r"-?[0-9][^ ]*(?: [^ 0-9:,]+)?"
_QUOTED = r'"[^"]*"'
_SHAPES = {
    "first": _NUMBER,
    "last": _NUMBER,
    "quoted": _QUOTED,
    "others": f"{_QUOTED}(?: or {_QUOTED})*",
}
"""Gaps that hold only a number, perhaps with its unit, or words in quotes."""
_SAID_ANEW = ("span", "others")
"""Gaps that hold a sentence of their own."""


def retold(text: str, *, language: str | None = None) -> str:
    """A fault said again in the reader's language.

    A sentence of several parts that is not found as a whole is told part by part.

    Args:
        text: one sentence in English, as a reading room tells it.
        language: whose; the reader's if None.
    """
    spoken = language or reading()
    if spoken == SOURCE:
        return text
    for key, pattern in _patterns():
        found = pattern.fullmatch(text)
        if found:
            gaps = _gaps(found).items()
            said = {gap: _filling(gap, value, spoken) for gap, value in gaps}
            return say(Message(key, said), language=spoken)
    if _PARTED in text:
        parts = text.split(_PARTED)
        return _PARTED.join(retold(part, language=spoken) for part in parts)
    return text


def _gaps(found: re.Match[str]) -> Mapping[str, str]:
    return found.groupdict()


def _filling(gap: str, value: str, language: str) -> str | Message:
    if gap in _SAID_ANEW:
        return retold(value, language=language)
    if gap in _KINDS and has(f"{_KIND}{value}"):
        return Message(f"{_KIND}{value}")
    return value


@cache
def _patterns() -> tuple[tuple[str, re.Pattern[str]], ...]:
    """Every such sentence as a pattern, what says most by itself first."""
    known = [
        (key, text)
        for key, text in written(SOURCE).items()
        if key.startswith(_TABLE) and not key.startswith(_KIND)
    ]
    known.sort(key=lambda one: -sum(len(text) for text, _ in pieces(one[1])))
    return tuple((key, _pattern(text)) for key, text in known)


def _pattern(sentence: str) -> re.Pattern[str]:
    parts = (
        re.escape(text) + (f"(?P<{gap}>{_SHAPES.get(gap, '.+?')})" if gap else "")
        for text, gap in pieces(sentence)
    )
    return re.compile("".join(parts))
