"""Where a tilted beam meets the floor, and where somebody is first detected.

Conic sections: a cone of half-angle β, tilted by τ from straight down, cuts the floor
in an ellipse (any geometry book; Apollonius, Conics, 1896 edition by T. L. Heath).
First detection: the contour R = R0 √G of a radar that sends and receives with one
pattern (M. I. Skolnik, Introduction to Radar Systems, 3rd edition, 2001, chapter 2;
from memory), G a Gaussian of half-power width 40 deg, R0 4 m, body at 1 m; solved
independently with scipy.
"""

from math import cos, hypot, log, pi, radians, sin, sqrt, tan

import numpy as np
import pytest

from limen.physics.beams import Attitude
from limen.physics.radar import Contour, Lobe, Radar
from limen.physics.radar_zone import Zone, ahead

R0, HALF_POWER_WIDTH, BODY = 4.0, radians(40), 1.0


def cone(tau: float, beta: float, height: float) -> dict[str, float]:
    """Near and far edge, semi-axes and eccentricity of the ellipse on the floor."""
    d = cos(tau) ** 2 - sin(beta) ** 2
    return {
        "near": height * tan(tau - beta),
        "far": height * tan(tau + beta),
        "middle": height * sin(tau) * cos(tau) / d,
        "along": height * sin(beta) * cos(beta) / d,
        "across": height * sin(beta) / sqrt(d),
        "eccentricity": sin(tau) / cos(beta),
    }


def elliptic_half_width(tau: float, ahead_: float, across: float, h: float) -> float:
    """Half-width of the footprint of a beam of two half-angles."""
    return h * tan(across) / (cos(tau) * sqrt(1 - (tan(ahead_) * tan(tau)) ** 2))


def a_radar(height: float, tilt: float, reach: float, beam: Lobe) -> Radar:
    return Radar(
        (0.0, 0.0, height),
        Attitude(radians(tilt), 0.0, 0.0, turned=False),
        (Contour(reach, beam),),
        inner=True,
        least_speed=0.0,
        response=0.0,
        direction_aware=False,
    )


def first_detection(height: float, tilt: float, reach: float) -> float | None:
    """How far out somebody who walks straight at the radar is first within."""
    beam = Lobe(HALF_POWER_WIDTH, HALF_POWER_WIDTH)
    radar = a_radar(height, tilt, reach, beam)
    out = np.arange(8.0, 0.0, -0.0005)
    places = np.stack([np.zeros_like(out), out, np.full_like(out, BODY)], axis=1)
    inside = radar.contains(places)
    return float(out[np.argmax(inside)]) if inside.any() else None


def on_floor(angle_within: float, h: float, tau: float, ba: float) -> np.ndarray:
    """(n, 3) floor places whose angle off the axis is a share of an elliptic cone."""
    turn = np.linspace(0, 2 * pi, 20001)
    s = np.tan(ba) * np.cos(turn)
    t = np.tan(angle_within) * np.sin(turn)
    down = cos(tau) - t * sin(tau)
    x, y = s, sin(tau) + t * cos(tau)
    return np.stack([h * x / down, h * y / down, np.zeros_like(x)], axis=1)


@pytest.mark.parametrize(
    ("key", "figure"),
    [
        ("near", 0.3879),
        ("far", 2.621857904),
        ("middle", 1.5049),
        ("along", 1.116969273),
        ("across", 0.9457250391),
        ("eccentricity", 0.5320888862),
    ],
)
def test_a_cone_of_20_degrees_tilted_by_30_at_2_2_m(key: str, figure: float) -> None:
    found = cone(radians(30), radians(20), 2.2)[key]
    assert found == pytest.approx(figure, abs=1e-4)


def test_another_cone() -> None:
    found = cone(radians(45), radians(15), 2.5)
    told = (1.4434, 4.3301, 2.8868, 1.4434, 0.9833)
    keys = ("near", "far", "middle", "along", "across")
    assert [found[key] for key in keys] == pytest.approx(told, abs=5e-5)


def test_an_elliptic_beam_is_2_18_m_wide_to_each_side() -> None:
    wide = elliptic_half_width(radians(30), radians(20), radians(40), 2.2)
    assert wide == pytest.approx(2.180281399, abs=1e-4)
    brute = on_floor(radians(20), 2.2, radians(30), radians(40))
    assert float(brute[:, 0].max()) == pytest.approx(wide, abs=1e-6)


def test_the_half_power_cone_is_where_our_pattern_is_0_707() -> None:
    """Our lobe on the rim of the cone above: field 1/√2 all round."""
    places = on_floor(radians(20), 2.2, radians(30), radians(20))
    radar = a_radar(2.2, 30, 1.0, Lobe(radians(40), radians(40)))
    away = places - np.array([0.0, 0.0, 2.2])
    reach = radar.reach(away / np.linalg.norm(away, axis=1)[:, None])
    assert reach == pytest.approx(0.5**0.5, abs=1e-9)
    out = places[:, 1]
    cut = cone(radians(30), radians(20), 2.2)
    assert float(out.max()) == pytest.approx(cut["far"], abs=1e-4)
    assert float(out.min()) == pytest.approx(cut["near"], abs=1e-4)


@pytest.mark.parametrize(
    ("height", "tilt", "out"),
    [
        (2.0, 30, 1.659),
        (2.0, 45, 2.395),
        (2.0, 60, 3.297),
        (2.0, 75, 3.872),
        (2.2, 30, 1.814),
        (2.2, 45, 2.567),
        (2.2, 60, 3.420132167),
        (2.2, 75, 3.792),
        (2.5, 30, 2.007),
        (2.5, 45, 2.772),
        (2.5, 60, 3.529),
        (2.5, 75, 3.442),
        (3.0, 30, 2.238),
        (3.0, 45, 2.983),
        (3.0, 60, 3.464),
        (3.5, 30, 2.354),
        (3.5, 45, 3.002),
    ],
)
def test_somebody_is_first_detected_here(
    height: float, tilt: float, out: float
) -> None:
    assert first_detection(height, tilt, R0) == pytest.approx(out, abs=2e-3)


@pytest.mark.parametrize(("height", "tilt"), [(3.0, 75), (3.5, 60), (3.5, 75)])
def test_too_high_and_too_flat_nobody_is_detected(height: float, tilt: float) -> None:
    """Raising the unit first lengthens the field, then destroys it."""
    assert first_detection(height, tilt, R0) is None


def test_six_decibels_less_bring_first_detection_to_2_51_m() -> None:
    found = first_detection(2.2, 60, R0 * 10 ** (-6 / 40))
    assert found == pytest.approx(2.51141634, abs=2e-3)


def test_our_field_ends_where_first_detection_is() -> None:
    """The same answer from the search that the questions use."""
    radar = a_radar(2.2, 60, R0, Lobe(HALF_POWER_WIDTH, HALF_POWER_WIDTH))
    zone = Zone((radar,), (BODY,), surely=True, face=0.0, way=1.0)
    assert ahead(zone)[1] == pytest.approx(3.420132167, abs=2e-3)


def test_reach_at_a_point_on_the_contour_is_its_distance() -> None:
    out, down = 3.420132167, 2.2 - BODY
    psi = np.arctan2(out, down) - radians(60)
    power = np.exp(-4 * log(2) * (psi / HALF_POWER_WIDTH) ** 2)
    assert R0 * sqrt(power) == pytest.approx(hypot(out, down), abs=1e-6)
