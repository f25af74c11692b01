"""Units as the drawings need them: spots on the floor, beams for the section."""

import numpy as np

from limen.findings import BeamLine, Role, RowOnFloor, Spots, UnitDrawn
from limen.physics.beams import Beams
from limen.physics.light import spot_radius
from limen.physics.plan import Plan
from limen.physics.reach import Level, Placed, row_distance
from limen.questions.settled import Settled, UnitFacts

HALF_SPOT_UNSTATED = 0.0


def units_drawn(settled: Settled) -> tuple[UnitDrawn, ...]:
    """Every presence unit and barrier, under the first reading of its manual."""
    return tuple(_drawn(facts, settled.plan) for facts in settled.units)


def _drawn(facts: UnitFacts, plan: Plan) -> UnitDrawn:
    fitting = facts.fitting
    unit = facts.choices[0] if facts.choices else None
    match unit:
        case Placed():
            return _curtains(fitting.id, unit, plan)
        case Level():
            return UnitDrawn(fitting.id, fitting.side, None, (), (), unit.beams)
        case None:
            return UnitDrawn(fitting.id, fitting.side, _lens(facts, plan), (), ())


def _lens(facts: UnitFacts, plan: Plan) -> tuple[float, float, float] | None:
    lens = facts.fitting.lens
    if lens is None:
        return None
    side = facts.fitting.side
    out = plan.side(side).face + lens.from_leaf.value
    along = lens.along.value if lens.along else 0.0
    return (along, out if side == "outside" else -out, lens.height.value)


def _curtains(fitting: str, unit: Placed, plan: Plan) -> UnitDrawn:
    beams = unit.beams()
    floor = unit.lens[:2] + unit.lens[2] * unit.slopes(beams)
    spread = unit.divergence or HALF_SPOT_UNSTATED
    radius = spot_radius(beams.slopes[:1] * 0, unit.lens[2], spread)
    face = plan.side(unit.side).face
    rows: list[RowOnFloor] = []
    for number in unit.rows_on:
        middles = tuple((float(x), float(y)) for x, y in floor[beams.row == number])
        spots = Spots(Role.LIGHT, middles, float(radius[0]))
        rows.append(RowOnFloor(number + 1, spots, row_distance(unit, number, face)))
    lines = tuple(_lines(unit, beams, floor))
    return UnitDrawn(fitting, unit.side, unit.lens, tuple(rows), lines)


def _lines(unit: Placed, beams: Beams, floor: np.ndarray) -> list[BeamLine]:
    """The middle beam of each row; both ends of the first row too."""
    found: list[BeamLine] = []
    for number in unit.rows_on:
        (own,) = np.nonzero(beams.row == number)
        picked = [own[len(own) // 2]]
        if number == unit.rows_on[0]:
            picked = [own[0], *picked, own[-1]]
        found += [
            BeamLine(
                number + 1,
                unit.lens,
                (float(floor[i, 0]), float(floor[i, 1]), 0.0),
            )
            for i in picked
        ]
    return found
