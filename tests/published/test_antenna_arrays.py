"""Antennas of equal patches.

C. A. Balanis, Antenna Theory: Analysis and Design, 4th edition, 2016, chapter 6
(from memory): |AF| = |sin(N ψ/2) / (N sin(ψ/2))|, ψ = 2 π d/λ sin θ.  Half-power
widths are roots of AF² = 1/2, found here with scipy; the figures were
confirmed for N = 8 by an independent array program.  Dolph-Chebyshev weights: scipy's
chebwin.
"""

from collections.abc import Callable
from math import asin, cos, degrees, log10, pi, radians, sin

import numpy as np
import pytest
from scipy.optimize import minimize_scalar, root_scalar
from scipy.signal.windows import chebwin

from limen.physics.radar_beam import PatchBeam, array_factor, first_null

HALF_POWER = 0.5**0.5


def root(f: Callable[[float], float], low: float, high: float) -> float:
    return float(root_scalar(f, bracket=(low, high)).root)


def half_power_width(patches: int, spacing: float, exponent: float) -> float:
    """Full width (deg) of the beam in the plane of the patches."""
    beam = PatchBeam(patches, 1, spacing, exponent)

    def over(angle: float) -> float:
        s, c = np.array([sin(angle)]), np.array([cos(angle)])
        return float(beam.field(s, np.zeros(1), c)[0]) - HALF_POWER

    return degrees(2 * root(over, 1e-6, asin(min(1.0, first_null(patches, spacing)))))


@pytest.mark.parametrize(
    ("patches", "spacing", "width"),
    [
        (2, 0.5, 60.0),
        (3, 0.5, 36.18),
        (4, 0.5, 26.32295203),
        (5, 0.5, 20.78),
        (6, 0.5, 17.19),
        (8, 0.5, 12.8025258),
        (10, 0.5, 10.21),
        (16, 0.5, 6.35872578),
        (4, 0.6, 21.88),
        (4, 0.7, 18.72034689),
    ],
)
def test_the_half_power_width_of_patches_that_send_everywhere_alike(
    patches: int, spacing: float, width: float
) -> None:
    assert half_power_width(patches, spacing, 0.0) == pytest.approx(width, abs=0.01)


@pytest.mark.parametrize(
    ("patches", "width"),
    [(2, 50.68), (3, 33.91), (4, 25.42259898), (6, 16.93), (8, 12.70), (16, 6.35)],
)
def test_the_half_power_width_of_patches_whose_field_is_a_cosine(
    patches: int, width: float
) -> None:
    assert half_power_width(patches, 0.5, 1.0) == pytest.approx(width, abs=0.01)


@pytest.mark.parametrize(
    ("power", "width"), [(1.0, 120.0), (1.5, 101.9), (2.0, 90.0), (3.0, 74.9)]
)
def test_one_patch_alone(power: float, width: float) -> None:
    """A power pattern cos^m, which is a field cos^(m/2): 2 arccos 2^(-1/m)."""
    angle = radians(width / 2)
    beam = PatchBeam(1, 1, 0.5, power / 2)
    s, c = np.array([sin(angle)]), np.array([cos(angle)])
    field = float(beam.field(s, np.zeros(1), c)[0])
    assert field == pytest.approx(HALF_POWER, abs=1e-3 if power != 2.0 else 1e-12)


@pytest.mark.parametrize(
    ("patches", "level", "within"),
    [(3, -9.542425094, 1e-4), (4, -11.30, 5e-3), (8, -12.797, 5e-3)],
)
def test_the_first_lobe_beside_the_main_one(
    patches: int, level: float, within: float
) -> None:
    null = first_null(patches, 0.5)
    found = minimize_scalar(
        lambda sine: -float(array_factor(patches, 0.5, np.array([sine]))[0]),
        bounds=(null, min(2 * null, 1.0)),
        method="bounded",
        options={"xatol": 1e-10},
    )
    assert 20 * log10(-found.fun) == pytest.approx(level, abs=within)


def test_many_patches_come_to_the_lobe_of_a_whole_aperture() -> None:
    """sin x / x: tan x = x at 4.4934, -13.26 dB; eight patches do not reach it."""
    x = root(lambda x: x * cos(x) - sin(x), 4.0, 4.7)
    aperture = 20 * log10(abs(sin(x) / x))
    assert aperture == pytest.approx(-13.26145888, abs=1e-3)
    many = array_factor(400, 0.5, np.array([2 * x / (400 * pi)]))
    assert 20 * log10(float(many[0])) == pytest.approx(aperture, abs=1e-3)


def test_eight_patches_send_nothing_at_14_5_degrees() -> None:
    assert degrees(asin(first_null(8, 0.5))) == pytest.approx(14.47751219, abs=1e-4)
    assert float(array_factor(8, 0.5, np.array([0.25]))[0]) < 1e-12


def test_a_lobe_12_8_db_down_still_reaches_0_23_of_the_range() -> None:
    """-12.8 dB one way in power is a field of 0.229: enough for a leaf at 0.5 m."""
    assert pytest.approx(0.229, abs=5e-4) == 10 ** (-12.8 / 20)


def test_dolph_and_chebyshev_trade_width_for_lobes() -> None:
    """Eight patches, lobes 30 dB down: 16.44 deg instead of 12.80."""
    with pytest.warns(UserWarning, match="spectral analysis"):
        weights = chebwin(8, 30)
    assert weights[0] / weights.max() == pytest.approx(0.2622164912, abs=1e-4)
    places = np.arange(8) - 3.5

    def over(angle: float) -> float:
        phases = np.exp(1j * pi * places * sin(angle))
        return abs(np.sum(weights * phases)) / weights.sum() - HALF_POWER

    width = degrees(2 * root(over, 1e-6, radians(15)))
    assert width == pytest.approx(16.44319274, abs=0.01)


def test_three_patches_make_a_wide_field_and_six_a_narrow_one() -> None:
    """Common practice, no source: antennas of three and of six patches are swapped."""
    wide, narrow = half_power_width(3, 0.5, 1.0), half_power_width(6, 0.5, 1.0)
    assert wide > 1.9 * narrow
