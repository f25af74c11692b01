"""The fit of a mounting: a worked case, honest readings, readings that say too little.

The worked case: four spots in two rows seen from 2.2 m, from the project's physics
notes, section 8 and rows 109 to 111, computed there with SciPy 1.17 (`least_squares`)
in a frame with x away from the door: R = Rz(yaw) Ry(-tilt) Rx(roll), lens directions
(tan a, tan b, -1), a of 5 and 20 degrees, b of -20 and 20, tilt 7, yaw 3, roll -2
degrees.  In limen's frame x runs along the opening, and yaw and roll change sign.
Printed digits set the tolerance.
"""

from math import atan, cos, degrees, radians, sqrt, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limen.physics.readings.expecting import Curtain, Taken, expected, pose_of
from limen.physics.readings.hanging import Known, determined, hang, looseness
from oracles.readings import (
    ANGLE_ERROR,
    EVENNESS,
    LENS,
    SETS,
    Mounting,
    Wanted,
    curtain,
    drawn,
    true_reading,
)

A, B = (5.0, 20.0), (-20.0, 20.0)
SIGMA = 0.005
FLOOR_POINTS = [
    (517.06, -879.53),
    (426.51, 751.27),
    (1180.52, -877.44),
    (1069.37, 810.54),
]
"""mm, away from the door and along it, in the notes' frame."""
SD = (0.05609, 0.06962, 0.15169)
"""Degrees: tilt, roll, yaw."""
SD_OF_THREE = (0.07426, 0.08155, 0.19228)
SD_FREE_HEIGHT = (0.08672, 0.06997, 0.15169)
SURE = 1e-9


def _case(
    height: float | None = SURE,
) -> tuple[Known, list[Taken]]:
    angles = tuple(radians(a) for a in A)
    fans = tuple(
        np.array([atan(tan(radians(b)) * cos(radians(a))) for b in B]) for a in A
    )
    own = Curtain(False, angles, fans, (0, 1))
    truth = pose_of((radians(7), radians(2), radians(-3)), (0.0, 0.0, 2.2))
    u = SIGMA * sqrt(3)
    open_ = [
        Taken(1 + 2 * row + spot, "spot", 0.0, 0.0, u, u, row, spot)
        for row in (0, 1)
        for spot in (0, 1)
    ]
    figures = np.array(expected(own, truth, open_)).reshape(4, 2)
    taken = [
        Taken(one.number, "spot", x, y, u, u, one.row, one.spot)
        for one, (x, y) in zip(open_, figures.tolist(), strict=True)
    ]
    return Known(own, (0.0, 0.0, 2.2), (SURE, SURE, height)), taken


def test_the_worked_case_lands_where_it_is_printed() -> None:
    _, taken = _case()
    landed = [(one.y * 1000, one.x * 1000) for one in taken]
    assert np.allclose(landed, FLOOR_POINTS, atol=0.005)


def test_the_worked_case_is_found_again_with_its_printed_uncertainty() -> None:
    known, taken = _case()
    found = hang(known, taken)
    assert [degrees(one) for one in found.pose[:3]] == pytest.approx(
        [7, 2, -3], abs=1e-9
    )
    assert [degrees(one) for one in found.spread[:3]] == pytest.approx(SD, abs=5e-6)
    covariance = found.covariance
    correlation = covariance[1, 2] / sqrt(covariance[1, 1] * covariance[2, 2])
    assert correlation == pytest.approx(-0.614, abs=5e-4)


def test_three_of_its_spots_do_but_less_closely() -> None:
    known, taken = _case()
    found = hang(known, taken[:3])
    assert [degrees(one) for one in found.spread[:3]] == pytest.approx(
        SD_OF_THREE, abs=5e-6
    )


def test_with_the_height_not_taped_tilt_and_height_trade_off() -> None:
    known, taken = _case(height=None)
    found = hang(known, taken)
    assert [degrees(one) for one in found.spread[:3]] == pytest.approx(
        SD_FREE_HEIGHT, abs=5e-6
    )
    assert found.spread[5] * 1000 == pytest.approx(7.15, abs=0.005)


def test_points_rounded_to_5_mm_give_the_printed_fit() -> None:
    known, taken = _case()
    rounded = [
        Taken(t.number, "spot", _to_5(t.x), _to_5(t.y), t.ux, t.uy, t.row, t.spot)
        for t in taken
    ]
    found = hang(known, rounded)
    fitted = [degrees(one) for one in found.pose[:3]]
    assert fitted == pytest.approx([6.97999, 1.99572, -2.99579], abs=5e-6)
    residual = sqrt(found.misfit * SIGMA**2 / (8 - 3)) * 1000
    assert residual == pytest.approx(1.54, abs=0.005)


def _to_5(metres: float) -> float:
    return round(metres / 0.005) * 0.005


@given(st.integers(0, 2**32 - 1), st.sampled_from(sorted(SETS)))
@settings(max_examples=40)
def test_perfect_readings_give_back_how_the_unit_hangs(seed: int, name: str) -> None:
    mounting, _ = drawn(np.random.default_rng(seed))
    own = curtain(inside=mounting.inside)
    taken = [
        true_reading(mounting, own, what, number)
        for number, what in enumerate(SETS[name], 1)
    ]
    lens = (SURE, SURE, SURE)
    known = Known(own, mounting.lens, lens, mounting.tilt + radians(2))
    found = hang(known, taken)
    assert np.allclose(found.pose, mounting.pose, atol=2e-5)
    assert found.misfit < 1e-3


@given(st.integers(0, 2**32 - 1))
@settings(max_examples=15)
def test_a_closer_tape_never_leaves_more_open(seed: int) -> None:
    known, taken = _readings(seed, "the useful minimum")
    closer = [
        Taken(t.number, t.kind, t.x, t.y, t.ux / 2, t.uy / 2, t.row, t.spot)
        for t in taken
    ]
    own = hang(known, taken).spread
    assert np.all(hang(known, closer).spread <= own * (1 + 1e-6))


def _readings(seed: int, name: str) -> tuple[Known, list[Taken]]:
    mounting, taped = drawn(np.random.default_rng(seed))
    own = curtain(inside=mounting.inside)
    taken = [
        true_reading(mounting, own, what, number)
        for number, what in enumerate(SETS[name], 1)
    ]
    sd = LENS / sqrt(3)
    return Known(own, taped, (sd, sd, sd), mounting.tilt, ANGLE_ERROR, EVENNESS), taken


def test_two_readings_never_show_how_a_unit_hangs() -> None:
    known, taken = _readings(3, "five spots")
    assert not determined(known, taken[:2], known.begin())
    assert determined(known, taken[:3], known.begin())


def test_row_lines_alone_say_nothing_of_the_roll() -> None:
    mounting, taped = drawn(np.random.default_rng(5))
    own = curtain(inside=mounting.inside)
    lines = [Wanted("line", 0, at) for at in (-1.0, 0.0, 1.0)]
    taken = [true_reading(mounting, own, one, n) for n, one in enumerate(lines, 1)]
    known = Known(own, taped, (SURE, SURE, SURE), mounting.tilt)
    loose = looseness(known, taken, known.begin())
    assert loose[1] > radians(1)
    with pytest.raises(ValueError, match="do not determine"):
        hang(known, taken)


def test_two_lines_a_hand_apart_are_too_near_to_show_the_yaw() -> None:
    mounting, taped = drawn(np.random.default_rng(5))
    own = curtain(inside=mounting.inside)
    near = [Wanted("line", 0, -0.05), Wanted("line", 0, 0.05), Wanted("end", 0, 0)]
    taken = [true_reading(mounting, own, one, n) for n, one in enumerate(near, 1)]
    known = Known(own, taped, (SURE, SURE, SURE), mounting.tilt)
    assert not determined(known, taken, known.begin())


def test_a_reading_that_is_not_resolved_is_refused() -> None:
    known, taken = _readings(3, "the useful minimum")
    open_ = [Taken(t.number, t.kind, t.x, t.y, t.ux, t.uy) for t in taken]
    with pytest.raises(ValueError, match="which beam"):
        hang(known, open_)


def test_a_mirrored_unit_is_another_unit() -> None:
    """The inside unit is turned, not mirrored: its left end is the fan's last."""
    outside = Mounting(0.02, 0.01, 0.03, (0.1, 0.15, 2.4), inside=False)
    inside = Mounting(0.02, 0.01, 0.03, (-0.1, -0.15, 2.4), inside=True)
    for what in SETS["five spots"]:
        one = true_reading(outside, curtain(inside=False), what, 1)
        turned = Wanted(what.kind, what.row, 23 - what.at)
        other = true_reading(inside, curtain(inside=True), turned, 1)
        assert (one.x, one.y) == pytest.approx((-other.x, -other.y))
