"""How a language writes numbers, days and counts: Babel's knowledge of it.

English is written as `limen.quantity` shows it, and needs no Babel: `limen check` is
as quick as before for whoever reads English.
"""

import re
from collections.abc import Iterable
from datetime import date
from functools import cache, lru_cache

from limen.words.catalogue import SOURCE, catalogue, languages

POINT = "."
GROUP = "\N{NARROW NO-BREAK SPACE}"
_LOCALES = {"en": "en_GB"}
"""Where the language alone would stand for a country we do not mean."""
_GROUPED_FROM = 5
_NUMBER = re.compile(r"(?<![\w.,])(\d+)(?:\.(\d+))?(?![\w.,]*[\w])")
_WORDS = re.compile(r"(?<=\d )(?:months|years|d)\b")
"""Units that are English words, or stand for one."""
_LOOSE = re.compile(r"(?<=\d),(?=\d)")
_SPACES = re.compile(r"(?<=\d)[\N{NARROW NO-BREAK SPACE}\N{THIN SPACE}](?=\d{3}\b)")


def numbered(text: str, language: str) -> str:
    """A measure or number as a language writes it: ``2.47 s`` becomes ``2,47 s``.

    Five digits and more are set apart in threes.  Fractions of an inch stay; units
    that are words are said in the language.

    Args:
        text: a number, or several with their units, as `limen.quantity` shows them.
        language: whose.
    """
    if language == SOURCE:
        return text
    comma = _comma(language)
    said = _NUMBER.sub(lambda found: _written(found, comma), text)
    words = catalogue(language)
    return _WORDS.sub(lambda one: words.sentence(f"unit_word.{one[0]}"), said)


def has_comma(language: str) -> bool:
    """Whether the language has a comma where English has a point."""
    return language != SOURCE and _comma(language) == ","


def unnumbered(text: str, language: str) -> str:
    """What was typed in a field, as files have it: with a point.

    A comma between digits is read as a point where the language has a comma; where
    there are two, or a point too, it is left for the reading to refuse.
    """
    text = _SPACES.sub("", text)
    if not has_comma(language):
        return text
    return " ".join(_pointed(part) for part in text.split(" "))


def _pointed(part: str) -> str:
    if POINT in part or len(_LOOSE.findall(part)) != 1:
        return part
    return _LOOSE.sub(POINT, part)


def _written(found: re.Match[str], comma: str) -> str:
    whole, rest = found[1], found[2]
    if len(whole) >= _GROUPED_FROM:
        whole = f"{int(whole):,}".replace(",", GROUP)
    return f"{whole}{comma}{rest}" if rest else whole


@cache
def _comma(language: str) -> str:
    from babel.numbers import get_decimal_symbol

    return get_decimal_symbol(_locale(language))


def _locale(language: str) -> str:
    return _LOCALES.get(language, language)


def category(count: int, language: str) -> str:
    """The form that a count takes in a language: ``one``, ``few`` or ``other``."""
    if language == SOURCE:
        return "one" if count == 1 else "other"
    from babel import Locale

    return Locale.parse(_locale(language)).plural_form(count)


def say_day(day: date, language: str) -> str:
    """A day in words: ``1 March 2026``."""
    from babel.dates import format_date

    return format_date(day, "long", locale=_locale(language))


def best(header: str) -> str:
    """The language that suits an ``Accept-Language`` header best; else English.

    Args:
        header: as a browser sends it; anything may stand in it.
    """
    from babel import negotiate_locale

    wanted = [tag for tag, _ in sorted(_asked(header), key=lambda one: -one[1])]
    return negotiate_locale(wanted, languages(), sep="-") or SOURCE


_MOST_ASKED = 32


def _asked(header: str) -> Iterable[tuple[str, float]]:
    """Each language of the header with its weight; none whose weight is nothing."""
    for part in header.split(",")[:_MOST_ASKED]:
        tag, _, weight = part.partition(";")
        at = _weight(weight)
        if at > 0 and tag.strip():
            yield tag.strip(), at


def _weight(text: str) -> float:
    found = re.fullmatch(r"\s*q\s*=\s*([01](?:\.\d{0,3})?)\s*", text)
    return float(found[1]) if found else 0.0 if text else 1.0


def alphabetical(names: Iterable[str]) -> list[str]:
    """Names as a reader looks them up: accents and case come last, not first."""
    return sorted(names, key=collated)


@lru_cache(maxsize=20_000)
def collated(name: str) -> tuple[str, str]:
    """The key by which a name is put in order."""
    from unicodedata import combining, normalize

    apart = normalize("NFKD", name.casefold())
    return "".join(one for one in apart if not combining(one)), name
