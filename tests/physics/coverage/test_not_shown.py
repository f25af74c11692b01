"""What "not shown" still shows, and what a witness is worth."""

import numpy as np
import pytest

from limen.physics.coverage import Problem, bracket, clearance, prove, solve
from limen.physics.coverage.pose import admissible
from limen.physics.coverage.seam import Engine
from physics.coverage.problems import lattice, problem

RESOLUTION = 5e-4
GUARANTEE = 2.5 * RESOLUTION

TOUCHING = [
    Problem.build(lattice(0.2), (0, 0.2, 0, 0.2), (0.3, 0.2)),
    Problem.build([[0, 0, 0, 0]], (0.1, 0.1, 0, 0), (0.3, 0.2)),
    Problem.build([[0, 0, 0, 0]], (0.09, 0.09, 0, 0), (0.3, 0.2), common=[[0.01, 0.0]]),
    Problem.build(
        [[0, 0, 0, 0]], (0.09, 0.09, 0, 0), (0.3, 0.2), tolerance=[[0.01, 0]]
    ),
    Problem.build(
        lattice(0.2), (0, 0.2, 0, 0.2), (0.3, 0.2), blocked=[(-1, 1, 0.3, 0.4)]
    ),
]


@pytest.mark.parametrize("engine", ["numba", "numpy"])
@pytest.mark.parametrize("asked", TOUCHING)
def test_not_shown_by_resolution_means_that_touching_is_near(
    asked: Problem, engine: Engine
) -> None:
    found = solve(asked, engine=engine)
    assert (found.verdict, found.reason) == ("not shown", "resolution")
    grown = solve(asked, grow=GUARANTEE, resolution=1e-5, engine="numba")
    shrunk = solve(asked, grow=-GUARANTEE, resolution=1e-5, engine="numba")
    assert grown.verdict == "holds"
    assert shrunk.verdict == "fails"


def test_not_shown_on_random_doorways_means_that_touching_is_near() -> None:
    near = 0
    for seed in range(24):
        asked = problem(seed)
        margin = bracket(asked, precision=2e-4)
        if margin.held is None or margin.refuted is None:
            continue
        for grow in np.linspace(-margin.refuted, -margin.held, 3):
            found = solve(asked, grow=grow, resolution=RESOLUTION)
            if found.verdict == "not shown":
                near += 1
                assert found.reason == "resolution"
                larger = solve(asked, grow=grow + GUARANTEE, resolution=5e-5)
                assert larger.verdict == "holds"
                smaller = solve(asked, grow=grow - GUARANTEE, resolution=5e-5)
                assert smaller.verdict == "fails"
    assert near >= 8


@pytest.mark.parametrize("engine", ["numba", "numpy"])
def test_a_witness_is_admissible_and_missed_by_every_unit(engine: Engine) -> None:
    seen = 0
    for seed in range(40):
        asked = problem(seed, errors=seed % 2 == 1, small=True)
        found = solve(asked, engine=engine)
        if found.witness is not None:
            seen += 1
            shifts = np.array(found.shifts)
            assert (np.abs(shifts) <= asked.common + 1e-9).all()
            assert admissible(asked, found.witness)
            assert clearance(asked, found.witness, shifts=shifts) > 0.0
    assert seen > 10


def test_undecided_cells_do_not_hide_a_witness_elsewhere() -> None:
    touching = lattice(0.2, 0.5)
    gap = touching[np.hypot(touching[:, 0] - 0.4, touching[:, 1] - 0.4) > 0.05]
    assert prove(touching, (0, 0.4, 0, 0.4), (0.3, 0.2)).verdict == "not shown"
    assert prove(gap, (0, 0.4, 0, 0.4), (0.3, 0.2)).verdict == "fails"
