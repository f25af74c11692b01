"""A year of weather, hour by hour."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

HOURS = 8760


@dataclass(frozen=True, slots=True, eq=False)
class Year:
    """The weather of a year at one place; hour 0 begins at midnight of 1 January.

    Attributes:
        name: the file that it comes from.
        place: as the file says it.
        digest: SHA-256 of the file; years are told apart by it.
        temperature: (8760,) K.
        humidity: (8760,) relative, 0 to 1.
        pressure: (8760,) Pa.
        wind: (8760,) m/s.
    """

    name: str
    place: str
    digest: str
    temperature: "NDArray[np.float64]"
    humidity: "NDArray[np.float64]"
    pressure: "NDArray[np.float64]"
    wind: "NDArray[np.float64]"

    def __eq__(self, other: object) -> bool:
        """Alike if made of the same file."""
        return isinstance(other, Year) and self.digest == other.digest

    def __hash__(self) -> int:
        """By the file."""
        return hash(self.digest)


Weather = Callable[[], Year | None]
"""Gives the year when somebody first asks for it; None where no file can be used."""


@dataclass(frozen=True, slots=True)
class Known:
    """A year that is at hand already."""

    year: Year

    def __call__(self) -> Year:
        """The year."""
        return self.year
