"""What the weather does at a doorway: the air of both sides, as stated or assumed."""

from dataclasses import dataclass

from limen.findings import Lack, Measure, Message
from limen.model.doorway import Doorway
from limen.physics.air import Gap
from limen.physics.door_year import Indoors, open_year
from limen.physics.moist_air import ZERO
from limen.quantity import Dimension, Grade, Quantity
from limen.questions.approach_taken import NOTHING, Taken, assumed, stated
from limen.questions.asking import lack
from limen.questions.ledger import Exchanged

WARMTH = Dimension.TEMPERATURE
HEATED_TO = Quantity(ZERO + 20.0, 0.0, Grade.ESTIMATE)
HEATS_BELOW = Quantity(ZERO + 15.0, 0.0, Grade.ESTIMATE)
HUMIDITY = Quantity(0.5, 0.0, Grade.ESTIMATE)
LESSENED = Quantity(0.5, 0.25, Grade.ESTIMATE)
"""EnergyPlus takes half for an air screen; for a vestibule it is an estimate."""


@dataclass(frozen=True, slots=True)
class Climate:
    """What the weather does at a doorway.

    Attributes:
        exchanged: heat and cold through it, and how much of that is kept back.
        taken: what it rests on.
        cooled: whether cooling is counted.
    """

    exchanged: Exchanged
    taken: Taken
    cooled: bool


def within(doorway: Doorway) -> bool:
    """Whether both sides lie indoors, so that no weather comes through."""
    exposure = doorway.exposure
    return exposure.outside == "indoors" and exposure.inside in ("indoors", None)


def climate_of(doorway: Doorway) -> Climate | Lack:
    """What the weather does at a doorway; or the file that is missing."""
    air = doorway.air
    if air.year is None:
        key = "flows.lack.weather_file" if air.weather else "flows.lack.weather"
        return lack(key, "air.weather")
    indoors, rests = _indoors(doorway)
    less, kept = _kept_back(doorway)
    gap = Gap(doorway.clear_width.value, doorway.clear_height.value)
    year = open_year(gap, air.year, indoors)
    return Climate(Exchanged(year, less), rests + kept, air.cooled_to is not None)


def _indoors(doorway: Doorway) -> tuple[Indoors, Taken]:
    air, rests = doorway.air, NOTHING
    warm, took = _or("heated_to", air.heated_to, HEATED_TO, WARMTH)
    rests += took
    below, took = _or("heats_below", air.heats_below, HEATS_BELOW, WARMTH)
    rests += took
    humidity = HUMIDITY
    if air.cooled_to is not None:
        humidity, took = _or("humidity", air.humidity, HUMIDITY, Dimension.RATIO)
        rests += took + stated(("air.cooled_to", air.cooled_to))
    cool = air.cooled_to.value if air.cooled_to else None
    return Indoors(warm.value, below.value, cool, humidity.value), rests


def _or(
    key: str, figure: Quantity | None, taken: Quantity, dimension: Dimension
) -> tuple[Quantity, Taken]:
    """A figure of the air as stated, or as it is taken where nobody said it."""
    where = f"air.{key}"
    if figure is not None:
        return figure, stated((where, figure))
    shown = Measure(taken.value, dimension)
    more = lack(f"flows.lack.{key}", where)
    why = Message(f"flows.assumed.{key}")
    return taken, assumed(where, why, shown, taken.grade, more)


def _kept_back(doorway: Doorway) -> tuple[tuple[float, float], Taken]:
    """How much a vestibule or an air screen keeps back."""
    air = doorway.air
    if air.lessened is not None:
        q = air.lessened
        return (max(q.low, 0.0), min(q.high, 1.0)), stated(("air.lessened", q))
    more = lack("flows.lack.lessened", "air.lessened")
    if air.beyond in ("vestibule", "air screen") or doorway.facing:
        shown = Measure(LESSENED.value, Dimension.RATIO)
        why = Message("flows.assumed.lessened")
        took = assumed("air.lessened", why, shown, LESSENED.grade, more)
        return (LESSENED.low, LESSENED.high), took
    if air.beyond == "nothing":
        return (0.0, 0.0), NOTHING
    shown, why = Measure(0.0, Dimension.RATIO), Message("flows.assumed.beyond")
    more = lack("flows.lack.beyond", "air.beyond")
    took = assumed("air.beyond", why, shown, Grade.ESTIMATE, more)
    return (0.0, 0.0), took
