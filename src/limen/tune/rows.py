"""The rows of all units together: most room first, then least change; exactly.

Every combination is a candidate.  Light on the door bounds its room from above, and a
pose missed in one proof rules out all that miss it, so that few are proved at all.
What is ruled out is ruled out rigorously: nothing is sampled.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from limen.tune.measuring import Standing
from limen.tune.rows_proved import STEP, TOP, Miss, Picked, Proofs

MOST = 400_000
"""Combinations that are looked at one by one; beyond, the search is not exact."""
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Own:
    """What an option of one unit comes to by itself.

    Attributes:
        standing: of the questions that ask each unit alone.
        level: room of its light, in steps; `TOP` if it bounds nothing.
        allowed: whether the scale surely reaches it, however the unit is mounted.
        changes: settings changed.
        travel: steps moved.
    """

    standing: Standing
    level: int
    allowed: bool
    changes: int
    travel: float


@dataclass(frozen=True, slots=True)
class Best:
    """The rows that were found.

    Attributes:
        picked: option of each unit; None if none holds.
        level: its room, in steps.
        gap: by how much better ones may have been missed (m).
    """

    picked: Picked | None
    level: int
    gap: float


@dataclass(frozen=True, slots=True)
class Candidates:
    """Combinations of options, one a row.

    Attributes:
        index: (n, units) numbers of options.
        group: (n,) how they stand by themselves, 0 the best.
        bound: (n,) room that the light leaves, in steps.
        changes: (n,) settings changed.
        travel: (n,) steps moved.
        whole: whether none was left out.
    """

    index: Ints
    group: Ints
    bound: Ints
    changes: Ints
    travel: NDArray[np.float64]
    whole: bool

    def only(self, kept: Bools) -> "Candidates":
        """Some of them."""
        return Candidates(
            self.index[kept],
            self.group[kept],
            self.bound[kept],
            self.changes[kept],
            self.travel[kept],
            self.whole,
        )


def candidates(own: Sequence[Sequence[Own]]) -> Candidates:
    """All combinations of options that are allowed.

    Args:
        own: of each unit, what each of its options comes to.
    """
    kept, whole = _few_enough(own)
    grids = np.meshgrid(*kept, indexing="ij")
    index = np.stack([grid.ravel() for grid in grids], axis=1).astype(np.int64)
    standings = _ranked(own, index)
    return Candidates(
        index,
        standings,
        _each(own, index, lambda one: one.level).min(axis=1),
        _each(own, index, lambda one: one.changes).sum(axis=1),
        _floats(own, index).sum(axis=1),
        whole,
    )


def _few_enough(own: Sequence[Sequence[Own]]) -> tuple[list[Ints], bool]:
    """Options of each unit, thinned where their product is beyond all bounds."""
    kept = [
        np.array([n for n, one in enumerate(each) if one.allowed], dtype=np.int64)
        for each in own
    ]
    whole, most = True, float(MOST)
    while float(np.prod([float(len(each)) for each in kept])) > most:
        whole, longest = False, int(np.argmax([len(each) for each in kept]))
        kept[longest] = np.unique(np.append(kept[longest][::2], kept[longest][0]))
    return kept, whole


def _each(
    own: Sequence[Sequence[Own]], index: Ints, figure: Callable[[Own], int]
) -> Ints:
    columns = [
        np.array([figure(one) for one in each], dtype=np.int64)[index[:, unit]]
        for unit, each in enumerate(own)
    ]
    return np.stack(columns, axis=1)


def _floats(own: Sequence[Sequence[Own]], index: Ints) -> NDArray[np.float64]:
    columns = [
        np.array([one.travel for one in each])[index[:, unit]]
        for unit, each in enumerate(own)
    ]
    return np.stack(columns, axis=1)


def _ranked(own: Sequence[Sequence[Own]], index: Ints) -> Ints:
    """How the units stand by themselves, together: rank of the sum, 0 the best."""
    figures: tuple[Callable[[Own], int], ...] = (
        lambda one: one.standing.must_fails,
        lambda one: one.standing.must_open,
        lambda one: one.standing.fails,
        lambda one: one.standing.open,
    )
    parts = [_each(own, index, figure).sum(axis=1) for figure in figures]
    table = np.stack(parts, axis=1)
    _, ranks = np.unique(table, axis=0, return_inverse=True)
    return np.asarray(ranks, dtype=np.int64).reshape(-1)


# Search --------------------------------------------------------------------------


def best_rows(
    proofs: Proofs, found: Candidates, wanted: Callable[[], None] = lambda: None
) -> Best:
    """The combination with the most room, then the least change.

    Args:
        proofs: what proves.
        found: the candidates.
        wanted: called before each proof; whatever it raises ends the search.
    """
    for group in range(int(found.group.max(initial=-1)) + 1):
        some = found.only(found.group == group)
        best = Search(proofs, some, wanted).best()
        if best.picked is not None:
            return best
    return Best(None, -1, 0.0)


def some_hold(
    proofs: Proofs, found: Candidates, wanted: Callable[[], None] = lambda: None
) -> bool:
    """Whether any combination holds at all."""
    bound = np.zeros_like(found.bound)
    one = replace(found, bound=bound, group=np.zeros_like(found.group))
    return Search(proofs, one, wanted).any()


class Search:
    """One search among candidates that stand alike by themselves."""

    def __init__(
        self, proofs: Proofs, found: Candidates, wanted: Callable[[], None]
    ) -> None:
        """Search these candidates.

        Args:
            proofs: what proves.
            found: the candidates.
            wanted: called before each proof.
        """
        self._proofs, self._found, self._wanted = proofs, found, wanted
        self._pool: list[Miss] = []

    def any(self) -> bool:
        """Whether any of them holds."""
        return self._most_room()[0] is not None

    def best(self) -> Best:
        """The most room, then the least change."""
        first, level = self._most_room()
        if first is None:
            return Best(None, -1, 0.0)
        picked = self._least_change(first, level)
        missed = 0 if self._found.whole else int(self._found.bound.max()) - level
        return Best(self._picked(picked), level, max(missed, 0) * STEP)

    def _most_room(self) -> tuple[int | None, int]:
        found = self._found
        order = np.lexsort((found.travel, found.changes, -found.bound))
        alive = np.ones(len(order), dtype=np.bool_)
        best, level = None, -1
        for number in order.tolist():
            if not alive[number] or found.bound[number] <= level:
                continue
            miss = self._miss(number, level + 1)
            if miss is None:
                best, level = number, self._climb(number, level + 1)
            else:
                alive[number] = False
                self._rule_out(alive, miss, level + 1)
        return best, level

    def _climb(self, number: int, level: int) -> int:
        """The most room with which it holds, which it does with ``level``."""
        most = min(int(self._found.bound[number]), TOP)
        while level < most:
            middle = (level + most + 1) // 2
            if self._miss(number, middle) is None:
                level = middle
            else:
                most = middle - 1
        return level

    def _least_change(self, first: int, level: int) -> int:
        """Of all with that room the one that changes least."""
        found = self._found
        cost = np.lexsort((found.travel, found.changes))
        place = np.empty(len(cost), dtype=np.int64)
        place[cost] = np.arange(len(cost))
        alive = (found.bound >= level) & (place < place[first])
        for miss in self._pool:
            self._rule_out(alive, miss, level)
        for number in cost[: int(place[first])].tolist():
            if not alive[number]:
                continue
            miss = self._miss(number, level)
            if miss is None:
                return number
            alive[number] = False
            self._rule_out(alive, miss, level)
        return first

    def survivors(self, level: int, most: int) -> Iterator[Picked]:
        """Candidates that hold with so much room, the least changed first.

        Args:
            level: room asked for, in steps.
            most: how many are looked at.
        """
        found = self._found
        alive = found.bound >= level
        for miss in self._pool:
            self._rule_out(alive, miss, level)
        for number in np.lexsort((found.travel, found.changes)).tolist():
            if not alive[number] or most <= 0:
                continue
            miss = self._miss(number, level)
            if miss is None:
                most -= 1
                yield self._picked(number)
            else:
                self._rule_out(alive, miss, level)

    def _picked(self, number: int) -> Picked:
        return tuple(self._found.index[number].tolist())

    def _miss(self, number: int, level: int) -> Miss | None:
        self._wanted()
        miss = self._proofs.miss(self._picked(number), level)
        if miss is not None and miss.pose is not None:
            self._pool.append(miss)
        return miss

    def _rule_out(self, alive: Bools, miss: Miss, level: int) -> None:
        """Take out every candidate of which no unit reaches the body there."""
        if miss.pose is None or self._proofs.reached_anyway(miss, level):
            return
        left = np.flatnonzero(alive)
        missed = np.ones(len(left), dtype=np.bool_)
        for unit in range(self._found.index.shape[1]):
            misses = self._proofs.misses(unit, miss, level)
            missed &= misses[self._found.index[left, unit]]
        alive[left[missed]] = False
