"""A doorway that holds within its pose errors holds for every mounting within them.

The mountings are computed exactly: the unit is turned by a rotation vector, its lens
moved, each fan angle off by its own error. 200 are drawn at random; all corners follow.
"""

from collections.abc import Iterator
from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest

from limen.physics import coverage, tolerance
from oracles import adversary, planar
from oracles.doorways import (
    Doorway,
    Errors,
    Floats,
    Ints,
    Plan,
    axes_of,
    directions,
    lens_of,
    plan_of,
    random_doorway,
    segments_of,
)
from oracles.mountings import corner_slips, mountings, random_slip, slipped

RANDOM_MOUNTINGS = 200
CHUNK = 20
CHUNKS = [0, *(pytest.param(c, marks=pytest.mark.slow) for c in range(1, 100))]
FROM_THE_WORST = adversary.Effort(starts=2, patience=7)


ANYWHERE = (-99.0, 99.0, -99.0, 99.0)
Case = tuple[list[tuple[Floats, Floats]], Floats]
"""A mounting of every unit, and poses (m, 3) from which to look for a missed one."""


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


def prove(doorway: Doorway, share: float = 1.0) -> Any:
    """The proof, told of the whole of the errors or only of a share of them."""
    plan = plan_of(doorway)
    given = (getattr(doorway.errors, f.name) * share for f in fields(Errors))
    found = bounds_of(replace(doorway, errors=Errors(*given)))
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


def alone(plan: Plan, unit: int, segments: Floats) -> Plan:
    """One unit of a plan, with these beams; bodies may be anywhere."""
    needed = plan.needed[[unit]]
    group = np.zeros(len(segments), dtype=np.int64)
    return Plan(segments, group, needed, plan.body, ANYWHERE, ANYWHERE, ())


def worst_pairs(doorway: Doorway, poses: Floats, count: int) -> Iterator[Case]:
    """The corner of each unit that is worst at a pose, for the worst of the poses.

    A body is missed if each unit misses it, and units err independently: choosing the
    worst corner of each unit, pose by pose, tries every pair of corners.
    """
    plan = plan_of(doorway)
    corners: list[list[tuple[Floats, Floats]]] = []
    least: list[Floats] = []
    chosen: list[Ints] = []
    for number, unit in enumerate(doorway.units):
        mine = [slipped(unit, s) for s in corner_slips(unit, doorway.errors)]
        each = np.stack(
            [
                adversary.scores(
                    alone(plan, number, segments_of(*at, doorway.span)), poses
                )
                for at in mine
            ]
        )
        corners.append(mine)
        least.append(each.min(0))
        chosen.append(each.argmin(0))
    for at in np.argsort(np.max(least, axis=0))[:count]:
        yield (
            [c[k[at]] for c, k in zip(corners, chosen, strict=True)],
            poses[[at]],
        )


def refutation(doorway: Doorway) -> adversary.Find | None:
    """A mounting within the errors, and a pose that it leaves unreached."""
    seed = doorway.seed
    worst = adversary.hardest(plan_of(doorway), seed, 150, 3000)
    rng = np.random.default_rng([seed, 22])
    cases: list[Case] = [(m, worst) for m in mountings(doorway, RANDOM_MOUNTINGS, rng)]
    cases += worst_pairs(doorway, worst, 40)
    for mounted, starts in cases:
        plan = plan_of(doorway, mounted)
        find = adversary.descend_from(plan, seed, starts, FROM_THE_WORST)
        by_shapes = planar.admissible(plan, find.pose, -1e-6) and not planar.reached(
            plan, find.pose, 1e-6
        )
        if find.score < -1e-6 or by_shapes:
            return find
    return None


@pytest.mark.parametrize("number", CHUNKS)
def test_no_mounting_within_the_errors_refutes_a_doorway_that_holds(
    number: int,
) -> None:
    held = 0
    for seed in range(number * CHUNK, number * CHUNK + CHUNK):
        doorway = random_doorway(seed)
        if prove(doorway).verdict == "holds":
            held += 1
            assert refutation(doorway) is None, seed
    assert held >= 1


@pytest.mark.parametrize("seed", [9, 214, 323])
def test_a_proof_told_of_half_the_errors_would_be_caught(seed: int) -> None:
    doorway = random_doorway(seed)
    assert prove(doorway, share=0.5).verdict == "holds"
    assert refutation(doorway) is not None
