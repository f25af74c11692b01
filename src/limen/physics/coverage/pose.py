"""One pose at a time: which beams meet the body there, and by how much they miss.

Plain NumPy, used to check every witness again outside the search.
"""

from collections.abc import Iterator
from itertools import repeat
from math import cos, inf, sin

import numpy as np

from limen.physics.coverage.problem import Floats, Ints, Problem

GUARD = 1e-9
"""Metres by which a witness must miss, and a certificate must have to spare."""

Pose = tuple[float, float, float]


def gaps(
    problem: Problem, pose: Pose, *, grow: float = 0.0, errors: bool = True
) -> Floats:
    """By how much each side of the body must grow for each beam to meet it.

    A segment meets a rectangle exactly when no axis of the rectangle and no normal
    of the segment separates them. All supports grow linearly with the body, so the
    least growth is the largest over the three axes. With `errors`, the meeting is
    asked for every own error of the beam: the sum of rectangle and segment is eroded
    by the error's box, which lowers each support by that box's.

    Args:
        problem: beams and body.
        pose: x, y in m and yaw in rad.
        grow: added to every half side of the body, in m.
        errors: whether the beam's own tolerance is counted against meeting.

    Returns:
        (n,) in m; at most 0 where the beam meets the closed body.
    """
    c, s = cos(pose[2]), sin(pose[2])
    w, d = problem.half_sizes(grow)
    beams = problem.beams
    x, y = beams[:, 0] - pose[0], beams[:, 1] - pose[1]
    hx, hy = beams[:, 2], beams[:, 3]
    tx, ty = (beams[:, 4], beams[:, 5]) if errors else (0.0, 0.0)
    hu, hv = np.abs(c * hx + s * hy), np.abs(c * hy - s * hx)
    along = np.abs(c * x + s * y) - hu + abs(c) * tx + abs(s) * ty - w
    across = np.abs(c * y - s * x) - hv + abs(s) * tx + abs(c) * ty - d
    aside = np.abs(hx * y - hy * x) + np.abs(hy) * tx + np.abs(hx) * ty
    aside = aside - w * hv - d * hu
    spread = hu + hv
    point = spread == 0.0
    aside = np.where(point, -inf, aside / np.where(point, 1.0, spread))
    return np.maximum(np.maximum(along, across), aside)


def meets(problem: Problem, pose: Pose, *, grow: float = 0.0) -> Ints:
    """Beams of each unit that meet the closed body at a pose, all errors zero.

    Args:
        problem: beams and body.
        pose: x, y in m and yaw in rad.
        grow: added to every half side of the body, in m.

    Returns:
        (groups,) counts.
    """
    if min(problem.half_sizes(grow)) < 0:
        return np.zeros(len(problem.needed), np.int64)
    met = gaps(problem, pose, grow=grow, errors=False) <= 0.0
    return np.bincount(problem.group[met], minlength=len(problem.needed))


def clearance(
    problem: Problem,
    pose: Pose,
    *,
    grow: float = 0.0,
    shifts: Floats | None = None,
) -> float:
    """By how much every side of the body could grow and still not be reached.

    Args:
        problem: beams and body.
        pose: x, y in m and yaw in rad.
        grow: added to every half side of the body, in m.
        shifts: (groups, 2) shift of each unit's beams; none means no shift.

    Returns:
        In m: the least, over units, of the gap of the beam that would complete the
        unit's needed number; above 0 where the body is not reached, infinite where no
        unit has enough beams. Each beam takes its worst own error.
    """
    least = inf
    for unit, found in enumerate(_gaps_by_unit(problem, pose, grow, shifts)):
        own, needed = found[problem.group == unit], int(problem.needed[unit])
        if len(own) >= needed:
            least = min(least, float(np.partition(own, needed - 1)[needed - 1]))
    return least


def _gaps_by_unit(
    problem: Problem, pose: Pose, grow: float, shifts: Floats | None
) -> Iterator[Floats]:
    """The gaps of all beams as each unit in turn is shifted."""
    if shifts is None:
        yield from repeat(gaps(problem, pose, grow=grow), len(problem.needed))
        return
    for dx, dy in shifts:
        place = (pose[0] - float(dx), pose[1] - float(dy), pose[2])
        yield gaps(problem, place, grow=grow)


def admissible(problem: Problem, pose: Pose) -> bool:
    """Whether a body can stand at the pose and the pose is asked.

    The zone, the walls and `must_meet` are judged with the body as given, never the
    grown one. Touching a wall is standing beside it; touching a box is meeting it;
    both to within 1e-9 m.
    """
    xmin, xmax, ymin, ymax = problem.zone
    if not (
        xmin - GUARD <= pose[0] <= xmax + GUARD
        and ymin - GUARD <= pose[1] <= ymax + GUARD
    ):
        return False
    if (_overlaps(problem, pose, problem.blocked) > GUARD).any():
        return False
    asked = problem.asked
    return not len(asked) or bool((_overlaps(problem, pose, asked) >= -GUARD).any())


def _overlaps(problem: Problem, pose: Pose, boxes: Floats) -> Floats:
    c, s = abs(cos(pose[2])), abs(sin(pose[2]))
    w, d = problem.half_sizes()
    x, y = boxes[:, 0] - pose[0], boxes[:, 1] - pose[1]
    hx, hy = boxes[:, 2], boxes[:, 3]
    u = np.abs(cos(pose[2]) * x + sin(pose[2]) * y)
    v = np.abs(cos(pose[2]) * y - sin(pose[2]) * x)
    return np.minimum.reduce(
        [
            hx + c * w + s * d - np.abs(x),
            hy + s * w + c * d - np.abs(y),
            w + c * hx + s * hy - u,
            d + s * hx + c * hy - v,
        ]
    )
