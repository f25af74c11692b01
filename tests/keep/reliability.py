"""Whether what was called so likely came true so often, bin by bin."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import exp, lgamma, log

EDGES = (0.0, 0.02, 0.05, 0.2, 0.5, 0.8, 0.9, 1.0)
"""Of the bins; the last takes what is certain too."""
DOUBT = 0.05
"""How often a table that is right is called off, over all its bins together."""

Told = tuple[float, bool]
"""What was said of a cause, and whether it was the one."""


@dataclass(frozen=True, slots=True)
class Bin:
    """Everything that was called about as likely.

    Attributes:
        least, most: its edges.
        count: how many were called so.
        said: how likely, on average.
        true: how many of them were so.
    """

    least: float
    most: float
    count: int
    said: float
    true: int

    @property
    def fewer(self) -> float:
        """How often as few or fewer come true where what is said is right."""
        return sum(self._chance(hits) for hits in range(self.true + 1))

    @property
    def more(self) -> float:
        """How often as many or more come true where what is said is right."""
        return sum(self._chance(hits) for hits in range(self.true, self.count + 1))

    def _chance(self, hits: int) -> float:
        """Of so many, by the binomial law."""
        p, rest = self.said, self.count - hits
        logs = _ways_log(self.count, hits) + hits * log(p) + rest * log(1 - p)
        return exp(logs)

    def __str__(self) -> str:
        """As it stands in a report."""
        seen = self.true / self.count
        span = f"{self.least:.2f}-{self.most:.2f}"
        return f"{span} {self.count:6d} said {self.said:.3f} seen {seen:.3f}"


def _ways_log(count: int, hits: int) -> float:
    return lgamma(count + 1) - lgamma(hits + 1) - lgamma(count - hits + 1)


def bins(told: Iterable[Told]) -> Iterator[Bin]:
    """What was told, by how likely it was called; empty bins are left out."""
    every = list(told)
    for least, most in pairwise(EDGES):
        end = most + (most == EDGES[-1])
        here = [one for one in every if least <= one[0] < end]
        if here:
            said = sum(p for p, _ in here) / len(here)
            yield Bin(least, most, len(here), said, sum(hit for _, hit in here))


def off(told: Iterable[Told]) -> list[Bin]:
    """The bins in which more or fewer came true than chance explains.

    Two-sided binomial tests, the doubt shared out among the bins (Bonferroni).
    """
    every = list(bins(told))
    each = DOUBT / len(every) / 2
    return [one for one in every if min(one.fewer, one.more) < each]


def bent(told: Iterable[Iterable[Told]], power: float) -> list[Told]:
    """What would be told if all odds were raised to a power: bolder above one."""
    made: list[Told] = []
    for one in told:
        raised = [(p**power, hit) for p, hit in one]
        whole = sum(p for p, _ in raised)
        made += [(p / whole, hit) for p, hit in raised]
    return made
