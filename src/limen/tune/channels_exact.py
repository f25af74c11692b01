"""Channels shared out by a solver, where a plain search would take too long.

Group by group: units of different groups cannot reach each other.  The solver works
with one thread, a fixed seed and a limit that counts its steps, not the time, so
that the same site has the same answer everywhere.
"""

from collections.abc import Callable, Iterable, Sequence
from itertools import combinations
from typing import TYPE_CHECKING

from limen.physics.channels import (
    Allotment,
    Channels,
    Units,
    cliques,
    cost,
    greedy,
    improved,
    least,
    part_of,
    parts,
    units_now,
)

if TYPE_CHECKING:
    from ortools.sat.python.cp_model import IntVar, LinearExprT

MOST_PAIRS = 4_000
"""Pairs in a group beyond which the solver is not asked: it would only wait."""
STEPS = 8.0
"""The solver's own count of its work for one stage; about as many seconds here."""

Told = Callable[[int, int], None]
"""Told how many units are done, and of how many."""


def allotted(units: Units, told: Told | None = None) -> Allotment:
    """The channels of a whole site, each group by itself.

    Channels used are counted group by group: what one group uses, another can use
    again.

    Args:
        units: all units.
        told: how far it is, after each group.
    """
    channels: list[int | None] = [None] * len(units)
    harm = least_harm = done = 0
    exact = True
    for members in parts(units):
        found = one_group(part_of(units, members))
        for member, channel in zip(members, found.channels, strict=True):
            channels[member] = channel
        harm, least_harm = harm + found.harm, least_harm + found.least_harm
        exact = exact and found.exact
        done += len(members)
        if told:
            told(done, len(units))
    return Allotment(tuple(channels), harm, exact, least_harm)


def one_group(units: Units) -> Allotment:
    """The way of least cost for units that hang together."""
    quick = least(units)
    if quick.exact:
        return quick
    if len(units.harm) > MOST_PAIRS:
        return quick
    return solved(units, quick.channels)


def solved(units: Units, start: Sequence[int | None] | None = None) -> Allotment:
    """The way of least cost by constraint programming, one stage a part of the cost.

    Args:
        units: the units.
        start: a way to begin with; a quick one if none.

    Returns:
        The best way; where the limit was met before it was shown to be best, with
        the least that the harm can be.

    Source:
        CP-SAT of OR-Tools; the stages are solved one after the other, each held
        when the next begins.
    """
    best = tuple(start) if start else improved(units, greedy(units))
    best = min((best, improved(units, units_now(units))), key=lambda w: cost(units, w))
    made = _Model(units)
    sure, least_harm = True, 0
    for number, stage in enumerate(made.stages()):
        value, bound, found = made.solve(stage, best)
        if found is not None and cost(units, found) <= cost(units, best):
            best = found
        sure = sure and value == bound
        least_harm = bound if number == 0 else least_harm
        if not sure:
            break
        made.hold(stage, value)
    harm = cost(units, best)[0]
    return Allotment(best, harm, sure, harm if sure else min(harm, least_harm))


class _Model:
    """The units as a model of the solver."""

    def __init__(self, units: Units) -> None:
        from ortools.sat.python.cp_model import CpModel

        self.units = units
        self.model: CpModel = CpModel()
        self.takes = {
            (unit, channel): self.model.new_bool_var(f"{unit} on {channel}")
            for unit, choices in enumerate(units.choices)
            for channel in choices
        }
        self.used = {
            channel: self.model.new_bool_var(f"{channel} used")
            for channel in sorted(units.alike)
        }
        self.shares, self.always = self._pairs()
        self._units()
        self._alike()
        self._cliques()

    def _pairs(self) -> tuple[dict[tuple[int, int], "IntVar"], int]:
        """A variable for each pair that can share a channel; the rest always does."""
        shares: dict[tuple[int, int], IntVar] = {}
        always = 0
        for (one, two), weight in self.units.harm.items():
            first, second = self.units.choices[one], self.units.choices[two]
            if not first or not second:
                always += weight
                continue
            both = sorted(set(first) & set(second))
            if not both:
                continue
            share = self.model.new_bool_var(f"{one} and {two}")
            shares[one, two] = share
            for channel in both:
                taken = [self.takes[one, channel], self.takes[two, channel]]
                self.model.add_bool_or([taken[0].negated(), taken[1].negated(), share])
        return shares, always

    def _units(self) -> None:
        for unit, choices in enumerate(self.units.choices):
            if choices:
                self.model.add_exactly_one(self.takes[unit, c] for c in choices)
        for (_, channel), taken in self.takes.items():
            self.model.add_implication(taken, self.used[channel])
        for channel, used in self.used.items():
            some = [t for (_, c), t in self.takes.items() if c == channel]
            self.model.add_bool_or([used.negated(), *some])

    def _alike(self) -> None:
        """Of channels that cannot be told apart the lower ones are used first."""
        last: dict[object, int] = {}
        for channel in sorted(self.units.alike):
            kind = self.units.alike[channel]
            before = last.get(kind)
            if before is not None:
                self.model.add_implication(self.used[channel], self.used[before])
            last[kind] = channel

    def _cliques(self) -> None:
        """How many pairs at least share a channel where too many meet for too few."""
        for members in cliques(self.units):
            pairs = [p for p in combinations(members, 2) if p in self.shares]
            channels = {c for unit in members for c in self.units.choices[unit]}
            able = sum(bool(self.units.choices[unit]) for unit in members)
            if len(channels) < able:
                fewest = _fewest_pairs(able, len(channels))
                self.model.add(sum(self.shares[pair] for pair in pairs) >= fewest)

    def stages(self) -> "tuple[LinearExprT, ...]":
        """What is made least, one after the other."""
        harm = self.always + sum(
            self.units.harm[pair] * share for pair, share in self.shares.items()
        )
        anew = [
            (unit + 1, taken)
            for (unit, channel), taken in self.takes.items()
            if channel != self.units.now[unit]
        ]
        changed = sum(taken for _, taken in anew)
        late = sum(place * taken for place, taken in anew)
        used = sum(self.used.values())
        rest = (changed, used) if self.units.first == "changes" else (used, changed)
        return (harm, *rest, late)

    def hold(self, stage: "LinearExprT", value: int) -> None:
        """Keep what a stage has reached."""
        if not isinstance(stage, int):
            self.model.add(stage <= value)

    def solve(
        self, stage: "LinearExprT", start: Sequence[int | None]
    ) -> tuple[int, int, Channels | None]:
        """What a stage reaches, the bound on it, and the way."""
        from ortools.sat.python.cp_model import FEASIBLE, OPTIMAL, CpSolver

        self.model.clear_hints()
        for unit, channel in _named(start):
            for choice in self.units.choices[unit]:
                self.model.add_hint(self.takes[unit, choice], choice == channel)
        self.model.minimize(stage)
        solver = CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = 1
        solver.parameters.linearization_level = 2
        solver.parameters.max_deterministic_time = STEPS
        status = solver.solve(self.model)
        if status not in (OPTIMAL, FEASIBLE):
            return -1, 0, None
        found: list[int | None] = [None] * len(self.units)
        for (unit, channel), taken in self.takes.items():
            if solver.boolean_value(taken):
                found[unit] = channel
        bound = round(solver.best_objective_bound)
        return round(solver.objective_value), bound, tuple(found)


def _fewest_pairs(units: int, channels: int) -> int:
    """Pairs that share a channel if units are spread evenly."""
    each, over = divmod(units, channels)
    return over * each * (each + 1) // 2 + (channels - over) * each * (each - 1) // 2


def _named(channels: Sequence[int | None]) -> Iterable[tuple[int, int]]:
    return ((unit, one) for unit, one in enumerate(channels) if one is not None)
