"""Quantity out, as text: short for people, exact for files."""

import math
from decimal import ROUND_HALF_EVEN, Decimal, localcontext
from enum import StrEnum
from fractions import Fraction

from limen.quantity.grades import Grade
from limen.quantity.parsing import parse
from limen.quantity.quantity import Quantity
from limen.quantity.units import (
    IN,
    KELVIN,
    KINDS,
    MM,
    Dimension,
    M,
    Unit,
    exact_number,
)


class Show(StrEnum):
    """In which units people read: both read the same values."""

    METRIC = "metric"
    FEET = "feet"


_MINUS = "\N{MINUS SIGN}"
_METRES_FROM = 10
_SIXTEENTHS_A_FOOT = 12 * 16
_SMALL = {Show.METRIC: 0.010, Show.FEET: 0.0254 / 16}
_NO_SPACE = ("°",)


def show_length(
    value: float, system: Show = Show.METRIC, digits: int | None = None
) -> str:
    """Write a length the way floor work needs it.

    Args:
        value: The length in metres.
        system: Metric: whole millimetres, from 10 m on metres with two decimals.
            Feet: to the nearest sixteenth of an inch, `6 ft 8 1/2 in`.
        digits: Decimals instead of the usual ones (metric only).

    Raises:
        ValueError: The value is not finite.
    """
    _refuse_not_finite(value)
    if system is Show.FEET:
        return _feet_inches(value)
    if round(abs(value) * 1000) >= _METRES_FROM * 1000:
        return _decimal(value, 2 if digits is None else digits, M)
    return _decimal(value, digits or 0, MM)


def show(
    value: float,
    dimension: Dimension,
    system: Show = Show.METRIC,
    digits: int | None = None,
) -> str:
    """Write a value for people: three significant digits, or `digits` decimals.

    Whole digits are never rounded away: 1234.4 N is `1234 N`.

    Args:
        value: The value in the SI unit of its dimension.
        dimension: What it measures. Lengths are written as in `show_length`.
        system: In which units.
        digits: Decimals instead of the usual ones.

    Raises:
        ValueError: The value is not finite.
    """
    if dimension is Dimension.LENGTH:
        return show_length(value, system, digits)
    _refuse_not_finite(value)
    unit = _unit_for(value, dimension, system)
    if digits is not None:
        return _decimal(value, digits, unit)
    return _decimal(value, _usual_decimals(value, unit), unit, strip=True)


def show_quantity(
    quantity: Quantity, dimension: Dimension, system: Show = Show.METRIC
) -> str:
    """Write a quantity for people with its uncertainty, if it has one."""
    text = show(quantity.value, dimension, system)
    if quantity.u == 0:
        return text
    if dimension is Dimension.SPEED:
        return f"{text} ± {_in_unit_of(quantity.value, quantity.u, dimension, system)}"
    return f"{text} ± {_show_difference(quantity.u, dimension, system)}"


def write(
    quantity: Quantity, dimension: Dimension, default: Grade = Grade.MEASURED
) -> str:
    """Write a quantity as the shortest text that reads back as the same floats.

    Args:
        quantity: What is to be written. Its origin has no place in the text.
        dimension: What it measures.
        default: The grade that a reader will assume; any other is written out.

    Returns:
        Text for which `parse(text, dimension, default)` gives the same value,
        uncertainty and grade.

    Raises:
        QuantityError: The value lies outside the span of its dimension.
    """
    text = _exact_text(quantity.value, dimension)
    if quantity.u:
        text += f" ± {_exact_difference(quantity.u, dimension)}"
    if quantity.grade is not default:
        text += f", {quantity.grade}"
    parse(text, dimension, default)
    return text


def _refuse_not_finite(value: float) -> None:
    if not math.isfinite(value):
        raise ValueError(f"only a finite value can be shown, not {value}")


# For people ------------------------------------------------------------------

_PREFIXED: dict[Dimension, tuple[str, ...]] = {
    Dimension.CURRENT: ("A", "mA", "µA"),
    Dimension.FREQUENCY: ("GHz", "MHz", "kHz", "Hz", "/h"),
    Dimension.RESISTANCE: ("MΩ", "kΩ", "Ω"),
    Dimension.ENERGY: ("MWh", "kWh", "J"),
    Dimension.POWER: ("MW", "kW", "W"),
    Dimension.TIME: ("d", "h", "s"),
    Dimension.SPEED: ("m/s", "mm/s"),
}
_FROM: dict[str, float] = {
    "kWh": 360_000.0,
    "d": 172_800.0,
    "h": 7200.0,
    "Hz": 0.1,
    "m/s": 0.2,
}
"""Units that take over later, or earlier, than at one of them, in SI units."""


def _unit_for(value: float, dimension: Dimension, system: Show) -> Unit:
    """Choose the largest unit in which the number is not tiny."""
    kind = KINDS[dimension]
    in_feet = system is Show.FEET and kind.feet != kind.units[0].symbol
    if in_feet and not (dimension is Dimension.ENERGY and abs(value) >= _FROM["kWh"]):
        return _named(kind.feet, dimension)
    ladder = _PREFIXED.get(dimension)
    if ladder is None:
        return kind.units[0]
    units = [_named(symbol, dimension) for symbol in ladder]
    if value == 0:
        return kind.units[0]
    for unit in units:
        if abs(value) >= _FROM.get(unit.symbol, float(unit.factor)):
            return unit
    return units[-1]


def _named(symbol: str, dimension: Dimension) -> Unit:
    return next(unit for unit in KINDS[dimension].units if unit.symbol == symbol)


def _usual_decimals(value: float, unit: Unit) -> int:
    number = abs(float(exact_number(Fraction(value), unit)))
    if number == 0:
        return 0
    return max(0, 2 - math.floor(math.log10(number)))


def _decimal(value: float, digits: int, unit: Unit, *, strip: bool = False) -> str:
    number = round(exact_number(Fraction(value), unit), digits)
    text = f"{_as_decimal(number):.{digits}f}"
    if strip and "." in text:
        text = text.rstrip("0").rstrip(".")
    sign = _MINUS if number < 0 else ""
    return _joined(sign + text.lstrip("-"), unit)


def _as_decimal(number: Fraction) -> Decimal:
    with localcontext() as context:
        context.prec = 60
        return Decimal(number.numerator) / Decimal(number.denominator)


def _joined(number: str, unit: Unit) -> str:
    space = "" if unit.symbol in _NO_SPACE else " "
    return f"{number}{space}{unit.symbol}"


def _feet_inches(value: float) -> str:
    sixteenths = round(Fraction(value) / Fraction("0.0254") * 16)
    sign = _MINUS if sixteenths < 0 else ""
    feet, rest = divmod(abs(sixteenths), _SIXTEENTHS_A_FOOT)
    inches = _inches(rest)
    if not feet:
        return f"{sign}{inches or '0'} in"
    return f"{sign}{feet} ft {inches} in" if inches else f"{sign}{feet} ft"


def _inches(sixteenths: int) -> str:
    whole, part = divmod(sixteenths, 16)
    fraction = f"{Fraction(part, 16)}" if part else ""
    return " ".join(text for text in (str(whole) if whole else "", fraction) if text)


def _in_unit_of(value: float, u: float, dimension: Dimension, system: Show) -> str:
    """Write an uncertainty in the unit in which its value is written."""
    unit = _unit_for(value, dimension, system)
    return _decimal(u, _usual_decimals(u, unit), unit, strip=True)


def _show_difference(u: float, dimension: Dimension, system: Show) -> str:
    """Write an uncertainty; one below the usual rounding keeps its own digits."""
    if dimension is Dimension.TEMPERATURE:
        return _temperature_difference(u, system)
    small = dimension is Dimension.LENGTH and u < _SMALL[system]
    if small:
        unit = MM if system is Show.METRIC else IN
        return _decimal(u, _usual_decimals(u, unit), unit, strip=True)
    return show(u, dimension, system)


def _temperature_difference(value: float, system: Show) -> str:
    """Write a difference of temperatures, which knows no zero point."""
    factor = Fraction(5, 9) if system is Show.FEET else Fraction(1)
    unit = Unit("°F" if system is Show.FEET else "K", factor)
    return _decimal(value, _usual_decimals(value, unit), unit, strip=True)


# For files -------------------------------------------------------------------

_MOST_DIGITS = 18
_SMALLEST_PLAIN = -9


def _exact_text(value: float, dimension: Dimension) -> str:
    first = KINDS[dimension].units[0]
    text = _shortest(value, first)
    if text is None:
        # Near absolute zero no number of degrees Celsius is exact enough.
        return _exact_kelvin(value)
    return _joined(text, first)


def _exact_difference(u: float, dimension: Dimension) -> str:
    if dimension is Dimension.TEMPERATURE:
        return _exact_kelvin(u)
    return _exact_text(u, dimension)


def _exact_kelvin(value: float) -> str:
    return _joined(_shortest(value, KELVIN) or repr(value), KELVIN)


def _shortest(value: float, unit: Unit) -> str | None:
    """Return the fewest digits before `unit` that give the same float again.

    17 significant digits are always enough for a unit without an offset.
    """
    exact = exact_number(Fraction(value), unit)
    for digits in range(1, _MOST_DIGITS + 1):
        rounded = _rounded(exact, digits)
        if float(Fraction(rounded) * unit.factor + unit.offset) == value:
            return _plain_digits(rounded)
    return None


def _rounded(number: Fraction, digits: int) -> Decimal:
    with localcontext() as context:
        context.prec = digits
        context.rounding = ROUND_HALF_EVEN
        return Decimal(number.numerator) / Decimal(number.denominator)


def _plain_digits(number: Decimal) -> str:
    if number and number.adjusted() < _SMALLEST_PLAIN:
        return f"{number.normalize():e}"
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
