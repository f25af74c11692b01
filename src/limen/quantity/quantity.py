"""A number together with its uncertainty, its grade and where it was found."""

import math
from dataclasses import dataclass, replace

from limen.quantity.grades import Grade


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value in SI units, known to within `u`, with its grade and origin.

    `u` is a bound, not a standard deviation: the true value is taken to lie in
    [`low`, `high`]. Bounds therefore add, and never in quadrature.

    Attributes:
        value: The value in the SI unit of its dimension.
        u: The half-width of the interval, same unit, not negative.
        grade: Where the number comes from.
        origin: Who says so, in words: a clause, a page, a name. Not part of the
            text form.

    Raises:
        ValueError: `value` or `u` is not finite, or `u` is negative.
    """

    value: float
    u: float = 0.0
    grade: Grade = Grade.MEASURED
    origin: str = ""

    def __post_init__(self) -> None:
        """Refuse what no measurement can give."""
        if not math.isfinite(self.value):
            raise ValueError(f"a quantity is finite, not {self.value}")
        if not (math.isfinite(self.u) and self.u >= 0):
            raise ValueError(f"an uncertainty is finite and not negative, not {self.u}")

    @property
    def low(self) -> float:
        """The least the true value may be."""
        return self.value - self.u

    @property
    def high(self) -> float:
        """The most the true value may be."""
        return self.value + self.u

    def known_as(self, old: object) -> "Quantity":
        """The figure with the ± of the one it takes the place of, if it has none.

        Args:
            old: what it takes the place of; anything but a quantity leaves it be.
        """
        if self.u or not isinstance(old, Quantity):
            return self
        return replace(self, u=old.u)
