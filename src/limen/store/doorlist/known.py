"""Words of three languages by which lists name their columns and values."""

import re
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files

_SIGNS = re.compile(r"[^\w]+")
_UNIT = re.compile(r"[\[(]\s*([^\W\d_]+)\s*[\])]|\bin\s+([^\W\d_]+)\s*$")


def folded(text: str) -> str:
    """A text as words are compared: small letters, no signs."""
    return _SIGNS.sub(" ", text.casefold().replace("_", " ")).strip()


def header_means(text: str) -> str | None:
    """The key that a header suggests; None if it is not known."""
    plain = _UNIT.sub(" ", text)
    return _headers().get(folded(plain)) or _headers().get(folded(text))


def header_unit(text: str) -> str | None:
    """The unit that a header names: ``Width [mm]``, ``Breite in cm``."""
    found = _UNIT.search(text)
    word = meaning((found[1] or found[2]).casefold()) if found else None
    return word if word in ("mm", "cm", "m", "in", "ft", "kg", "lb") else None


def meaning(text: str) -> str | None:
    """What a text means: yes, single left, mm, unknown; None if it is not known."""
    return _values().get(folded(text))


def known_header(text: str) -> bool:
    """Whether a text is known as the header of a column."""
    return bool(text) and header_means(text) is not None


@cache
def _data() -> Mapping[str, Mapping[str, Mapping[str, list[str]]]]:
    source = files("limen").joinpath("store", "doorlist", "known_words.toml")
    return tomllib.loads(source.read_text(encoding="utf-8"))


@cache
def _headers() -> Mapping[str, str]:
    return _by_word("headers")


@cache
def _values() -> Mapping[str, str]:
    return _by_word("values")


def _by_word(table: str) -> Mapping[str, str]:
    found: dict[str, str] = {}
    for key, tongues in _data()[table].items():
        for words in tongues.values():
            for word in words:
                found.setdefault(folded(word), key)
    return found
