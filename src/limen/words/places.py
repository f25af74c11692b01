"""Which unit and which case a finding is about, in the reader's language.

A case is a name of ours in findings and files: parts, parted by commas.  What is not
ours in it, the name of a thing or of a doorway, stays as the user wrote it.
"""

from collections.abc import Iterator

from limen.findings import Finding, Message
from limen.words.catalogue import catalogue
from limen.words.reading import reading
from limen.words.saying import say, say_unit, say_word

_DEAD, _AND = " dead", " and "


def said_where(finding: Finding, *, language: str | None = None) -> str:
    """Fitting and case of a finding, in words; empty for one about the whole door."""
    parts: list[str] = []
    if finding.fitting:
        parts.append(say_unit(finding.fitting, language=language))
    if finding.case:
        parts.append(said_case(finding.case, language=language))
    return ", ".join(parts)


def said_case(case: str, *, language: str | None = None) -> str:
    """A case in words."""
    spoken = language or reading()
    if f"case.{case}" in catalogue(spoken).sentences:
        return say_word("case", case, language=spoken)
    return ", ".join(_parts(case, spoken))


def _parts(case: str, language: str) -> Iterator[str]:
    for part in case.split(", "):
        one, both, other = part.partition(_AND)
        if f"case.{part}" in catalogue(language).sentences:
            yield say_word("case", part, language=language)
        elif part.endswith(_DEAD):
            unit = {"fitting": part.removesuffix(_DEAD)}
            yield say(Message("case.of_dead", unit), language=language)
        elif both:
            pair = {"one": _unit(one, language), "two": _unit(other, language)}
            yield say(Message("case.of_two", pair), language=language)
        else:
            yield say_word("case", part, language=language)


def _unit(name: str, language: str) -> str:
    """A unit, of another doorway too: that one's id, then the unit's name."""
    doorway, parted, unit = name.rpartition(": ")
    if not parted:
        return say_unit(name, language=language)
    said = {"doorway": doorway, "unit": say_unit(unit, language=language)}
    return say(Message("case.of_door", said), language=language)
