"""A walk that shows a failure, as it goes from instant to instant.

The walk of a finding is walked again as the verdict walked it: by the better end of
every figure, rounded as it was printed.  What is shown here decided there.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import atan2, ceil, cos, hypot, isfinite, sin, tan
from typing import cast

import numpy as np

from limen.findings import Finding
from limen.model.doorway import Hand
from limen.model.people import Side
from limen.physics.in_time_edges import Edges
from limen.physics.in_time_field import Array, Bools, Senses, field_of
from limen.physics.in_time_walk import Met
from limen.physics.radar_zone import Zone, ahead, closing_speed, outline
from limen.physics.walking import Walk, Walker
from limen.questions.approach_side import SIDES, side_field
from limen.questions.asking import Asked
from limen.questions.clear_width import REDUCED
from limen.questions.in_time_given import Given, Maybe, given, maybe
from limen.questions.in_time_told import walked_by

LOOKS = 0.02  # s between two places of the leaves
STEP = 0.002  # m walked between two looks of a slow walker
IN_TIME, SLOWLY = "approach.opens_in_time", "approach.slow_walker"

Place = tuple[float, float]
Point = tuple[float, float, float]
Corners = tuple[Place, ...]


@dataclass(frozen=True, slots=True)
class Opened:
    """How far the door is open from instant to instant, in the doorway's frame.

    Attributes:
        times: from the beginning of the walk (s), rising.
        left, right: ends of what is free then: x (m).
    """

    times: tuple[float, ...]
    left: tuple[float, ...]
    right: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Played:
    """A walk from where it is printed to begin; seconds count from there.

    Attributes:
        side: from which it comes.
        start, stop: x, y of its beginning, and of where too little is free, or
            where nobody noticed it up to the leaf face (m).
        speed: m/s.
        face: y of the leaf face from which distances are taken (m).
        arrives: when it is at ``stop`` (s).
        entered: when the field that notices it is entered (s); None if none is.
        told: when the operator is told (s); None if it never is.
        moves: when a leaf begins to open (s); None if it never does.
        enough: when so much is free that nobody would have been late (s); None if
            that never is.
        missed: the parts of what the body needs that are not free on arrival, each
            from place to place on the floor.
        free: width that is free on arrival (m).
        body: width and depth of the body, of the width that it needs (m).
        needs: width that must be free for it (m); 0 if that is not asked.
        shows: greatest speed it shows a radar within the field (m/s), and the least
            that is needed; None where it is time that is asked about.
        fields: where this walker is noticed, corners on the floor.
        opened: the door.
    """

    side: Side
    start: Place
    stop: Place
    speed: float
    face: float
    arrives: float
    entered: float | None
    told: float | None
    moves: float | None
    enough: float | None
    missed: tuple[tuple[Place, Place], ...]
    free: float
    body: tuple[float, float]
    needs: float
    shows: tuple[float, float] | None
    fields: tuple[Corners, ...]
    opened: Opened

    @property
    def lacks(self) -> float:
        """How much of the width needed is not free on arrival (m)."""
        return sum(abs(b[0] - a[0]) for a, b in self.missed)


def played(asked: Asked, finding: Finding) -> Played | None:
    """The walk of a finding's witness from instant to instant.

    Args:
        asked: the question that found it, put to the same doorway.
        finding: one of ``approach.opens_in_time`` or ``approach.slow_walker``.

    Returns:
        The walk; None if the finding has none.
    """
    witness = finding.witness
    if witness is None or witness.kind != "walk" or finding.case is None:
        return None
    side = cast("Side", finding.case.partition(",")[0])
    if side not in SIDES:
        return None
    if finding.question == SLOWLY:
        return _slow(asked, side, witness.printed)
    if finding.question == IN_TIME:
        width = asked.doorway.reduced_width if REDUCED in finding.case else None
        one = given(asked, side, width.low if width else None)
        better = maybe(asked, one) if isinstance(one, Given) else None
        if isinstance(one, Given) and better is not None:
            return _in_time(asked, one, better, witness.printed)
    return None


# In time --------------------------------------------------------------------------


def _in_time(
    asked: Asked, one: Given, better: Maybe, printed: Mapping[str, float]
) -> Played:
    """The walk, met as the verdict met it."""
    walk, way = _again(one, better, printed)
    met = walked_by(one, better, walk)
    at, free = _met_at(better.approach.walker, walk, met)
    arrives = way / walk.speed - at[1] / cos(walk.heading) / walk.speed
    told = way / walk.speed + met.signal
    ends = arrives + met.late if isfinite(met.late) else arrives
    seen, limit = isfinite(met.left), asked.rule.limit
    return Played(
        side=one.side,
        start=_there(one.out, walk.at(way)),
        stop=_there(one.out, at),
        speed=walk.speed,
        face=one.out * one.face,
        arrives=arrives,
        entered=max((way - met.left) / walk.speed, 0.0) if seen else None,
        told=told if seen else None,
        moves=told + _delay(better.approach.edges) if seen else None,
        enough=ends if seen else None,
        missed=tuple(
            (_there(one.out, (a, at[1])), _there(one.out, (b, at[1])))
            for a, b in _missed(better.approach.walker, at[0], free)
        ),
        free=free[1] - free[0],
        body=(limit("body_width").value, limit("body_depth").value),
        needs=2 * better.approach.walker.aside,
        shows=None,
        fields=_fields(one, better, walk),
        opened=_opened(one.out, better.approach.edges, told, (arrives, ends)),
    )


def _again(
    one: Given, better: Maybe, printed: Mapping[str, float]
) -> tuple[Walk, float]:
    """The walk of a witness in the frame of its side, and its length (m)."""
    x, y = one.out * printed["start_along"], printed["start_out"] + one.face
    target = one.out * printed["target_along"]
    heading, begins = atan2(x - target, y), better.approach.start
    return Walk(heading, target, printed["speed"], begins), hypot(x - target, y)


def _met_at(walker: Walker, walk: Walk, met: Met) -> tuple[Place, Place]:
    """Where too little is free, and the ends of what is; at once if never noticed."""
    if isfinite(met.late):
        return met.at, met.free
    y = walker.ahead
    return (walk.target + y * tan(walk.heading), y), met.free


def _delay(edges: Edges) -> float:
    """How long after the signal the leaves do not move yet (s)."""
    reach = edges.left + edges.right
    return float(edges.times[max(int(np.argmax(reach > reach[0])) - 1, 0)])


def _opened(out: float, edges: Edges, told: float, ends: tuple[float, float]) -> Opened:
    """The opening by the table that the verdict used, looked up in even steps."""
    count = ceil(ends[1] / LOOKS) + 1
    times = np.unique(np.append(np.linspace(0.0, ends[1], count), ends))
    since = times - told
    right = np.interp(since, edges.times, edges.right)
    left = -np.interp(since, edges.times, edges.left)
    if out < 0:
        left, right = -right, -left
    return Opened(*(tuple(each.tolist()) for each in (times, left, right)))


def _missed(walker: Walker, x: float, free: Place) -> tuple[Place, ...]:
    """The parts of what the body needs that are not free: from x to x (m)."""
    low, high = x - walker.aside, x + walker.aside
    left, right = free
    parts = ((low, min(left, high)), (max(right, low), high))
    return tuple(part for part in parts if part[1] > part[0])


@dataclass(frozen=True, slots=True)
class _Noticing:
    """A radar, asked only of people who walk one way at one speed."""

    radar: Senses
    going: Array

    @property
    def lens(self) -> Point:
        return self.radar.lens

    @property
    def least_speed(self) -> float:
        return self.radar.least_speed

    @property
    def response(self) -> float:
        return self.radar.response

    def contains(self, point: Array) -> Bools:
        return self.detects(point, self.going)

    def detects(self, point: Array, velocity: Array) -> Bools:
        return self.radar.detects(point, np.broadcast_to(velocity, point.shape))


def _fields(one: Given, better: Maybe, walk: Walk) -> tuple[Corners, ...]:
    """Where somebody who walks this way at this speed is noticed."""
    towards = np.array([-sin(walk.heading), -cos(walk.heading), 0.0])
    going = one.out * walk.speed * towards
    seen = [_Noticing(radar, going) for radar in better.radars]
    found = [field_of(radar, one.out, one.height) for radar in seen]
    return tuple(_before(field.corners, one) for field in found if field is not None)


def _before(corners: Array, one: Given) -> Corners:
    """A field, drawn no nearer than the leaf face."""
    cut = ((float(x), max(float(y), one.face)) for x, y in corners)
    return tuple(_there(one.out, place) for place in dict.fromkeys(cut))


def _there(out: float, place: Place) -> Place:
    """A place of a side in the doorway's frame."""
    return out * place[0], out * place[1]


# Slowly ---------------------------------------------------------------------------


def _slow(asked: Asked, side: Side, printed: Mapping[str, float]) -> Played | None:
    """A slow walk to the middle of the leaf face, which nobody notices."""
    field = side_field(asked, side)
    if not field.outer:
        return None
    zone = field.outer[0]
    start, speed = (printed["start_along"], printed["start_out"]), printed["speed"]
    closed = _closed(asked.doorway.leaves.hand, asked.settled.plan.half)
    return Played(
        side=side,
        start=(start[0], zone.way * (zone.face + start[1])),
        stop=(0.0, zone.way * zone.face),
        speed=speed,
        face=zone.way * zone.face,
        arrives=hypot(*start) / speed,
        entered=_entered(zone, start, speed),
        told=None,
        moves=None,
        enough=None,
        missed=(),
        free=0.0,
        body=(0.0, 0.0),
        needs=0.0,
        shows=(
            closing_speed(zone, start, speed),
            min(facts.outers[0].least_speed for facts in field.known),
        ),
        fields=_outlines(zone),
        opened=Opened((0.0,), (closed,), (closed,)),
    )


def _closed(hand: Hand | None, half: float) -> float:
    """Where the leading edges meet while the door is closed: x (m)."""
    match hand:
        case "right":
            return -half
        case "left":
            return half
        case None:
            return 0.0


def _entered(zone: Zone, start: Place, speed: float) -> float | None:
    """When the field is entered first (s)."""
    length = hypot(*start)
    left = np.linspace(1.0, 0.0, max(2, ceil(length / STEP)))
    inside = zone.covers(start[0] * left, start[1] * left)
    if not inside.any():
        return None
    return float((1.0 - left[int(np.argmax(inside))]) * length / speed)


def _outlines(zone: Zone) -> tuple[Corners, ...]:
    begin, end = ahead(zone)
    return (outline(zone, (begin + end) / 2),) if end > begin else ()
