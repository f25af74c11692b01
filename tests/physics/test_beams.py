"""Where a unit's beams stand, in the doorway's frame."""

from math import cos, degrees, radians, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.geometry.turns import about_x, about_y, about_z
from limen.physics.beams import Attitude, Beams, beams_of, spans

LENS = (0.0, 0.0, 2.2)
FAN = np.radians(np.linspace(-30.0, 30.0, 7))
SMALL = st.floats(-0.3, 0.3)


def beams(
    tilt: float = 0.0,
    roll: float = 0.0,
    yaw: float = 0.0,
    *,
    turned: bool = False,
    lens: tuple[float, float, float] = LENS,
    rows: tuple[float, ...] = (0.0,),
) -> Beams:
    attitude = Attitude(tilt, roll, yaw, turned)
    fans = (FAN,) * len(rows)
    return beams_of(lens, attitude, rows, fans, tuple(range(len(rows))))


@pytest.mark.parametrize(
    ("degrees_out", "metres"),
    [(5, 0.1925), (10, 0.3879193576), (15, 0.5895), (20, 0.8007), (30, 1.2702)],
)
def test_a_tilted_beam_lands_where_trigonometry_says(
    degrees_out: float, metres: float
) -> None:
    """The identity x = h tan t at h = 2.2 m, four digits (ten for 10 degrees)."""
    middle = beams(radians(degrees_out)).at_height(0.0)[3]
    tolerance = 1e-9 if degrees_out == 10 else 5e-5
    assert middle == pytest.approx((0.0, metres), abs=tolerance)


def test_a_degree_under_the_lens_is_38_mm_on_the_floor() -> None:
    """d(h tan t)/dt at the nadir, h = 2.2 m: 38.39724354 mm a degree."""
    step = 1e-6
    moved = beams(step).at_height(0.0)[3, 1] / degrees(step)
    assert moved * 1000 == pytest.approx(38.39724354, abs=1e-4)


@pytest.mark.parametrize(
    ("lintel", "height", "out"),
    [(2.2, 0.7, 0.4091), (3.5, 0.7, 0.4800), (2.2, 0.2, 0.5455)],
)
def test_a_beam_that_lands_600_mm_out_stands_nearer_at_body_height(
    lintel: float, height: float, out: float
) -> None:
    """600 (1 - z/h) mm: geometry of EN 16005's body CA, worked by hand."""
    tilt = float(np.arctan(0.6 / lintel))
    at = beams(tilt, lens=(0.0, 0.0, lintel)).at_height(height)[3, 1]
    assert at == pytest.approx(out, abs=5e-5)


@given(SMALL, SMALL, SMALL, st.floats(-0.5, 0.5))
def test_a_direction_is_the_product_of_its_turns(
    tilt: float, roll: float, yaw: float, row: float
) -> None:
    turn = about_z(yaw) @ about_x(tilt) @ about_y(roll) @ about_x(row)
    flat = np.stack([np.sin(FAN), 0 * FAN, -np.cos(FAN)])
    found = beams(tilt, roll, yaw, rows=(row,)).directions
    assert np.allclose(found, (turn @ flat).T, atol=1e-14)


@given(SMALL, SMALL, SMALL)
def test_the_inside_unit_is_the_outside_one_turned_not_mirrored(
    tilt: float, roll: float, yaw: float
) -> None:
    out = beams(tilt, roll, yaw, rows=(0.0, 0.1)).at_height(0.0)
    inside = beams(tilt, roll, yaw, rows=(0.0, 0.1), turned=True).at_height(0.0)
    assert np.allclose(inside, -out, atol=1e-14)


def test_the_left_fan_of_the_inside_unit_lands_right_seen_from_outside() -> None:
    assert beams().at_height(0.0)[0, 0] < 0
    assert beams(turned=True).at_height(0.0)[0, 0] > 0


def test_a_row_further_out_lands_further_out_on_either_side() -> None:
    out = beams(rows=(0.0, 0.1)).at_height(0.0)
    inside = beams(rows=(0.0, 0.1), turned=True).at_height(0.0)
    assert out[10, 1] == pytest.approx(2.2 * tan(0.1))
    assert inside[10, 1] == pytest.approx(-2.2 * tan(0.1))


@given(SMALL, SMALL, SMALL, st.floats(0, 2.0))
def test_a_beam_is_a_straight_line_from_the_lens(
    tilt: float, roll: float, yaw: float, z: float
) -> None:
    one = beams(tilt, roll, yaw, lens=(0.3, 0.2, 2.4))
    at = one.at_height(z)
    along = np.column_stack([at, np.full(len(at), z)]) - one.lens
    lengths = np.linalg.norm(along, axis=1, keepdims=True)
    assert np.allclose(along / lengths, one.directions, atol=1e-12)


@given(SMALL, SMALL, SMALL, st.floats(-0.3, 0.3), st.sampled_from([True, False]))
def test_the_axes_of_fan_and_row_turn_each_beam_as_its_own_angle_does(
    tilt: float, roll: float, yaw: float, row: float, turned: bool
) -> None:
    step = 1e-6
    one = beams(tilt, roll, yaw, turned=turned, rows=(row,))
    wider = beams_of(
        LENS, Attitude(tilt, roll, yaw, turned), (row,), (FAN + step,), (0,)
    )
    further = beams(tilt, roll, yaw, turned=turned, rows=(row + step,))
    # turning the fan angle up turns (sin f, 0, -cos f) about -y of the row
    fan = (wider.directions - one.directions) / step
    rows = (further.directions - one.directions) / step
    assert np.allclose(fan, np.cross(-one.fan_axes, one.directions), atol=1e-5)
    assert np.allclose(rows, np.cross(one.row_axes, one.directions), atol=1e-5)


def test_beams_that_lead_up_or_nearly_level_are_left_out() -> None:
    fan = (np.radians([0.0, 82.0, 84.0, 95.0]),)
    kept = beams_of(LENS, Attitude(0, 0, 0, turned=False), (0.0,), fan, (0,))
    assert kept.spot.tolist() == [0, 1]


def test_only_rows_that_are_on_are_thrown() -> None:
    two = (np.zeros(3), np.zeros(5))
    kept = beams_of(LENS, Attitude(0, 0, 0, turned=False), (0.0, 0.1), two, (1,))
    assert kept.row.tolist() == [1] * 5
    assert kept.at_height(0.0)[0, 1] == pytest.approx(2.2 * tan(0.1))


def test_a_lens_below_the_top_of_the_body_is_refused() -> None:
    with pytest.raises(ValueError, match="below the body's top"):
        spans(0.6, 0.0, 0.7)


def test_a_lowest_height_above_the_body_is_refused() -> None:
    with pytest.raises(ValueError, match="nothing of the body counts"):
        spans(2.2, 0.3, 0.2)


def test_all_that_counts_of_a_body_is_given_back() -> None:
    assert spans(2.2, 0.04, 0.698) == (0.04, 0.698)


def test_a_tilt_of_60_degrees_doubles_the_way_to_the_floor() -> None:
    one = beams(radians(60))
    assert -1 / one.directions[3, 2] == pytest.approx(1 / cos(radians(60)))
