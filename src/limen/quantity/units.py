"""The only table of units.

Factors are exact fractions, so that text becomes the float nearest to the
written value and a written value becomes the same float again.

Source: inch, foot, pound and pound-force as in NIST Special Publication 811
(2008), appendix B.8 and B.9, where they are exact (1 in = 25.4 mm,
1 lb = 0.453 592 37 kg, standard gravity 9.806 65 m/s²). Prefixes and the
degree Celsius: The International System of Units, BIPM, 9th edition (2019).

The spans are ours and no rule: wide enough for anything at a door, narrow
enough to catch a slipped digit, an overflow or a wrong column.
"""

import math
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction


class Dimension(StrEnum):
    """What kind of thing a number measures."""

    LENGTH = "length"
    ANGLE = "angle"
    TIME = "time"
    SPEED = "speed"
    ACCELERATION = "acceleration"
    MASS = "mass"
    FORCE = "force"
    ENERGY = "energy"
    VOLTAGE = "voltage"
    CURRENT = "current"
    FREQUENCY = "frequency"
    RATIO = "ratio"
    RESISTANCE = "resistance"
    TEMPERATURE = "temperature"
    POWER = "power"
    AREA = "area"
    CALENDAR = "calendar time"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: SI value = written number × `factor` + `offset`.

    Attributes:
        symbol: How limen writes it.
        factor: SI units in one of it.
        also: Other spellings that are read.
        meant: Spellings that are refused, with `symbol` as the advice.
        offset: Where its zero lies, in SI units (temperatures only).
    """

    symbol: str
    factor: Fraction
    also: tuple[str, ...] = ()
    meant: tuple[str, ...] = ()
    offset: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Kind:
    """What is known of a dimension: its units, its span and an example.

    Attributes:
        units: The units that are read; the first one is written.
        feet: The unit in which people who work in feet see it.
        low: The least value taken seriously, in SI units.
        high: The greatest value taken seriously, in SI units.
        span: The same span in words.
        example: A text that is accepted.
    """

    units: tuple[Unit, ...]
    feet: str
    low: Fraction
    high: Fraction
    span: str
    example: str


_INCH = Fraction("0.0254")
_FOOT = 12 * _INCH
_POUND = Fraction("0.45359237")
_POUND_FORCE = _POUND * Fraction("9.80665")
_DEGREE = Fraction(math.pi) / 180
_MILE = 5280 * _FOOT

MM = Unit("mm", Fraction(1, 1000), meant=("millimetres", "millimeters", "mms"))
M = Unit("m", Fraction(1), meant=("metre", "meter", "metres", "meters"))
IN = Unit("in", _INCH, ('"',), ("inch", "inches", "ins"))
FT = Unit("ft", _FOOT, ("'",), ("foot", "feet"))
KELVIN = Unit("K", Fraction(1), meant=("°K", "kelvin"))
CELSIUS = Unit("°C", Fraction(1), ("degC",), ("C", "celsius"), Fraction("273.15"))
FAHRENHEIT = Unit(
    "°F",
    Fraction(5, 9),
    ("degF",),
    ("F", "fahrenheit"),
    Fraction("459.67") * Fraction(5, 9),
)

_LENGTHS = (MM, M, Unit("cm", Fraction(1, 100)), Unit("km", Fraction(1000)), IN, FT)
_ANGLES = (
    Unit("°", _DEGREE, ("deg",), ("degree", "degrees", "º")),
    Unit("rad", Fraction(1), meant=("radian", "radians")),
    Unit("mrad", Fraction(1, 1000)),
)
_TIMES = (
    Unit("s", Fraction(1), meant=("sec", "secs", "second", "seconds")),
    Unit("ms", Fraction(1, 1000), meant=("msec",)),
    Unit("min", Fraction(60), meant=("mins", "minute", "minutes")),
    Unit("h", Fraction(3600), meant=("hr", "hrs", "hour", "hours")),
    Unit("d", Fraction(86400), meant=("day", "days")),
)
_SPEEDS = (
    Unit("m/s", Fraction(1), meant=("mps",)),
    Unit("mm/s", Fraction(1, 1000)),
    Unit("cm/s", Fraction(1, 100)),
    Unit("km/h", Fraction(1000, 3600), meant=("kmh", "kph")),
    Unit("in/s", _INCH),
    Unit("ft/s", _FOOT, meant=("fps",)),
    Unit("mph", _MILE / 3600, ("mi/h",)),
)
_ACCELERATIONS = (
    Unit("m/s²", Fraction(1), ("m/s2", "m/s^2")),
    Unit("mm/s²", Fraction(1, 1000), ("mm/s2", "mm/s^2")),
    Unit("ft/s²", _FOOT, ("ft/s2", "ft/s^2")),
)
_MASSES = (
    Unit("kg", Fraction(1), meant=("kgs", "kilo", "kilos")),
    Unit("g", Fraction(1, 1000), meant=("gr", "gram", "grams")),
    Unit("t", Fraction(1000), meant=("ton", "tons", "tonnes")),
    Unit("lb", _POUND, meant=("lbs", "pound", "pounds")),
)
_FORCES = (
    Unit("N", Fraction(1), meant=("newton", "newtons")),
    Unit("kN", Fraction(1000)),
    Unit("lbf", _POUND_FORCE, meant=("lb", "lbs")),
)
_ENERGIES = (
    Unit("J", Fraction(1), meant=("joule", "joules", "Nm")),
    Unit("mJ", Fraction(1, 1000)),
    Unit("kJ", Fraction(1000)),
    Unit("MJ", Fraction(10**6)),
    Unit("Wh", Fraction(3600)),
    Unit("kWh", Fraction(3_600_000)),
    Unit("MWh", Fraction(3_600_000_000)),
    Unit(
        "ft·lbf",
        _FOOT * _POUND_FORCE,
        ("lbf·ft", "lbf-ft", "ft-lbf", "lbf ft", "ft lbf"),
        ("ft-lb", "ft-lbs", "ft·lb", "lb-ft", "ft lb"),
    ),
)
_VOLTAGES = (
    Unit("V", Fraction(1), meant=("volt", "volts", "VDC", "VAC", "V DC", "V AC")),
    Unit("mV", Fraction(1, 1000)),
    Unit("kV", Fraction(1000)),
)
_CURRENTS = (
    Unit("A", Fraction(1), meant=("amp", "amps", "ampere")),
    Unit("mA", Fraction(1, 1000)),
    Unit("µA", Fraction(1, 10**6), ("uA",)),
)
_FREQUENCIES = (
    Unit("Hz", Fraction(1), ("1/s", "/s", "per second"), ("hertz",)),
    Unit("kHz", Fraction(1000)),
    Unit("MHz", Fraction(10**6)),
    Unit("GHz", Fraction(10**9)),
    Unit("/min", Fraction(1, 60), ("1/min", "per minute"), ("rpm",)),
    Unit("/h", Fraction(1, 3600), ("1/h", "per hour"), ("ph",)),
    Unit("/d", Fraction(1, 86400), ("1/d", "per day", "/day")),
)
_RATIOS = (
    Unit("%", Fraction(1, 100), meant=("percent", "pct")),
    Unit("‰", Fraction(1, 1000)),
)
_RESISTANCES = (
    Unit("Ω", Fraction(1), ("ohm",), ("ohms", "R")),
    Unit("mΩ", Fraction(1, 1000), ("mohm",)),
    Unit("kΩ", Fraction(1000), ("kohm",), ("k",)),
    Unit("MΩ", Fraction(10**6), ("Mohm",)),
)
_AREAS = (
    Unit("mm²", Fraction(1, 10**6), ("mm2", "mm^2"), ("sq mm", "sqmm")),
    Unit("cm²", Fraction(1, 10**4), ("cm2", "cm^2"), ("sq cm",)),
    Unit("m²", Fraction(1), ("m2", "m^2"), ("sq m", "sqm")),
    Unit("in²", _INCH**2, ("in2", "in^2"), ("sq in",)),
    Unit("ft²", _FOOT**2, ("ft2", "ft^2"), ("sq ft", "sqft")),
)
_CALENDAR = (
    Unit("months", Fraction(1), ("month",)),
    Unit("years", Fraction(12), ("year",)),
)
_POWERS = (
    Unit("W", Fraction(1), meant=("watt", "watts", "VA")),
    Unit("mW", Fraction(1, 1000)),
    Unit("kW", Fraction(1000)),
    Unit("MW", Fraction(10**6)),
)


def _both_ways(
    units: tuple[Unit, ...], feet: str, most: Fraction, written: str, example: str
) -> Kind:
    span = f"between -{written} and {written}"
    return Kind(units, feet, -most, most, span, example)


_FULL_TURN = 360 * _DEGREE

KINDS: dict[Dimension, Kind] = {
    Dimension.LENGTH: _both_ways(_LENGTHS, "ft", Fraction(10**4), "10 km", "1800 mm"),
    Dimension.ANGLE: _both_ways(_ANGLES, "°", _FULL_TURN, "360°", "12.5°"),
    Dimension.TIME: _both_ways(
        _TIMES, "s", Fraction(36525 * 86400), "100 years", "1.5 s"
    ),
    Dimension.SPEED: _both_ways(_SPEEDS, "ft/s", Fraction(100), "100 m/s", "0.5 m/s"),
    Dimension.ACCELERATION: _both_ways(
        _ACCELERATIONS, "ft/s²", Fraction(1000), "1000 m/s²", "0.7 m/s²"
    ),
    Dimension.MASS: _both_ways(_MASSES, "lb", Fraction(10**5), "100 t", "80 kg"),
    Dimension.FORCE: _both_ways(_FORCES, "lbf", Fraction(10**6), "1000 kN", "150 N"),
    Dimension.ENERGY: _both_ways(
        _ENERGIES, "ft·lbf", Fraction(36 * 10**12), "10000 MWh", "1.69 J"
    ),
    Dimension.VOLTAGE: _both_ways(_VOLTAGES, "V", Fraction(10**5), "100 kV", "24 V"),
    Dimension.CURRENT: _both_ways(_CURRENTS, "A", Fraction(10**4), "10000 A", "250 mA"),
    Dimension.FREQUENCY: _both_ways(
        _FREQUENCIES, "Hz", Fraction(10**12), "1000 GHz", "24.125 GHz"
    ),
    Dimension.RATIO: _both_ways(_RATIOS, "%", Fraction(100), "10000 %", "10 %"),
    Dimension.RESISTANCE: _both_ways(
        _RESISTANCES, "Ω", Fraction(10**12), "1000000 MΩ", "8.2 kΩ"
    ),
    Dimension.TEMPERATURE: Kind(
        (CELSIUS, KELVIN, FAHRENHEIT),
        "°F",
        Fraction(0),
        Fraction(1000),
        "between 0 K and 1000 K",
        "20 °C",
    ),
    Dimension.POWER: _both_ways(_POWERS, "W", Fraction(10**9), "1000 MW", "18 W"),
    Dimension.AREA: _both_ways(_AREAS, "ft²", Fraction(10**6), "1 km²", "0.5 mm²"),
    Dimension.CALENDAR: _both_ways(
        _CALENDAR, "months", Fraction(1200), "100 years", "12 months"
    ),
}

_SAME = str.maketrans(
    {
        "\N{GREEK SMALL LETTER MU}": "\N{MICRO SIGN}",
        "\N{OHM SIGN}": "\N{GREEK CAPITAL LETTER OMEGA}",
        "\N{DOT OPERATOR}": "\N{MIDDLE DOT}",
        "*": "\N{MIDDLE DOT}",
    }
)


def _spellings(kind: Kind) -> dict[str, Unit]:
    return {name: unit for unit in kind.units for name in (unit.symbol, *unit.also)}


_SPELLED = {dimension: _spellings(kind) for dimension, kind in KINDS.items()}


def unit_named(name: str, dimension: Dimension) -> Unit | None:
    """Return the unit of `dimension` that is written `name`, if there is one."""
    return _SPELLED[dimension].get(" ".join(name.translate(_SAME).split()))


def dimension_named(name: str) -> Dimension | None:
    """Return the first dimension that has a unit written `name`."""
    return next((kind for kind in Dimension if unit_named(name, kind)), None)


def unit_meant(name: str, dimension: Dimension) -> Unit | None:
    """Return the unit that a refused spelling most likely stands for."""
    plain = " ".join(name.split()).casefold()
    for unit in KINDS[dimension].units:
        meant = (unit.symbol, *unit.also, *unit.meant)
        if plain in {spelling.casefold() for spelling in meant}:
            return unit
    return None


def units_in_words(dimension: Dimension) -> str:
    """List the units of a dimension as people write them: "mm, m, cm, km, in, ft"."""
    return ", ".join(unit.symbol for unit in KINDS[dimension].units)


def exact_si(number: Fraction, unit: Unit) -> Fraction:
    """Convert a written number to SI units, exactly."""
    return number * unit.factor + unit.offset


def exact_number(value: Fraction, unit: Unit) -> Fraction:
    """Convert an SI value to the number written before `unit`, exactly."""
    return (value - unit.offset) / unit.factor
