"""What is said of a drift never rounds doubt away."""

import re
from dataclasses import dataclass

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.quantity import Dimension, Show
from limen.words.drifting import said_drift, said_reach


@dataclass
class _Reach:
    soonest: float
    likely: float
    latest: float


@dataclass
class _Drift:
    slope: float | None = 0.006
    u: float = 0.0024
    shown: bool = True
    reach: _Reach | None = None
    dates: int = 4


def _said(found: _Drift, system: Show = Show.METRIC) -> str:
    return said_drift(found, Dimension.LENGTH, system)


def test_too_little_and_nothing_shown_are_said_apart() -> None:
    assert _said(_Drift(slope=None, shown=False)) == (
        "Read on too few days to see a drift."
    )
    assert _said(_Drift(shown=False)) == "No drift shown."


def test_it_says_how_fast_with_its_doubt_rounded_up() -> None:
    assert _said(_Drift()) == "Grows by 6 mm a year (± 3 mm)."
    assert _said(_Drift(slope=-0.006)) == "Shrinks by 6 mm a year (± 3 mm)."


def test_what_is_smaller_than_is_written_is_said_to_be_less() -> None:
    assert _said(_Drift(slope=0.0004, u=0.0001)) == "Moves by less than 1 mm a year."


def test_it_says_by_when_it_would_be_at_its_limit() -> None:
    said = _said(_Drift(reach=_Reach(8.9, 14.2, 39.1)))
    assert said == (
        "Grows by 6 mm a year (± 3 mm); "
        "would reach its limit in about 14 months, between 8 and 40 months."
    )


@pytest.mark.parametrize(
    ("reach", "part"),
    [
        (_Reach(-3.0, 14.2, 39.1), "it may be there already, and in 40 months"),
        (_Reach(0.4, 1.9, 3.1), "in about 1 month; it may be there already"),
        (_Reach(-9.0, -0.2, 37.0), "would be at its limit already"),
        (_Reach(90.0, 130.0, 300.0), "in 90 months at the soonest"),
        (_Reach(121.5, 130.0, 300.0), "not reach its limit within ten years"),
    ],
)
def test_what_may_be_there_already_or_is_far_off_is_said_so(
    reach: _Reach, part: str
) -> None:
    assert part in said_reach(reach)


@given(st.lists(st.floats(0.0, 100.0), min_size=3, max_size=3).map(sorted))
def test_months_are_never_rounded_towards_comfort(ends: list[float]) -> None:
    said = said_reach(_Reach(*ends))
    numbers = [int(one) for one in re.findall(r"\d+", said)]
    if len(numbers) == 3:
        likely, soonest, latest = numbers
        assert soonest <= ends[0]
        assert likely <= ends[1]
        assert latest >= ends[2]


def test_in_feet_it_is_said_in_inches() -> None:
    assert "1/4 in a year" in _said(_Drift(slope=0.00635), Show.FEET)


def test_other_dimensions_are_said_in_their_own_units() -> None:
    found = _Drift(slope=-0.05, u=0.02)
    assert said_drift(found, Dimension.TIME) == "Shrinks by 0.05 s a year (± 0.02 s)."
