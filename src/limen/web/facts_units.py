"""What a bare number counts as in a form, and what was typed with its unit."""

import re
from collections.abc import Mapping

from limen.quantity import Dimension, Show
from limen.words import reading, unnumbered

_BARE = re.compile(r"[-+\N{MINUS SIGN}]?\d+(?:\.\d+)?(?:\s*±\s*\d+(?:\.\d+)?)?")
_METRIC: Mapping[Dimension, str] = {
    Dimension.LENGTH: "mm",
    Dimension.ANGLE: "°",
    Dimension.TIME: "s",
    Dimension.SPEED: "m/s",
    Dimension.MASS: "kg",
    Dimension.RATIO: "%",
    Dimension.FREQUENCY: "GHz",
    Dimension.VOLTAGE: "V",
    Dimension.CURRENT: "A",
    Dimension.ACCELERATION: "m/s²",
    Dimension.FORCE: "N",
    Dimension.ENERGY: "J",
    Dimension.POWER: "W",
    Dimension.RESISTANCE: "Ω",
    Dimension.AREA: "mm²",
    Dimension.TEMPERATURE: "°C",
    Dimension.CALENDAR: "months",
    Dimension.CALENDAR: "months",
}
_FEET: Mapping[Dimension, str] = {
    Dimension.LENGTH: "in",
    Dimension.SPEED: "ft/s",
    Dimension.MASS: "lb",
    Dimension.ACCELERATION: "ft/s²",
    Dimension.FORCE: "lbf",
    Dimension.TEMPERATURE: "°F",
}


def usual_unit(dimension: Dimension | None, system: Show) -> str:
    """The unit that a field shows and that a bare number in it counts as."""
    if dimension is None:
        return ""
    feet = _FEET.get(dimension, "") if system is Show.FEET else ""
    return feet or _METRIC.get(dimension, "")


def with_unit(text: str, dimension: Dimension, system: Show) -> str:
    """What was typed, as a file takes it: a bare number with the unit of its field.

    Args:
        text: what was typed, in the reader's language; several are parted by ";".
        dimension: what is measured.
        system: the reader's units.
    """
    unit = usual_unit(dimension, system)
    return "; ".join(_one(part, unit) for part in text.split(";"))


def _one(text: str, unit: str) -> str:
    typed = unnumbered(text.strip(), reading())
    if not unit or not _BARE.fullmatch(typed):
        return typed
    value, sign, doubt = typed.partition("±")
    said = f"{value.strip()} {unit}"
    return f"{said} ± {doubt.strip()} {unit}" if sign else said
