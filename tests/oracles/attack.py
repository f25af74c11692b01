"""All oracles together against one claim; each complaint is a sentence.

A claim that a doorway holds is attacked by the adversary, by planar shapes and by rays
in three dimensions; a witness that it fails must be confirmed by the last two.
"""

import numpy as np

from oracles import adversary, planar, rays
from oracles.doorways import Doorway, Floats, Plan, directions, lens_of, plan_of
from oracles.planar import Pose

SLACK = 2e-9
"""Play allowed to a witness that touches a wall or the leaf path, in metres."""


def moved(plan: Plan, shift: Floats) -> Plan:
    """The plan with every beam moved on the floor by its own shift, (n, 2)."""
    return Plan(
        plan.segments + np.hstack([shift, shift]),
        plan.group,
        plan.needed,
        plan.body,
        plan.zone,
        plan.must_meet,
        plan.blocked,
    )


def lenses_moved(doorway: Doorway, plan: Plan, shift: Floats) -> rays.Mounted:
    """The same in the room: each ray starts from a lens moved by its beam's shift."""
    found: rays.Mounted = []
    for g, unit in enumerate(doorway.units):
        mine = shift[plan.group == g]
        off = np.hstack([mine, np.zeros((len(mine), 1))])
        found.append((lens_of(unit) + off, directions(unit)))
    return found


def random_shift(
    plan: Plan,
    tolerance: float | Floats,
    common: Floats | None,
    rng: np.random.Generator,
) -> Floats:
    """Any shift of the beams within a tolerance, often at its corners, (n, 2)."""
    own = np.clip(rng.uniform(-2.0, 2.0, (len(plan.group), 2)), -1.0, 1.0)
    shift = own * np.broadcast_to(np.asarray(tolerance, float), own.shape)
    if common is not None:
        alike = np.clip(rng.uniform(-2.0, 2.0, common.shape), -1.0, 1.0)
        shift = shift + (alike * common)[plan.group]
    return shift


def against_holds(
    doorway: Doorway,
    tolerance: float | Floats = 0.0,
    common: Floats | None = None,
    effort: adversary.Effort | None = None,
    places: int = 40,
) -> list[str]:
    """Everything that speaks against a doorway's *holds*; empty if nothing does."""
    plan = plan_of(doorway)
    seed = doorway.seed
    find = adversary.hunt(plan, seed, tolerance, common, effort)
    said: list[str] = []
    if find.score < -1e-6:
        said.append(f"the adversary finds {find}")
    rng = np.random.default_rng([seed, 3])
    poses = _places(plan, find.pose, seed, places, rng)
    shifts = [np.zeros((len(plan.group), 2))]
    if np.any(tolerance) or common is not None:
        shifts = [random_shift(plan, tolerance, common, rng) for _ in range(3)]
    for shift in shifts:
        said += _missed_by_shapes(moved(plan, shift), poses)
        mounted = lenses_moved(doorway, plan, shift)
        box = rays.StaticBox(doorway, rays.SINGLE, mounted)
        reached = np.any(box.counts(poses) >= plan.needed, axis=1)
        said += [f"rays reach nobody at {p}" for p in poses[~reached]]
    return said


def against_witness(doorway: Doorway, pose: Pose) -> list[str]:
    """Everything that speaks against a witness; empty if it is confirmed."""
    plan = plan_of(doorway)
    said: list[str] = []
    if not planar.admissible(plan, pose, SLACK):
        said.append("a body cannot be here")
    if planar.reached(plan, pose):
        said.append(f"shapes: reached by {planar.counts(plan, pose)}")
    hits = rays.counts_in_the_room(doorway, pose, -rays.SINGLE)
    if bool(np.any(hits >= plan.needed)):
        said.append(f"rays: reached by {hits}")
    return said


def against_missed_within(
    doorway: Doorway, pose: Pose, own: float | Floats, shifts: Floats
) -> list[str]:
    """What speaks against a witness that needs errors; empty if it is confirmed.

    Beams of a unit are moved by its shift (units, 2). Each beam may further err on its
    own: it is counted only if it meets the body from every corner of its tolerance.
    """
    plan = plan_of(doorway)
    said: list[str] = []
    if not planar.admissible(plan, pose, SLACK):
        said.append("a body cannot be here")
    by_shapes = np.ones(len(plan.group), dtype=bool)
    by_rays = by_shapes.copy()
    for corner in ((1, 1), (1, -1), (-1, 1), (-1, -1)):
        shift = np.asarray(corner) * np.broadcast_to(own, (len(plan.group), 2))
        shift = shift + shifts[plan.group]
        by_shapes &= planar.met(moved(plan, shift).segments, plan.body, pose)
        box = rays.StaticBox(doorway, -rays.SINGLE, lenses_moved(doorway, plan, shift))
        by_rays &= box.hits(np.array([pose]))[0]
    for name, hit in (("shapes", by_shapes), ("rays", by_rays)):
        counts = np.bincount(plan.group[hit], minlength=plan.needed.size)
        if np.any(counts >= plan.needed):
            said.append(f"{name}: reached by {counts}")
    return said


def _missed_by_shapes(plan: Plan, poses: Floats) -> list[str]:
    return [
        f"shapes reach nobody at {p}"
        for p in poses
        if not planar.reached(plan, (p[0], p[1], p[2]))
    ]


def _places(
    plan: Plan, worst: Pose, seed: int, count: int, rng: np.random.Generator
) -> Floats:
    """Admissible poses: the hardest, the adversary's worst and some at random."""
    xmin, xmax, ymin, ymax = plan.zone
    low, high = (xmin, ymin, -np.pi), (xmax, ymax, np.pi)
    anywhere = rng.uniform(low, high, (count, 3))
    hard = adversary.hardest(plan, seed, count, 1000)
    poses = np.vstack([anywhere, hard, [worst]])
    keep = [planar.admissible(plan, (p[0], p[1], p[2]), 0.0) for p in poses]
    return poses[np.array(keep)]
