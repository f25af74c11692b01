"""The radar equation and targets whose echo is known.

M. I. Skolnik, Introduction to Radar Systems, 3rd edition, 2001, chapters 1 and 2 (from
memory): P = P_t G_t G_r λ² σ / ((4π)³ R⁴); a sphere far larger than the wave π r², a
flat plate 4π A²/λ², a trihedral 4π a⁴/(3 λ²).  limen takes from it that reach goes
with the fourth root of power, and the field pattern for the contour.
"""

from math import log10, pi, radians

import numpy as np
import pytest

from limen.physics.beams import Attitude
from limen.physics.radar import Contour, Lobe, Radar
from limen.questions.approach_reach import CHILD

WAVE = 299_792_458.0 / 24.125e9


def received(power: float, gain: float, target: float, distance: float) -> float:
    """Received power (dBm) of e.i.r.p. (dBm), gain (dBi), target (dBsm), metres."""
    spread = 20 * log10(WAVE) - 30 * log10(4 * pi) - 40 * log10(distance)
    return power + gain + target + spread


def test_a_target_of_one_square_metre_at_four_metres() -> None:
    assert received(20, 10, 0, 4.0) == pytest.approx(-65.17162796, abs=0.01)


def test_twice_the_distance_costs_12_db() -> None:
    change = received(20, 10, 0, 8.0) - received(20, 10, 0, 4.0)
    assert change == pytest.approx(-12.04119983, abs=1e-3)


@pytest.mark.parametrize(
    ("loss", "factor"), [(-3, 0.841), (-6, 0.7079457844), (-12, 0.501)]
)
def test_reach_goes_with_the_fourth_root_of_power(loss: float, factor: float) -> None:
    assert 10 ** (loss / 40) == pytest.approx(factor, abs=5e-4)
    change = received(20, 10, 0, 4.0) - received(20 + loss, 10, 0, 4.0 * factor)
    assert change == pytest.approx(0.0, abs=0.03)


def test_a_child_is_reached_0_71_to_0_84_as_far() -> None:
    """3 to 6 dB less: an engineering estimate, graded so wherever it is used."""
    assert pytest.approx((0.7079457844, 0.8413951416), abs=1e-9) == CHILD


@pytest.mark.parametrize(
    ("target", "dbsm"),
    [
        (pi * 0.1**2, -15.02850127),
        (4 * pi * (0.1 * 0.1) ** 2 / WAVE**2, 9.105031022),
        (4 * pi * 0.1**4 / (3 * WAVE**2), 4.33),
    ],
)
def test_sphere_plate_and_trihedral_of_100_mm(target: float, dbsm: float) -> None:
    assert 10 * log10(target) == pytest.approx(dbsm, abs=0.01)


def test_the_contour_is_that_of_equal_received_power() -> None:
    """One pattern both ways: power E⁴/R⁴ is the same all along R = R0 |E|."""
    radar = Radar(
        (0.0, 0.0, 2.2),
        Attitude(radians(35), 0.0, radians(10), turned=False),
        (Contour(4.0, Lobe(radians(80), radians(40))),),
        inner=True,
        least_speed=0.0,
        response=0.0,
        direction_aware=False,
    )
    rng = np.random.default_rng(7)
    ways = rng.normal(size=(200, 3))
    ways /= np.linalg.norm(ways, axis=1)[:, None]
    reach = radar.reach(ways)
    lit = reach > 0.05
    field = reach[lit] / 4.0
    power = 40 * np.log10(field) - 40 * np.log10(reach[lit])
    assert float(np.ptp(power)) < 1e-9


def test_half_a_half_power_width_off_the_axis_the_reach_is_0_707() -> None:
    beam = Lobe(radians(60), radians(30))
    s = np.sin([radians(30), 0.0])
    t = np.sin([0.0, radians(15)])
    c = np.sqrt(1 - s**2 - t**2)
    assert beam.field(s, t, c) == pytest.approx([0.5**0.5] * 2, abs=1e-12)
