"""A unit aimed with the tape stands within its bounds, simulated exactly.

The lens is off, the height is off; tilt and roll are then turned, by solving for
them, until the first row lands on its line and its ends lie where they were read,
each to within the tape.  Every beam at every height must lie within the bounds.
"""

from typing import Any

import numpy as np
import pytest

from limen.geometry.turns import Array
from limen.physics.beams import Attitude, Beams, beams_of
from limen.physics.tolerance import Errors, FirstRow, bounds
from physics.test_tolerance import outside_within, rotated

UNREADABLE = 5e-5  # m: what no tape tells, for the row's slant under roll and yaw
SPAN = (0.03, 0.69)
SIZES = {"floor_x": 0.015, "floor_y": 0.005, "swing_x": 0.02, "swing_y": 0.02}


def an_aimed_unit(rng: np.random.Generator) -> Beams:
    """A unit of one to four rows, the first near the leaf, roughly plumb."""
    rows = (
        rng.uniform(-0.02, 0.03),
        *np.sort(rng.uniform(0.04, 0.55, rng.integers(0, 4))),
    )
    ends = rng.uniform(0.25, 0.5, 2)
    fans = tuple(np.linspace(-ends[0], ends[1], 9) for _ in rows)
    roll, yaw = rng.uniform(-0.01, 0.01, 2)
    attitude = Attitude(rng.uniform(-0.03, 0.03), roll, yaw, bool(rng.integers(2)))
    lens = (*rng.uniform(-0.3, 0.3, 2), rng.uniform(1.9, 3.2))
    return beams_of(lens, attitude, rows, fans, tuple(range(len(rows))))


def first_row_of(beams: Beams) -> FirstRow:
    slopes = beams.slopes[beams.row == 0]
    ends = -slopes[0, 0] * slopes[-1, 0]
    return FirstRow(float(slopes[len(slopes) // 2, 1]), float(np.sqrt(ends)))


def turned_at(beams: Beams, off: dict[str, float], turn: Array, z: float) -> Array:
    """Where the beams stand at a height (n, 2), lens off and unit turned."""
    vectors = np.tile([turn[0], turn[1], 0.0], (len(beams.row), 1))
    turned = rotated(beams.directions, vectors)
    lens = beams.lens[:2] + np.array([off["swing_x"], off["swing_y"]])
    height = beams.lens[2] + off["dh"]
    return lens + (height - z) * turned[:, :2] / -turned[:, 2:]


def reading(beams: Beams, off: dict[str, float], turn: Array) -> Array:
    """How far the first row's line and its ends' middle are from where they belong."""
    moved = turned_at(beams, off, turn, 0.0) - beams.at_height(0.0)
    first = np.flatnonzero(beams.row == 0)
    left, right = first[0], first[-1]
    run = beams.slopes[[left, right], 0]
    share = run[1] / (run[1] - run[0])  # so that a stretch of the row cancels
    ends = share * moved[left, 0] + (1 - share) * moved[right, 0]
    line = moved[first[len(first) // 2], 1]
    return np.array([line - off["floor_y"], ends - off["floor_x"]])


def aimed(beams: Beams, off: dict[str, float]) -> Array:
    """The tilt and roll with which the readings come true (Newton's method)."""
    turn = np.zeros(2)
    for _ in range(8):
        miss = reading(beams, off, turn)
        steps = np.eye(2) * 1e-7
        slope = np.stack(
            [(reading(beams, off, turn + d) - miss) / 1e-7 for d in steps], 1
        )
        turn = turn - np.linalg.solve(slope, miss)
    return turn


def drawn(rng: np.random.Generator) -> dict[str, float]:
    limits = {**SIZES, "dh": 0.01}
    return {
        k: size * float(np.clip(rng.uniform(-2, 2), -1, 1))
        for k, size in limits.items()
    }


@pytest.mark.parametrize("seed", range(30))
def test_an_aimed_unit_stays_within_its_bounds(seed: int) -> None:
    rng = np.random.default_rng([seed, 77])
    beams = an_aimed_unit(rng)
    errors = Errors(**SIZES, dh=0.01)
    bound = bounds(
        beams.lens,
        beams.directions,
        SPAN,
        errors,
        beams.fan_axes,
        beams.row_axes,
        first_row_of(beams),
    )
    for _ in range(20):
        off = drawn(rng)
        turn = aimed(beams, off)

        def moves(z: float, off: Any = off, turn: Array = turn) -> Array:
            return turned_at(beams, off, turn, z) - beams.at_height(z)

        assert outside_within(moves, bound, SPAN) <= UNREADABLE


def test_half_the_errors_would_not_do() -> None:
    """The bounds are no more than twice too wide."""
    left = False
    for seed in range(30):
        rng = np.random.default_rng([seed, 78])
        beams = an_aimed_unit(rng)
        half = {kind: size / 2 for kind, size in SIZES.items()}
        bound = bounds(
            beams.lens,
            beams.directions,
            SPAN,
            Errors(**half, dh=0.005),
            beams.fan_axes,
            beams.row_axes,
            first_row_of(beams),
        )
        signs = rng.choice([-1.0, 1.0], len(SIZES))
        off = {k: s * v for s, (k, v) in zip(signs, SIZES.items(), strict=True)}
        off["dh"] = 0.01
        turn = aimed(beams, off)

        def moves(
            z: float, off: Any = off, turn: Array = turn, beams: Beams = beams
        ) -> Array:
            return turned_at(beams, off, turn, z) - beams.at_height(z)

        left = left or outside_within(moves, bound, SPAN) > UNREADABLE
    assert left
