"""Whether all cases of presence hold at a combination of options, with what room."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import product

import numpy as np

from limen.model.doorway import Doorway
from limen.physics.coverage import solve
from limen.physics.coverage.pose import Pose
from limen.physics.reach import Cast, Placed, Scope, Unit, cast, pose_problem
from limen.questions.coverage import AMPLE, PRECISION, TOLERANT_CELLS, Case
from limen.questions.settled import Settled, UnitFacts
from limen.tune.evidence import Bools, Stack, stacked
from limen.tune.scales import Option, alone

STEP = PRECISION
"""m: rooms that differ by less are one room; no study tells them apart."""
TOP = round(AMPLE / STEP)
ROOM_CELLS = 40_000
"""A proof of room that takes more counts as not made."""
NOTHING = Cast(np.empty((0, 4)), np.empty((0, 2)), np.zeros(2), 1)
"""What a unit casts that does not count."""
Picked = tuple[int, ...]
"""Number of the option of each unit."""


@dataclass(frozen=True, slots=True)
class Miss:
    """What was not proved: of which case, under which reading of the manuals.

    Attributes:
        case, way: their numbers.
        pose: where a body is missed; None if no place was shown.
    """

    case: int
    way: int
    pose: Pose | None


@dataclass
class Proofs:
    """The proofs of one doorway's rows, remembered.

    Attributes:
        doorway: as it is set.
        base: the same, settled.
        units: options of each unit that has any, in the order of the doorway.
        cases: what must hold.
        count: proofs made.
    """

    doorway: Doorway
    base: Settled
    units: tuple[tuple[Option, ...], ...]
    cases: tuple[Case, ...]
    count: int = 0
    _facts: dict[tuple[int, int], UnitFacts | None] = field(
        default_factory=dict[tuple[int, int], UnitFacts | None]
    )
    _casts: dict[tuple[int, int, int, int], Cast] = field(
        default_factory=dict[tuple[int, int, int, int], Cast]
    )
    _stacks: dict[tuple[int, int, int], Stack] = field(
        default_factory=dict[tuple[int, int, int], Stack]
    )
    _order: list[int] = field(default_factory=list[int])
    _alike: list[int] = field(default_factory=list[int])
    _ways: tuple[dict[str, int], ...] = ()
    _fixed: tuple[UnitFacts, ...] = ()

    def __post_init__(self) -> None:
        """Settle what does not change."""
        turned = {options[0].fitting.id for options in self.units}
        self._fixed = tuple(
            one for one in self.base.units if one.fitting.id not in turned
        )
        self._ways = tuple(self._readings())
        self._order = list(range(len(self.cases)))
        kinds = [(one.body, one.muted, one.pausing) for one in self.cases]
        self._alike = [kinds.index(kind) for kind in kinds]

    def facts(self, unit: int, option: int) -> UnitFacts | None:
        """One unit at one option, settled; None if it has no presence sense."""
        key = unit, option
        if key not in self._facts:
            found = alone(self.doorway, self.units[unit][option].fitting).units
            self._facts[key] = found[0] if found else None
        return self._facts[key]

    def settled(self, picked: Picked) -> Settled:
        """The doorway with the options picked, settled."""
        new = {
            self.units[unit][option].fitting.id: self.facts(unit, option)
            for unit, option in enumerate(picked)
        }
        units = [new.get(one.fitting.id, one) for one in self.base.units]
        known = {one.fitting.id for one in self.base.units}
        units += [one for name, one in new.items() if name not in known]
        ground = replace(self.base.ground, memory={})
        return replace(self.base, ground=ground, units=tuple(filter(None, units)))

    def holds(self, picked: Picked, level: int) -> bool:
        """Whether every case holds with so much room, in steps."""
        return self.miss(picked, level) is None

    def miss(self, picked: Picked, level: int) -> Miss | None:
        """A case that does not hold with so much room, in steps; None if all do.

        What did not hold last is asked first.
        """
        for number in (*self._order,):
            for way in range(len(self._ways)):
                found = self._missed(picked, level, number, way)
                if found is not None:
                    self._order.remove(number)
                    self._order.insert(0, number)
                    return found
        return None

    def _missed(self, picked: Picked, level: int, number: int, way: int) -> Miss | None:
        self.count += 1
        case = self.cases[number]
        casts = [self._cast(u, o, number, way) for u, o in enumerate(picked)]
        casts += self._fixed_casts(case, number, way)
        scope = self._scope(case)
        asked = pose_problem(casts, self.base.plan, case.place, scope)
        most = ROOM_CELLS if level else TOLERANT_CELLS
        proof = solve(asked, grow=-level * STEP, max_cells=most)
        if proof.verdict == "holds" and not proof.reason:
            return None
        return Miss(number, way, proof.witness)

    def misses(self, unit: int, miss: Miss, level: int) -> Bools:
        """Which options of a unit do not reach the body at a missed pose.

        Args:
            unit: its number.
            miss: with a pose.
            level: room asked for, in steps.
        """
        key = unit, self._alike[miss.case], miss.way
        if key not in self._stacks:
            options = range(len(self.units[unit]))
            casts = [self._cast(unit, one, miss.case, miss.way) for one in options]
            self._stack(key, casts)
        return self._missed_by(key, miss, level)

    def reached_anyway(self, miss: Miss, level: int) -> bool:
        """Whether a unit that nothing is tried of reaches the body there."""
        key = -1, self._alike[miss.case], miss.way
        if key not in self._stacks:
            casts = self._fixed_casts(self.cases[miss.case], miss.case, miss.way)
            self._stack(key, casts or [NOTHING])
        return not bool(self._missed_by(key, miss, level).all())

    def _stack(self, key: tuple[int, int, int], casts: Sequence[Cast]) -> None:
        case = self.cases[key[1]]
        body = case.body.width, case.body.depth
        self._stacks[key] = stacked(casts, case.place, body)

    def _missed_by(self, key: tuple[int, int, int], miss: Miss, level: int) -> Bools:
        pose = miss.pose or (0.0, 0.0, 0.0)
        return self._stacks[key].misses(pose, level * STEP)

    # What is cast ----------------------------------------------------------------

    def _scope(self, case: Case) -> Scope:
        return self.base.ground.scope(case.body, exact=False)

    def _cast(self, unit: int, option: int, number: int, way: int) -> Cast:
        facts = self.facts(unit, option)
        reading = self._reading(facts, way)
        key = unit, option, self._alike[number], reading
        if key not in self._casts:
            chosen = [facts.choices[reading]] if facts and facts.choices else []
            self._casts[key] = self._thrown(chosen, self.cases[number])
        return self._casts[key]

    def _thrown(self, units: Sequence[Unit], case: Case) -> Cast:
        """What a unit casts in a case; nothing if it does not count there."""
        upright = case.body.face == "upright"
        for unit in case.units(units):
            if upright or not isinstance(unit, Placed) or unit.low is not None:
                return cast(unit, self.base.plan, self._scope(case))
        return NOTHING

    def _fixed_casts(self, case: Case, number: int, way: int) -> list[Cast]:
        found: list[Cast] = []
        for index, facts in enumerate(self._fixed):
            if not facts.choices:
                continue
            reading = self._reading(facts, way)
            key = -1 - index, 0, self._alike[number], reading
            if key not in self._casts:
                self._casts[key] = self._thrown([facts.choices[reading]], case)
            found.append(self._casts[key])
        return found

    # Readings of manuals ----------------------------------------------------------

    def _reading(self, facts: UnitFacts | None, way: int) -> int:
        if facts is None or not facts.choices:
            return 0
        return self._ways[way].get(facts.fitting.sheet, 0) % len(facts.choices)

    def _readings(self) -> list[dict[str, int]]:
        """Which reading of each sheet is taken, as `Settled.ways` has them."""
        counts: dict[str, int] = {}
        every = [*self._fixed]
        every += [
            one for u in range(len(self.units)) if (one := self._most_readings(u))
        ]
        for facts in every:
            sheet = facts.fitting.sheet
            counts[sheet] = max(counts.get(sheet, 1), len(facts.choices))
        picks = product(*(range(count) for count in counts.values()))
        return [dict(zip(counts, pick, strict=True)) for pick in picks]

    def _most_readings(self, unit: int) -> UnitFacts | None:
        """The unit at the option under which its manual has most readings."""
        every = (self.facts(unit, n) for n in range(len(self.units[unit])))
        known = [facts for facts in every if facts is not None]
        return max(known, key=lambda facts: len(facts.choices), default=None)
