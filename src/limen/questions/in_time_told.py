"""What is said of a door that is late: the walk, its figures, what to do."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from math import atan2, ceil, floor, isfinite

import numpy as np

from limen.findings import (
    Figure,
    Margin,
    Measure,
    Message,
    Polygon,
    Remedy,
    Role,
    Stroke,
    Witness,
)
from limen.findings.message import length
from limen.physics.in_time import Approach, fits, late_share
from limen.physics.in_time_field import Field
from limen.physics.in_time_walk import Met, walked
from limen.physics.in_time_worst import Sweep, Worst
from limen.physics.walking import Walk
from limen.quantity import Dimension
from limen.questions.asking import Asked
from limen.questions.in_time_given import Given, Maybe, at_width, groups_of

LINES = 16  # headings tried for the share of a group
BEFORE = 0.3  # m walked before being noticed, in a printed walk
STRAIGHTER = (1.0, 0.999, 0.998, 0.995, 0.99, 0.97, 0.9)
SHORTEST = 1.5  # m, of a printed walk
STEP = 0.05  # m, to which a field is asked to be deeper
COARSE = 0.05  # s, to which the worst lateness is known where it is plain
TENTH = 0.1  # s, to which a door is asked to be quicker
TURNED_UP = 0.5  # of the field: no scale or tilt makes it deeper by more
SLIGHT = 1e-9
WIDER = 0.01  # m, to which a reduced width is asked to be wider
FASTEST = 40  # tenths of m/s: nobody runs faster to a door
SLOW = (0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.8, 1.0)  # m/s
MILLIMETRES = 1000.0
PRINTED = ((10.0, 10), (0.1, 100))  # s, and in how many parts of one it is printed
SURE = 1e-3  # s: the table of an opening is that fine


@dataclass(frozen=True, slots=True)
class Late:
    """A walk on which the door is late, as it is printed.

    Attributes:
        walk: in the frame of its side, its start and target in whole millimetres.
        start: where it is printed to begin: x, y (m).
        met: what the walker meets.
    """

    walk: Walk
    start: tuple[float, float]
    met: Met

    @property
    def seconds(self) -> float:
        """By how much the door would have to be earlier (s)."""
        return self.met.late


@dataclass(frozen=True, slots=True)
class Swept:
    """One side of a doorway at one width, and its walks.

    Attributes:
        one: the side.
        sweep: its walks, by the worse end of every figure.
        found: the worst lateness at the speed to be served.
    """

    one: Given
    sweep: Sweep
    found: Worst


def late_walk(one: Given, better: Maybe) -> Late | None:
    """A walk that is late by the better end of every figure, rounded as printed.

    The worst walk may only just fit through; rounded it may not, and one a little
    straighter is looked at.
    """
    speed, approach = one.fastest.low, better.approach
    sweep = Sweep(approach)
    if sweep.worst(speed, speed, decide=True).low <= 0.0:
        return None
    worst = sweep.worst(speed, speed, tolerance=COARSE).walk
    if worst is None:
        return None
    start = _start(approach, worst, walked_by(one, better, worst))
    middle = sum(approach.targets) / 2
    for share in STRAIGHTER:
        target = middle + share * (worst.target - middle)
        begun = middle + share * (start[0] - middle), start[1]
        late = _rounded(one, better, Walk(share * worst.heading, target, speed), begun)
        if late is not None:
            return late
    return None


def _rounded(
    one: Given, better: Maybe, walk: Walk, start: tuple[float, float]
) -> Late | None:
    """The walk as it is printed, if it fits and is late even so."""
    approach = better.approach
    start = _whole(start[0]), _whole(start[1])
    printed = _printed(walk, start, approach.start)
    heading, target = np.array([printed.heading]), np.array([printed.target])
    if not fits(approach, heading, target).all():
        return None
    met = walked_by(one, better, printed)
    return Late(printed, start, met) if met.late > SURE else None


def walked_by(one: Given, better: Maybe, walk: Walk) -> Met:
    """One walk, by the better end of every figure."""
    approach = better.approach
    return walked(
        replace(walk, start=approach.start),
        better.radars,
        approach.edges,
        approach.walker,
        one.out,
        one.height,
    )


def _start(approach: Approach, walk: Walk, met: Met) -> tuple[float, float]:
    """Where the printed walk begins: before it is noticed."""
    noticed = met.left if isfinite(met.left) else 2 * SHORTEST
    way = min(max(noticed + BEFORE, SHORTEST), approach.start)
    return walk.at(way)


def _printed(walk: Walk, start: tuple[float, float], begins: float) -> Walk:
    """The walk from a start to a target, both in whole millimetres."""
    target = _whole(walk.target)
    return Walk(atan2(start[0] - target, start[1]), target, walk.speed, begins)


def _whole(metres: float) -> float:
    return round(metres * MILLIMETRES) / MILLIMETRES


# Said -----------------------------------------------------------------------------


def said_of(
    one: Given, late: Late | None = None, margin: Margin | None = None
) -> dict[str, Measure | Message]:
    """What fills the gaps of the sentences.

    Args:
        one: the side.
        late: the walk that is late, by the better end of every figure.
        margin: by the worse end of every figure.
    """
    speed = Measure(one.fastest.value, Dimension.SPEED)
    said: dict[str, Measure | Message] = {
        "side": Message(f"side.{one.side}"),
        "speed": speed,
    }
    if late is None:
        return said
    x, y = late.start
    said |= {
        "out": length(y - one.face),
        "start": _beside(one.out * x),
        "target": _beside(one.out * late.walk.target),
    }
    if isfinite(late.seconds):
        said["late"] = Measure(_down(late.seconds), Dimension.TIME)
        said["worse"] = _worse(margin)
    return said


def _down(seconds: float) -> float:
    """To as many figures as are printed: lateness is at least so much."""
    parts = next((n for least, n in PRINTED if seconds >= least), 1000)
    return floor(seconds * parts) / parts


def _worse(margin: Margin | None) -> Message:
    """How late it is by the worse end of every figure: what the margin says."""
    if margin is None:
        return Message("in_time.worse.unnoticed")
    late = Measure(round(-margin.value, 3), Dimension.TIME)
    return Message("in_time.worse.late", {"late": late})


def _beside(x: float) -> Message:
    """A place along the opening, from its middle, seen from outside."""
    if abs(x) < 1 / MILLIMETRES:
        return Message("in_time.place.middle")
    hand = "right" if x > 0 else "left"
    return Message(f"in_time.place.{hand}", {"far": length(abs(x))})


def served_by(asked: Asked, swept: Swept) -> Message:
    """The speeds that are surely served, and who walks at others."""
    one = swept.one
    span = served_span(swept.sweep, one.fastest.high)
    groups = groups_of(asked)
    if span is None:
        return Message("in_time.served.none")
    speeds = {
        "slow": Measure(span[0], Dimension.SPEED),
        "fast": Measure(span[1], Dimension.SPEED),
    }
    if not groups:
        return Message("in_time.served.span", speeds)
    shares = {name: late_share(one.surely, group, LINES) for name, group in groups}
    name = max(shares, key=lambda each: shares[each])
    late = Message(
        "in_time.share",
        {
            "percent": f"{ceil(100 * shares[name] - 1e-6)}",
            "group": Message(f"in_time.group.{name}"),
        },
    )
    return Message("in_time.served.share", {**speeds, "late": late})


def served_span(sweep: Sweep, speed: float) -> tuple[float, float] | None:
    """Speeds between which surely nobody is late: the fastest known, to 0.1 m/s.

    Args:
        sweep: the walks.
        speed: that is to be served (m/s); looked at first.

    Returns:
        The slowest and the fastest; None if no tenth of m/s is served.
    """
    low, high = 2, FASTEST
    if sweep.in_time(speed, speed):
        low = max(low, int(speed * 10))
    while high - low > 1:
        middle = (low + high) // 2
        if sweep.in_time(middle / 10, middle / 10):
            low = middle
        else:
            high = middle
    fast = max(low / 10, speed if low == int(speed * 10) else 0.0)
    for slow in (*(v for v in SLOW if v < fast), fast):
        if sweep.in_time(slow, fast):
            return slow, fast
    return None


# What to do -----------------------------------------------------------------------


def remedy_of(asked: Asked, swept: Swept, *, reduced: bool) -> Remedy:
    """What would mend it: the lamp lit further out, or the door quicker."""
    one, found = swept.one, swept.found
    side = Message(f"side.{one.side}")
    if not isfinite(found.high):
        return Remedy(Message("in_time.remedy.unnoticed", {"side": side}))
    sooner = TENTH * ceil(found.high / TENTH + 1e-9)
    said: dict[str, Measure | Message] = {
        "side": side,
        "sooner": Measure(sooner, Dimension.TIME),
    }
    further = STEP * ceil(found.high * one.fastest.high / STEP + 1e-9)
    key = "sooner"
    deeper = swept.sweep.further(further)
    if deeper.in_time(one.fastest.high, one.fastest.high):
        reached = further <= TURNED_UP * _deepest(one)
        key, said["further"] = "further" if reached else "other", length(further)
    mended = Message(f"in_time.remedy.{key}", said)
    wide = enough_width(asked, one) if reduced else None
    if wide is None:
        return Remedy(mended)
    values = {"side": side, "width": length(wide), "else": mended}
    return Remedy(Message("in_time.remedy.reduced", values))


def _deepest(one: Given) -> float:
    """How far from the leaf face the fields that surely notice go (m)."""
    corners = (y for field in one.surely.fields for _, y in field.corners)
    return max((float(y) - one.face for y in corners), default=0.0)


def enough_width(asked: Asked, one: Given) -> float | None:
    """The least reduced width, to 10 mm, at which nobody is late; None if none."""
    now, clear = asked.doorway.reduced_width, asked.doorway.clear_width.value
    if not _serves(asked, one, clear):
        return None
    low = floor((now.value if now else 0.0) / WIDER + SLIGHT)
    high = most = ceil(clear / WIDER - SLIGHT)
    while high - low > 1:
        middle = (low + high) // 2
        served = _serves(asked, one, middle * WIDER)
        low, high = (low, middle) if served else (middle, high)
    return high * WIDER if high < most else None


def _serves(asked: Asked, one: Given, width: float) -> bool:
    approach, speed = at_width(asked, one, width), one.fastest.high
    return approach is not None and Sweep(approach).in_time(speed, speed)


# Drawn ----------------------------------------------------------------------------


def witness_of(one: Given, late: Late) -> Witness:
    """The walk as it is printed: places from the middle and the leaf face."""
    x, y = late.start
    printed = {
        "start_along": _whole(one.out * x),
        "start_out": _whole(y - one.face),
        "target_along": _whole(one.out * late.walk.target),
        "heading": one.out * late.walk.heading,
        "speed": late.walk.speed,
    }
    if isfinite(late.seconds):
        printed["late"] = late.seconds
        printed["noticed_out"] = late.walk.at(late.met.left)[1] - one.face
    return Witness("walk", printed=printed)


def shown_field(one: Given) -> tuple[Figure, ...]:
    """The fields that surely notice, on the floor below, as far as before the door."""
    return tuple(
        Polygon(Role.FIELD, tuple(_there(one, x, y) for x, y in _before(field, one)))
        for field in one.surely.fields
    )


def _before(field: Field, one: Given) -> Iterator[tuple[float, float]]:
    """Corners of the part of a field that lies before the leaf face."""
    corners = [(float(x), float(y)) for x, y in field.corners]
    for (x, y), (x2, y2) in pairwise([*corners, corners[0]]):
        if y >= one.face:
            yield x, y
        if (y >= one.face) != (y2 >= one.face):
            share = (one.face - y) / (y2 - y)
            yield x + share * (x2 - x), one.face


def shown_walk(asked: Asked, one: Given, late: Late) -> tuple[Figure, ...]:
    """The walk, the body on it, and the part for which there is no room."""
    (x, y), walker = late.met.at, one.surely.walker
    path = Stroke(Role.WALK, (_there(one, *late.start), _there(one, x, y)))
    body = Polygon(Role.WALK, _body(asked, one, x, y))
    left, right = late.met.free
    if x + walker.aside > right:
        ends = max(right, x - walker.aside), x + walker.aside
    else:
        ends = x - walker.aside, min(left, x + walker.aside)
    missed = Stroke(Role.LATE, (_there(one, ends[0], y), _there(one, ends[1], y)))
    return path, body, missed


def _body(
    asked: Asked, one: Given, x: float, y: float
) -> tuple[tuple[float, float], ...]:
    """The body itself about its middle, in the doorway's frame."""
    half_w, half_d = (
        asked.rule.limit(name).value / 2 for name in ("body_width", "body_depth")
    )
    signs = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    return tuple(_there(one, x + i * half_w, y + j * half_d) for i, j in signs)


def _there(one: Given, x: float, y: float) -> tuple[float, float]:
    """A place of the side in the doorway's frame."""
    return one.out * x, one.out * y
