"""How quickly people walk, and how far ahead a door must notice them.

Weidmann, U. (1993), Transporttechnik der Fussgänger, Schriftenreihe des IVT 90, ETH
Zürich: free speed of mixed adults 1.34 m/s, standard deviation 0.26 m/s; read as a
public report quotes it. Bohannon, R. W. and Andrews, A. W. (2011), Normal walking
speed: a descriptive meta-analysis, Physiotherapy 97(3), 182-189: women of 80 to 99
years 0.943 m/s, men of 40 to 49 years 1.434 m/s; abstract. Manual on Uniform
Traffic Control Devices (2009), 4E.06: 3.5 ft/s for the signal time of pedestrians.
FHWA-RD-98-107 (1998), section 2: body ellipse of 0.50 by 0.60 m. Speeds of hand
driven wheelchairs at home, 0.79 m/s (0.19), and of schoolchildren, 1.39 m/s (0.22),
from abstracts. Distances are worked from these in closed form.
"""

from math import pi

import numpy as np
import pytest

from limen.physics.in_time import Approach, lateness, ways
from limen.physics.in_time_edges import Edges
from limen.physics.in_time_field import Field
from limen.physics.walking import Group, Walker, way_needed
from limen.quantity import Dimension, Grade, parse
from published.rulebooks import rule_of, shipped

QUESTION = "approach.opens_in_time"
BOOKS = [("en", "2012"), ("en", "2023"), ("us", "2005")]
ADULTS = Group(1.34, 0.26)
FOOT = 0.3048  # m, exact
ROUNDING = 1e-4


@pytest.mark.parametrize(("name", "edition"), BOOKS)
@pytest.mark.parametrize(
    ("group", "mean", "spread", "grade"),
    [
        ("adults", 1.34, 0.26, Grade.SEEN),
        ("schoolchildren", 1.39, 0.22, Grade.SEEN),
        ("wheelchair", 0.79, 0.19, Grade.SEEN),
        # the mean was read, the spread is 17.5 % of it by estimate
        ("older", 0.943, 0.165, Grade.ESTIMATE),
    ],
)
def test_the_groups_walk_as_published(
    name: str, edition: str, group: str, mean: float, spread: float, grade: Grade
) -> None:
    speeds = rule_of(shipped(name, edition), QUESTION).limit(group)
    assert (speeds.value, speeds.u) == pytest.approx((mean, spread))
    assert speeds.grade is grade


def test_the_15th_percentile_of_weidmann_s_adults() -> None:
    """Normal distribution; what lies below 0 m/s is less than 1e-6 of it."""
    assert ADULTS.quantile(0.15) == pytest.approx(1.0705273, abs=ROUNDING)


@pytest.mark.parametrize(
    ("share", "speed"),
    [(0.01, 0.735), (0.05, 0.912), (0.85, 1.609), (0.95, 1.768), (0.99, 1.945)],
)
def test_other_percentiles_of_weidmann_s_adults(share: float, speed: float) -> None:
    assert ADULTS.quantile(share) == pytest.approx(speed, abs=5e-4)


def test_the_signal_speed_is_met_by_all_but_15_in_a_hundred() -> None:
    """MUTCD 2009, 4E.06: 3.5 ft/s, exact; the share by Weidmann's distribution."""
    speed = parse("3.5 ft/s", Dimension.SPEED).value
    assert speed == pytest.approx(3.5 * FOOT, abs=1e-12)
    assert speed == pytest.approx(1.0668, abs=1e-9)
    assert ADULTS.slower(speed) == pytest.approx(0.1466823, abs=ROUNDING)


def test_the_body_ellipse_lies_in_the_body_that_is_let_through() -> None:
    """FHWA-RD-98-107, section 2: 0.2356 m², not the 0.3 m² of its rectangle."""
    rule = rule_of(shipped("en", "2012"), QUESTION)
    width, depth = rule.limit("body_width").value, rule.limit("body_depth").value
    assert pi * width * depth / 4 == pytest.approx(0.235619449, abs=1e-6)


def test_the_standard_s_walking_speed_is_taken_where_none_is_named() -> None:
    """ISO 13855:2010, 6.3 and 7: K = 1600 mm/s; a yardstick, for machinery."""
    rule = rule_of(shipped("en", "2012"), QUESTION)
    assert rule.limit("fastest").value == pytest.approx(1.6)
    assert rule.source("fastest").document == "ISO 13855"


@pytest.mark.parametrize(
    ("speed", "way"), [(1.07, 1.926), (1.34, 2.412), (1.768, 3.182), (3.0, 5.400)]
)
def test_how_far_ahead_a_door_must_notice_who_walks(speed: float, way: float) -> None:
    """D = v (0.3 s + 1.5 s): an identity."""
    assert way_needed(speed, 1.8) == pytest.approx(way, abs=5e-4)


@pytest.mark.parametrize(("speed", "way"), [(1.6, 1.680), (0.92, 0.966)])
def test_800_mm_between_two_leaves_of_half_a_metre_a_second(
    speed: float, way: float
) -> None:
    """Derived: 0.10 s radar, 0.15 s operator, 0.8 s leaves: 1.05 s.

    A field exactly that deep leaves nobody a millisecond early or late.
    """
    assert way_needed(speed, 1.05) == pytest.approx(way, abs=1e-9)
    assert _late(way, speed) == pytest.approx(0.0, abs=1e-3)


def test_a_zone_of_a_metre_gives_a_quick_walker_625_ms() -> None:
    """1000 mm of zone at 1.6 m/s: 0.625 s; 800 mm take 1.05 s."""
    assert _late(1.0, 1.6) == pytest.approx(1.05 - 0.625, abs=1e-3)


def _late(depth: float, speed: float) -> float:
    """Lateness of one who walks straight at the middle."""
    times = np.arange(0.0, 2.0, 1e-4)
    free = np.clip(0.5 * (times - 0.15), 0.0, 1.0)
    field = Field(
        np.array([(-2.0, -1.0), (2.0, -1.0), (2.0, depth), (-2.0, depth)]),
        (0.0, 0.0, 1.0),
        least_speed=0.0,
        response=0.1,
    )
    approach = Approach(
        Edges(times, free, free), (field,), Walker(0.4, 0.0), (0.0, 0.0), (0.0, 0.0)
    )
    given = ways(approach, np.zeros(1), np.zeros(1))
    return float(lateness(approach, given, np.array([speed]))[0])
