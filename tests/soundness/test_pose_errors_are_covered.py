"""A doorway that holds within its pose errors holds for every mounting within them.

The mountings are computed exactly: the unit is turned by a rotation vector, its lens
moved, each fan angle off by its own error. 200 are drawn at random; all corners follow.
"""

from typing import Any

import numpy as np
import pytest

from oracles import adversary, planar
from oracles.doorways import (
    Doorway,
    Floats,
    axes_of,
    directions,
    lens_of,
    plan_of,
    random_doorway,
    segments_of,
)
from oracles.mountings import corner_slips, mountings, random_slip, slipped

tolerance = pytest.importorskip(
    "limen.physics.tolerance", reason="the bounds of pose errors are not there yet"
)
coverage = pytest.importorskip(
    "limen.physics.coverage", reason="the coverage proof is not there yet"
)

RANDOM_MOUNTINGS = 200
CHUNK = 20
CHUNKS = [0, *(pytest.param(c, marks=pytest.mark.slow) for c in range(1, 100))]
FROM_THE_WORST = adversary.Effort(starts=3, patience=8)


def bounds_of(doorway: Doorway) -> list[tuple[Floats, Floats]]:
    """Residual (n, 2) and common (2,) of each unit."""
    e = doorway.errors
    given = tolerance.Errors(
        dx=e.dx, dy=e.dy, dh=e.dh, tilt=e.tilt, roll=e.roll, yaw=e.yaw, fan=e.fan
    )
    return [
        tolerance.bounds(lens_of(u), directions(u), doorway.span, given, *axes_of(u))
        for u in doorway.units
    ]


def prove(doorway: Doorway) -> Any:
    plan = plan_of(doorway)
    found = bounds_of(doorway)
    return coverage.prove(
        plan.segments,
        plan.zone,
        plan.body,
        group=plan.group,
        needed=plan.needed,
        tolerance=np.vstack([residual for residual, _ in found]),
        common=np.vstack([common for _, common in found]),
        blocked=plan.blocked,
        must_meet=plan.must_meet,
    )


def outside_by(moves: Floats, residual: Floats, common: Floats) -> float:
    """How far beam moves (n, 2) lie outside *one common shift plus own residual*.

    One shift must serve all beams: the intervals [move - residual, move + residual]
    of all beams and [-common, common] must have a point in common, on either axis.
    """
    low = np.maximum((moves - residual).max(0), -common)
    high = np.minimum((moves + residual).min(0), common)
    return float((low - high).max())


@pytest.mark.parametrize("number", CHUNKS)
def test_every_mounting_moves_the_beams_within_their_bounds(number: int) -> None:
    rng = np.random.default_rng([number, 21])
    for seed in range(number * CHUNK, number * CHUNK + CHUNK, 4):
        doorway = random_doorway(seed)
        for unit, (residual, common) in zip(
            doorway.units, bounds_of(doorway), strict=True
        ):
            drawn = segments_of(lens_of(unit), directions(unit), doorway.span)
            slips = [random_slip(unit, doorway.errors, rng) for _ in range(100)]
            for slip in [*slips, *corner_slips(unit, doorway.errors)]:
                at = segments_of(*slipped(unit, slip), doorway.span)
                # both ends of a beam's part may move by different amounts
                moves = np.vstack([(at - drawn)[:, :2], (at - drawn)[:, 2:]])
                twice = np.vstack([residual, residual])
                assert outside_by(moves, twice, common) <= 1e-12, seed


@pytest.mark.parametrize("number", CHUNKS)
def test_no_mounting_within_the_errors_refutes_a_doorway_that_holds(
    number: int,
) -> None:
    held = 0
    for seed in range(number * CHUNK, number * CHUNK + CHUNK):
        doorway = random_doorway(seed)
        if prove(doorway).verdict != "holds":
            continue
        held += 1
        worst = adversary.hardest(plan_of(doorway), seed, 150, 3000)
        rng = np.random.default_rng([seed, 22])
        for mounted in mountings(doorway, RANDOM_MOUNTINGS, rng):
            plan = plan_of(doorway, mounted)
            find = adversary.descend_from(plan, seed, worst, FROM_THE_WORST)
            assert find.score >= -1e-6, (seed, find)
            assert planar.reached(plan, find.pose, 1e-6) or not planar.admissible(
                plan, find.pose, -1e-6
            )
    assert held >= 1
