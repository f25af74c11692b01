"""How long one person keeps the door open."""

from collections.abc import Iterator
from dataclasses import dataclass

from limen.findings import Lack, Measure, Message
from limen.model.doorway import Doorway
from limen.model.people import Side
from limen.physics.open_time import Cycle
from limen.physics.plan import Plan, sign
from limen.physics.radar import Radar
from limen.physics.radar_zone import Zone, ahead
from limen.quantity import Dimension, Grade, Quantity
from limen.questions.approach_field import fields_of
from limen.questions.approach_side import SIDES
from limen.questions.approach_taken import Taken, assumed, stated
from limen.questions.asking import lack
from limen.questions.passers import NOTICED_AT

QUICK, SLOW = 1.6, 1.08
"""m/s, one standard deviation about the mean of adults, Weidmann 1993."""
THROUGH = 1.0  # m, from the leaves until nothing sees the walker any more
UNKNOWN = Quantity(2.0, 1.0, Grade.ESTIMATE)  # s
ROUGH = 0.2  # of a time that is reckoned from the speed alone


@dataclass(frozen=True, slots=True)
class WhileOpen:
    """How long one person keeps the door open, at the least and at the most.

    Attributes:
        least, most: the cycle by the low and the high end of every figure.
        taken: what it rests on.
    """

    least: Cycle
    most: Cycle
    taken: Taken


def while_open(doorway: Doorway, plan: Plan) -> WhileOpen | tuple[Lack, ...]:
    """How long one person keeps the door open; or what is missing.

    Args:
        doorway: as described.
        plan: the same as boxes.
    """
    missing = tuple(_missing(doorway))
    opens, closes = _leaf_time(doorway, "opening"), _leaf_time(doorway, "closing")
    hold = doorway.motion.hold_open
    if hold is None or opens is None or closes is None:
        return missing
    found, walked = _found(doorway, plan)
    least = Cycle(opens.low, closes.low, hold.low, found.low)
    most = Cycle(opens.high, closes.high, hold.high, found.high)
    rests = stated(
        ("motion.hold_open", hold),
        ("motion.opening_time", opens),
        ("motion.closing_time", closes),
    )
    return WhileOpen(least, most, walked + rests)


def _missing(doorway: Doorway) -> Iterator[Lack]:
    if doorway.motion.hold_open is None:
        yield lack("flows.lack.hold_open", "motion.hold_open")
    for way in ("opening", "closing"):
        if _leaf_time(doorway, way) is None:
            yield lack(f"flows.lack.{way}_time", f"motion.{way}_time")


def _leaf_time(doorway: Doorway, way: str) -> Quantity | None:
    """From the first movement to the last: by the stopwatch, else by the speed."""
    motion = doorway.motion
    timed: Quantity | None = getattr(motion, f"{way}_time")
    runs: tuple[Quantity, ...] = getattr(motion, f"{way}_runs")
    if timed is not None:
        return timed
    if runs:
        low, high = min(q.low for q in runs), max(q.high for q in runs)
        return Quantity((low + high) / 2, (high - low) / 2, runs[0].grade)
    speed: Quantity | None = getattr(motion, f"{way}_speed")
    if speed is None or speed.low <= 0.0:
        return None
    gain: Quantity | None = getattr(motion, f"{way}_acceleration")
    slow = speed.value / gain.value if gain and gain.value > 0 else 0.0
    seconds = _travel(doorway) / speed.value + slow
    return Quantity(seconds, ROUGH * seconds, speed.grade)


def _travel(doorway: Doorway) -> float:
    travel, clear = doorway.leaves.travel, doorway.clear_width.value
    if travel is not None:
        return travel.value
    return clear if doorway.leaves.hand else clear / 2


def _found(doorway: Doorway, plan: Plan) -> tuple[Quantity, Taken]:
    """How long a walker is found before the hold time begins."""
    ends = [one for side in SIDES for one in _depths(doorway, plan, side)]
    if not ends:
        key, shown = "fitting", Measure(UNKNOWN.value, Dimension.TIME)
        why = Message("flows.assumed.found_unknown")
        return UNKNOWN, assumed(key, why, shown, UNKNOWN.grade)
    low = min(low for low, _ in ends) / QUICK
    high = (max(high for _, high in ends) + THROUGH) / SLOW
    value = Quantity((low + high) / 2, (high - low) / 2, Grade.ESTIMATE)
    shown, why = Measure(value.value, Dimension.TIME), Message("flows.assumed.found")
    return value, assumed("fitting", why, shown, value.grade)


def _depths(doorway: Doorway, plan: Plan, side: Side) -> Iterator[tuple[float, float]]:
    """How deep each radar's field is on the middle: surely, and maybe (m)."""
    for facts in fields_of(doorway, plan, side):
        if facts.inner is not None and facts.outer is not None:
            surely = _depth(facts.inner, plan, side)
            yield surely, max(surely, _depth(facts.outer, plan, side))


def _depth(radar: Radar, plan: Plan, side: Side) -> float:
    face, way = plan.side(side).face, sign(side)
    return ahead(Zone((radar,), (NOTICED_AT.value,), surely=True, face=face, way=way))[
        1
    ]
