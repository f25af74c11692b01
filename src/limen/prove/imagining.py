"""How a doorway may really be, though it was planned and aimed as described.

A unit hangs within what aiming leaves open.  It may be set otherwise than the plan
says: a mark of its scale too far, another fan, a row off, aimed less closely than one
would.  How often that is so nobody has counted: the shares here are estimates, they
bring tests into an order, and they are printed nowhere.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from limen.geometry.turns import Array
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.physics.fans import FanReading, choices
from limen.physics.plan import sign
from limen.physics.reach import Level, Placed, Unit
from limen.questions.settled import settle

Ways = tuple[tuple[Unit, ...], ...]
Fault = Callable[[Placed, int, np.random.Generator], Placed]
"""A unit set otherwise than planned, under a reading of the manuals by its number."""

AIMED = 40
"""Mountings in which all is set as planned."""
EACH = 2
"""Mountings of each way in which one unit is set otherwise."""
TWICE = 8
"""Mountings in which two units are."""
OTHERWISE = 0.12
"""How often a unit is set otherwise; estimate."""
LOOSELY = 3.0
"""How many times as far off a unit is that was not aimed closely; estimate."""
MARK = 0.0131
"""A mark of the tilt scale where the manual names none (rad); estimate."""
FALL = (1 / 400, 1 / 48)
"""By how much the floor outside falls away from the door (rad), at the least and at the
most: paving is laid to shed water (estimate), and before a door by no more than this
(from memory, 2010 ADA Standards for Accessible Design, 404.2.4.4)."""


@dataclass(frozen=True, slots=True)
class Mounting:
    """How all units of a doorway may hang and be set.

    Attributes:
        units: as they are.
        weight: how likely that is; the weights of all mountings add up to 1.
    """

    units: tuple[Unit, ...]
    weight: float


Fall = tuple[float, float]
"""By how much the floor under a unit falls away from the door (rad): from, to."""


def mountings(
    ways: Ways,
    faults: Sequence[Sequence[Fault]],
    falls: Sequence[Fall],
    chance: np.random.Generator,
) -> tuple[Mounting, ...]:
    """A sample of how the units may be, faults drawn more often than they are.

    Each is weighed back by how often it is drawn, so that rare faults are there
    without counting for more than they should.

    Args:
        ways: the units under each reading of their manuals, all alike likely.
        faults: of each unit, how it may be set otherwise; none for a light barrier.
        falls: of each unit, how the floor under it may fall away; all units of a side
            stand over one floor.
        chance: seeded by who asks.
    """
    found = _as_planned(ways, falls, chance)
    turns = [number for number, some in enumerate(faults) if some]
    none = (1.0 - OTHERWISE) ** len(turns)
    one = OTHERWISE * (1.0 - OTHERWISE) ** (len(turns) - 1) if turns else 0.0
    drawn = [(none / len(found), found)]
    for unit in turns:
        each = (*faults[unit],) * EACH
        some = [_set_otherwise(found, {unit: fault}, chance) for fault in each]
        drawn.append((one / len(some), some))
    if len(turns) > 1:
        both = [_two(found, turns, faults, chance) for _ in range(TWICE)]
        drawn.append(((1.0 - none - len(turns) * one) / TWICE, both))
    return tuple(Mounting(units, weight) for weight, some in drawn for _, units in some)


Drawn = tuple[int, tuple[Unit, ...]]
"""The number of the reading that was taken, and the units."""


def _as_planned(
    ways: Ways, falls: Sequence[Fall], chance: np.random.Generator
) -> list[Drawn]:
    """Units within what aiming leaves open, each error spread evenly over its range."""
    places = [_spread(ERRORS, chance) for _ in ways[0]] if ways else []
    floor = (_spread(1, chance)[:, 0] + 1.0) / 2.0
    return [
        (
            k % len(ways),
            tuple(
                aimed(_over(unit, fall, float(floor[k])), places[n][k], chance)
                for n, (unit, fall) in enumerate(
                    zip(ways[k % len(ways)], falls, strict=True)
                )
            ),
        )
        for k in range(AIMED)
    ]


def _spread(columns: int, chance: np.random.Generator) -> Array:
    """(AIMED, columns) in -1..1, every column in equal steps, shuffled."""
    steps = [chance.permutation(AIMED) for _ in range(columns)]
    at = np.array(steps).T + chance.uniform(size=(AIMED, columns))
    return 2.0 * at / AIMED - 1.0


def _over(unit: Unit, fall: Fall, share: float) -> Unit:
    """The unit over a floor that falls away.

    Bodies stand square on the floor: it is level here, and the unit leans out.
    """
    least, most = fall
    if isinstance(unit, Level) or not most:
        return unit
    return unit.tilted(unit.attitude.tilt + least + share * (most - least))


def _set_otherwise(
    found: Sequence[Drawn], turned: dict[int, Fault], chance: np.random.Generator
) -> Drawn:
    way, units = found[int(chance.integers(len(found)))]
    changed = [
        turned[n](unit, way, chance)
        if n in turned and isinstance(unit, Placed)
        else unit
        for n, unit in enumerate(units)
    ]
    return way, tuple(changed)


def _two(
    found: Sequence[Drawn],
    turns: Sequence[int],
    faults: Sequence[Sequence[Fault]],
    chance: np.random.Generator,
) -> Drawn:
    picked = [int(n) for n in chance.choice(turns, 2, replace=False)]
    each = {n: faults[n][int(chance.integers(len(faults[n])))] for n in picked}
    return _set_otherwise(found, each, chance)


ERRORS = 9
"""Errors that `aimed` takes."""


def aimed(unit: Unit, off: Array, chance: np.random.Generator) -> Unit:
    """The unit anywhere within what aiming leaves open.

    The lens hangs off its place and the first row is read off its line all the same:
    what the lens is off is turned back on the floor.

    Args:
        unit: as planned, or as measured.
        off: (ERRORS,) each error as a share of the largest, -1 to 1.
        chance: for what differs from spot to spot.
    """
    if isinstance(unit, Level):
        across, up = off[0] * unit.off_across, off[1] * unit.off_height
        beams = tuple((y + float(across), z + float(up)) for y, z in unit.beams)
        return replace(unit, beams=beams)
    e, turned = unit.errors, unit.attitude
    most = (e.swing_x, e.swing_y, e.dh, e.floor_x, e.floor_y, e.tilt, e.roll, e.yaw)
    dx, dy, dh, x, y, tilt, roll, yaw = (
        float(share * size) for share, size in zip(off[:8], most, strict=True)
    )
    lean = sign(unit.side) * np.tan(turned.tilt + unit.row_angles[0])
    shift = (unit.shift[0] + x - dx, unit.shift[1] + y - dy - float(lean) * dh)
    return replace(
        unit,
        lens=(unit.lens[0] + dx, unit.lens[1] + dy, unit.lens[2] + dh),
        attitude=turned._replace(
            tilt=turned.tilt + tilt, roll=turned.roll + roll, yaw=turned.yaw + yaw
        ),
        shift=shift,
        fan=_off(unit.fan, e.fan, float(off[8]), chance),
        row_angles=_rows_off(unit.row_angles, e.row, chance),
    )


def _off(
    fan: FanReading, most: float, wider: float, chance: np.random.Generator
) -> FanReading:
    """A fan wider or narrower as a whole, each of its spots a little off besides."""
    half = max(float(np.abs(row).max(initial=0.0)) for row in fan.angles)
    if half == 0.0:
        return fan
    angles = tuple(
        row + most / 2 * (wider * row / half + chance.uniform(-1.0, 1.0, len(row)))
        for row in fan.angles
    )
    return replace(fan, angles=angles)


def _rows_off(
    angles: tuple[float, ...], most: float, chance: np.random.Generator
) -> tuple[float, ...]:
    """Each row off its angle; the first is where it was read."""
    first, *others = angles
    return (first, *(a + float(chance.uniform(-most, most)) for a in others))


def falls_of(doorway: Doorway, ways: Ways) -> tuple[Fall, ...]:
    """How the floor under each unit of a doorway may fall away.

    Where a row was read on the floor its fall does no harm: what was read is so.
    """
    unread = {
        one.id
        for one in doorway.fitting
        if one.side == "outside" and one.read.first_row is None
    }
    units = ways[0] if ways else ()
    return tuple(FALL if u.fitting in unread else (0.0, 0.0) for u in units)


def faults_of(doorway: Doorway, ways: Ways) -> tuple[tuple[Fault, ...], ...]:
    """How each unit of a doorway may be set otherwise than planned.

    Args:
        doorway: as described, sheets hung on its fittings.
        ways: its units under each reading of their manuals.
    """
    fittings = {fitting.id: fitting for fitting in doorway.fitting}
    return tuple(
        _faults(doorway, fittings[unit.fitting], unit)
        if isinstance(unit, Placed)
        else ()
        for unit in (ways[0] if ways else ())
    )


def _faults(doorway: Doorway, fitting: Fitting, unit: Placed) -> tuple[Fault, ...]:
    """A mark too far to either side, loosely aimed, another fan, each row off."""
    step = _mark(fitting)
    rows = unit.rows_on if len(unit.rows_on) > 1 else ()
    return (
        _tilted(step),
        _tilted(-step),
        _loosely,
        *(_without(row) for row in rows),
        *_other_fans(doorway, fitting),
    )


def _tilted(step: float) -> Fault:
    return lambda one, _way, _chance: one.tilted(one.attitude.tilt + step)


def _loosely(one: Placed, _way: int, chance: np.random.Generator) -> Placed:
    """A unit that nobody aimed closely."""
    off = LOOSELY * chance.uniform(-1.0, 1.0, ERRORS)
    off[ERRORS - 1] /= LOOSELY  # its fan is as the sheet says all the same
    found = aimed(one, off, chance)
    return found if isinstance(found, Placed) else one


def _mark(fitting: Fitting) -> float:
    """One mark of the unit's tilt scale (rad)."""
    presence = fitting.unit.presence if fitting.unit else None
    step = presence.tilt.step if presence else None
    return step.value if step else MARK


def _without(row: int) -> Fault:
    return lambda one, _way, _chance: replace(
        one, rows_on=tuple(on for on in one.rows_on if on != row)
    )


def _other_fans(doorway: Doorway, fitting: Fitting) -> tuple[Fault, ...]:
    """The sheet's other fan choices, where the fan was not read at the door."""
    presence = fitting.unit.presence if fitting.unit else None
    read = fitting.read
    if presence is None or None not in (read.left_end, read.right_end):
        return ()
    found = choices(presence)
    others = found[1:] if fitting.settings.fan is None else found
    return tuple(
        _with_fan(doorway, fitting, name)
        for name in others
        if name != fitting.settings.fan
    )


def _with_fan(doorway: Doorway, fitting: Fitting, name: str) -> Fault:
    settings = fitting.settings.model_copy(update={"fan": name})
    other = fitting.model_copy(update={"settings": settings})
    fittings = tuple(other if one.id == fitting.id else one for one in doorway.fitting)
    ways = settle(doorway.model_copy(update={"fitting": fittings})).ways()
    fans = [
        unit.fan
        for units in ways
        for unit in units
        if isinstance(unit, Placed) and unit.fitting == fitting.id
    ]
    return lambda one, way, _chance: replace(one, fan=fans[way % len(fans)])
