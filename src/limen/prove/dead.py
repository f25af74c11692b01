"""Spots that see nothing: one of a row, two beside each other, or a few.

A diode has failed, or the lens is scratched or dirty there.  Shares are estimates.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from limen.geometry.turns import Array
from limen.physics.reach import Level, Placed, Unit

Flags = NDArray[np.bool_]

SHARE = 0.10
"""How often a unit has spots that see nothing; estimate."""
RUN = 4
"""How many spots dirt on a lens takes; estimate."""
MANY, FEW = 12, 3
"""Draws with dead spots a mounting, as planned and otherwise."""


@dataclass(frozen=True, slots=True)
class Draws:
    """Ways in which a doorway may be: a mounting, and spots that are dead.

    Attributes:
        weights: (n,) how likely each is; they add up to 1.
        mounting: (n,) number of its mounting.
        dead: by unit, (n, spots) whether each of its spots sees nothing.
    """

    weights: Array
    mounting: NDArray[np.int64]
    dead: tuple[Flags, ...]


def spots_of(unit: Unit) -> int:
    """How many spots a unit has, in the rows that are off too."""
    if isinstance(unit, Level):
        return len(unit.beams)
    return sum(len(row) for row in unit.fan.angles)


def dead_sets(unit: Unit) -> tuple[tuple[int, ...], ...]:
    """Each spot of a row that is on, each two and each few neighbours, by number.

    Args:
        unit: as planned; its spots are counted through all its rows.
    """
    if isinstance(unit, Level):
        return tuple((number,) for number in range(len(unit.beams)))
    return tuple(_of_rows(unit))


def _of_rows(unit: Placed) -> Iterator[tuple[int, ...]]:
    first = 0
    for row, angles in enumerate(unit.fan.angles):
        last = first + len(angles)
        if row in unit.rows_on:
            for long in (1, 2, RUN):
                for start in range(first, last - long + 1):
                    yield tuple(range(start, start + long))
        first = last


def draws(
    weights: Sequence[float],
    plain: int,
    units: Sequence[Unit],
    chance: np.random.Generator,
) -> Draws:
    """Hang dead spots on mountings: none, on one unit, on two.

    Every set is drawn about as often as any other; weights put right what that
    does to their share.

    Args:
        weights: of each mounting; they add up to 1.
        plain: how many of them, the first, are set as planned: they get more draws.
        units: as planned.
        chance: seeded by who asks.
    """
    pile = _Pile([dead_sets(unit) for unit in units], chance)
    able = sum(1 for sets in pile.sets if sets)
    none = (1.0 - SHARE) ** able
    one = able * SHARE * (1.0 - SHARE) ** (able - 1) if able else 0.0
    rows: list[tuple[float, int, dict[int, tuple[int, ...]]]] = []
    for number, weight in enumerate(weights):
        count = MANY if number < plain else FEW
        rows.append((weight * none, number, {}))
        if able:
            rows += [(weight * one / count, number, pile.one()) for _ in range(count)]
        if able > 1:
            rows.append((weight * (1.0 - none - one), number, pile.two()))
    dead = tuple(
        _flags(spots_of(unit), [held.get(n, ()) for _, _, held in rows])
        for n, unit in enumerate(units)
    )
    likely = np.array([weight for weight, _, _ in rows])
    return Draws(likely / likely.sum(), np.array([n for _, n, _ in rows]), dead)


def _flags(spots: int, held: Sequence[tuple[int, ...]]) -> Flags:
    flags = np.zeros((len(held), spots), np.bool_)
    for number, some in enumerate(held):
        flags[number, list(some)] = True
    return flags


class _Pile:
    """Dead sets of all units in shuffled order, begun anew when all were drawn."""

    def __init__(
        self, sets: Sequence[tuple[tuple[int, ...], ...]], chance: np.random.Generator
    ) -> None:
        self.sets, self._chance = sets, chance
        self._left: list[tuple[int, tuple[int, ...]]] = []

    def one(self) -> dict[int, tuple[int, ...]]:
        """The next set, of one unit."""
        unit, some = self._next()
        return {unit: some}

    def two(self) -> dict[int, tuple[int, ...]]:
        """The next set, and one of another unit with it."""
        unit, some = self._next()
        others = [n for n, sets in enumerate(self.sets) if sets and n != unit]
        other = int(self._chance.choice(others))
        sets = self.sets[other]
        return {unit: some, other: sets[int(self._chance.integers(len(sets)))]}

    def _next(self) -> tuple[int, tuple[int, ...]]:
        if not self._left:
            every = [(n, some) for n, sets in enumerate(self.sets) for some in sets]
            order = self._chance.permutation(len(every))
            self._left = [every[int(k)] for k in order]
        return self._left.pop()
