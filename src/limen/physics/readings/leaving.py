"""What a fit leaves open, in the terms in which a proof takes it.

`limen.physics.tolerance` takes a unit after aiming: its first row stands within
``across`` of its line and within ``along`` of its ends, it is turned by no more than
``turn`` about the upright axis, and its lens stands within ``lens`` of its place.  With
w the turn vector and (dx, dy, dh) the error of the lens, these are

    across = dy + g1 dh + h (1 + g1^2) wx,    along = dx - h (1 + G^2) wy,    turn = wz,

linear in the error of the pose.  They lie together in an ellipsoid 19 times in 20; the
box around it is what the proof gets.  Nothing in it is smaller than one reading of the
closest kind would leave: the same tape reads all of them.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np

from limen.geometry.turns import HALF_TURN, Array, about_x, about_z
from limen.physics.readings.expecting import (
    ALONG,
    HEIGHT,
    SHARE,
    TILT,
    YAW,
    Curtain,
    Taken,
    row_slopes,
)
from limen.physics.readings.hanging import Hanging, Known
from limen.physics.readings.squares import bound_of

OUTSIDE_CHANCE = 0.05


@dataclass(frozen=True, slots=True)
class Left:
    """What a fit leaves open, half-widths.

    Attributes:
        across, along: of the first row's line and of its ends (m).
        turn: about the upright axis (rad).
        lens: of the lens, x, y, h (m).
        share: of the width of the rows.
        angles: of tilt, roll and yaw as such (rad).
    """

    across: float
    along: float
    turn: float
    lens: tuple[float, float, float]
    share: float
    angles: tuple[float, float, float]


def left_open(
    known: Known,
    hanging: Hanging,
    taken: Sequence[Taken],
    taped: tuple[float | None, float | None, float | None],
) -> Left:
    """What a fit leaves open.

    Args:
        known: what was known before.
        hanging: the fit.
        taken: the readings it rests on.
        taped: within what the lens was taped, x, y, h (m); None where it was not.
    """
    untaped = sum(within is None for within in taped)
    counted = 3 + untaped + known.share
    factor = sqrt(bound_of(OUTSIDE_CHANCE, counted))
    spread = np.sqrt(np.diag(_aimed(known, hanging)))
    across, along, turn = (factor * spread).tolist()
    plain = (factor * hanging.spread).tolist()
    least = _least(taken)
    return Left(
        max(across, least[0]),
        max(along, least[1]),
        max(turn, least[2]),
        _lens(known, hanging, taped, plain[ALONG:SHARE]),
        plain[SHARE] if known.share else 0.0,
        (plain[0], plain[1], plain[2]),
    )


def _aimed(known: Known, hanging: Hanging) -> Array:
    """Covariance of (across, along, turn), (3, 3)."""
    pose, curtain = hanging.pose, known.curtain
    slopes = row_slopes(curtain, pose, 0)
    g1 = float(slopes[len(slopes) // 2, 1])
    ends = max(-float(slopes[0, 0] * slopes[-1, 0]), 0.0)
    h = float(pose[HEIGHT])
    turns = np.zeros((3, known.free))
    turns[:, TILT : YAW + 1] = _turns(curtain, pose)
    place = np.zeros((3, known.free))
    place[:, ALONG:SHARE] = np.eye(3)
    way = np.stack(
        [
            place[1] + g1 * place[2] + h * (1 + g1 * g1) * turns[0],
            place[0] - h * (1 + ends) * turns[1],
            turns[2],
        ]
    )
    return way @ hanging.covariance @ way.T


def _turns(curtain: Curtain, pose: Array) -> Array:
    """The turn vector that a small change of tilt, roll and yaw makes, (3, 3)."""
    yawed = about_z(float(pose[YAW]))
    tilted = yawed @ about_x(float(pose[TILT]))
    axes = np.stack([yawed[:, 0], tilted[:, 1], np.array([0.0, 0.0, 1.0])], axis=1)
    return HALF_TURN @ axes if curtain.turned else axes


def _lens(
    known: Known,
    hanging: Hanging,
    taped: tuple[float | None, float | None, float | None],
    fitted: Sequence[float],
) -> tuple[float, float, float]:
    """The lens: as the fit has it, yet not beyond where the tape surely has it."""
    found: list[float] = []
    for place, within in enumerate(taped):
        if within is None:
            found.append(fitted[place])
            continue
        moved = abs(float(hanging.pose[ALONG + place]) - known.lens[place])
        found.append(max(within, min(fitted[place], within + moved)))
    return found[0], found[1], found[2]


def _least(taken: Sequence[Taken]) -> tuple[float, float, float]:
    """What one reading of the closest kind leaves: across, along (m), turn (rad)."""
    across = min((one.uy for one in taken if one.kind != "end"), default=0.0)
    along = min((one.ux for one in taken if one.kind in ("spot", "end")), default=0.0)
    lines = [one.x for one in taken if one.kind != "end"]
    lever = (max(lines) - min(lines)) / 2 if lines else 0.0
    return across, along, across / lever if lever > 0 else 0.0
