"""Text in, quantity out; whatever is doubtful is refused with advice.

What is read: a number with its unit, `1800 mm`; feet and inches with binary
fractions, `6 ft 8 1/2 in`, `6' 8 1/2"`, `6'-8½"`; an uncertainty,
`1800 mm ± 3 mm` or `+/-`; a grade, `140 mm ± 5 mm, estimate`.

Characters: the typographic minus, prime and double prime, curly quotes in their
place (phones put them there), vulgar fractions and every kind of space are read.
Refused, because they may mean two things: any other dash (a range or a minus),
a comma in a number (a decimal sign or thousands), spaces between digits, digits
of other scripts, and everything invisible.
"""

import difflib
import re
import unicodedata
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import NoReturn

from limen.quantity.grades import Grade
from limen.quantity.quantity import Quantity
from limen.quantity.units import (
    FT,
    IN,
    KINDS,
    Dimension,
    Unit,
    dimension_named,
    exact_si,
    unit_meant,
    unit_named,
    units_in_words,
)

LONGEST = 120
"""Characters in a quantity; the longest sensible one has fewer than 80."""


_SHOWN = 60
_BARE = "a bare number has no unit"


class QuantityError(ValueError):
    """A text that is no quantity of the kind that was asked for.

    Attributes:
        found: What was written, shortened.
        why: Why it is refused.
        accepted: What would be accepted.
        example: A text that is accepted.
    """

    def __init__(self, found: str, why: str, accepted: str, example: str) -> None:
        """Build the one-line message from its parts."""
        super().__init__(f"{found}: {why}; accepted: {accepted}, for example {example}")
        self.found = found
        self.why = why
        self.accepted = accepted
        self.example = example


def parse(
    text: str | float, dimension: Dimension, grade: Grade = Grade.MEASURED
) -> Quantity:
    """Read a quantity of one dimension.

    Args:
        text: What was written. A bare number, as a file may hold one, is
            refused.
        dimension: What it must measure.
        grade: The grade if the text names none.

    Returns:
        The quantity in SI units: value and uncertainty are each the float
        nearest to what is written. Its origin is empty.

    Raises:
        QuantityError: The text is not a quantity of this dimension.
    """
    if not isinstance(text, str):
        why = "neither true nor false is a number" if isinstance(text, bool) else _BARE
        _refuse(str(text), why, dimension)
    return _parsed(text, dimension, grade)


@lru_cache(maxsize=4096)  # a file says the same figures again whenever it is read
def _parsed(text: str, dimension: Dimension, grade: Grade) -> Quantity:
    plain = _plain(text, dimension)
    body, grade = _split_grade(plain, dimension, grade)
    value_text, sign, u_text = body.partition("±")
    value = _exact(value_text.strip(), dimension)
    u = _uncertainty(u_text.strip(), dimension) if sign else Fraction(0)
    return Quantity(float(value), float(u), grade)


def accepted_text(dimension: Dimension) -> str:
    """Say in words what is read as a quantity of this dimension."""
    marks = " (also 6 ft 8 1/2 in)" if dimension is Dimension.LENGTH else ""
    kind = "ratio" if dimension is Dimension.RATIO else dimension.value
    article = "an" if kind[0] in "aeiou" else "a"
    return f"{article} {kind} with its unit: {units_in_words(dimension)}{marks}"


def _refuse(
    found: str, why: str, dimension: Dimension, example: str | None = None
) -> NoReturn:
    shown = "".join(char if char.isprintable() else "�" for char in found)
    if len(shown) > _SHOWN:
        shown = shown[: _SHOWN - 1] + "…"
    example = _readable(example or KINDS[dimension].example, dimension)
    raise QuantityError(shown, why, accepted_text(dimension), example)


def _readable(example: str, dimension: Dimension) -> str:
    """Return the example, or what its own refusal advises if it has a second fault."""
    try:
        parse(example, dimension)
    except QuantityError as error:
        return error.example
    return example


# Reading the characters ------------------------------------------------------

_EIGHTHS = ("1/2", "1/4", "3/4", "1/8", "3/8", "5/8", "7/8")
_VULGAR = dict(zip("½¼¾⅛⅜⅝⅞", _EIGHTHS, strict=True))
_ALIKE = str.maketrans(
    {
        "\N{MINUS SIGN}": "-",
        "\N{PRIME}": "'",
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        "\N{DOUBLE PRIME}": '"',
        "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
        "\N{FRACTION SLASH}": "/",
    }
)
_DASHES = "\u2010\u2011\u2012\u2013\u2014\u2015"


def _plain(text: str, dimension: Dimension) -> str:
    """Bring the characters that can only mean one thing to their plain form."""
    if len(text) > LONGEST:
        _refuse(text, f"more than {LONGEST} characters", dimension)
    if not text.strip():
        _refuse(repr(text), "nothing is written", dimension)
    spaced = "".join(" " if unicodedata.category(c) == "Zs" else c for c in text)
    if not spaced.isprintable():
        _refuse(text, "holds a control or invisible character", dimension)
    if any(dash in spaced for dash in _DASHES):
        why = "holds a dash that may mean minus or a range; write - for minus, ± for"
        _refuse(text, f"{why} the uncertainty", dimension)
    plain = spaced.translate(_ALIKE).replace("''", '"').replace("+/-", "±")
    for sign, fraction in _VULGAR.items():
        plain = plain.replace(sign, f" {fraction}")
    return " ".join(plain.split())


_THOUSANDS = 3
_COMMA = re.compile(r"(\d) ?, ?(\d+)", re.ASCII)
_GRADE = re.compile(r"(.*?) ?, ?([^\W\d_]*)")


def _split_grade(text: str, dimension: Dimension, grade: Grade) -> tuple[str, Grade]:
    """Take a trailing grade word off, after making sure of the commas."""
    comma = _COMMA.search(text)
    if comma:
        _refuse_comma(text, comma, dimension)
    match = _GRADE.fullmatch(text)
    if match is None:
        return text, grade
    word = match[2].casefold()
    if word not in list(Grade):
        _refuse_grade(text, match[2], dimension)
    return match[1], Grade(word)


def _refuse_comma(text: str, comma: re.Match[str], dimension: Dimension) -> NoReturn:
    as_point = _COMMA.sub(r"\1.\2", text)
    if len(comma[2]) == _THOUSANDS:
        as_whole = _COMMA.sub(r"\1\2", text)
        why = f"a comma may mean thousands or decimals; write {as_whole} or {as_point}"
        _refuse(text, why, dimension, as_whole)
    why = f"the decimal sign is the point; write {as_point}"
    _refuse(text, why, dimension, as_point)


def _refuse_grade(text: str, word: str, dimension: Dimension) -> NoReturn:
    near = difflib.get_close_matches(word.casefold(), list(Grade), n=1)
    hint = f"; did you mean {near[0]}?" if near else ""
    listed = ", ".join(Grade)
    why = f'"{word}" after the comma is no grade{hint} (grades: {listed})'
    example = f"{KINDS[dimension].example}, {near[0] if near else Grade.ESTIMATE}"
    _refuse(text, why, dimension, example)


# Reading the number and its unit ---------------------------------------------

_DECIMAL = r"(?:\d+(?:\.\d+)?|\.\d+)"
_AMOUNT = re.compile(rf"([+-]?{_DECIMAL}(?:[eE][+-]?\d+)?) ?(.*)", re.ASCII)
_FEET = rf"(?P<feet>{_DECIMAL}) ?(?:ft|')"
_FRACTION = r"(?:(?P<whole>\d+)[ -])?(?P<top>\d+)/(?P<bottom>\d+)"
_INCHES = rf"(?:(?P<inches>{_DECIMAL})|{_FRACTION}) ?(?:in|\")"
_FEET_INCHES = re.compile(
    rf"(?P<sign>[+-]?)(?=.)(?:{_FEET})?(?:[ -]?{_INCHES})?", re.ASCII
)
_INCHES_A_FOOT = 12
_TAPE = (2, 4, 8, 16, 32, 64)
_EXPONENT_DIGITS = 4
_GREATEST_EXPONENT = 30
_LEAST_EXPONENT = -340


def _exact(text: str, dimension: Dimension) -> Fraction:
    """Read value and unit, and keep the result within its span."""
    if dimension is Dimension.LENGTH:
        match = _FEET_INCHES.fullmatch(text)
        if match and (match["feet"] or match["inches"] or match["top"]):
            return _within(_feet_inches(text, match), text, dimension)
    number, unit = _number_and_unit(text, dimension)
    return _within(exact_si(number, unit), text, dimension)


def _uncertainty(text: str, dimension: Dimension) -> Fraction:
    """Read what stands after ±: a difference, so no offset, and not negative."""
    if dimension is Dimension.TEMPERATURE:
        number, unit = _number_and_unit(text, dimension)
        value = number * unit.factor
    else:
        value = _exact(text, dimension)
    if value < 0:
        _refuse(f"± {text}", "an uncertainty is not negative", dimension)
    if value > KINDS[dimension].high:
        _refuse(f"± {text}", "the uncertainty is out of all bounds", dimension)
    return value


def _within(value: Fraction, text: str, dimension: Dimension) -> Fraction:
    kind = KINDS[dimension]
    if not kind.low <= value <= kind.high:
        _refuse(text, _out_of_span(dimension), dimension)
    return value


def _number_and_unit(text: str, dimension: Dimension) -> tuple[Fraction, Unit]:
    match = _AMOUNT.fullmatch(text)
    if match is None:
        _refuse_shape(text, dimension)
    unit = unit_named(match[2], dimension)
    if unit is None:
        _refuse_unit(text, match[1], match[2], dimension)
    return _number(match[1], text, dimension), unit


def _number(digits: str, text: str, dimension: Dimension) -> Fraction:
    """Read digits exactly, without ever building an astronomic integer."""
    exponent = digits.lower().partition("e")[2]
    if len(exponent) > _EXPONENT_DIGITS:
        _refuse(text, _out_of_span(dimension), dimension)
    number = Decimal(digits)
    if number and not _LEAST_EXPONENT <= number.adjusted() <= _GREATEST_EXPONENT:
        _refuse(text, _out_of_span(dimension), dimension)
    return Fraction(number)


def _feet_inches(text: str, match: re.Match[str]) -> Fraction:
    """Add up feet, inches and a fraction of an inch; the sign is of the whole."""
    feet, part = match["feet"] or "", _inches(text, match)
    compound = feet and (match["inches"] or match["top"])
    if compound and "." in feet:
        _refuse(text, "feet are whole when inches follow", Dimension.LENGTH)
    if compound and part >= _INCHES_A_FOOT:
        why = "12 inches or more after feet; carry them over to the feet"
        _refuse(text, why, Dimension.LENGTH)
    total = Fraction(feet or 0) * FT.factor + part * IN.factor
    return -total if match["sign"] == "-" else total


def _inches(text: str, match: re.Match[str]) -> Fraction:
    if match["top"] is None:
        return Fraction(match["inches"] or 0)
    top, bottom = int(match["top"]), int(match["bottom"])
    if bottom not in _TAPE:
        why = f"a tape divides the inch by {', '.join(map(str, _TAPE))}"
        _refuse(text, f"{why}, not by {bottom}", Dimension.LENGTH, "8 1/2 in")
    if top >= bottom:
        why = f"{top}/{bottom} is a whole inch or more; is a space missing?"
        _refuse(text, why, Dimension.LENGTH, "8 1/2 in")
    return int(match["whole"] or 0) + Fraction(top, bottom)


# Saying what is wrong --------------------------------------------------------


def _out_of_span(dimension: Dimension) -> str:
    return f"out of bounds, {KINDS[dimension].span} is taken"


def _refuse_shape(text: str, dimension: Dimension) -> NoReturn:
    word = text.lstrip("+-").partition(" ")[0].casefold()
    if word in ("nan", "inf", "infinity", "∞"):
        _refuse(text, "not a measured number", dimension)
    if not text:
        _refuse("±", "a number with its unit stands on each side of ±", dimension)
    if text[0] in "+-" and text[1:2] == " ":
        _refuse(text, "a sign stands directly before its number", dimension)
    _refuse(text, "does not begin with a number in the digits 0 to 9", dimension)


_NUMBER_FOLLOWS = re.compile(r"(?:ft|'|/|_|\.)? ?-?\d", re.ASCII)


def _refuse_unit(text: str, digits: str, name: str, dimension: Dimension) -> NoReturn:
    if not name:
        _refuse(text, _BARE, dimension)
    if _NUMBER_FOLLOWS.match(name):
        _refuse(text, _second_number(name), dimension)
    meant = unit_meant(name, dimension)
    if meant is not None:
        advice = f"{digits} {meant.symbol}"
        why = f'"{name}" is not how a unit is written here; write {advice}'
        _refuse(text, why, dimension, advice)
    other = dimension_named(name)
    if other is not None:
        why = f"{name} measures {other.value}, and {dimension.value} is asked for"
        _refuse(text, why, dimension)
    _refuse(text, f'"{name}" is no unit known here', dimension)


def _second_number(name: str) -> str:
    if name.startswith(("ft", "'")):
        return "feet and inches each carry their mark, and one sign stands in front"
    if "/" in name:
        return "a fraction is read of an inch only"
    return "digits are written without spaces, and one number has one unit"
