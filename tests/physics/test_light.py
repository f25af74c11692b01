"""The light of a spot against cones sampled by hand."""

from math import radians, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.physics.light import (
    blind_reflectance,
    clearance,
    contrast,
    inner_edge_slopes,
    spot_radius,
)

AROUND = np.linspace(0.0, 2 * np.pi, 20_001)
LEAN = st.floats(-0.5, 0.5)
SPREAD = st.floats(0.005, 0.08)


def cone(direction: np.ndarray, divergence: float) -> np.ndarray:
    """Rays (n, 3) on the surface of a spot's light."""
    first = np.cross(direction, [0.3, 0.5, 0.9])
    first /= np.linalg.norm(first)
    second = np.cross(direction, first)
    ring = np.outer(np.cos(AROUND), first) + np.outer(np.sin(AROUND), second)
    half = divergence / 2
    return np.cos(half) * direction + np.sin(half) * ring


def beam(gx: float, gy: float) -> np.ndarray:
    down = np.array([gx, gy, -1.0])
    return down / np.linalg.norm(down)


@given(LEAN, LEAN, SPREAD, st.sampled_from([1, -1]))
def test_the_edge_nearest_the_leaf_is_that_of_the_sampled_cone(
    gx: float, gy: float, divergence: float, way: int
) -> None:
    rays = cone(beam(gx, gy), divergence)
    sampled = (way * rays[:, 1] / -rays[:, 2]).min()
    found = inner_edge_slopes(beam(gx, gy)[None], divergence, way)[0]
    assert found == pytest.approx(sampled, abs=1e-7)
    assert found <= sampled + 1e-12


@given(LEAN, LEAN, SPREAD, st.floats(1.8, 3.5))
def test_no_light_lands_further_from_its_middle_than_the_radius(
    gx: float, gy: float, divergence: float, height: float
) -> None:
    rays = cone(beam(gx, gy), divergence)
    floor = height * rays[:, :2] / -rays[:, 2:]
    furthest = np.hypot(*(floor - height * np.array([gx, gy])).T).max()
    radius = spot_radius(np.array([[gx, gy]]), height, divergence)[0]
    assert radius == pytest.approx(furthest, abs=1e-7)


def test_a_spot_of_two_degrees_on_a_lean_of_twenty() -> None:
    """h (tan 21 - tan 19) along, 2 h tan 1 / cos 20 across: 86.98 and 81.73 mm."""
    slopes = np.array([[0.0, tan(radians(20))]])
    rays = cone(beam(*slopes[0]), radians(2))
    floor = 2.2 * rays[:, :2] / -rays[:, 2:]
    assert np.ptp(floor[:, 1]) * 1000 == pytest.approx(86.98012784, abs=1e-3)
    across = 2 * 2.2 * tan(radians(1)) / np.cos(radians(20))
    assert across * 1000 == pytest.approx(81.7312853, abs=1e-4)
    radius = spot_radius(slopes, 2.2, radians(2))[0]
    assert radius * 1000 >= 86.98012784 / 2


def test_light_straight_down_is_round() -> None:
    """2 h tan 1 at h = 2.2 m: 76.8 mm."""
    radius = spot_radius(np.zeros((1, 2)), 2.2, radians(2))[0]
    assert 2 * radius == pytest.approx(0.0768, abs=5e-5)


def test_blind_reflectance_of_a_standing_body() -> None:
    """Floor 40 %, lens 2.2 m, body 0.7 m: 0.1859504132 (Lambert, inverse square)."""
    assert blind_reflectance(0.4, 2.2, 0.7) == pytest.approx(0.1859504132, abs=1e-9)


def test_blind_reflectance_of_a_lying_body_and_of_a_darker_floor() -> None:
    """The same formula, three digits: 0.331 and 0.0930."""
    assert blind_reflectance(0.4, 2.2, 0.2) == pytest.approx(0.331, abs=5e-4)
    assert blind_reflectance(0.2, 2.2, 0.7) == pytest.approx(0.0930, abs=5e-5)


@given(st.floats(0.02, 0.9), st.floats(1.8, 3.5), st.floats(0.0, 0.7))
def test_the_blind_reflectance_has_no_contrast(
    floor: float, height: float, z: float
) -> None:
    blind = blind_reflectance(floor, height, z)
    assert contrast(blind, floor, height, z) == pytest.approx(0, abs=1e-12)
    assert contrast(2 * blind, floor, height, z) == pytest.approx(1.0)


@given(st.floats(-0.2, 0.2), st.floats(0.05, 0.4), st.floats(1.0, 2.2))
def test_clearance_is_the_least_over_the_height_of_the_obstacle(
    slope: float, lens_out: float, high: float
) -> None:
    found = clearance(lens_out, 2.2, np.array([slope]), (0.03, 0.4, high))[0]
    heights = np.linspace(0.4, min(high, 2.2), 1000)
    assert found == pytest.approx((lens_out + (2.2 - heights) * slope).min() - 0.03)
