"""Beams, walls and bodies at random, with no doorway around them."""

from typing import Any

import numpy as np
import pytest

from limen.physics import coverage
from oracles import adversary, planar
from oracles.scatter import random_scatter

CHUNK = 50
CHUNKS = [c if c < 3 else pytest.param(c, marks=pytest.mark.slow) for c in range(40)]
LOOK = adversary.Effort(samples=4000, starts=40, patience=16)


def prove(seed: int, **more: Any) -> Any:
    plan = random_scatter(seed)
    return coverage.prove(
        plan.segments,
        plan.zone,
        plan.body,
        group=plan.group,
        needed=plan.needed,
        blocked=plan.blocked,
        must_meet=plan.must_meet,
        max_cells=300_000,
        **more,
    )


@pytest.mark.parametrize("number", CHUNKS)
def test_no_scatter_that_holds_is_refuted_and_every_witness_is_confirmed(
    number: int,
) -> None:
    verdicts: list[str] = []
    for seed in range(number * CHUNK, (number + 1) * CHUNK):
        plan, proof = random_scatter(seed), prove(seed)
        verdicts.append(str(proof.verdict))
        if proof.verdict == "holds":
            find = adversary.hunt(plan, seed, effort=LOOK)
            assert find.score >= -1e-6, (seed, find)
        elif proof.verdict == "fails":
            assert planar.admissible(plan, proof.witness, 2e-9), seed
            assert not planar.reached(plan, proof.witness), seed
    assert verdicts.count("holds") >= 5
    assert verdicts.count("fails") >= 5


@pytest.mark.parametrize("number", CHUNKS)
def test_no_scatter_that_holds_within_its_errors_is_refuted(number: int) -> None:
    for seed in range(number * CHUNK, (number + 1) * CHUNK):
        plan = random_scatter(seed)
        rng = np.random.default_rng([seed, 31])
        own = rng.uniform(0.0, 0.01, (len(plan.group), 2)) * (rng.random() < 0.7)
        alike = rng.uniform(0.0, 0.02, (len(plan.needed), 2))
        if prove(seed, tolerance=own, common=alike).verdict == "holds":
            find = adversary.hunt(plan, seed, own, alike, LOOK)
            assert find.score >= -1e-6, (seed, find)
