"""Sharing channels out among units of which some may reach each other.

A weighted graph: a vertex is a unit with the channels it can be set to, an edge a
pair that may reach each other, its weight what it costs if both share a channel.
The least cost comes first, then, in the order asked for, the fewest units to set
anew and the fewest channels used.  Nothing here knows doors.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import combinations
from typing import Literal

Channels = tuple[int | None, ...]
First = Literal["changes", "channels"]
Key = tuple[int, int, int, int]
SMALL = 12
"""Units that the plain search is asked for at length."""
MOST_NODES, MOST_OF_MANY = 20_000, 400
"""Steps of the search before it is cut off: of so few units, of more."""


@dataclass(frozen=True)
class Units:
    """Units and what it costs if two of them share a channel.

    Attributes:
        choices: the channels that each can take, rising; empty where it has none.
        now: what is set; None if nobody said.
        harm: cost of sharing by pair (i < j); where one of both has no channel to
            take, the cost arises whatever the other takes.
        first: what counts first among the ways of least harm.
    """

    choices: tuple[tuple[int, ...], ...]
    now: Channels
    harm: Mapping[tuple[int, int], int]
    first: First = "changes"

    def __len__(self) -> int:
        return len(self.choices)

    @cached_property
    def beside(self) -> tuple[Mapping[int, int], ...]:
        """For each unit those that it may reach, and the cost of each."""
        found: list[dict[int, int]] = [{} for _ in self.choices]
        for (one, two), cost in self.harm.items():
            found[one][two] = cost
            found[two][one] = cost
        return tuple(found)

    @cached_property
    def alike(self) -> Mapping[int, tuple[frozenset[int], frozenset[int]]]:
        """What tells a channel from others: who can take it, who has it now."""
        every = {channel for some in self.choices for channel in some}
        return {
            channel: (
                frozenset(n for n, some in enumerate(self.choices) if channel in some),
                frozenset(n for n, now in enumerate(self.now) if now == channel),
            )
            for channel in every
        }


@dataclass(frozen=True, slots=True)
class Allotment:
    """A channel for each unit.

    Attributes:
        channels: by unit; None where it has none to take.
        harm: the cost of all pairs that share one.
        exact: whether no way is better; else the search was cut off.
        least_harm: no way costs less than this.
    """

    channels: Channels
    harm: int
    exact: bool
    least_harm: int

    def used(self) -> int:
        """How many channels are used."""
        return len({one for one in self.channels if one is not None})


def cost(units: Units, channels: Sequence[int | None]) -> Key:
    """What a way of sharing out costs, in the order in which it counts.

    Args:
        units: the units.
        channels: one for each; None where it has none.

    Returns:
        The harm; then units set anew and channels used, or the other way round; then
        how late in the list the units stand that are set anew.
    """
    harm = sum(
        weight
        for (one, two), weight in units.harm.items()
        if _share(channels[one], channels[two])
    )
    pairs = enumerate(zip(channels, units.now, strict=True), start=1)
    anew = [n for n, (one, now) in pairs if one is not None and one != now]
    used = len({one for one in channels if one is not None})
    return _key(units, (harm, len(anew), sum(anew)), used)


def _key(units: Units, spent: tuple[int, int, int], used: int) -> Key:
    """The cost of what is set so far: harm, units set anew and their places."""
    harm, changed, late = spent
    if units.first == "changes":
        return harm, changed, used, late
    return harm, used, changed, late


def _share(one: int | None, two: int | None) -> bool:
    return one is None or two is None or one == two


def clique(units: Units) -> tuple[int, ...]:
    """Units that may all reach each other: as many channels are needed.

    Grown from every unit in turn, always by the one that leaves most to grow by; a
    lower bound, not surely the largest.
    """
    best: tuple[int, ...] = ()
    linked = [frozenset(near) for near in units.beside]
    for start in range(len(units)):
        grown, left = [start], linked[start]
        while left:
            nxt = max(left, key=lambda n: (len(linked[n] & left), -n))
            grown.append(nxt)
            left = left & linked[nxt]
        if len(grown) > len(best):
            best = tuple(sorted(grown))
    return best


def cliques(units: Units) -> tuple[tuple[int, ...], ...]:
    """Groups of units that all may reach each other; together they hold every pair."""
    linked = [frozenset(near) for near in units.beside]
    covered: set[tuple[int, int]] = set()
    found: list[tuple[int, ...]] = []
    for one, two in sorted(units.harm):
        if (one, two) in covered:
            continue
        grown, left = [one, two], linked[one] & linked[two]
        while left:
            nxt = min(left, key=lambda n: (_known(covered, grown, n), n))
            grown.append(nxt)
            left = left & linked[nxt]
        members = tuple(sorted(grown))
        covered |= set(combinations(members, 2))
        found.append(members)
    return tuple(found)


def _known(covered: set[tuple[int, int]], grown: Sequence[int], unit: int) -> int:
    """How many of a unit's pairs with a group are held by another group already."""
    return sum((min(n, unit), max(n, unit)) in covered for n in grown)


def parts(units: Units) -> tuple[tuple[int, ...], ...]:
    """Groups of units that cannot reach one of another group, each rising."""
    seen: set[int] = set()
    found: list[tuple[int, ...]] = []
    for start in range(len(units)):
        if start in seen:
            continue
        group, todo = {start}, [start]
        while todo:
            fresh = set(units.beside[todo.pop()]) - group
            group |= fresh
            todo += sorted(fresh)
        seen |= group
        found.append(tuple(sorted(group)))
    return tuple(found)


def part_of(units: Units, members: Sequence[int]) -> Units:
    """The units of one group by themselves, numbered from 0."""
    place = {one: number for number, one in enumerate(members)}
    harm = {
        (place[one], place[two]): weight
        for (one, two), weight in units.harm.items()
        if one in place and two in place
    }
    return Units(
        tuple(units.choices[n] for n in members),
        tuple(units.now[n] for n in members),
        harm,
        units.first,
    )


def greedy(units: Units) -> Channels:
    """A quick way: the unit with the fewest ways left first, its least harm.

    Source:
        D. Brélaz, "New methods to color the vertices of a graph", Communications of
        the ACM 22 (1979), 251-256: the order by saturation.  From memory.
    """
    channels: list[int | None] = [None] * len(units)
    left = {n for n in range(len(units)) if units.choices[n]}
    while left:
        unit = _next(units, channels, left)
        left.discard(unit)
        used = {one for one in channels if one is not None}
        channels[unit] = min(
            units.choices[unit],
            key=lambda c: (
                _harm_of(units, channels, unit, c, left),
                c not in used if units.first == "channels" else c != units.now[unit],
                c not in used,
                c,
            ),
        )
    return tuple(channels)


def _next(units: Units, channels: Sequence[int | None], left: Iterable[int]) -> int:
    """The unit whose neighbours use the most channels; then the most neighbours."""

    def order(unit: int) -> tuple[int, int, int]:
        near = units.beside[unit]
        used = {channels[n] for n in near if channels[n] is not None}
        return len(used), sum(near.values()), -unit

    return max(left, key=order)


def _harm_of(
    units: Units,
    channels: Sequence[int | None],
    unit: int,
    channel: int,
    left: Iterable[int],
) -> int:
    """What it costs a unit to take a channel, as far as others have theirs."""
    waiting = set(left)
    return sum(
        weight
        for near, weight in units.beside[unit].items()
        if near not in waiting and _share(channels[near], channel)
    )


def improved(
    units: Units, channels: Sequence[int | None], rounds: int = 20
) -> Channels:
    """A way made better one unit at a time, until none gains or the rounds end."""
    best = list(channels)
    for _ in range(rounds):
        before = list(best)
        for unit, choices in enumerate(units.choices):
            if choices:
                best[unit] = min(choices, key=lambda c: _gain(units, best, unit, c))
        if best == before:
            break
    return tuple(best)


def _gain(
    units: Units, channels: Sequence[int | None], unit: int, channel: int
) -> tuple[int, int, int]:
    harm = _harm_of(units, channels, unit, channel, ())
    changed = int(channel != units.now[unit])
    others = {c for n, c in enumerate(channels) if n != unit}
    fresh = int(channel not in others)
    rest = (changed, fresh) if units.first == "changes" else (fresh, changed)
    return (harm, *rest)


@dataclass
class _Search:
    """A depth-first search, its best way so far and the steps it has left."""

    units: Units
    best: Channels
    key: Key
    left: int
    channels: list[int | None] = field(default_factory=list[int | None])


def least(units: Units, most: int | None = None) -> Allotment:
    """The way of least cost, by branch and bound.

    A channel that nobody uses yet stands for all others of which the same units
    could take it and the same have it now.

    Args:
        units: the units; the search is quick for a dozen.
        most: steps after which it is cut off; the best way so far is told then.
            By default as many as the number of units is worth, so that whoever asks
            is told the same.

    Returns:
        The same way whenever the same is asked.
    """
    start = min(
        (improved(units, greedy(units)), improved(units, units_now(units))),
        key=lambda way: cost(units, way),
    )
    if most is None:
        most = MOST_NODES if len(units) <= SMALL else MOST_OF_MANY
    search = _Search(units, start, cost(units, start), most)
    search.channels = [None] * len(units)
    unset = frozenset(n for n in range(len(units)) if units.choices[n])
    floor = _harm_without(units)
    _descend(search, unset, (floor, 0, 0))
    exact = search.left > 0
    return Allotment(
        search.best, search.key[0], exact, search.key[0] if exact else floor
    )


def units_now(units: Units) -> Channels:
    """What is set, where it can be; else the first that can."""
    return tuple(
        (now if now in choices else choices[0]) if choices else None
        for choices, now in zip(units.choices, units.now, strict=True)
    )


def _harm_without(units: Units) -> int:
    """The cost of pairs of which one has no channel to take."""
    return sum(
        weight
        for (one, two), weight in units.harm.items()
        if not units.choices[one] or not units.choices[two]
    )


def _descend(
    search: _Search, unset: frozenset[int], so_far: tuple[int, int, int]
) -> None:
    """Try every channel worth trying on the next unit; ``so_far``: its cost."""
    search.left -= 1
    if search.left <= 0:
        return
    units, channels = search.units, search.channels
    used = {one for one in channels if one is not None}
    if _key(units, so_far, len(used)) >= search.key:
        return
    if not unset:
        search.key = _key(units, so_far, len(used))
        search.best = tuple(channels)
        return
    unit = _next(units, channels, unset)
    rest = unset - {unit}
    tries: list[tuple[int, bool, bool, int]] = []
    for channel in _worth_trying(units, unit, used):
        harm = _set_harm(units, channels, unit, channel)
        tries.append((harm, channel != units.now[unit], channel not in used, channel))
    for harm, changed, _, channel in sorted(tries):
        channels[unit] = channel
        late = so_far[2] + changed * (unit + 1)
        _descend(search, rest, (so_far[0] + harm, so_far[1] + changed, late))
    channels[unit] = None


def _set_harm(
    units: Units, channels: Sequence[int | None], unit: int, channel: int
) -> int:
    """What a channel costs with those that have theirs."""
    return sum(
        weight
        for near, weight in units.beside[unit].items()
        if channels[near] == channel
    )


def _worth_trying(units: Units, unit: int, used: set[int]) -> list[int]:
    """Every channel in use, and of those that are alike and not in use the first."""
    found: list[int] = []
    seen: set[tuple[frozenset[int], frozenset[int]]] = set()
    for channel in units.choices[unit]:
        alike = units.alike[channel]
        if channel not in used and alike in seen:
            continue
        if channel not in used:
            seen.add(alike)
        found.append(channel)
    return found
