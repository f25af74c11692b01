"""A drift is said where it is larger than its own doubt, and nowhere else."""

from collections.abc import Sequence
from datetime import date, timedelta
from math import sqrt
from random import Random
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from limen.keep.drifting import SPREAD, SURE, YEAR, Drift, Point, drift, since_set

ON = date(2026, 11, 26)
FIRST = date(2021, 11, 26)
SLOPE = 0.006  # m a year
U = 0.004  # m
TRIES = 400


def _at(years: float) -> date:
    return FIRST + timedelta(days=round(YEAR * years))


def _years(day: date) -> float:
    return (day - ON).days / YEAR


def _series(
    chance: Random, slope: float, times: Sequence[float], u: float = U
) -> list[Point]:
    return [Point(_at(t), 0.06 + slope * t + chance.uniform(-u, u), U) for t in times]


YEARLY = (0.0, 1.0, 2.0, 3.0, 4.0)


# Against other reckonings -----------------------------------------------------------


def test_slope_and_doubt_are_those_that_numpy_fits_with_these_weights() -> None:
    points = _series(Random(4), SLOPE, (0.0, 0.4, 1.1, 2.9, 4.2))
    points = [
        Point(one.day, one.value, U * scale)
        for one, scale in zip(points, (1.0, 2.0, 1.5, 0.5, 1.0), strict=True)
    ]
    found = drift([points], ON)
    (slope, _), matrix = np.polyfit(
        [_years(one.day) for one in points],
        [one.value for one in points],
        1,
        w=[1 / (SPREAD * (one.u or 1)) for one in points],
        cov="unscaled",
    )
    times = stats.norm.ppf((1 + SURE) / 2)
    assert found.slope == pytest.approx(slope, rel=1e-9)
    assert found.u == pytest.approx(times * sqrt(matrix[0, 0]), rel=1e-9)


NORRIS = """
0.1 0.2;338.8 337.4;118.1 118.2;888.0 884.6;9.2 10.1;228.1 226.5;668.5 666.3;
998.5 996.3;449.1 448.6;778.9 777.0;559.2 558.2;0.3 0.4;0.1 0.6;778.1 775.5;
668.8 666.9;339.3 338.0;448.9 447.5;10.8 11.6;557.7 556.0;228.3 228.1;998.0 995.8;
888.8 887.6;119.6 120.2;0.3 0.3;0.6 0.3;557.6 556.8;339.3 339.1;888.0 887.2;
998.5 999.0;778.9 779.0;10.2 11.1;117.6 118.3;228.9 229.2;668.4 669.1;449.2 448.9;
0.2 0.5
"""
NORRIS_SLOPE, NORRIS_DOUBT, NORRIS_SPARE = 1.00211681802045, 0.429796848199937e-3, 34


def test_the_published_line_of_norris_is_found() -> None:
    """NIST Statistical Reference Datasets, Norris (linear regression, 36 points).

    The data are from memory; that the certified slope and its standard deviation come
    out to the last of their digits says that they are the published ones.  A day is
    taken for the tenth of a unit.
    """
    pairs = [tuple(map(float, one.split())) for one in NORRIS.split(";")]
    points = [Point(ON + timedelta(days=round(10 * x)), y) for y, x in pairs]
    found = drift([points], ON)
    assert found.slope is not None
    per_unit = 10 / YEAR
    times = stats.t.ppf((1 + SURE) / 2, NORRIS_SPARE)
    assert found.slope * per_unit == pytest.approx(NORRIS_SLOPE, rel=1e-12)
    assert found.u * per_unit / times == pytest.approx(NORRIS_DOUBT, rel=1e-10)


def test_theil_and_sens_slope_lies_within_ours() -> None:
    """Sen, Estimates of the regression coefficient, JASA 63 (1968), as scipy has it."""
    chance = Random(11)
    for _ in range(40):
        points = _series(chance, SLOPE, YEARLY)
        found = drift([points], ON)
        years = [_years(one.day) for one in points]
        robust: Any = stats.theilslopes([one.value for one in points], years)
        assert found.slope is not None
        assert abs(robust.slope - found.slope) < found.u


def test_the_ends_of_the_time_are_where_the_line_with_its_doubt_meets_the_limit() -> (
    None
):
    points = _series(Random(7), SLOPE, YEARLY)
    found = drift([points], ON, most=0.120)
    assert found.reach is not None
    years, values = [_years(p.day) for p in points], [p.value for p in points]
    (slope, level), matrix = np.polyfit(
        years, values, 1, w=[1 / (SPREAD * U)] * 5, cov="unscaled"
    )
    times = stats.norm.ppf((1 + SURE) / 2)
    for months in (found.reach.soonest, found.reach.latest):
        t = months / 12
        doubt = times * sqrt(matrix[1, 1] + 2 * t * matrix[0, 1] + t * t * matrix[0, 0])
        assert abs(level + slope * t - 0.120) == pytest.approx(doubt, rel=1e-6)
    likely = 12 * (0.120 - level) / slope
    assert found.reach.likely == pytest.approx(likely, rel=1e-9)


# Series with a known drift ----------------------------------------------------------


def _share(slope: float, times: Sequence[float], u: float = U) -> tuple[float, float]:
    """How often a drift is said, and how often the true slope is within its doubt."""
    chance = Random(1)
    told = held = 0
    for _ in range(TRIES):
        found = drift([_series(chance, slope, times, u)], ON)
        told += found.shown
        assert found.slope is not None
        held += abs(found.slope - slope) <= found.u
    return told / TRIES, held / TRIES


@pytest.mark.parametrize("times", [YEARLY, YEARLY[:3], (0.0, 0.1, 3.0, 3.1)])
def test_where_nothing_moves_a_drift_is_hardly_ever_said(
    times: Sequence[float],
) -> None:
    told, held = _share(0.0, times)
    assert told <= 0.02
    assert held >= 0.98


@pytest.mark.parametrize("times", [YEARLY, YEARLY[:3]])
def test_readings_that_scatter_more_than_they_say_hide_a_drift_sooner_than_make_one(
    times: Sequence[float],
) -> None:
    told, _ = _share(0.0, times, u=2 * U)
    assert told <= 0.14


def test_a_known_drift_is_found_and_its_slope_is_within_what_is_said() -> None:
    told, held = _share(SLOPE, YEARLY)
    assert told >= 0.95
    assert held >= 0.98


def test_the_time_at_the_limit_is_within_what_is_said() -> None:
    chance, held, shown = Random(3), 0, 0
    for _ in range(TRIES):
        found = drift([_series(chance, SLOPE, YEARLY)], ON, most=0.100)
        if found.reach is None:
            continue
        shown += 1
        # 60 mm at first, 6 mm a year: at 100 mm after 80 months, 60 have passed.
        held += found.reach.soonest <= 20.0 <= found.reach.latest
    assert shown > 0.9 * TRIES
    assert held / shown >= 0.98


def test_a_row_that_is_set_back_at_each_visit_drifts_all_the_same() -> None:
    values = [(0.0, 0.060, True), (1.0, 0.066, False), (1.0, 0.060, True)]
    values += [(2.0, 0.067, False), (2.0, 0.061, True), (3.0, 0.067, False)]
    points = [(Point(_at(t), value, 0.002), anew) for t, value, anew in values]
    runs = list(since_set(points))
    assert [len(run) for run in runs] == [2, 2, 2]
    found = drift(runs, _at(3.0), most=0.070)
    assert found.shown
    assert found.slope == pytest.approx(0.00633, abs=1e-5)
    assert found.reach is not None
    assert 0 < found.reach.soonest < found.reach.likely < found.reach.latest
    assert not drift([[p for run in runs for p in run]], ON).shown


# What is not said -------------------------------------------------------------------


def test_two_days_show_no_drift_however_far_apart_they_read() -> None:
    points = [Point(_at(0), 0.06, U), Point(_at(1), 0.5, U), Point(_at(1), 0.5, U)]
    assert drift([points], ON) == Drift(2)


def test_nothing_read_shows_nothing() -> None:
    assert drift([], ON) == Drift(0)
    assert drift([(), ()], ON) == Drift(0)


def test_points_on_a_ruler_of_which_nobody_knows_the_doubt_show_none() -> None:
    points = [Point(_at(t), 0.01 * t) for t in (0, 1, 2)]
    assert not drift([points], ON).shown


def test_a_point_of_unknown_doubt_leaves_the_scatter_to_decide() -> None:
    points = _series(Random(2), SLOPE, YEARLY)
    points[2] = Point(points[2].day, points[2].value)
    found = drift([points], ON)
    line: Any = stats.linregress(
        [_years(p.day) for p in points], [p.value for p in points]
    )
    times = stats.t.ppf((1 + SURE) / 2, 3)
    assert found.u == pytest.approx(times * line.stderr, rel=1e-9)


def test_what_moves_away_from_its_only_limit_reaches_none() -> None:
    found = drift([_series(Random(5), SLOPE, YEARLY)], ON, least=0.05)
    assert found.shown
    assert found.reach is None


@st.composite
def _runs(draw: st.DrawFn) -> list[list[Point]]:
    amounts = st.floats(-1.0, 1.0, allow_nan=False)
    days = st.integers(0, 4000).map(lambda n: FIRST + timedelta(days=n))
    doubts = st.one_of(st.none(), st.floats(1e-4, 0.1))
    points = st.builds(Point, days, amounts, doubts)
    return draw(st.lists(st.lists(points, max_size=5), max_size=4))


def _ends(found: Drift) -> list[float]:
    reach = found.reach
    return [reach.soonest, reach.likely, reach.latest] if reach else []


@given(_runs())
def test_whatever_is_read_the_answer_is_in_order(runs: list[list[Point]]) -> None:
    found = drift(runs, ON, least=-2.0, most=2.0)
    if found.reach is not None:
        assert found.reach.soonest <= found.reach.likely <= found.reach.latest
    assert found.shown == (found.slope is not None and 0 < found.u < abs(found.slope))


@given(_runs(), st.floats(0.5, 4.0))
def test_in_other_units_it_is_the_same_drift(
    runs: list[list[Point]], scale: float
) -> None:
    def scaled(one: Point) -> Point:
        return Point(one.day, scale * one.value, one.u and scale * one.u)

    found = drift(runs, ON)
    other = drift([[scaled(one) for one in run] for run in runs], ON)
    assert (found.slope is None) == (other.slope is None)
    if found.slope is not None and other.slope is not None:
        assert other.slope == pytest.approx(scale * found.slope, rel=1e-6, abs=1e-12)


@given(_runs())
def test_upside_down_it_drifts_the_other_way(runs: list[list[Point]]) -> None:
    turned = [[Point(p.day, -p.value, p.u) for p in run] for run in runs]
    found = drift(runs, ON, least=-2.0, most=2.0)
    other = drift(turned, ON, least=-2.0, most=2.0)
    assert (found.dates, found.shown) == (other.dates, other.shown)
    assert _ends(other) == pytest.approx(_ends(found), rel=1e-6, abs=1e-6)


def test_the_same_days_later_shift_the_time_by_as_much() -> None:
    points = [_series(Random(5), SLOPE, YEARLY)]
    here = drift(points, ON, most=0.2).reach
    later = drift(points, ON + timedelta(days=366), most=0.2).reach
    assert here is not None
    assert later is not None
    shift = 12 * 366 / YEAR
    assert here.likely - later.likely == pytest.approx(shift, rel=1e-9)
    assert here.latest - later.latest == pytest.approx(shift, rel=1e-6)
