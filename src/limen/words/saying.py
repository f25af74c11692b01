"""Messages in, sentences out."""

import re
from collections.abc import Mapping
from datetime import date
from math import degrees

from limen.findings import Assumed, Finding, Margin, Measure, Message, Verdict
from limen.quantity import Dimension, Quantity, Show, show, show_length, show_quantity
from limen.words.catalogue import SOURCE, Catalogue, WordsError, catalogue, pieces
from limen.words.numbers import category, numbered, say_day
from limen.words.reading import reading

Value = str | int | float | Measure | Message

_UNITS = r"\d+/\d+|mm²?|mm/s|m|ft|in|s|min|h|kg|lbf?|N|J|kWh|V|m?A|%|°"
_UNIT = re.compile(rf"(?<=\d) (?=(?:{_UNITS})(?![\w]))")
_SPACES = "\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}"
_WHOLE_DEGREE = 1e-6
_ANGLE_DECIMALS = 1
_SLOW = 0.2
"""m/s, below which a speed is written in millimetres a second."""
_TIME_DECIMALS = 2
_RATIO_DECIMALS, _PERCENT = 3, 0.01
_NAMED = {
    "fitting": "fitting",
    "face": "drawing.face",
    "grade": "grade_short",
    "side": "side",
}
"""Gaps that are filled by a name of ours, and the table that has its word."""
_DAYS = frozenset({"day", "checked"})
"""Gaps that are filled by a day, as files write it; English keeps that."""
_BRIEF = 0.1
"""s, below which a time keeps its third digit."""


def say(
    message: Message, *, language: str | None = None, system: Show = Show.METRIC
) -> str:
    """Say a message: plain text, one paragraph, no markup.

    Measures are written as floor work needs them: whole millimetres, one decimal
    of a degree.  What comes from a file loses its invisible characters.

    Args:
        message: key and what fills its gaps; a gap may be filled by a message.
        language: which catalogue; the reader's if None.
        system: units of the reader.

    Raises:
        WordsError: no such language or sentence, or a gap without a value.
    """
    words = catalogue(language or reading())
    return _filled(message.key, message.values, words, system)


def say_count(key: str, count: int, *, language: str | None = None) -> str:
    """Say a count: the sentence ``key.none``, ``key.one`` … or ``key.many``.

    Which form a count takes the language decides; without a sentence for its form,
    or for none, it is said as many.

    Raises:
        WordsError: the catalogue lacks the sentence.
    """
    words = catalogue(language or reading())
    forms = ("none",) * (count == 0) + (category(count, words.language), "many")
    form = next((one for one in forms if f"{key}.{one}" in words.sentences), "many")
    return _filled(f"{key}.{form}", {"count": count}, words, Show.METRIC)


def said_assumed(one: Assumed) -> Message:
    """An assumed value as one sentence: why, what was taken, its grade."""
    values = {
        "why": one.why,
        "value": one.value,
        "grade": Message(f"grade.{one.grade}"),
    }
    return Message("finding.assumed", values)


def said_clause(document: str, clause: str | None) -> Message:
    """Where a figure stands: document and clause, or that the clause is open."""
    if clause is None:
        return Message("finding.clause_to_be_confirmed", {"document": document})
    key = "clause" if clause[:1].isdigit() else "place"
    return Message(f"finding.{key}", {"document": document, "clause": clause})


def said_margin(room: Margin) -> Message:
    """Room that is certainly to spare, or lacking."""
    spare = room.value >= 0
    sure = max(room.least, 0.0) if spare else -room.value
    key = "finding.margin_spare" if spare else "finding.margin_short"
    return Message(key, {"measure": Measure(sure, room.dimension)})


def said_room(finding: Finding) -> Message | None:
    """A finding's margin; none to spare where doubt is the verdict.

    "4 mm to spare" beside *not shown* would read as if it held.
    """
    room = finding.margin
    if room is None:
        return None
    doubt = finding.verdict is Verdict.NOT_SHOWN and room.value >= 0
    return None if doubt else said_margin(room)


def say_question(question: str, *, language: str | None = None) -> str:
    """A question in plain words; its own name where the catalogue has none."""
    return say_word("question", question, language=language)


def say_word(table: str, word: str, *, language: str | None = None) -> str:
    """A word under a table of the catalogue; the word itself where there is none."""
    found = catalogue(language or reading()).sentences.get(f"{table}.{word}")
    return visible(word) if found is None else found


def say_unit(fitting: str, *, language: str | None = None) -> str:
    """The name of a unit: the user's own, or that of its side in the language."""
    return say_word("fitting", fitting, language=language)


def has(key: str, *, language: str | None = None) -> bool:
    """Whether the catalogue has a sentence under this key."""
    return key in catalogue(language or reading()).sentences


def _filled(
    key: str, values: Mapping[str, Value], words: Catalogue, system: Show
) -> str:
    said: list[str] = []
    for text, gap in pieces(words.sentence(key)):
        said.append(text)
        if gap is None:
            continue
        if gap not in values:
            raise WordsError(f'nothing fills the gap "{gap}" of the sentence "{key}"')
        said.append(_value(gap, values[gap], words, system))
    return "".join(said)


def _value(gap: str, value: Value, words: Catalogue, system: Show) -> str:
    match value:
        case Message():
            return _filled(value.key, value.values, words, system)
        case Measure():
            return say_measure(value, system, language=words.language)
        case str() if gap in _DAYS and words.language != SOURCE:
            return _day(value, words.language)
        case str():
            table = _NAMED.get(gap)
            return (
                say_word(table, value, language=words.language)
                if table
                else visible(value)
            )
        case int() | float():
            return numbered(f"{value}", words.language)


def _day(text: str, language: str) -> str:
    try:
        return say_day(date.fromisoformat(text), language)
    except ValueError:
        return visible(text)


def say_measure(
    value: Measure, system: Show = Show.METRIC, *, language: str | None = None
) -> str:
    """Write a measure for people, no finer than anybody at a door can tell.

    A whole degree has no decimal, a time at most hundredths of a second, a slow
    speed is written in whole millimetres a second.
    """
    return numbered(_measured(value, system), language or reading())


def say_length(
    metres: float, system: Show = Show.METRIC, *, language: str | None = None
) -> str:
    """Write a length for people (m)."""
    return numbered(show_length(metres, system), language or reading())


def say_quantity(
    quantity: Quantity,
    dimension: Dimension,
    system: Show = Show.METRIC,
    *,
    language: str | None = None,
) -> str:
    """Write a quantity for people with its uncertainty, if it has one."""
    return numbered(show_quantity(quantity, dimension, system), language or reading())


def _measured(value: Measure, system: Show) -> str:
    if value.dimension is Dimension.ANGLE:
        turned = degrees(value.value)
        whole = abs(turned - round(turned)) < _WHOLE_DEGREE
        digits = 0 if whole else _ANGLE_DECIMALS
        return show(value.value, value.dimension, system, digits)
    slow = value.dimension is Dimension.SPEED and 0 < abs(value.value) < _SLOW
    if slow and system is Show.METRIC:
        return f"{show_length(value.value)}/s"
    brief = value.dimension is Dimension.TIME and _BRIEF <= abs(value.value) < 1
    if brief:
        return show(round(value.value, _TIME_DECIMALS), value.dimension, system)
    if value.dimension is Dimension.RATIO and abs(value.value) >= _PERCENT:
        return show(round(value.value, _RATIO_DECIMALS), value.dimension, system)
    return show(value.value, value.dimension, system)


def of_case(text: str, case: str) -> str:
    """A sentence with its case before it, unless it names the case by itself.

    Args:
        text: the sentence.
        case: fitting and case in words, parted by commas; may be empty.
    """
    parts = case.lower().split(", ")
    if all(part in text.lower() for part in parts):
        return text
    return say(Message("cli.of_case", {"case": case, "what": text}))


def unbroken(text: str) -> str:
    """The text with no break between a number and its unit, when it is set in lines."""
    return _UNIT.sub("\N{NO-BREAK SPACE}", text)


def visible(text: str) -> str:
    """The text without what no reader sees: control characters never pass.

    Spaces at which a line does not break do: a language sets them before its marks.
    """
    return "".join(
        one if one.isprintable() or one in _SPACES else "\N{REPLACEMENT CHARACTER}"
        for one in text
    )
