"""Beams stand within their bounds for every error of pose, computed exactly.

Errors left after aiming (floor, swing) hang on how a unit is aimed: test_aiming.
"""

from collections.abc import Callable
from dataclasses import fields
from typing import Any

import numpy as np
import pytest

from limen.geometry.turns import Array
from limen.physics.beams import Attitude, Beams, beams_of
from limen.physics.tolerance import Bounds, Errors, bounds

AIMED = ("floor_x", "floor_y", "swing_x", "swing_y")
KINDS = [f.name for f in fields(Errors) if f.name not in AIMED]
UNITS, EACH = 40, 500  # 20,000 mountings
A_FEW = 8
SEEDS = [
    pytest.param(n, marks=[pytest.mark.slow] if n >= A_FEW else [])
    for n in range(UNITS)
]
OF_EACH_BEAM = ("fan", "row")
SPAN = (0.03, 0.69)
NOISE = 1e-11


def a_unit(rng: np.random.Generator) -> tuple[Beams, Attitude, list[float], Any]:
    """Beams of any unit, with what they were made of."""
    rows = list(rng.uniform(-0.1, 0.6, rng.integers(1, 4)))
    fans = tuple(np.sort(rng.uniform(-0.6, 0.6, 6)) for _ in rows)
    tilt, roll, yaw = rng.uniform(-0.15, 0.15, 3)
    attitude = Attitude(tilt, roll, yaw, bool(rng.integers(2)))
    lens = (*rng.uniform(-0.5, 0.5, 2), rng.uniform(1.9, 3.2))
    on = tuple(range(len(rows)))
    return beams_of(lens, attitude, tuple(rows), fans, on), attitude, rows, fans


def some_errors(rng: np.random.Generator) -> Errors:
    """Errors of any size that happens, some of them nothing."""
    sizes = {kind: rng.uniform(0, 0.03) * rng.integers(0, 2) for kind in KINDS}
    return Errors(**sizes)


def drawn(errors: Errors, rng: np.random.Generator, beams: int) -> dict[str, Array]:
    """One mounting: half of the time most errors at their limits."""
    found: dict[str, Array] = {}
    for kind in KINDS:
        count = beams if kind in OF_EACH_BEAM else 1
        share = np.clip(rng.uniform(-1, 1, count) * rng.choice([1.0, 3.0]), -1, 1)
        found[kind] = share * getattr(errors, kind)
    return found


def rotated(vector: Array, by: Array) -> Array:
    """Vectors (n, 3) turned by rotation vectors (n, 3), Rodrigues."""
    angle = np.linalg.norm(by, axis=1, keepdims=True)
    axis = by / np.where(angle > 0, angle, 1.0)
    along = (axis * vector).sum(1, keepdims=True)
    return (
        np.cos(angle) * vector
        + np.sin(angle) * np.cross(axis, vector)
        + (1 - np.cos(angle)) * along * axis
    )


def mounted_at(unit: Any, off: dict[str, Array], z: float) -> Array:
    """Where the beams of a mounting that errs stand at a height, exactly (n, 2)."""
    beams, attitude, rows, fans = unit
    frame = attitude.frame()
    fan = np.concatenate(fans)[: len(beams.row)] + off["fan"]
    flat = np.stack([np.sin(fan), 0 * fan, -np.cos(fan)], axis=1)
    angles = np.array(rows)[beams.row] + off["row"]
    # Rx(angle) of (x, 0, z), beam by beam
    x, z_flat = flat[:, 0], flat[:, 2]
    turned = np.stack([x, -np.sin(angles) * z_flat, np.cos(angles) * z_flat], 1)
    turned = turned @ frame.T
    vector = np.array([off["tilt"][0], off["roll"][0], off["yaw"][0]])
    turned = rotated(turned, np.tile(vector, (len(turned), 1)))
    height = beams.lens[2] + off["dh"][0]
    slopes = turned[:, :2] / -turned[:, 2:]
    moved = np.array([off["dx"][0], off["dy"][0]])
    return beams.lens[:2] + moved + (height - z) * slopes


def outside_within(
    moves: Callable[[float], Array], bound: Bounds, span: tuple[float, float]
) -> float:
    """How far the moves lie outside one common shift plus each beam's residual."""
    low, high = -bound.common, bound.common
    for z in (span[0], 0.3, span[1]):
        move = moves(z)
        low = np.maximum(low, (move - bound.residual).max(0))
        high = np.minimum(high, (move + bound.residual).min(0))
    return float((low - high).max())


def outside_by(unit: Any, off: dict[str, Array], bound: Bounds) -> float:
    def moves(z: float) -> Array:
        return mounted_at(unit, off, z) - unit[0].at_height(z)

    return outside_within(moves, bound, SPAN)


def nothing_off(unit: Any) -> dict[str, Array]:
    beams = len(unit[0].row)
    return {kind: np.zeros(beams if kind in OF_EACH_BEAM else 1) for kind in KINDS}


def bound_of(unit: Any, errors: Errors) -> Bounds:
    beams = unit[0]
    return bounds(
        beams.lens, beams.directions, SPAN, errors, beams.fan_axes, beams.row_axes
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_no_mounting_leaves_its_bounds(seed: int) -> None:
    rng = np.random.default_rng([seed, 41])
    unit = a_unit(rng)
    count = len(unit[0].row)
    for _ in range(EACH // 20):
        errors = some_errors(rng)
        bound = bound_of(unit, errors)
        for _ in range(20):
            off = drawn(errors, rng, count)
            assert outside_by(unit, off, bound) <= NOISE


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("size", [1e-4, 0.03])
def test_each_error_alone_stays_within_its_bounds(kind: str, size: float) -> None:
    rng = np.random.default_rng(5)
    for _ in range(20):
        unit = a_unit(rng)
        errors = Errors(**{kind: size})
        bound = bound_of(unit, errors)
        for sign in (-1.0, 1.0):
            off = nothing_off(unit)
            off[kind] = off[kind] + sign * size
            assert outside_by(unit, off, bound) <= NOISE


@pytest.mark.parametrize("kind", KINDS)
def test_a_bound_of_half_the_error_would_be_left(kind: str) -> None:
    """The bounds are no more than twice too wide: half of them are refuted."""
    rng = np.random.default_rng(6)
    left = False
    for _ in range(40):
        unit = a_unit(rng)
        bound = bound_of(unit, Errors(**{kind: 0.005}))
        off = nothing_off(unit)
        off[kind] = off[kind] + 0.01
        left = left or outside_by(unit, off, bound) > 1e-4
    assert left


def test_no_error_leaves_no_room() -> None:
    bound = bound_of(a_unit(np.random.default_rng(1)), Errors())
    assert not bound.residual.any()
    assert not bound.common.any()


def test_a_move_of_the_lens_is_common_to_all_beams() -> None:
    bound = bound_of(a_unit(np.random.default_rng(2)), Errors(dx=0.004, dy=0.007))
    assert bound.common == pytest.approx([0.004, 0.007])
    assert not bound.residual.any()


def test_errors_of_single_spots_are_common_to_none() -> None:
    bound = bound_of(a_unit(np.random.default_rng(3)), Errors(fan=0.01, row=0.01))
    assert not bound.common.any()
    assert (bound.residual > 0).all()


@pytest.mark.parametrize("kind", KINDS)
def test_a_larger_error_never_tightens_a_bound(kind: str) -> None:
    unit = a_unit(np.random.default_rng(4))
    one, two = (bound_of(unit, Errors(**{kind: size})) for size in (0.01, 0.02))
    assert (two.residual >= one.residual).all()
    assert (two.common >= one.common).all()


def test_a_unit_without_beams_has_no_bounds_to_give() -> None:
    none = np.empty((0, 3))
    bound = bounds(np.array([0, 0, 2.2]), none, SPAN, Errors(tilt=0.1), none, none)
    assert bound.residual.shape == (0, 2)
