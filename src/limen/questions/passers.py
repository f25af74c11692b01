"""For how many people who only walk past does the door open?"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from limen.findings import Assumed, Lack, Measure, Message
from limen.model.doorway import Doorway
from limen.model.traffic import Passing
from limen.physics.passers_by import Strip, triggering
from limen.physics.plan import Plan, sign
from limen.physics.radar import Radar
from limen.physics.walking import Group
from limen.quantity import Dimension, Grade, Quantity, least
from limen.questions.approach_field import FieldFacts, fields_of
from limen.questions.approach_side import SIDES
from limen.questions.approach_taken import NOTHING, Taken, assumed, stated
from limen.questions.asking import lack
from limen.questions.flows import Flow, Open, flow_of, open_hours
from limen.questions.settled import Settled

NOTICED_AT = Quantity(1.0, 0.0, Grade.PRACTICE)  # m, the trunk of a walker
ADULTS = Group(1.34, 0.26)
"""m/s; Weidmann 1993, table of free walking speeds, as quoted in a public report."""
BREADTH = Quantity(1.0, 0.0, Grade.ESTIMATE)  # m
HALF = Quantity(0.5, 0.25, Grade.ESTIMATE)


@dataclass(frozen=True, slots=True)
class Needless:
    """One path along the façade: who passes, and for whom the door opens.

    Attributes:
        passing: the path as described.
        flow: people by the hour.
        least, most: share of them for whom the door opens, surely and maybe.
        taken: what that rests on.
    """

    passing: Passing
    flow: Flow
    least: float
    most: float
    taken: Taken

    @property
    def a_day(self) -> Quantity:
        """Needless openings a day: a count, with a bound of its error."""
        low = self.flow.a_day * max(1.0 - self.flow.u, 0.0) * self.least
        high = self.flow.a_day * (1.0 + self.flow.u) * self.most
        grade = least(*self.taken.grades, *self.flow.taken.grades)
        return Quantity((low + high) / 2, (high - low) / 2, grade)


def needless_a_day(doorway: Doorway, settled: Settled) -> Quantity | None:
    """Needless openings a day: a count, with a bound of its error.

    Args:
        doorway: as described.
        settled: the same, settled.

    Returns:
        None where nobody said who walks past, or a radar's field is not known.
    """
    if not doorway.traffic.passing or any(_lacks(doorway, settled.plan)):
        return None
    paths = paths_of(doorway, settled.plan)
    return None if paths is None else total(paths)


def paths_of(doorway: Doorway, plan: Plan) -> tuple[Needless, ...] | None:
    """Every path with its needless openings; None if the people of one are unknown."""
    when, found = open_hours(doorway.traffic), list[Needless]()
    for passing in doorway.traffic.passing:
        key = f"traffic.passing[{passing.name}].people"
        flow = flow_of(key, passing.people, passing.by_hour, when)
        if flow is None:
            return None
        found.append(_path(doorway, plan, passing, flow))
    return tuple(found)


def total(paths: Iterable[Needless]) -> Quantity:
    """Needless openings a day of all paths together: bounds add."""
    each = [path.a_day for path in paths]
    grade = least(*(one.grade for one in each)) if each else Grade.DERIVED
    return Quantity(sum(q.value for q in each), sum(q.u for q in each), grade)


def lacks_of(doorway: Doorway, plan: Plan) -> tuple[Lack, ...]:
    """What keeps needless openings from being known."""
    if not doorway.traffic.passing:
        return (lack("flows.lack.passing", "traffic.passing"),)
    return tuple(_lacks(doorway, plan))


def _lacks(doorway: Doorway, plan: Plan) -> Iterator[Lack]:
    when = open_hours(doorway.traffic)
    for passing in doorway.traffic.passing:
        key = f"traffic.passing[{passing.name}].people"
        if flow_of(key, passing.people, passing.by_hour, when) is None:
            yield lack("flows.lack.people", key, {"path": passing.name})
    walked = {one.side for one in doorway.traffic.passing}
    for side in SIDES:
        if side in walked:
            for facts in fields_of(doorway, plan, side):
                yield from facts.lacks


# One path ------------------------------------------------------------------------


def _path(doorway: Doorway, plan: Plan, passing: Passing, flow: Flow) -> Needless:
    fields = fields_of(doorway, plan, passing.side)
    strip, walked = _strip(plan, passing)
    group, quick = _group(passing)
    ends, told = _from_left(passing)
    rests = walked + quick + told
    for one in fields:
        rests += one.taken + one.motion
    known = [one for one in fields if one.inners]
    surely, maybe = (
        [
            triggering(radars, strip, group, from_left=ends)
            for radars in _corners(known, inner=inner)
        ]
        for inner in (True, False)
    )
    low = min((low for low, _ in surely), default=0.0)
    high = max((high for _, high in maybe), default=0.0)
    return Needless(passing, flow, min(low, high), high, rests)


def _corners(
    fields: Sequence[FieldFacts], *, inner: bool
) -> Iterator[tuple[Radar, ...]]:
    """The radars of a side for each corner of what their places leave open."""
    known = [one.inners if inner else one.outers for one in fields]
    yield from product(*(radars[1:] or radars for radars in known if radars))


def _strip(plan: Plan, passing: Passing) -> tuple[Strip, Taken]:
    """Where they walk."""
    key = f"traffic.passing[{passing.name}]"
    breadth, took = passing.breadth, NOTHING
    if breadth is None:
        breadth = BREADTH
        shown, why = Measure(1.0, Dimension.LENGTH), Message("flows.assumed.breadth")
        more = lack("flows.lack.breadth", f"{key}.breadth", {"path": passing.name})
        took = assumed(f"{key}.breadth", why, shown, BREADTH.grade, more)
    far = passing.distance
    face, way = plan.side(passing.side).face, sign(passing.side)
    middle = way * (face + far.value)
    strip = Strip(middle, far.u, breadth.value, NOTICED_AT.value)
    return strip, took + stated((f"{key}.distance", far))


def _group(passing: Passing) -> tuple[Group, Taken]:
    key, speed = f"traffic.passing[{passing.name}].speed", passing.speed
    if speed is None:
        shown = Measure(ADULTS.mean, Dimension.SPEED)
        why = Message("flows.assumed.speed")
        return ADULTS, assumed(key, why, shown, Grade.SEEN)
    spread = passing.speed_spread
    share = ADULTS.spread / ADULTS.mean
    wide = spread.value if spread else share * speed.value
    return Group(speed.value, wide), stated((key, speed))


def _from_left(passing: Passing) -> tuple[tuple[float, float], Taken]:
    """Least and greatest share that walks from left to right, seen from outside."""
    key, share = f"traffic.passing[{passing.name}].from_left", passing.from_left
    if share is not None:
        return _share_ends(share), stated((key, share))
    shown, why = Measure(HALF.value, Dimension.RATIO), Message("flows.assumed.half")
    more = lack("flows.lack.from_left", key, {"path": passing.name})
    return _share_ends(HALF), assumed(key, why, shown, HALF.grade, more)


def _share_ends(share: Quantity) -> tuple[float, float]:
    return max(share.low, 0.0), min(share.high, 1.0)


def assumed_of(paths: Iterable[Needless], when: Open) -> tuple[Assumed, ...]:
    """What was taken though nobody stated it."""
    listed = {one.key: one for one in when.taken.assumed}
    for path in paths:
        listed |= {one.key: one for one in path.flow.taken.assumed}
        listed |= {one.key: one for one in path.taken.assumed}
    return tuple(listed.values())
