"""The frame: x right seen from outside, y outside, z up; it is left-handed.

Turns are the usual matrices in these coordinates.
"""

from math import radians

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.geometry.turns import HALF_TURN, about_x, about_y, about_z, unit_pose

ANGLES = st.floats(-3, 3)
X, Y, Z = np.eye(3)
DOWN = -Z

# A door whose outside lies to the south: what x, y and z are in a right-handed world
# of east, north and up, for someone who stands outside and looks north.
EAST, NORTH, UP = np.eye(3)
WORLD = np.stack((EAST, -NORTH, UP), axis=1)


@pytest.mark.parametrize(
    ("turn", "start", "end"),
    [
        pytest.param(about_x, Y, Z, id="y to z about x"),
        pytest.param(about_y, Z, X, id="z to x about y"),
        pytest.param(about_z, X, Y, id="x to y about z"),
    ],
)
def test_a_quarter_turn_leads_from_axis_to_axis(turn, start, end) -> None:  # noqa: ANN001
    assert np.allclose(turn(np.pi / 2) @ start, end, atol=1e-15)


@given(ANGLES, ANGLES, ANGLES)
def test_a_pose_is_a_rotation(tilt: float, roll: float, yaw: float) -> None:
    pose = unit_pose(tilt, roll, yaw)
    assert np.allclose(pose @ pose.T, np.eye(3), atol=1e-12)
    assert np.linalg.det(pose) > 0


def test_positive_tilt_leads_outside() -> None:
    looks = unit_pose(radians(10), 0.0, 0.0) @ DOWN
    assert looks[1] > 0
    assert looks[0] == pytest.approx(0)


def test_positive_roll_leads_to_the_left_seen_from_outside() -> None:
    # z turns towards x: what looks down swings towards -x
    looks = unit_pose(0.0, radians(10), 0.0) @ DOWN
    assert looks[0] < 0
    assert looks[1] == pytest.approx(0)


def test_positive_yaw_brings_the_right_end_of_a_row_outside() -> None:
    right = unit_pose(0.0, 0.0, radians(10)) @ np.array([0.5, 0.0, -0.8])
    assert right[0] > 0
    assert right[1] > 0


def test_half_a_turn_is_no_mirror() -> None:
    assert np.linalg.det(HALF_TURN) == pytest.approx(1.0)
    assert np.allclose(HALF_TURN, about_z(np.pi), atol=1e-15)


def test_the_frame_is_left_handed() -> None:
    assert np.linalg.det(WORLD) == pytest.approx(-1.0)


@pytest.mark.parametrize(
    ("turn", "looks", "above"),
    [
        pytest.param(about_z, -UP, NORTH, id="yaw, from above"),
        pytest.param(about_y, NORTH, UP, id="roll, from outside"),
        pytest.param(about_x, -EAST, UP, id="tilt, looking to the left post"),
    ],
)
def test_in_each_drawing_a_positive_turn_is_clockwise(turn, looks, above) -> None:  # noqa: ANN001
    seen = WORLD @ turn(radians(10)) @ WORLD.T @ above
    right = np.cross(looks, above)  # what the eye has on its right
    assert seen @ right > 0  # a clock's hand goes from above to the right
