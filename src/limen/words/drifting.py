"""What is said of a drift: how fast, and by when it would be at its limit.

A month that is not sure is never rounded towards comfort: the soonest is rounded down,
the latest up, and what may be reached already is said so.
"""

from math import ceil, floor
from typing import Protocol

from limen.findings import Measure, Message
from limen.quantity import Dimension, Show
from limen.words.numbers import numbered
from limen.words.reading import reading
from limen.words.saying import say, say_count, say_measure

FAR = 120.0
"""Months beyond which nobody plans by a line through a few readings."""
MM, INCH = 0.001, 0.0254
BELOW = {Show.METRIC: MM, Show.FEET: INCH / 16}
"""The smallest length that is written for floor work (m)."""
LEAST_DATES = 3


class Reached(Protocol):
    """When something would be at its limit, in months."""

    @property
    def soonest(self) -> float:
        """At the soonest."""
        ...

    @property
    def likely(self) -> float:
        """Most likely."""
        ...

    @property
    def latest(self) -> float:
        """At the latest."""
        ...


class Drifted(Protocol):
    """How something moves, as `limen.keep.drifting` finds it."""

    @property
    def dates(self) -> int:
        """Days on which it was read."""
        ...

    @property
    def slope(self) -> float | None:
        """How fast it moves (SI a year)."""
        ...

    @property
    def u(self) -> float:
        """Within what that is known."""
        ...

    @property
    def shown(self) -> bool:
        """Whether it moves faster than that."""
        ...

    @property
    def reach(self) -> Reached | None:
        """When it would be at its limit."""
        ...


def said_drift(found: Drifted, dimension: Dimension, system: Show = Show.METRIC) -> str:
    """Whether something drifts, how fast, and by when it would be at its limit.

    Args:
        found: the drift.
        dimension: of what was read.
        system: units of the reader.
    """
    if found.slope is None:
        return say(Message("life.drift.few"))
    if not found.shown:
        return say(Message("life.drift.none"))
    moved = _moved(found.slope, found.u, dimension, system)
    if found.reach is None:
        return say(Message("life.drift.moves", {"moved": moved}))
    said = {"moved": moved, "when": said_reach(found.reach)}
    return say(Message("life.drift.reaches", said))


def said_reach(reach: Reached) -> str:
    """By when it would be at its limit if it went on like this."""
    soonest = floor(reach.soonest)
    if reach.likely <= 0:
        return say(Message("life.drift.there"))
    if soonest > FAR:
        return say(Message("life.drift.far"))
    if reach.likely > FAR:
        return say(
            Message("life.drift.far_from", {"soonest": _months(max(soonest, 0))})
        )
    likely = _months(max(floor(reach.likely), 0))
    latest = ceil(reach.latest)
    if soonest <= 0:
        said = {"likely": likely, "latest": _months(latest)}
        return say(Message("life.drift.now_to", said))
    return say(
        Message(
            "life.drift.between",
            {
                "likely": likely,
                "soonest": numbered(str(soonest), reading()),
                "latest": _months(latest),
            },
        )
    )


def _months(count: int) -> str:
    return say_count("life.drift.months", count)


def _moved(slope: float, u: float, dimension: Dimension, system: Show) -> str:
    """So much a year, with its ±; what is smaller than is written is said so."""
    size = abs(slope)
    if dimension is Dimension.LENGTH and size < BELOW[system]:
        least = say_measure(Measure(BELOW[system], dimension), system)
        return say(Message("life.drift.below", {"least": least}))
    step = BELOW[system]
    doubt = ceil(u / step) * step if dimension is Dimension.LENGTH else u
    said = {
        "much": say_measure(Measure(size, dimension), system),
        "u": say_measure(Measure(doubt, dimension), system),
    }
    way = "more" if slope > 0 else "less"
    return say(Message(f"life.drift.{way}", said))
