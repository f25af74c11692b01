"""For how long a door stands open: M/G/∞ by its formula and by counting."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.physics.open_time import Cycle, cycles, open_fraction, open_period

HOUR = 3600.0
RATE, WHILE = 200 / HOUR, 6.0
"""The worked case: 200 people an hour, 6 s each."""

rates = st.floats(0.0, 0.5)
whiles = st.floats(0.5, 30.0)


def test_the_worked_case_comes_out() -> None:
    assert float(open_fraction(np.array(RATE), WHILE)) == pytest.approx(
        0.2834686894, abs=1e-6
    )
    assert float(cycles(np.array(RATE), WHILE)) * HOUR == pytest.approx(
        143.31, abs=0.01
    )
    assert float(open_period(np.array(RATE), WHILE)) == pytest.approx(
        7.121023652, abs=1e-4
    )
    assert float(open_fraction(np.array(500 / HOUR), WHILE)) == pytest.approx(
        0.56540, abs=1e-5
    )


@given(rates, whiles)
def test_openings_times_their_length_are_the_time_it_is_open(
    rate: float, while_open: float
) -> None:
    given_rate = np.array(rate)
    made = cycles(given_rate, while_open) * open_period(given_rate, while_open)
    assert float(made) == pytest.approx(
        float(open_fraction(given_rate, while_open)), rel=1e-9, abs=1e-12
    )


@given(rates, whiles, st.floats(0.0, 0.2))
def test_more_people_keep_it_open_for_longer(
    rate: float, while_open: float, more: float
) -> None:
    one, other = open_fraction(np.array([rate, rate + more]), while_open)
    assert 0.0 <= one <= other <= 1.0


def test_nobody_opens_nothing() -> None:
    nobody = np.array(0.0)
    assert float(open_fraction(nobody, 6.0)) == 0.0
    assert float(cycles(nobody, 6.0)) == 0.0
    assert float(open_period(nobody, 6.0)) == 6.0


def test_counted_arrivals_keep_it_open_for_as_long() -> None:
    """200,000 people at random: the share is right to three standard errors."""
    chance = np.random.default_rng(2026)
    count = 200_000
    begins = np.cumsum(chance.exponential(1 / RATE, count))
    ends = np.maximum.accumulate(begins + WHILE)
    closed = np.maximum(begins[1:] - ends[:-1], 0.0).sum()
    share = 1.0 - closed / (ends[-1] - begins[0])
    assert share == pytest.approx(
        float(open_fraction(np.array(RATE), WHILE)), abs=0.0035
    )
    openings = 1 + int(np.sum(begins[1:] > ends[:-1]))
    assert openings / (begins[-1] - begins[0]) * HOUR == pytest.approx(
        143.31, rel=0.012
    )


def test_leaves_count_half_while_they_move() -> None:
    cycle = Cycle(opening=2.0, closing=4.0, hold=3.0, found=1.5)
    assert cycle.while_open == 7.5
