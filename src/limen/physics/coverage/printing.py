"""A witness in figures that a tape and a protractor can set out."""

from itertools import product
from math import inf, pi, radians

import numpy as np
from numpy.typing import ArrayLike

from limen.physics.coverage.pose import GUARD, Pose, admissible, clearance
from limen.physics.coverage.problem import Floats, Problem

LADDER = (
    (1e-3, radians(1.0)),
    (1e-3, radians(0.1)),
    (1e-4, radians(0.1)),
)
"""Steps of length and yaw, the coarsest tried first."""

_NEAR = sorted(product(range(-2, 3), repeat=3), key=lambda n: sum(i * i for i in n))
_FIRST = (16e-3, 16e-3, radians(4.0))
_HALVINGS = 6
_MOVES = 40


def printable(
    problem: Problem,
    witness: Pose,
    *,
    x0: float,
    y0: float,
    grow: float = 0.0,
    shifts: ArrayLike | None = None,
) -> tuple[float, float, float, tuple[float, float]] | None:
    """Move a witness to where it misses by most nearby, in round figures.

    Args:
        problem: what was asked.
        witness: x, y in m and yaw in rad, from a proof that fails.
        x0: place from which x is taken on site, in m.
        y0: place from which y is taken on site, in m.
        grow: the growth with which the witness was found, in m.
        shifts: the proof's shifts of each unit's beams.

    Returns:
        (x, y, yaw, step): x - x0 and y - y0 whole multiples of step[0] (1 mm, else
        0.1 mm), yaw in [0, pi) of step[1] (1 degree, else 0.1), admissible and asked
        and missed by more than 1e-9 m; None if no such pose is near.
    """
    moved = None if shifts is None else np.asarray(shifts, np.float64)
    best = _improved(problem, witness, grow, moved)
    for start in (best, witness):
        for step in LADDER:
            pose = _rounded(problem, start, (x0, y0), step, grow, moved)
            if pose is not None:
                return (*pose, step)
    return None


def _missed(problem: Problem, pose: Pose, grow: float, shifts: Floats | None) -> float:
    if not admissible(problem, pose):
        return -inf
    return clearance(problem, pose, grow=grow, shifts=shifts)


def _improved(problem: Problem, pose: Pose, grow: float, shifts: Floats | None) -> Pose:
    best, steps = _missed(problem, pose, grow, shifts), _FIRST
    halvings = moves = 0
    while halvings < _HALVINGS and moves < _MOVES and best < inf:
        tried = [
            (pose[0] + i * steps[0], pose[1] + j * steps[1], pose[2] + k * steps[2])
            for i, j, k in _SIDES
        ]
        found = max((_missed(problem, p, grow, shifts), p) for p in tried)
        if found[0] > best:
            best, pose, moves = found[0], found[1], moves + 1
        else:
            steps = (steps[0] / 2, steps[1] / 2, steps[2] / 2)
            halvings += 1
    return pose


_SIDES = ((1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0), (0, 0, 1), (0, 0, -1))


def _rounded(
    problem: Problem,
    pose: Pose,
    origin: tuple[float, float],
    step: tuple[float, float],
    grow: float,
    shifts: Floats | None,
) -> Pose | None:
    length, angle = step
    turns = round(pi / angle)
    at = round((pose[0] - origin[0]) / length), round((pose[1] - origin[1]) / length)
    turned = round(pose[2] / angle)
    for i, j, k in _NEAR:
        near = (
            origin[0] + (at[0] + i) * length,
            origin[1] + (at[1] + j) * length,
            (turned + k) % turns * angle,
        )
        if _missed(problem, near, grow, shifts) > GUARD:
            return near
    return None
