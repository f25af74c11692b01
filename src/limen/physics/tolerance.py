"""How far each beam can stand from its nominal place, rigorously.

With g the slope of a beam and H the drop from the lens, a small turn (ox, oy,
oz), a lens error (dx, dy) and a height error dh move the beam by

    dX = dx + gx dh + H (gx gy ox - (1 + gx^2) oy - gy oz)
    dY = dy + gy dh + H ((1 + gy^2) ox - gx gy oy + gx oz).

Each coefficient is bounded over all slopes that the error itself can bring
about (a turn by e moves a slope by at most tan(t + e) - tan t, t the angle from
the vertical) and over all heights that count, so the bound holds for the exact,
not only for the linear, displacement.  What is common to all beams of a unit is
kept apart from what differs between them.

*After aiming* the tilt was turned until the first row landed on its line, read to
within a, and the roll until its ends did, read to within b.  With g1 the first
row's slope across the door, G^2 the product of its ends' slopes along it, and s the
share of the drop from the lens at which a height lies, the turns are known,

    h ox = (a - dy - g1 dh) / (1 + g1^2),    h oy = (dx - b) / (1 + G^2),

so that, with q = (1 + gy^2)/(1 + g1^2) and p = (1 + gx^2)/(1 + G^2),

    dX = dx (1 - s p) + b s p + gx dh + s gx gy / (1 + g1^2) (a - dy - g1 dh)
    dY = dy (1 - s q) + a s q + (gy - g1 s q) dh - s gx gy / (1 + G^2) (dx - b).

Derived for limen; attacked by exact recomputation in tests/soundness.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from limen.geometry.turns import Array


@dataclass(frozen=True, slots=True)
class Errors:
    """Largest errors of a unit; all m or rad, none negative.

    Attributes:
        dx, dy, dh: of the lens place and height, beams keeping their direction.
        tilt, roll, yaw: turns about x, y and z of the doorway's frame.
        fan, row: of each spot's own angle along and across its row.
        floor_x, floor_y: of the first row's place on the floor, after aiming.
        swing_x, swing_y: of the lens place, the first row held where it is read.
    """

    dx: float = 0.0
    dy: float = 0.0
    dh: float = 0.0
    tilt: float = 0.0
    roll: float = 0.0
    yaw: float = 0.0
    fan: float = 0.0
    row: float = 0.0
    floor_x: float = 0.0
    floor_y: float = 0.0
    swing_x: float = 0.0
    swing_y: float = 0.0


class FirstRow(NamedTuple):
    """The row by which a unit is aimed.

    Attributes:
        across: its slope across the door, in the doorway's frame.
        ends: root of minus the product of its ends' slopes along the door.
    """

    across: float
    ends: float


NADIR = FirstRow(0.0, 0.0)


class Bounds(NamedTuple):
    """Residual error of each beam (n, 2) and the shift common to all (2,), m."""

    residual: Array
    common: Array


class Span(NamedTuple):
    """Intervals, one a beam: lower and upper ends."""

    low: Array
    high: Array


class _Slopes(NamedTuple):
    """The slopes gx and gy of all beams, and gx gy, 1 + gx^2 and 1 + gy^2."""

    x: Span
    y: Span
    cross: Span
    square_x: Span
    square_y: Span


def bounds(
    lens: Array,
    directions: Array,
    height_span: tuple[float, float],
    errors: Errors,
    fan_axes: Array,
    row_axes: Array,
    first: FirstRow = NADIR,
) -> Bounds:
    """Residual and common bounds of a unit's beams under its errors.

    Args:
        lens: (3,) nominal place of the lens.
        directions: (n, 3) nominal unit vectors.
        height_span: lowest and highest height that counts.
        errors: the largest errors.
        fan_axes: (n, 3) axes of the fan error.
        row_axes: (n, 3) axes of the row error.
        first: the row by which the unit is aimed, for its floor and swing errors.
    """
    slopes = directions[:, :2] / -directions[:, 2:]
    height, count = float(lens[2]), len(slopes)
    turn = _turn(errors, height, first)
    gx, gy = _slope_spans(slopes, turn)
    low, high = height_span
    drop = _const(height - high - errors.dh, height - low + errors.dh, count)
    share = _const(
        1.0 - high / (height - errors.dh), 1.0 - low / (height + errors.dh), count
    )
    # each of these is taken many times over: what is nought is not reckoned at all
    beams = _Slopes(gx, gy, _times(gx, gy), _one_plus_square(gx), _one_plus_square(gy))
    shifts = [
        *_aimed(beams, share, errors, first, turn),
        *_leaned(beams, drop, errors),
    ]
    common, residual = np.zeros(2), np.zeros_like(slopes)
    for along_x, along_y, size in shifts:
        for column, span in enumerate((along_x, along_y)):
            middle = _middle(span)
            common[column] += abs(middle) * size
            residual[:, column] += _reach(span, middle) * size
    for axes, size in ((fan_axes, errors.fan), (row_axes, errors.row)):
        if size:
            for column, span in enumerate(_turned(beams, drop, axes)):
                residual[:, column] += _reach(span, 0.0) * size
    return Bounds(residual, common)


def _aimed(
    beams: _Slopes, share: Span, errors: Errors, first: FirstRow, turn: float
) -> Iterator[tuple[Span, Span, float]]:
    """Coefficients along x and y of each error of place, with its size."""
    count = len(beams.x.low)
    one, zero = _const(1.0, 1.0, count), _const(0.0, 0.0, count)
    across, ends = _near(first.across, turn, count), _near(first.ends, turn, count)
    if errors.dx:
        yield one, zero, errors.dx
    if errors.dy:
        yield zero, one, errors.dy
    if errors.dh or errors.floor_y or errors.swing_y:
        by_row = _over(share, _one_plus_square(across))
        q, tilted = _times(beams.square_y, by_row), _times(beams.cross, by_row)
        along = _less(beams.x, _times(across, tilted))
        yield along, _less(beams.y, _times(across, q)), errors.dh
        yield tilted, q, errors.floor_y
        yield _minus(tilted), _less(one, q), errors.swing_y
    if errors.floor_x or errors.swing_x:
        by_ends = _over(share, _one_plus_square(ends))
        p, rolled = _times(beams.square_x, by_ends), _times(beams.cross, by_ends)
        yield p, rolled, errors.floor_x
        yield _less(one, p), _minus(rolled), errors.swing_x


def _leaned(
    beams: _Slopes, drop: Span, errors: Errors
) -> Iterator[tuple[Span, Span, float]]:
    """Coefficients along x and y of each turn of the unit, with its size."""
    cross = _times(drop, beams.cross)
    if errors.tilt:
        yield cross, _times(drop, beams.square_y), errors.tilt
    if errors.roll:
        yield _minus(_times(drop, beams.square_x)), _minus(cross), errors.roll
    if errors.yaw:
        yield _minus(_times(drop, beams.y)), _times(drop, beams.x), errors.yaw


def _near(slope: float, turn: float, count: int) -> Span:
    """A slope of the first row, as far as the unit's turn can change it."""
    lean = float(np.arctan(abs(slope)))
    room = float(np.tan(min(lean + turn, 1.55)) - np.tan(lean))
    return _const(slope - room, slope + room, count)


def _over(above: Span, below: Span) -> Span:
    """Quotient of what is not negative by what is at least 1."""
    return Span(above.low / below.high, above.high / below.low)


def _turn(errors: Errors, height: float, first: FirstRow) -> float:
    """The largest turn of any beam (rad), that of aiming included."""
    turned = float(np.linalg.norm([errors.tilt, errors.roll, errors.yaw]))
    tilted = errors.floor_y + errors.swing_y + abs(first.across) * errors.dh
    rolled = errors.floor_x + errors.swing_x
    aimed = (tilted + rolled) / (height - errors.dh)
    return turned + errors.fan + errors.row + aimed


def _slope_spans(slopes: Array, turn: float) -> tuple[Span, Span]:
    lean = np.arctan(np.hypot(slopes[:, 0], slopes[:, 1]))
    room = np.tan(np.minimum(lean + turn, 1.55)) - np.tan(lean)
    x, y = slopes[:, 0], slopes[:, 1]
    return Span(x - room, x + room), Span(y - room, y + room)


def _turned(beams: _Slopes, drop: Span, axes: Array) -> tuple[Span, Span]:
    """Coefficients along x and y of a turn of each beam about an axis of its own."""
    ox, oy, oz = axes.T
    x = _less(_scaled(beams.cross, ox), _scaled(beams.square_x, oy))
    y = _less(_scaled(beams.square_y, ox), _scaled(beams.cross, oy))
    x, y = _less(x, _scaled(beams.y, oz)), _sum(y, _scaled(beams.x, oz))
    return _times(drop, x), _times(drop, y)


def _const(low: float, high: float, count: int) -> Span:
    return Span(np.full(count, low), np.full(count, high))


def _sum(a: Span, b: Span) -> Span:
    return Span(a.low + b.low, a.high + b.high)


def _minus(a: Span) -> Span:
    return Span(-a.high, -a.low)


def _less(a: Span, b: Span) -> Span:
    return _sum(a, _minus(b))


def _times(a: Span, b: Span) -> Span:
    one, two = a.low * b.low, a.low * b.high
    three, four = a.high * b.low, a.high * b.high
    low = np.minimum(np.minimum(one, two), np.minimum(three, four))
    return Span(low, np.maximum(np.maximum(one, two), np.maximum(three, four)))


def _scaled(a: Span, by: Array) -> Span:
    """What is an interval times what is known."""
    one, two = a.low * by, a.high * by
    return Span(np.minimum(one, two), np.maximum(one, two))


def _one_plus_square(a: Span) -> Span:
    squares = np.square(a.low), np.square(a.high)
    least = np.where((a.low < 0) & (a.high > 0), 0.0, np.minimum(*squares))
    return Span(1.0 + least, 1.0 + np.maximum(*squares))


def _middle(span: Span) -> float:
    if not len(span.low):
        return 0.0
    return float(span.low.min() + span.high.max()) / 2


def _reach(span: Span, middle: float) -> Array:
    return np.maximum(np.abs(span.low - middle), np.abs(span.high - middle))
