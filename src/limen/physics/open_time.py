"""For how much of the time a door stands open, from how often somebody comes.

People arrive independently of one another, and each keeps the door open for a while;
it is open while at least one of these whiles runs.  That is the busy time of a
queue with as many servers as anybody needs, M/G/∞: only the mean while matters.
"""

from dataclasses import dataclass

import numpy as np

from limen.geometry.turns import Array


@dataclass(frozen=True, slots=True)
class Cycle:
    """What one opening takes (s).

    Attributes:
        opening: from the first movement to open.
        closing: from the first movement to closed.
        hold: open after nobody is found any more.
        found: while one person is found before the door closes: the walk through
            the field and the doorway.
    """

    opening: float
    closing: float
    hold: float
    found: float

    @property
    def while_open(self) -> float:
        """How long one person keeps the door open, as if fully (s).

        While leaves move half of the doorway is open on average.
        """
        return self.found + self.hold + (self.opening + self.closing) / 2


def open_fraction(rate: Array, while_open: Array | float) -> Array:
    """Share of the time for which the door is open: f = 1 - exp(-λ τ).

    Args:
        rate: λ, people (n,) who open it (1/s).
        while_open: τ, how long one of them keeps it open (s).

    Returns:
        (n,) shares, 0 to 1.

    Source:
        Busy fraction of M/G/∞.  Left out: people who come in company, and doors
        that are held open; both make it open for less, or for more.
    """
    return -np.expm1(-np.asarray(rate, dtype=np.float64) * while_open)


def cycles(rate: Array, while_open: Array | float) -> Array:
    """Openings: arrivals that find the door closed, λ exp(-λ τ) (1/s)."""
    given = np.asarray(rate, dtype=np.float64)
    return given * np.exp(-given * while_open)


def open_period(rate: Array, while_open: float) -> Array:
    """Mean time from opening to closed again, (exp(λ τ) - 1)/λ (s); τ for λ = 0."""
    given = np.asarray(rate, dtype=np.float64)
    some = given > 0.0
    safe = np.where(some, given, 1.0)
    return np.where(some, np.expm1(safe * while_open) / safe, while_open)
