"""What the coverage proof says of random doorways stands up to independent oracles.

No *holds* against an adversary, planar shapes or rays in three dimensions; no witness
that shapes or rays do not confirm; no *not shown* away from the limit.
"""

from functools import cache
from typing import Any

import numpy as np
import pytest

from limen.physics import coverage
from oracles import adversary, attack, planar
from oracles.doorways import Doorway, Floats, Plan, plan_of, random_doorway

RESOLUTION = 5e-4
AWAY = 2.5 * RESOLUTION
"""Further than this from the limit, *not shown* is refused."""

MOST_NOT_SHOWN = 0.02
CHUNK = 50
FAST = range(3)
ALL = range(40)


def some_now(fast: int) -> list[Any]:
    """All chunks, those after the first few left to the slow run."""
    return [c if c < fast else pytest.param(c, marks=pytest.mark.slow) for c in ALL]


CHUNKS = some_now(fast=len(FAST))
SHARES = [
    pytest.param(FAST, id="some"),
    pytest.param(ALL, id="all", marks=pytest.mark.slow),
]
LOOK = adversary.Effort(samples=6000, starts=60, patience=16)
LOOK_HARD = adversary.Effort(8000, 120, 24, -np.inf)


def chunk(number: int) -> list[Doorway]:
    return [random_doorway(s) for s in range(number * CHUNK, (number + 1) * CHUNK)]


def prove(plan: Plan, **more: Any) -> Any:
    return coverage.prove(
        *question(plan)[0], **question(plan)[1], resolution=RESOLUTION, **more
    )


def problem(plan: Plan) -> Any:
    return coverage.Problem.build(*question(plan)[0], **question(plan)[1])


def question(plan: Plan) -> tuple[tuple[Any, ...], dict[str, Any]]:
    asked = {
        "group": plan.group,
        "needed": plan.needed,
        "blocked": plan.blocked,
        "must_meet": plan.must_meet,
    }
    return (plan.segments, plan.zone, plan.body), asked


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


@pytest.mark.parametrize("number", some_now(fast=2))
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


@pytest.mark.parametrize("number", some_now(fast=1))
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


@pytest.mark.parametrize("number", some_now(fast=2))
def test_every_witness_within_the_errors_is_confirmed_by_shapes_and_rays(
    number: int,
) -> None:
    found: dict[int, list[str]] = {}
    for doorway in chunk(number):
        plan = plan_of(doorway)
        own, alike = tolerance_of(doorway, plan), common_of(doorway)
        proof = prove(plan, tolerance=own, common=alike)
        if nominal(doorway.seed).verdict == "fails":
            assert proof.verdict != "holds", doorway.seed
        if proof.witness is not None:
            shifts = np.array(proof.shifts)
            assert np.all(np.abs(shifts) <= alike + 1e-15)
            said = attack.against_missed_within(doorway, proof.witness, own, shifts)
            found[doorway.seed] = said
    assert len(found) >= CHUNK // 3
    assert not complaints(found), complaints(found)


@pytest.mark.parametrize("number", CHUNKS)
def test_every_witness_as_printed_is_confirmed_by_shapes_and_rays(number: int) -> None:
    """Taken with a tape from the left post and the outer leaf face, whole figures."""
    found: dict[int, list[str]] = {}
    unprinted: list[int] = []
    for doorway in chunk(number):
        proof = nominal(doorway.seed)
        if proof.witness is None:
            continue
        x0, y0 = -doorway.width / 2, doorway.leaf / 2
        print_of = coverage.printable(
            problem(plan_of(doorway)), proof.witness, x0=x0, y0=y0
        )
        if print_of is None:
            unprinted.append(doorway.seed)
            continue
        x, y, yaw, (length, turn) = print_of
        for value, step in ((x - x0, length), (y - y0, length), (yaw, turn)):
            assert abs(value / step - round(value / step)) < 1e-6
        found[doorway.seed] = attack.against_witness(doorway, (x, y, yaw))
    assert len(unprinted) <= CHUNK // 25, unprinted
    assert not complaints(found), complaints(found)


@pytest.mark.parametrize("number", some_now(fast=1))
def test_no_margin_is_refuted(number: int) -> None:
    """A body shrunk by the held margin is reached; by the refuted one it is missed."""
    found: dict[int, list[str]] = {}
    for doorway in chunk(number)[::3]:
        plan = plan_of(doorway)
        margin = coverage.bracket(problem(plan))
        said = found[doorway.seed] = []
        if margin.held is not None:
            least = adversary.hunt(plan, doorway.seed, effort=LOOK, shrink=margin.held)
            if least.score < -1e-6:
                said.append(f"{margin} held: {least}")
        if margin.refuted is not None:
            assert margin.witness is not None
            if not planar.admissible(plan, margin.witness, attack.SLACK):
                said.append(f"{margin}: a body cannot be here")
            if planar.reached(plan, margin.witness, -margin.refuted - 1e-9):
                said.append(f"{margin}: reached")
        if margin.held is not None and margin.refuted is not None:
            assert margin.held < margin.refuted
            assert margin.refuted - margin.held <= 1e-3 or margin.reason
    assert not complaints(found), complaints(found)


@pytest.mark.parametrize("chunks", SHARES)
def test_not_shown_is_rare_and_only_near_the_limit(chunks: range) -> None:
    far, count = undecided(chunks, erring=False)
    assert count <= MOST_NOT_SHOWN * len(chunks) * CHUNK
    assert not far


@pytest.mark.parametrize("chunks", SHARES)
def test_not_shown_within_the_errors_is_rare_and_only_near_the_limit(
    chunks: range,
) -> None:
    far, count = undecided(chunks, erring=True)
    assert count <= MOST_NOT_SHOWN * len(chunks) * CHUNK
    assert not far


def undecided(chunks: range, *, erring: bool) -> tuple[dict[int, float], int]:
    """Margins of the *not shown* that are far from the limit, and how many in all.

    The adversary's least score is the margin: how deep, or how far from admissible. A
    proof that gives up must lie within 2.5 resolutions of it, on either side.
    """
    count, far = 0, {}
    for seed in range(chunks.start * CHUNK, chunks.stop * CHUNK):
        doorway = random_doorway(seed)
        plan = plan_of(doorway)
        own = tolerance_of(doorway, plan) if erring else 0.0
        alike = common_of(doorway) if erring else None
        proof = prove(plan, tolerance=own, common=alike) if erring else nominal(seed)
        if proof.verdict != "not shown":
            continue
        count += 1
        least = adversary.hunt(plan, seed, own, alike, LOOK_HARD)
        if not abs(least.score) <= AWAY:
            far[seed] = least.score
    return far, count


def test_both_verdicts_are_frequent() -> None:
    verdicts = [nominal(s).verdict for s in range(CHUNK * len(FAST))]
    assert verdicts.count("holds") >= 0.25 * len(verdicts)
    assert verdicts.count("fails") >= 0.40 * len(verdicts)


def test_a_proof_three_millimetres_too_generous_would_be_caught() -> None:
    """A check must be able to fail: claims that hold only for a grown body."""
    claims = caught = 0
    for seed in range(CHUNK * 6):
        doorway = random_doorway(seed)
        plan = plan_of(doorway)
        if nominal(seed).verdict != "fails":
            continue
        if coverage.solve(problem(plan), grow=0.003).verdict == "holds":
            claims += 1
            caught += bool(attack.against_holds(doorway, effort=LOOK))
    assert claims >= 3
    assert caught == claims


def test_a_proof_that_forgets_the_errors_would_be_caught() -> None:
    claims = caught = 0
    for seed in range(CHUNK * 2):
        doorway = random_doorway(seed)
        plan = plan_of(doorway)
        own, alike = tolerance_of(doorway, plan), common_of(doorway)
        proof = prove(plan, tolerance=own, common=alike)
        if nominal(seed).verdict == "holds" and proof.verdict == "fails":
            claims += 1
            said = attack.against_holds(doorway, own, alike, LOOK, places=0)
            caught += bool(said)
    assert claims >= 3
    assert caught == claims
