"""A radar at its place: reach, contour, speed along the line of sight."""

from math import cos, degrees, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.physics.beams import Attitude
from limen.physics.radar import Contour, Lobe, PatchBeam, Radar
from limen.physics.radar_beam import width_of_gaussian

LOBE = Lobe(radians(80), radians(40))
AWAY = st.floats(-6.0, 6.0)
ANGLE = st.floats(-1.0, 1.0)


def a_radar(
    *contours: Contour,
    tilt: float = 0.6,
    yaw: float = 0.0,
    inside: bool = False,
    inner: bool = True,
    least: float = 0.0,
    aware: bool = True,
) -> Radar:
    lens = (0.2, -0.15, 2.2) if inside else (-0.2, 0.15, 2.2)
    return Radar(
        lens,
        Attitude(tilt, 0.0, yaw, inside),
        contours or (Contour(4.0, LOBE),),
        inner=inner,
        least_speed=least,
        response=0.1,
        direction_aware=aware,
    )


def axis(tilt: float, yaw: float) -> np.ndarray:
    return np.array([[-sin(yaw) * sin(tilt), cos(yaw) * sin(tilt), -cos(tilt)]])


@given(tilt=st.floats(0.0, 1.2), yaw=ANGLE)
def test_on_its_axis_it_reaches_as_far_as_it_can(tilt: float, yaw: float) -> None:
    radar = a_radar(tilt=tilt, yaw=yaw)
    assert radar.reach(axis(tilt, yaw))[0] == pytest.approx(4.0, abs=1e-9)


@given(x=AWAY, y=AWAY, z=st.floats(0.0, 2.0), tilt=ANGLE, yaw=ANGLE)
def test_the_inside_unit_is_the_outside_one_turned_by_half_a_turn(
    x: float, y: float, z: float, tilt: float, yaw: float
) -> None:
    outside = a_radar(tilt=tilt, yaw=yaw)
    inside = a_radar(tilt=tilt, yaw=yaw, inside=True)
    here, there = np.array([[x, y, z]]), np.array([[-x, -y, z]])
    assert outside.contains(here)[0] == inside.contains(there)[0]
    walk, back = np.array([[0.3, -1.0, 0.0]]), np.array([[-0.3, 1.0, 0.0]])
    assert outside.closing_speed(here, walk) == pytest.approx(
        inside.closing_speed(there, back), abs=1e-12
    )


@given(x=AWAY, y=AWAY, factor=st.floats(0.1, 3.0))
def test_reach_scales_and_nothing_else_changes(
    x: float, y: float, factor: float
) -> None:
    radar = a_radar()
    away = np.array([[x + 0.2, y - 0.15, -2.2]])
    way = away / np.linalg.norm(away)
    scaled = radar.scaled(factor)
    assert scaled.reach(way) == pytest.approx(radar.reach(way) * factor, abs=1e-12)
    assert scaled.attitude == radar.attitude


@given(x=AWAY, y=AWAY)
def test_less_reach_never_detects_more(x: float, y: float) -> None:
    radar, place = a_radar(), np.array([[x, y, 0.0]])
    assert radar.contains(place)[0] or not radar.scaled(0.9).contains(place)[0]


@given(x=AWAY, y=AWAY)
def test_of_several_readings_the_inner_is_within_each_and_the_outer_beyond_each(
    x: float, y: float
) -> None:
    readings = (
        Contour(4.0, LOBE),
        Contour(3.3, Lobe(radians(120), radians(70))),
        Contour(3.8, PatchBeam(1, 3, 0.5, 0.9)),
    )
    place = np.array([[x, y, 0.0]])
    each = [bool(a_radar(one).contains(place)[0]) for one in readings]
    assert bool(a_radar(*readings).contains(place)[0]) is all(each)
    assert bool(a_radar(*readings, inner=False).contains(place)[0]) is any(each)


def test_nothing_is_received_from_behind_the_antenna() -> None:
    radar = a_radar(tilt=0.6)
    assert radar.reach(-axis(0.6, 0.0))[0] == 0.0


def test_who_goes_away_is_found_only_by_a_radar_that_cannot_tell() -> None:
    place, walk = np.array([[-0.2, 1.5, 0.0]]), np.array([[0.0, 1.0, 0.0]])
    assert not a_radar(least=0.1).detects(place, walk)[0]
    assert a_radar(least=0.1, aware=False).detects(place, walk)[0]
    assert a_radar(least=0.1).detects(place, -walk)[0]


def test_who_is_too_slow_along_the_line_of_sight_is_not_detected() -> None:
    place = np.array([[-0.2, 1.5, 0.0]])
    shown = float(a_radar().closing_speed(place, np.array([[0.0, -1.0, 0.0]]))[0])
    assert shown == pytest.approx(1.35 / np.hypot(1.35, 2.2), abs=1e-12)
    barely = np.array([[0.0, -0.1 / shown * 1.001, 0.0]])
    assert a_radar(least=0.1).detects(place, barely)[0]
    assert not a_radar(least=0.1).detects(place, barely * 0.99)[0]


@given(angle=st.floats(0.01, 1.0), field=st.floats(0.05, 0.98))
def test_a_gaussian_of_this_width_has_this_field_there(
    angle: float, field: float
) -> None:
    width = width_of_gaussian(angle, field)
    beam = Lobe(width, width)
    found = beam.field(np.array([sin(angle)]), np.zeros(1), np.array([cos(angle)]))
    assert found[0] == pytest.approx(field, rel=1e-9)


def test_the_lobes_beside_the_main_one_count_only_where_they_are_asked_for() -> None:
    s = np.array([sin(radians(22))])
    c = np.sqrt(1 - s**2)
    alone = PatchBeam(8, 1, 0.5, 1.0)
    assert alone.field(s, np.zeros(1), c)[0] == 0.0
    assert PatchBeam(8, 1, 0.5, 1.0, lobes=True).field(s, np.zeros(1), c)[0] > 0.15


def test_yaw_turns_the_field_of_an_outside_unit_to_the_left() -> None:
    """Clockwise from above, y towards -x: what is ahead comes to lie left."""
    turned = a_radar(yaw=radians(30))
    left, right = np.array([[-1.2, 1.8, 0.0]]), np.array([[0.8, 1.8, 0.0]])
    away = np.array([[-0.2, 0.15, 2.2]])
    reach = [
        float(turned.reach((p - away) / np.linalg.norm(p - away))[0])
        for p in (left, right)
    ]
    assert reach[0] > reach[1]
    assert degrees(turned.attitude.yaw) == pytest.approx(30)
