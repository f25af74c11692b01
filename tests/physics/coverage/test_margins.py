"""The bracket of a margin, and witnesses in round figures."""

from math import degrees, pi, sqrt

import numpy as np
import pytest

from limen.physics.coverage import Problem, bracket, meets, printable, solve
from limen.physics.coverage.pose import admissible
from physics.coverage.problems import lattice, problem

BODY = (0.3, 0.2)


@pytest.mark.parametrize("pitch", [0.15, 0.19, 0.2, 0.21, 0.25])
def test_the_margin_of_a_lattice_is_half_of_what_the_pitch_leaves(pitch: float) -> None:
    """A lattice reaches every body with d >= pitch and w >= sqrt(2) pitch."""
    asked = Problem.build(lattice(pitch), (0, pitch, 0, pitch), BODY)
    found = bracket(asked)
    exact = min(BODY[1] - pitch, BODY[0] - sqrt(2) * pitch) / 2
    assert found.held is not None
    assert found.refuted is not None
    assert found.held - 1e-6 <= exact <= found.refuted + 1e-6
    assert found.refuted - found.held <= 1e-3


def test_both_ends_of_a_bracket_are_proved_by_a_search_of_their_own() -> None:
    for seed in range(25):
        asked = problem(seed)
        found = bracket(asked)
        assert found.reason == ""
        if found.held is not None:
            assert solve(asked, grow=-found.held + 1e-6).verdict != "fails"
        if found.refuted is not None:
            assert found.witness is not None
            met = meets(asked, found.witness, grow=-found.refuted)
            assert (met < asked.needed).all()
            assert admissible(asked, found.witness)
        if found.held is not None and found.refuted is not None:
            assert 0 <= found.refuted - found.held <= 1e-3


def test_a_margin_with_errors_is_not_larger_than_without() -> None:
    for seed in range(3):
        plain = problem(seed, small=True)
        rough = problem(seed, small=True, errors=True)
        less, more = bracket(rough, precision=6e-3), bracket(plain)
        if less.held is not None and more.refuted is not None:
            assert less.held <= more.refuted


def test_a_margin_past_the_end_of_the_body_is_open() -> None:
    curtains = np.array([[-1, y, 1, y] for y in np.arange(-0.5, 0.5, 1e-3)])
    found = bracket(Problem.build(curtains, (0, 0, 0, 0), BODY, needed=1))
    assert found.held == pytest.approx(0.1, abs=2e-6)
    assert found.refuted is None


def test_a_margin_past_the_growth_asked_about_is_open() -> None:
    found = bracket(Problem.build([[5, 5, 5, 5]], (0, 0, 0, 0), BODY), limit=0.1)
    assert found.held is None
    assert found.refuted is not None
    assert found.refuted <= -0.1


def test_a_search_too_short_for_a_margin_says_so() -> None:
    asked = problem(1)
    found = bracket(asked, max_cells=3)
    assert found.reason == "search limit"


def test_a_printed_witness_is_round_and_still_missed() -> None:
    printed = 0
    for seed in range(60):
        asked = problem(seed)
        found = solve(asked)
        if found.witness is None:
            continue
        x0, y0 = -0.9137, 0.0213
        told = printable(asked, found.witness, x0=x0, y0=y0)
        if told is None:
            continue
        printed += 1
        x, y, yaw, (length, angle) = told
        for value, step in ((x - x0, length), (y - y0, length), (yaw, angle)):
            assert value / step == pytest.approx(round(value / step), abs=1e-6)
        assert 0 <= yaw < pi
        assert admissible(asked, (x, y, yaw))
        assert (meets(asked, (x, y, yaw)) < asked.needed).all()
    assert printed > 10


def test_a_wide_gap_is_printed_in_whole_millimetres_and_degrees() -> None:
    asked = Problem.build(lattice(0.25), (0, 0.25, 0, 0.25), BODY)
    witness = solve(asked).witness
    assert witness is not None
    told = printable(asked, witness, x0=0.0, y0=0.0)
    assert told is not None
    assert told[3][0] == 1e-3
    assert degrees(told[3][1]) == pytest.approx(1.0)


def test_a_gap_thinner_than_every_step_is_not_printed() -> None:
    asked = Problem.build(lattice(0.20002), (0.10001, 0.10001, 0.10001, 0.10001), BODY)
    witness = solve(asked).witness
    assert witness is not None
    assert printable(asked, witness, x0=0.0, y0=0.05e-3) is None
