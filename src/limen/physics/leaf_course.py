"""How far a leaf is on its way after a time: pieces of constant acceleration."""

from dataclasses import dataclass
from math import inf, sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of constant acceleration.

    Attributes:
        start: when it begins (s).
        place: way done by then (m).
        speed: speed at its beginning (m/s).
        gain: acceleration (m/s²); negative while it brakes.
    """

    start: float
    place: float
    speed: float
    gain: float


@dataclass(frozen=True, slots=True)
class Course:
    """A leaf's way from rest to its end.

    Attributes:
        pieces: in the order of time; the first one starts at 0 s.
        end: when the whole way is done (s).
        stroke: the whole way (m).
    """

    pieces: tuple[Piece, ...]
    end: float
    stroke: float

    @property
    def breaks(self) -> tuple[float, ...]:
        """The times at which the acceleration changes (s), start and end among them."""
        return (*(piece.start for piece in self.pieces), self.end)

    def way(self, t: ArrayLike) -> Array:
        """The way done after a time: 0 before the start, the stroke after the end.

        Args:
            t: times from the start (s), any shape.

        Returns:
            Way of the same shape (m).
        """
        times = np.asarray(t, dtype=np.float64)
        rows = [(p.start, p.place, p.speed, p.gain) for p in self.pieces]
        start, place, speed, gain = np.array(rows).T.copy()
        which = np.maximum(start.searchsorted(times, side="right") - 1, 0)
        into = np.maximum(times - start[which], 0.0)
        done = place[which] + (speed[which] + gain[which] / 2 * into) * into
        return np.where(times >= self.end, self.stroke, done)

    def time_to(self, distance: float) -> float:
        """The first time at which a way is done.

        Args:
            distance: the way (m), from 0 to the stroke.

        Returns:
            Time from the start (s).

        Raises:
            ValueError: the leaf does not go so far, or the way is negative.
        """
        if not 0.0 <= distance <= self.stroke:
            raise ValueError(f"the leaf goes 0 to {self.stroke} m, not {distance} m")
        ends = (*(piece.start for piece in self.pieces[1:]), self.end)
        for piece, end in zip(self.pieces, ends, strict=True):
            into = _time_in(piece, distance)
            if into <= end - piece.start:
                return piece.start + into
        return self.end

    @property
    def top_speed(self) -> float:
        """The greatest speed on the way (m/s)."""
        ends = (*(piece.start for piece in self.pieces[1:]), self.end)
        spans = zip(self.pieces, ends, strict=True)
        last = max(p.speed + p.gain * (end - p.start) for p, end in spans)
        return max(last, *(piece.speed for piece in self.pieces))


def _time_in(piece: Piece, distance: float) -> float:
    """How long into a piece a way is done (s); endless if it is not."""
    left = distance - piece.place
    if left <= 0.0:
        return 0.0
    root = piece.speed**2 + 2 * piece.gain * left
    if root < 0.0 or piece.speed + sqrt(root) <= 0.0:
        return inf
    return 2 * left / (piece.speed + sqrt(root))


def rest_to_rest(
    stroke: float, speed: float, gain: float, loss: float | None = None
) -> Course:
    """A way from rest to rest: gain speed, keep it, lose it.

    A trapezoid of speed over time, T = L/v + v/(2a) + v/(2d) if
    v²/(2a) + v²/(2d) ≤ L; else a triangle of peak √(2Lad/(a + d)).

    Args:
        stroke: the way L (m), more than 0.
        speed: the speed v that is kept (m/s), more than 0.
        gain: acceleration a (m/s²), more than 0.
        loss: deceleration d (m/s²); as quick as the acceleration if left out.

    Returns:
        The course.

    Raises:
        ValueError: an argument is not positive and finite.

    Source:
        Kinematics.  Left out: jerk, and friction that changes on the way.
    """
    loss = gain if loss is None else loss
    _positive(stroke=stroke, speed=speed, gain=gain, loss=loss)
    peak = min(speed, sqrt(2 * stroke * gain * loss / (gain + loss)))
    up, down = peak / gain, peak / loss
    cruise = max(0.0, stroke - peak * (up + down) / 2) / peak
    braking = stroke - peak * down / 2
    pieces = (
        Piece(0.0, 0.0, 0.0, gain),
        Piece(up, peak * up / 2, peak, 0.0),
        Piece(up + cruise, braking, peak, -loss),
    )
    return Course(pieces, up + cruise + down, stroke)


def with_slow_zone(
    stroke: float, speed: float, gain: float, zone: float, slow: float
) -> Course:
    """A closing way whose last part is crept: brake to ``slow`` before the zone.

    The leaf has come down to ``slow`` where the zone begins and stops at its end.
    A zone too short to stop in is no zone.

    Args:
        stroke: the way (m).
        speed: the speed before the zone (m/s).
        gain: acceleration and deceleration (m/s²).
        zone: length of the zone (m), 0 for none.
        slow: speed in it (m/s).

    Returns:
        The course.

    Raises:
        ValueError: an argument is not positive and finite, or the zone negative.

    Source:
        Kinematics.
    """
    if not 0.0 <= zone < inf:
        raise ValueError(f"a zone is finite and not negative, not {zone} m")
    _positive(stroke=stroke, speed=speed, gain=gain, slow=slow)
    if slow >= speed or zone < slow**2 / (2 * gain):
        return rest_to_rest(stroke, speed, gain)
    before = stroke - zone
    if before <= slow**2 / (2 * gain):
        return rest_to_rest(stroke, slow, gain)
    peak = min(speed, sqrt(before * gain + slow**2 / 2))
    up, down = peak / gain, (peak - slow) / gain
    braking = (peak + slow) * down / 2
    cruise = max(0.0, before - peak * up / 2 - braking) / peak
    at_zone = up + cruise + down
    stop = slow / gain
    creep = (zone - slow * stop / 2) / slow
    pieces = (
        Piece(0.0, 0.0, 0.0, gain),
        Piece(up, peak * up / 2, peak, 0.0),
        Piece(up + cruise, before - braking, peak, -gain),
        Piece(at_zone, before, slow, 0.0),
        Piece(at_zone + creep, before + slow * creep, slow, -gain),
    )
    return Course(pieces, at_zone + creep + stop, stroke)


def slowest_in(stroke: float, time: float, gain: float | None = None) -> Course:
    """The least way done at each time by any leaf that took this long in all.

    Over every trapezoid and triangle that gains speed no less quickly than it
    loses it: L·min(2u², u) with u = t/T.  Early the triangle is behind, later the
    leaf that never went faster than L/T.  Where the acceleration is known to be at
    least a, the triangle gives way to the trapezoid of a and T.

    Args:
        stroke: the whole way L (m).
        time: how long it took in all, T (s).
        gain: the least acceleration a (m/s²), if it is known.

    Returns:
        A bound as a course; no single leaf moves so.

    Raises:
        ValueError: an argument is not positive and finite.

    Source:
        Derived: of trapezoids with equal T and equal gain and loss all are half way
        at T/2; before, a quicker gain is ahead, up to the line L·u; after, it is
        behind, down to that line.  A loss slower than the gain is ahead of both.
    """
    _positive(stroke=stroke, time=time)
    half, slowest = time / 2, 4 * stroke / time**2
    a = slowest if gain is None else max(gain, slowest)
    speed = a * (time - sqrt(max(0.0, time**2 - 4 * stroke / a))) / 2
    up = min(speed / a, half)
    pieces = (
        Piece(0.0, 0.0, 0.0, a),
        Piece(up, speed * up / 2, speed, 0.0),
        Piece(half, stroke / 2, stroke / time, 0.0),
    )
    return Course(pieces, time, stroke)


def quickest_in(stroke: float, time: float) -> Course:
    """The greatest way done at each time by any leaf that took this long in all.

    L·(2u - u²): off at 2L/T at once, then braking all the way.

    Args:
        stroke: the whole way (m).
        time: how long it took in all (s).

    Returns:
        A bound as a course.

    Raises:
        ValueError: an argument is not positive and finite.

    Source:
        Derived: speed never above 2L/T and never gained again once lost makes the
        way concave after its start, least left over at the end.
    """
    _positive(stroke=stroke, time=time)
    speed = 2 * stroke / time
    return Course((Piece(0.0, 0.0, speed, -speed / time),), time, stroke)


def _positive(**values: float) -> None:
    for name, value in values.items():
        if not 0.0 < value < inf:
            raise ValueError(f"{name} is finite and more than 0, not {value}")
