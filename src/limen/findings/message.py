"""Text for people as a key and its values; the catalogue holds the sentence."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from limen.quantity import Dimension


@dataclass(frozen=True, slots=True)
class Measure:
    """A number to be said: SI value and dimension; the reader's units come later."""

    value: float
    dimension: Dimension


@dataclass(frozen=True, slots=True)
class Message:
    """A sentence of the catalogue with what fills its gaps.

    Attributes:
        key: the sentence's key in the catalogue.
        values: what fills its gaps, by name.
    """

    key: str
    values: Mapping[str, "str | int | Measure | Message"] = field(
        default_factory=dict[str, "str | int | Measure | Message"]
    )


def length(metres: float) -> Measure:
    """A length to be said (m)."""
    return Measure(metres, Dimension.LENGTH)


def turn(radians: float) -> Measure:
    """An angle to be said (rad)."""
    return Measure(radians, Dimension.ANGLE)
