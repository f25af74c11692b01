"""What each reading would show if a unit hung in a given way.

A pose is a vector (tilt, roll, yaw, x, y, h, share): angles as in
`limen.physics.beams`, the place of the lens in the doorway's frame, and how wide the
rows are against what is stated, 1 unless that is fitted too.  A reading is met by one
beam of slope g from the lens, seen at height z:

- a *spot centre* shows lens + h g, both ways;
- a *row line* shows how far out the row's plane lies where it was read;
- a *row end* shows lens + h g of its last spot, along the opening alone;
- a *box edge* shows where the beam that is met first meets the leading edge.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import atan, cos, sin, sqrt, tan
from typing import Literal, NamedTuple

import numpy as np

from limen.geometry.turns import Array, about_x
from limen.physics.beams import Attitude

TILT, ROLL, YAW, ALONG, ACROSS, HEIGHT, SHARE = range(7)
Kind = Literal["spot", "line", "end", "in", "out"]
Frame = tuple[tuple[float, float, float], ...]
NUDGE = 1e-3  # m along the row, to see how steeply it runs


@dataclass(frozen=True, slots=True)
class Curtain:
    """The rows of a unit in its own frame.

    Attributes:
        turned: whether it hangs inside.
        row_angles: of every row of the sheet (rad).
        fans: fan angles of each row (rad), as `limen.physics.fans` gives them.
        rows_on: rows that are switched on, from 0.
        by_angle: whether a share of the width is one of the angles, not of the floor.
        low: lowest height at which it detects (m); None if not known.
    """

    turned: bool
    row_angles: tuple[float, ...]
    fans: tuple[Array, ...]
    rows_on: tuple[int, ...]
    by_angle: bool = False
    low: float | None = None

    @property
    def away(self) -> float:
        """The direction away from the door along y."""
        return -1.0 if self.turned else 1.0


@dataclass(frozen=True, slots=True)
class Taken:
    """One reading in the doorway's frame (m).

    Attributes:
        number: its place in the file, from 1.
        kind: what was found.
        x, y: where; y is NaN for the end of a row.
        ux, uy: within what, half-widths; ux of a line is how closely its place
            along the opening is known.
        row: from 0; None if not known, and for a box that meets whichever row.
        spot: from 0, from the left seen from outside, or -1 for the last one;
            None if not known.
        box: height of the box.
    """

    number: int
    kind: Kind
    x: float
    y: float
    ux: float
    uy: float
    row: int | None = None
    spot: int | None = None
    box: float = 0.0

    @property
    def is_box(self) -> bool:
        """Whether a box was pushed."""
        return self.kind in ("in", "out")

    @property
    def resolved(self) -> bool:
        """Whether it is known which beam was met."""
        if self.is_box:
            return True
        return self.row is not None and (self.kind != "spot" or self.spot is not None)


class Met(NamedTuple):
    """The beam that a reading meets: its slope, and the height at which it is seen."""

    gx: float
    gy: float
    z: float


def frames(curtain: Curtain, pose: Array) -> tuple[Frame, ...]:
    """The pose of each row (3, 3) in the doorway's frame."""
    turned = Attitude(pose[TILT], pose[ROLL], pose[YAW], curtain.turned).frame()
    return tuple(
        tuple(map(tuple, (turned @ about_x(angle)).tolist()))
        for angle in curtain.row_angles
    )


def met_by(curtain: Curtain, pose: Array, taken: Taken, each: Sequence[Frame]) -> Met:
    """The beam that a resolved reading meets.

    Args:
        curtain: the unit's rows.
        pose: how it hangs (7,).
        taken: the reading.
        each: `frames` of that pose.
    """
    if taken.is_box:
        return _by_box(curtain, pose, taken, each)
    row = taken.row or 0
    if taken.kind == "line":
        slope = (taken.x - pose[ALONG]) / pose[HEIGHT]
        return Met(*_slope(each[row], _angle_at(each[row], slope)), 0.0)
    fan = curtain.fans[row]
    place = (taken.spot or 0) % len(fan)
    angle = float(fan[len(fan) - 1 - place if curtain.turned else place])
    return Met(*_slope(each[row], _shared(curtain, angle, pose[SHARE])), 0.0)


def expected(curtain: Curtain, pose: Array, taken: Sequence[Taken]) -> list[float]:
    """Every figure that resolved readings would show (m), spot by spot, x before y."""
    each = frames(curtain, pose)
    found: list[float] = []
    for one in taken:
        met = met_by(curtain, pose, one, each)
        drop = pose[HEIGHT] - met.z
        if one.kind in ("spot", "end"):
            found.append(float(pose[ALONG] + drop * met.gx))
        if one.kind != "end":
            found.append(float(pose[ACROSS] + drop * met.gy))
    return found


def row_slopes(curtain: Curtain, pose: Array, row: int) -> Array:
    """Slopes (n, 2) of a row's beams, from its fan's first spot."""
    frame = frames(curtain, pose)[row]
    angles = (_shared(curtain, float(a), pose[SHARE]) for a in curtain.fans[row])
    return np.array([_slope(frame, angle) for angle in angles])


def shown(taken: Sequence[Taken]) -> list[float]:
    """Every figure that readings did show (m), in the same order."""
    found: list[float] = []
    for one in taken:
        if one.kind in ("spot", "end"):
            found.append(one.x)
        if one.kind != "end":
            found.append(one.y)
    return found


def owners(taken: Sequence[Taken]) -> list[int]:
    """The place in the list of the reading that each figure belongs to."""
    return [
        place
        for place, one in enumerate(taken)
        for _ in range(2 if one.kind == "spot" else 1)
    ]


def spreads(
    curtain: Curtain,
    pose: Array,
    taken: Sequence[Taken],
    angle_error: float,
    evenness: float,
) -> list[float]:
    """Standard uncertainty of every figure (m).

    A half-width u stands for any value within it alike, so that its standard
    uncertainty is u / sqrt 3.  What the spot's own angle, an uneven floor and the
    place along the row add is added in squares, as they err independently.

    Args:
        curtain: the unit's rows.
        pose: how it hangs (7,).
        taken: resolved readings.
        angle_error: how far a spot may stand off its own angle (rad).
        evenness: of the floor (m).

    Source:
        JCGM 100:2008, 4.3.7 (rectangular distribution) and 5.1.2 (combination).
    """
    each = frames(curtain, pose)
    found: list[float] = []
    for one in taken:
        gx, gy, z = met_by(curtain, pose, one, each)
        spot = (pose[HEIGHT] - z) * (1.0 + gx * gx + gy * gy) * angle_error
        if one.kind in ("spot", "end"):
            found.append(_rectangular(one.ux, spot, gx * evenness))
        if one.kind != "end":
            foot = gy * evenness if z <= 0.0 else 0.0
            found.append(
                _rectangular(
                    one.uy,
                    spot,
                    foot,
                    _by_place(curtain, pose, one, each),
                    _by_lowest(curtain, one, gy, z),
                )
            )
    return found


def _rectangular(*parts: float) -> float:
    return sqrt(sum(part * part for part in parts) / 3.0)


def _by_place(
    curtain: Curtain, pose: Array, taken: Taken, each: Sequence[Frame]
) -> float:
    """What the doubt of a place along the row makes of a line's distance (m)."""
    if taken.kind == "spot":
        return 0.0
    here = met_by(curtain, pose, taken, each)
    there = met_by(curtain, pose, replace(taken, x=taken.x + NUDGE), each)
    return float((pose[HEIGHT] - here.z) * (there.gy - here.gy) / NUDGE * taken.ux)


def _by_lowest(curtain: Curtain, taken: Taken, gy: float, z: float) -> float:
    """What an unknown lowest height makes of a box met at its foot (m)."""
    if not taken.is_box or curtain.low is not None or z >= taken.box:
        return 0.0
    return gy * taken.box


def _shared(curtain: Curtain, angle: float, share: float) -> float:
    return angle * share if curtain.by_angle else atan(share * tan(angle))


def _slope(frame: Frame, angle: float) -> tuple[float, float]:
    """Slopes of the beam at a fan angle of a row."""
    s, c = sin(angle), cos(angle)
    ux, uy, uz = (line[0] * s - line[2] * c for line in frame)
    return -ux / uz, -uy / uz


def _angle_at(frame: Frame, slope: float) -> float:
    """The fan angle at which a row's plane has this slope along the opening."""
    over = frame[0][2] + slope * frame[2][2]
    return atan(over / (frame[0][0] + slope * frame[2][0]))


def _by_box(curtain: Curtain, pose: Array, taken: Taken, each: Sequence[Frame]) -> Met:
    """The beam that the leading edge of a box meets first.

    Pushed in, from far out, it meets the beam that reaches furthest out between
    the lowest height that counts and its top; pushed out, the nearest one.
    """
    rows = curtain.rows_on if taken.row is None else (taken.row,)
    way = curtain.away if taken.kind == "in" else -curtain.away
    low = min(curtain.low or 0.0, taken.box)
    best: tuple[float, Met] | None = None
    for row in rows:
        for z in (low, taken.box):
            drop = pose[HEIGHT] - z
            slope = (taken.x - pose[ALONG]) / drop
            gx, gy = _slope(each[row], _angle_at(each[row], slope))
            reach = way * (pose[ACROSS] + drop * gy)
            if best is None or reach > best[0]:
                best = reach, Met(gx, gy, z)
    assert best is not None  # noqa: S101  # a unit has a row
    return best[1]


def pose_of(
    angles: tuple[float, float, float],
    lens: tuple[float, float, float],
    share: float = 1.0,
) -> Array:
    """The vector of a pose: (tilt, roll, yaw) in rad, the lens (x, y, h) in m."""
    return np.array([*angles, *lens, share])
