"""Spots that see nothing: one of a row, two beside each other, or a smear on the glass.

A diode has failed, the lens is scratched, or something sticks to the front, which all
rows look through.  How often that is so nobody has counted: the shares are estimates.
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
SMEAR = 4
"""How many spots of each row a smear takes; estimate."""
KINDS = (0.15, 0.15, 0.7)
"""How often it is one spot, two, a smear; estimates."""
MANY, FEW = 10, 3
"""Draws with dead spots a mounting, as planned and otherwise."""


@dataclass(frozen=True, slots=True)
class Dead:
    """Spots of one unit that may see nothing together.

    Attributes:
        spots: their numbers, counted through all rows.
        weight: how likely they are, of all that may be; these add up to 1.
    """

    spots: tuple[int, ...]
    weight: float


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


def dead_sets(unit: Unit) -> tuple[Dead, ...]:
    """What may be dead of a unit: one spot, two neighbours, a smear over all rows.

    Args:
        unit: as planned; a light barrier has beams one by one.
    """
    if isinstance(unit, Level):
        each = [(number,) for number in range(len(unit.beams))]
        return tuple(Dead(one, 1.0 / len(each)) for one in each)
    kinds = [*(list(_beside(unit, long)) for long in (1, 2)), list(_smears(unit))]
    total = sum(share for share, some in zip(KINDS, kinds, strict=True) if some)
    return tuple(
        Dead(one, share / total / len(some))
        for share, some in zip(KINDS, kinds, strict=True)
        for one in some
    )


def _rows(unit: Placed) -> Iterator[range]:
    """The numbers of the spots of each row that is on."""
    first = 0
    for row, angles in enumerate(unit.fan.angles):
        if row in unit.rows_on:
            yield range(first, first + len(angles))
        first += len(angles)


def _beside(unit: Placed, long: int) -> Iterator[tuple[int, ...]]:
    for row in _rows(unit):
        for start in range(len(row) - long + 1):
            yield tuple(row[start : start + long])


def _smears(unit: Placed) -> Iterator[tuple[int, ...]]:
    rows = tuple(_rows(unit))
    widest = max((len(row) for row in rows), default=0)
    for start in range(widest - SMEAR + 1):
        yield tuple(spot for row in rows for spot in row[start : start + SMEAR])


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
    one = SHARE * (1.0 - SHARE) ** (able - 1) if able else 0.0
    two = 1.0 - none - able * one
    rows: list[_Drawn] = []
    for number, weight in enumerate(weights):
        rows.append(_Drawn(weight * none, number, {}))
        count = (MANY if number < plain else FEW) if able else 0
        for likely, dead in (pile.one() for _ in range(count)):
            rows.append(_Drawn(weight * one * likely / count, number, dead))
        if able > 1:
            likely, dead = pile.two()
            rows.append(_Drawn(weight * two * likely, number, dead))
    return _together(rows, units)


@dataclass(frozen=True, slots=True)
class _Drawn:
    """One way: how likely, its mounting, and what is dead of which unit."""

    weight: float
    mounting: int
    dead: dict[int, tuple[int, ...]]


def _together(rows: Sequence[_Drawn], units: Sequence[Unit]) -> Draws:
    likely = np.array([row.weight for row in rows])
    dead = tuple(
        _flags(spots_of(unit), [row.dead.get(n, ()) for row in rows])
        for n, unit in enumerate(units)
    )
    number = np.array([row.mounting for row in rows])
    return Draws(likely / likely.sum(), number, dead)


def _flags(spots: int, held: Sequence[tuple[int, ...]]) -> Flags:
    flags = np.zeros((len(held), spots), np.bool_)
    for number, some in enumerate(held):
        flags[number, list(some)] = True
    return flags


class _Pile:
    """Dead sets of each unit in shuffled order, begun anew when all were drawn."""

    def __init__(
        self, sets: Sequence[tuple[Dead, ...]], chance: np.random.Generator
    ) -> None:
        self.sets, self._chance = sets, chance
        self._able = [unit for unit, some in enumerate(sets) if some]
        self._turn = 0
        self._left: list[list[Dead]] = [[] for _ in sets]

    def one(self) -> tuple[float, dict[int, tuple[int, ...]]]:
        """A set of the next unit; by how much it is likelier than it is drawn."""
        unit = self._next_unit()
        likely, spots = self._next(unit)
        return likely * len(self._able), {unit: spots}

    def two(self) -> tuple[float, dict[int, tuple[int, ...]]]:
        """The same, and a set of another unit with it."""
        unit = self._next_unit()
        other = int(self._chance.choice([n for n in self._able if n != unit]))
        (likely, spots), (too, others) = self._next(unit), self._next(other)
        return likely * too, {unit: spots, other: others}

    def _next_unit(self) -> int:
        self._turn += 1
        return self._able[self._turn % len(self._able)]

    def _next(self, unit: int) -> tuple[float, tuple[int, ...]]:
        some, left = self.sets[unit], self._left[unit]
        if not left:
            left += [some[int(k)] for k in self._chance.permutation(len(some))]
        dead = left.pop()
        return dead.weight * len(some), dead.spots
