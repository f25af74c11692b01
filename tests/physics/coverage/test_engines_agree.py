"""The compiled search and its NumPy twin say the same."""

from dataclasses import replace

import numpy as np
import pytest

from limen.physics.coverage import Problem, solve
from physics.coverage.problems import problem

NOMINAL = range(120)
WITH_ERRORS = range(120, 200)
GUARANTEE = 2.5 * 5e-4


def agree(asked: Problem) -> str:
    fast, plain = solve(asked, engine="numba"), solve(asked, engine="numpy")
    if fast.verdict != plain.verdict:
        # Only where touching is near: one engine met a witness, one did not.
        assert {fast.verdict, plain.verdict} == {"fails", "not shown"}
        assert solve(asked, grow=1.01 * GUARANTEE).verdict == "holds"
    return fast.verdict if fast.verdict == plain.verdict else "near"


def test_both_engines_answer_random_doorways_alike() -> None:
    verdicts = [agree(problem(seed)) for seed in NOMINAL]
    assert verdicts.count("near") <= 2
    assert min(verdicts.count("holds"), verdicts.count("fails")) > 15


def test_both_engines_answer_random_doorways_with_errors_alike() -> None:
    verdicts = [agree(problem(seed, errors=True, small=True)) for seed in WITH_ERRORS]
    assert verdicts.count("near") <= 2
    assert min(verdicts.count("holds"), verdicts.count("fails")) > 8


@pytest.mark.slow
def test_both_engines_answer_many_wide_doorways_with_errors_alike() -> None:
    verdicts = [agree(problem(seed, errors=True)) for seed in range(200, 320)]
    assert verdicts.count("near") <= 3


def test_the_engines_leave_the_problem_as_it_was() -> None:
    asked = problem(3)
    before = [np.array(a) for a in (asked.beams, asked.group, asked.blocked)]
    for engine in ("numba", "numpy"):
        solve(asked, engine=engine)
    after = asked.beams, asked.group, asked.blocked
    assert all((a == b).all() for a, b in zip(before, after, strict=True))


def test_the_answer_does_not_depend_on_the_order_of_the_beams() -> None:
    asked = problem(5)
    back = np.arange(len(asked.beams))[::-1]
    turned = replace(
        asked,
        beams=np.ascontiguousarray(asked.beams[back]),
        group=np.ascontiguousarray(asked.group[back]),
    )
    assert solve(turned).verdict == solve(asked).verdict
