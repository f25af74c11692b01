"""Shifts shared by a unit's beams, against shifts drawn one by one."""

from dataclasses import replace

import numpy as np
import pytest

from limen.physics.coverage import Problem, clearance, prove, solve
from limen.physics.coverage.pose import admissible
from limen.physics.coverage.seam import Engine
from physics.coverage.problems import poses, problem

BODY = (0.3, 0.2)


def test_a_shift_of_one_beam_is_a_place_of_the_body() -> None:
    beam, zone = [[0, 0, 0, 0]], (0.09, 0.09, 0, 0)
    assert prove(beam, zone, BODY, common=[[0.009, 0]]).verdict == "holds"
    assert prove(beam, zone, BODY, common=[[0.0115, 0]]).verdict == "fails"


def test_beams_that_shift_together_reach_what_beams_that_err_alone_may_not() -> None:
    beams = [[-0.09, 0, -0.09, 0], [0.09, 0, 0.09, 0]]
    zone = (-0.09, 0.09, 0, 0)
    assert prove(beams, zone, BODY, tolerance=0.015).verdict == "fails"
    assert prove(beams, (0, 0, 0, 0), BODY, common=[[0.05, 0.0]]).verdict == "holds"
    assert (
        prove(beams, (0, 0, 0, 0), BODY, tolerance=[[0.05, 0]] * 2).verdict == "fails"
    )


def test_units_shift_apart_from_each_other() -> None:
    beams, group = [[-0.09, 0, -0.09, 0], [0.09, 0, 0.09, 0]], [0, 1]
    apart = prove(beams, (0, 0, 0, 0), BODY, group=group, common=[[0.05, 0]] * 2)
    assert apart.verdict == "fails"
    (left, _), (right, _) = apart.shifts
    assert left < -0.01
    assert right > 0.01


@pytest.mark.parametrize("engine", ["numba", "numpy"])
def test_no_drawn_shift_undoes_what_holds(engine: Engine) -> None:
    rng, held = np.random.default_rng(7), 0
    for seed in range(40):
        asked = problem(seed, errors=True, small=True)
        if solve(asked, engine=engine).verdict != "holds":
            continue
        held += 1
        for pose in poses(asked, 60, rng):
            if admissible(asked, pose):
                shifts = asked.common * rng.uniform(-1, 1, asked.common.shape)
                corner = asked.common * rng.choice([-1, 1], asked.common.shape)
                for each in (shifts, corner):
                    assert clearance(asked, pose, shifts=each) <= 0.0
    assert held > 8


def test_holding_with_shifts_lies_between_no_error_and_errors_of_that_size_alone() -> (
    None
):
    order = {"fails": 0, "not shown": 1, "holds": 2}
    for seed in range(40):
        asked = problem(seed, errors=True, small=True)
        still = replace(asked, common=np.zeros((2, 2)))
        beams = np.array(asked.beams)
        beams[:, 4:] += asked.common[asked.group]
        alone = replace(still, beams=beams)
        most, found, least = (order[solve(p).verdict] for p in (still, asked, alone))
        assert not (least == 2 and found == 0)
        assert not (found == 2 and most == 0)


def test_no_shift_is_the_plain_question() -> None:
    asked = problem(11)
    plain = solve(asked)
    assert Problem.build([], (0, 0, 0, 0), BODY, common=[[0, 0]]).shifted is False
    assert solve(replace(asked, common=np.zeros((2, 2)))) == plain
