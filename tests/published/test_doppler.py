"""Doppler of a 24 GHz radar.

CODATA 2018: c = 299 792 458 m/s exactly.  f = 2 v f0 / c for v far below c, v along
the line of sight (any textbook, as M. I. Skolnik, Introduction to Radar Systems, 3rd
edition, 2001, chapter 3; from memory).  Fall of rain drops: G. B. Foote and P. S. du
Toit, Terminal velocity of raindrops aloft, J. Appl. Meteorol. 8, 1969, as given in
public lecture notes.  limen computes with speeds; the frequencies here are what a
meter on the bench shows.
"""

from math import cos, radians

import numpy as np
import pytest

from limen.physics.beams import Attitude
from limen.physics.radar import Contour, Lobe, Radar

LIGHT = 299_792_458.0
F0 = 24.125e9
WAVE = LIGHT / F0


def hertz(speed: float) -> float:
    return 2 * speed / WAVE


def a_radar(height: float, least: float = 0.0) -> Radar:
    """Reaches everywhere, so that only speed along the line of sight decides."""
    wide = Contour(100.0, Lobe(radians(179), radians(179)))
    ahead = Attitude(radians(45), 0.0, 0.0, turned=False)
    return Radar(
        (0.0, 0.0, height),
        ahead,
        (wide,),
        inner=True,
        least_speed=least,
        response=0.1,
        direction_aware=True,
    )


def shown(radar: Radar, at: tuple[float, ...], velocity: tuple[float, ...]) -> float:
    return float(radar.closing_speed(np.array([at]), np.array([velocity]))[0])


def test_the_wave_is_12_43_mm_long() -> None:
    assert pytest.approx(12.42663038, abs=1e-4) == WAVE * 1000


@pytest.mark.parametrize(
    ("speed", "frequency", "within"),
    [
        (1.0, 160.9446759, 1e-3),
        (1.34, 215.6658658, 0.01),
        (1 / 3.6, 44.70685443, 1e-3),
        (0.1524, 24.53, 0.005),
        (0.05, 8.05, 0.005),
        (0.1, 16.09, 0.005),
        (0.25, 40.24, 0.005),
        (0.5, 80.47, 0.005),
        (0.79, 127.15, 0.005),
        (2.0, 321.89, 0.005),
        (3.0, 482.83, 0.005),
        (5.0, 804.72, 0.005),
    ],
)
def test_a_speed_along_the_line_of_sight_gives_this_frequency(
    speed: float, frequency: float, within: float
) -> None:
    assert hertz(speed) == pytest.approx(frequency, abs=within)


def test_100_hz_is_0_62_m_per_s() -> None:
    assert pytest.approx(0.6213315192, abs=1e-5) == 100 * WAVE / 2


def test_four_periods_take_the_same_way_at_every_speed() -> None:
    for speed in (0.1, 0.5, 3.0):
        assert 4 / hertz(speed) * speed * 1000 == pytest.approx(24.85326077, abs=1e-3)


def test_a_tenth_of_a_second_tells_speeds_62_mm_per_s_apart() -> None:
    assert pytest.approx(0.06213315192, abs=1e-5) == WAVE / (2 * 0.1)


def test_at_60_degrees_a_walk_of_1_4_m_per_s_gives_half_its_frequency() -> None:
    assert hertz(1.4 * cos(radians(60))) == pytest.approx(112.66, abs=0.005)


@pytest.mark.parametrize(
    ("out", "share"),
    [(4.0, 0.958), (2.0, 0.857), (1.0, 0.640), (0.5, 0.385)],
)
def test_who_walks_straight_at_the_door_shows_less_the_nearer_they_are(
    out: float, share: float
) -> None:
    """Drop 1.2 m from lens to body: x / √(x² + H²)."""
    found = shown(a_radar(1.2), (0.0, out, 0.0), (0.0, -1.0, 0.0))
    assert found == pytest.approx(share, abs=5e-4)


def test_two_metres_out_the_share_is_0_857() -> None:
    found = shown(a_radar(1.2), (0.0, 2.0, 0.0), (0.0, -1.0, 0.0))
    assert found == pytest.approx(0.8574929257, abs=1e-5)


@pytest.mark.parametrize(
    ("along", "share"), [(2.0, 0.651), (1.0, 0.394), (0.5, 0.210), (0.0, 0.0)]
)
def test_who_walks_along_the_door_shows_nothing_in_front_of_the_lens(
    along: float, share: float
) -> None:
    """On a line 2 m out, drop 1.2 m; straight in front the Doppler is 0 Hz."""
    found = shown(a_radar(1.2), (along, 2.0, 0.0), (-1.0, 0.0, 0.0))
    assert found == pytest.approx(share, abs=5e-4)


def test_a_passer_in_front_of_the_lens_is_not_detected() -> None:
    radar = a_radar(1.2, least=0.05)
    places = np.array([[2.0, 2.0, 0.0], [0.0, 2.0, 0.0]])
    walk = np.array([[-1.0, 0.0, 0.0]])
    assert radar.detects(places, walk).tolist() == [True, False]


def test_rain_falls_far_faster_than_people_walk() -> None:
    """Foote and du Toit 1969: a drop of 2 mm falls at 6.56 m/s."""
    size = 2.0
    fall = -0.193 + 4.96 * size - 0.904 * size**2 + 0.0566 * size**3
    assert fall == pytest.approx(6.5638, abs=1e-3)
    assert hertz(fall) > hertz(3.0) * 2
