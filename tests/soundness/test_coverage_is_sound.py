"""What the coverage proof says of random doorways stands up to independent oracles.

No *holds* against an adversary, planar shapes or rays in three dimensions; no witness
that shapes or rays do not confirm; no *not shown* away from the limit.
"""

from functools import cache
from typing import Any

import numpy as np
import pytest

from oracles import adversary, attack
from oracles.doorways import Doorway, Floats, Plan, plan_of, random_doorway

coverage = pytest.importorskip(
    "limen.physics.coverage", reason="the coverage proof is not there yet"
)

RESOLUTION = 5e-4
AWAY = 2.5 * RESOLUTION
"""Further than this from the limit, *not shown* is refused."""

MOST_NOT_SHOWN = 0.02
CHUNK = 50
FAST = range(3)
ALL = range(40)
CHUNKS = [c if c in FAST else pytest.param(c, marks=pytest.mark.slow) for c in ALL]
LOOK = adversary.Effort(samples=2500, starts=30, patience=14)
LOOK_HARD = adversary.Effort(8000, 120, 24, -np.inf)


def chunk(number: int) -> list[Doorway]:
    return [random_doorway(s) for s in range(number * CHUNK, (number + 1) * CHUNK)]


def prove(plan: Plan, **more: Any) -> Any:
    return coverage.prove(
        plan.segments,
        plan.zone,
        plan.body,
        group=plan.group,
        needed=plan.needed,
        blocked=plan.blocked,
        must_meet=plan.must_meet,
        resolution=RESOLUTION,
        **more,
    )


@cache
def nominal(seed: int) -> Any:
    return prove(plan_of(random_doorway(seed)))


def tolerance_of(doorway: Doorway, plan: Plan) -> float | Floats:
    """The doorway's tolerance: for odd numbers one for each beam and axis."""
    if doorway.seed % 2 == 0:
        return doorway.tolerance
    rng = np.random.default_rng([doorway.seed, 5])
    return doorway.tolerance * rng.uniform(0.0, 1.0, plan.segments[:, :2].shape)


def common_of(doorway: Doorway) -> Floats:
    rng = np.random.default_rng([doorway.seed, 6])
    return rng.uniform(0.0, 0.008, (len(doorway.units), 2))


def complaints(found: dict[int, list[str]]) -> str:
    return "\n".join(f"doorway {s}: {c}" for s, said in found.items() for c in said[:3])


@pytest.mark.parametrize("number", CHUNKS)
def test_no_doorway_that_holds_is_refuted(number: int) -> None:
    found: dict[int, list[str]] = {}
    for doorway in chunk(number):
        if nominal(doorway.seed).verdict == "holds":
            found[doorway.seed] = attack.against_holds(doorway, effort=LOOK)
    assert len(found) >= CHUNK // 8
    assert not complaints(found), complaints(found)


@pytest.mark.parametrize("number", CHUNKS)
def test_no_doorway_that_holds_within_a_tolerance_is_refuted(number: int) -> None:
    found: dict[int, list[str]] = {}
    for doorway in chunk(number):
        plan = plan_of(doorway)
        own = tolerance_of(doorway, plan)
        if not np.any(own) or prove(plan, tolerance=own).verdict != "holds":
            continue
        found[doorway.seed] = attack.against_holds(doorway, own, effort=LOOK)
    assert len(found) >= CHUNK // 25
    assert not complaints(found), complaints(found)


@pytest.mark.parametrize("number", CHUNKS)
def test_no_doorway_that_holds_under_a_shift_of_each_unit_is_refuted(
    number: int,
) -> None:
    found: dict[int, list[str]] = {}
    for doorway in chunk(number):
        plan = plan_of(doorway)
        own, alike = tolerance_of(doorway, plan), common_of(doorway)
        if prove(plan, tolerance=own, common=alike).verdict == "holds":
            said = attack.against_holds(doorway, own, alike, LOOK)
            found[doorway.seed] = said
    assert len(found) >= CHUNK // 25
    assert not complaints(found), complaints(found)


@pytest.mark.parametrize("number", CHUNKS)
def test_every_witness_is_confirmed_by_shapes_and_rays(number: int) -> None:
    found: dict[int, list[str]] = {}
    for doorway in chunk(number):
        proof = nominal(doorway.seed)
        assert (proof.witness is not None) is (proof.verdict == "fails")
        if proof.witness is not None:
            found[doorway.seed] = attack.against_witness(doorway, proof.witness)
    assert len(found) >= CHUNK // 3
    assert not complaints(found), complaints(found)


@pytest.mark.parametrize("number", CHUNKS)
def test_what_fails_within_a_tolerance_fails_without_one(number: int) -> None:
    found: dict[int, list[str]] = {}
    for doorway in chunk(number):
        plan = plan_of(doorway)
        own, alike = tolerance_of(doorway, plan), common_of(doorway)
        proof = prove(plan, tolerance=own, common=alike)
        if nominal(doorway.seed).verdict == "holds":
            assert proof.verdict != "fails", doorway.seed
        if proof.witness is not None:
            found[doorway.seed] = attack.against_witness(doorway, proof.witness)
    assert not complaints(found), complaints(found)


@pytest.mark.parametrize(
    "chunks", [FAST, pytest.param(ALL, marks=pytest.mark.slow)], ids=["some", "all"]
)
def test_not_shown_is_rare_and_only_near_the_limit(chunks: range) -> None:
    """The adversary's least score is the margin: how deep, or how far from admissible.

    A proof that gives up must lie within 2.5 resolutions of it, on either side.
    """
    seeds = range(chunks.start * CHUNK, chunks.stop * CHUNK)
    open_ones = [s for s in seeds if nominal(s).verdict == "not shown"]
    far: dict[int, float] = {}
    for seed in open_ones:
        least = adversary.hunt(plan_of(random_doorway(seed)), seed, effort=LOOK_HARD)
        if not abs(least.score) <= AWAY:
            far[seed] = least.score
    assert len(open_ones) <= MOST_NOT_SHOWN * len(seeds)
    assert not far


def test_both_verdicts_are_frequent() -> None:
    verdicts = [nominal(s).verdict for s in range(CHUNK * len(FAST))]
    assert verdicts.count("holds") >= 0.25 * len(verdicts)
    assert verdicts.count("fails") >= 0.40 * len(verdicts)
