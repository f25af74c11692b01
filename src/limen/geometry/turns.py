"""Rotations and the axis convention.

The frame of a doorway, from above, for someone who stands outside::

           inside
              |
    ----------+---------- x   along the opening,
              |               to the right seen from outside
              |        z points up, out of the page
              |
              y  outside

It is left-handed: from above, x turns clockwise into y.  The matrices are the usual
ones in these coordinates.  Looked at against its axis, a positive turn is therefore
clockwise: yaw from above, roll from outside, tilt when looking to the left post.

A unit that looks straight down has direction (0, 0, -1).  Tilt and row angle
turn about x, so that a positive angle leads towards +y, away from the door;
roll turns about y, yaw about z.  The inside unit is the outside one turned by
half a turn about z, not mirrored.
"""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def about_x(angle: float) -> Array:
    """Rotation matrix (3, 3) about x by ``angle`` (rad): y towards z."""
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[1.0, 0.0, 0.0], [0.0, c, -s], [0.0, s, c]])


def about_y(angle: float) -> Array:
    """Rotation matrix (3, 3) about y by ``angle`` (rad): z towards x."""
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, 0.0, s], [0.0, 1.0, 0.0], [-s, 0.0, c]])


def about_z(angle: float) -> Array:
    """Rotation matrix (3, 3) about z by ``angle`` (rad): x towards y."""
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])


HALF_TURN: Array = np.diag([-1.0, -1.0, 1.0])


def unit_pose(tilt: float, roll: float, yaw: float) -> Array:
    """The pose of an outside unit, Rz(yaw) Rx(tilt) Ry(roll), angles in rad."""
    return about_z(yaw) @ about_x(tilt) @ about_y(roll)
