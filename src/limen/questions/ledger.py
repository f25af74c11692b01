"""What the openings of a door come to: how many, how long, and what they let out.

Every figure is reckoned at each corner of what is not known: how many people there
are, for whom the radar speaks, how long it finds them, how much air is exchanged and
how much of that a vestibule keeps.  What two doors share cancels where they are
compared, corner by corner.
"""

from dataclasses import dataclass
from itertools import product

import numpy as np

from limen.geometry.turns import Array
from limen.physics.door_year import OpenYear
from limen.physics.open_time import cycles, open_fraction
from limen.quantity import Grade, Quantity, least
from limen.questions.flows import Flow, Open
from limen.questions.opened import WhileOpen
from limen.questions.passers import Needless

HOUR, WEEK, YEAR = 3600.0, 7, 365
CORNERS = np.array(list(product((0, 1), repeat=5)))
"""(32, 5): low or high of people, radar, time, air and vestibule."""
PEOPLE, RADAR, TIME, AIR, KEPT = range(5)


@dataclass(frozen=True, slots=True)
class Exchanged:
    """What a year's weather does at the doorway.

    Attributes:
        year: heat and cold if it stood open all the time.
        less: share of it that is kept back, at the least and at the most.
    """

    year: OpenYear
    less: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Counted:
    """Everything the openings of a door are reckoned from.

    Attributes:
        through: people who walk through.
        paths: people who only pass.
        opened: how long one of them keeps the door open.
        when: the hours and days on which the door works.
        exchanged: what the weather does; None if it is not known.
    """

    through: Flow
    paths: tuple[Needless, ...]
    opened: WhileOpen
    when: Open
    exchanged: Exchanged | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Ledger:
    """The openings of a door at each corner of what is not known; (32,) each.

    Attributes:
        cycles: openings a day on which it works.
        needless: of these, people a day for whom it opens though they only pass.
        open_for: how long it is open, as if fully, on such a day (s).
        period: how long one opening lasts (s).
        heating: J of heat a year.
        cooling: J a year.
        idle_heating: of that, what people who only pass let out (J).
        idle_cooling: the same of cooling (J).
        by_hour: (2, 24) share of each hour for which it is open, both ends.
    """

    cycles: Array
    needless: Array
    open_for: Array
    period: Array
    heating: Array
    cooling: Array
    idle_heating: Array
    idle_cooling: Array
    by_hour: Array


def ledger_of(counted: Counted) -> Ledger:
    """Reckon the openings of a door.

    Args:
        counted: everything they are reckoned from.

    Source:
        `limen.physics.open_time` for each hour of the day, `limen.physics.door_year`
        for what each hour lets through.
    """
    wanted, idle = _rates(counted.through, counted.paths)
    whiles = counted.opened.least.while_open, counted.opened.most.while_open
    tau = np.array(whiles)[CORNERS[:, TIME]][:, None]
    open_share = open_fraction(wanted + idle, tau)
    without = open_fraction(wanted, tau)
    begun = HOUR * cycles(wanted + idle, tau).sum(axis=1)
    open_for = HOUR * open_share.sum(axis=1)
    heating, cooling = _let_out(counted, open_share)
    own_heating, own_cooling = _let_out(counted, without)
    return Ledger(
        cycles=begun,
        needless=HOUR * idle.sum(axis=1),
        open_for=open_for,
        period=open_for / np.where(begun > 0, begun, 1.0),
        heating=heating,
        cooling=cooling,
        idle_heating=heating - own_heating,
        idle_cooling=cooling - own_cooling,
        by_hour=np.stack([open_share.min(axis=0), open_share.max(axis=0)]),
    )


def spread(values: Array, grade: Grade) -> Quantity:
    """A figure between its least and its greatest corner."""
    low, high = float(values.min()), float(values.max())
    return Quantity((low + high) / 2, (high - low) / 2, grade)


def grade_of(counted: Counted) -> Grade:
    """The weakest grade of what the openings are reckoned from."""
    grades = [*counted.through.taken.grades, *counted.opened.taken.grades]
    grades += counted.when.taken.grades
    for path in counted.paths:
        grades += [*path.taken.grades, *path.flow.taken.grades]
    return least(*grades)


def _rates(through: Flow, paths: tuple[Needless, ...]) -> tuple[Array, Array]:
    """(32, 24) people a second who open the door: who walk through, who only pass."""
    people, radar = CORNERS[:, PEOPLE], CORNERS[:, RADAR]
    wanted = _ends(through)[people][:, None] * np.array(through.hours) / HOUR
    idle = np.zeros_like(wanted)
    for path in paths:
        shares = _ends(path.flow)[people] * np.array([path.least, path.most])[radar]
        idle += shares[:, None] * np.array(path.flow.hours) / HOUR
    return wanted, idle


def _ends(flow: Flow) -> Array:
    return np.array([max(1.0 - flow.u, 0.0), 1.0 + flow.u])


def _let_out(counted: Counted, open_share: Array) -> tuple[Array, Array]:
    """(32,) J of heating and of cooling a year."""
    exchanged = counted.exchanged
    if exchanged is None:
        return np.zeros(len(CORNERS)), np.zeros(len(CORNERS))
    days = counted.when.days / WEEK
    passed = 1.0 - np.array(exchanged.less)[CORNERS[:, KEPT]]
    air = CORNERS[:, AIR]
    heating, cooling = (
        days * passed * np.sum(open_share * flow[air], axis=1)
        for flow in (exchanged.year.heating, exchanged.year.cooling)
    )
    return heating, cooling
