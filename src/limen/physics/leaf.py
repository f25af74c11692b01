"""How far a door is open, at the least, some time after its operator was told to."""

from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

from limen.model.doorway import Doorway, Hand
from limen.model.movement import Motion
from limen.physics.leaf_course import (
    Course,
    quickest_in,
    rest_to_rest,
    slowest_in,
)
from limen.physics.leaf_speed import Missing, Span, closing_speeds, spread
from limen.quantity import Grade, Quantity

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Opening:
    """The least free opening over every state the leaves may be in at the signal.

    Whether the door stood closed, or was closing at full speed at any gap: at no
    time is less free than this.  It never shrinks with time.

    Attributes:
        half: half the clear width (m).
        hand: the side to which a single leaf opens; None for two leaves.
        delay: from the signal until the last of them moves open (s).
        course: the way of a leading edge from then on.
        grades: of every figure it rests on.
    """

    half: float
    hand: Hand | None
    delay: float
    course: Course
    grades: tuple[Grade, ...] = ()

    @property
    def breaks(self) -> tuple[float, ...]:
        """Times after the signal between which the edges move as t², t or not (s)."""
        return tuple(self.delay + t for t in self.course.breaks)

    def free(self, t: ArrayLike) -> tuple[Array, Array]:
        """The free opening at times after the signal at the operator.

        Args:
            t: times (s), any shape.

        Returns:
            x of its left and right end, seen from outside (m), of that shape.  Both
            are equal where nothing is open yet.
        """
        way = self.course.way(np.asarray(t, dtype=np.float64) - self.delay)
        match self.hand:
            case "right":
                return np.full_like(way, -self.half), way - self.half
            case "left":
                return self.half - way, np.full_like(way, self.half)
            case None:
                return -way, way

    def time_to(self, width: float) -> float:
        """When a width is free at the latest, from the signal (s).

        Raises:
            ValueError: the leaves do not open so wide.
        """
        return self.delay + self.course.time_to(width / (1 if self.hand else 2))


def opening_of(
    doorway: Doorway,
    *,
    width: float | None = None,
    latest: bool = True,
    from_closed: bool = False,
) -> Opening | Missing:
    """The opening of a doorway by its figures' bounds.

    The worst start: at rest and closed, or closing at full speed so near closed
    that it stops there.  From any other state more is free at every time: a leaf
    that stops further open stays ahead on the same course.

    Args:
        doorway: as described: ``motion``, ``operator.reacts_in``.
        width: the width to which it opens (m); the clear width if left out.
        latest: bound by the slow end of each figure; else by the quick end, which
            only serves to show that it fails even so.
        from_closed: whether only the door that stood closed is asked about.

    Returns:
        The opening; or the keys of the file that are missing.

    Source:
        Derived: D = max(start delay, reversal delay + v/b), then a trapezoid from
        closed.  Braking from v at b takes v/b; over the way v·t + v²/(2b) the leaf
        may come to rest closed and starts from there.  Left out: a pause of the
        operator between stopping and opening.
    """
    clear = doorway.clear_width.value if width is None else width
    stroke = clear if doorway.leaves.hand else clear / 2
    share = clear / doorway.clear_width.value
    moves = _moves(doorway.motion, stroke, share, latest=latest)
    waits = _waits(doorway, latest=latest, from_closed=from_closed)
    if isinstance(moves, tuple) or isinstance(waits, tuple):
        return tuple(k for m in (moves, waits) if isinstance(m, tuple) for k in m)
    half = doorway.clear_width.value / 2
    grades = (*moves.grades, *waits.grades)
    return Opening(half, doorway.leaves.hand, waits.seconds, moves.course, grades)


@dataclass(frozen=True, slots=True)
class _Moves:
    course: Course
    grades: tuple[Grade, ...]


@dataclass(frozen=True, slots=True)
class _Waits:
    seconds: float
    grades: tuple[Grade, ...]


def _moves(
    motion: Motion, stroke: float, share: float, *, latest: bool
) -> _Moves | Missing:
    """The course by speed and acceleration, or by the stopwatch if that is longer."""
    by_each = (
        _as_set(motion, stroke, latest=latest),
        _as_timed(motion, stroke, share, latest=latest),
    )
    found = [moves for moves in by_each if moves is not None]
    if not found:
        return ("motion.opening_time",)
    slowest = max if latest else min
    return slowest(found, key=lambda moves: moves.course.end)


def _as_set(motion: Motion, stroke: float, *, latest: bool) -> _Moves | None:
    speed, gain = motion.opening_speed, motion.opening_acceleration
    if speed is None or gain is None:
        return None
    v, a = (_end(q, latest=not latest) for q in (speed, gain))
    if v <= 0 or a <= 0:
        return None
    return _Moves(rest_to_rest(stroke, v, a), (speed.grade, gain.grade))


def _as_timed(
    motion: Motion, stroke: float, share: float, *, latest: bool
) -> _Moves | None:
    """By the stopwatch, which ran for the whole way.

    A share k of it takes no less than k·T, kept at L/T, and no more than √k·T, the
    triangle.
    """
    span, gain = spread(motion.opening_time, motion.opening_runs), None
    if span is None or span.low <= 0:
        return None
    if not latest:
        return _Moves(quickest_in(stroke, share * span.low), span.grades)
    grades = span.grades
    if motion.opening_acceleration is not None:
        gain = motion.opening_acceleration.low
        grades = (*grades, motion.opening_acceleration.grade)
    return _Moves(slowest_in(stroke, sqrt(share) * span.high, gain), grades)


def _waits(doorway: Doorway, *, latest: bool, from_closed: bool) -> _Waits | Missing:
    """From the signal until a leaf of the worst start moves open."""
    start = doorway.motion.start_delay
    turn = _turn(doorway, latest=latest)
    missing = () if start else ("motion.start_delay",)
    if from_closed and start:
        return _Waits(_end(start, latest=latest), (start.grade,))
    if isinstance(turn, tuple) and not from_closed:
        missing = (*missing, *turn)
    if start is None or isinstance(turn, tuple):
        return missing
    seconds = max(_end(start, latest=latest), turn.seconds)
    return _Waits(seconds, (start.grade, *turn.grades))


def _turn(doorway: Doorway, *, latest: bool) -> _Waits | Missing:
    """From the signal until a leaf that was closing at full speed stands."""
    braking = doorway.motion.braking
    reversal = reversal_of(doorway)
    speeds = closing_speeds(doorway)
    if not isinstance(speeds, Span) or reversal is None or braking is None:
        named = {"motion.reversal_delay": reversal, "motion.braking": braking}
        missing = tuple(key for key, given in named.items() if given is None)
        return (*missing, *(speeds if isinstance(speeds, tuple) else ()))
    speed, brakes = speeds.low, braking.high
    if latest:
        speed, brakes = speeds.high, braking.low
    if brakes <= 0:
        return ("motion.braking",)
    grades = (reversal.grade, braking.grade, *speeds.grades)
    return _Waits(_end(reversal, latest=latest) + speed / brakes, grades)


def reversal_of(doorway: Doorway) -> Quantity | None:
    """From the signal until a closing leaf brakes (s); what the operator needs for it.

    The figure for the doorway, else that of its operator.
    """
    return doorway.motion.reversal_delay or doorway.operator.reacts_in


def _end(quantity: Quantity, *, latest: bool) -> float:
    return quantity.high if latest else quantity.low
