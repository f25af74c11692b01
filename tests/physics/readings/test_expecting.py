"""What each kind of reading shows, against SciPy's rotations and a search."""

from math import radians

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.physics.beams import Attitude, beams_of
from limen.physics.readings.expecting import (
    Curtain,
    Taken,
    expected,
    owners,
    row_slopes,
    shown,
    spreads,
)
from oracles.readings import Mounting, Wanted, curtain, true_reading

CLOSE = 2e-6  # m: the oracle reads a row off between beams half a milliradian apart
small = st.floats(-0.08, 0.08)


@st.composite
def mountings(draw: st.DrawFn) -> Mounting:
    inside = draw(st.booleans())
    out = draw(st.floats(0.1, 0.3)) * (-1 if inside else 1)
    lens = (draw(st.floats(-0.5, 0.5)), out, draw(st.floats(1.9, 3.5)))
    return Mounting(draw(small), draw(small), draw(small), lens, inside)


wanted = st.one_of(
    st.builds(Wanted, st.just("spot"), st.integers(0, 1), st.integers(0, 23)),
    st.builds(Wanted, st.just("end"), st.integers(0, 1), st.sampled_from([0, 23])),
    st.builds(
        Wanted,
        st.sampled_from(["line", "in", "out"]),
        st.integers(0, 1),
        st.floats(-0.7, 0.7),
    ),
)


@given(mountings(), wanted)
def test_every_kind_shows_what_another_way_of_reckoning_shows(
    mounting: Mounting, what: Wanted
) -> None:
    own = curtain(inside=mounting.inside)
    true = true_reading(mounting, own, what, 1)
    off = np.array(expected(own, mounting.pose, [true])) - np.array(shown([true]))
    assert np.abs(off).max() < CLOSE


@given(mountings())
def test_slopes_of_a_row_are_those_of_the_beams_that_are_proved_with(
    mounting: Mounting,
) -> None:
    own = curtain(inside=mounting.inside)
    attitude = Attitude(mounting.tilt, mounting.roll, mounting.yaw, mounting.inside)
    beams = beams_of(mounting.lens, attitude, own.row_angles, own.fans, own.rows_on)
    slopes = np.concatenate([row_slopes(own, mounting.pose, row) for row in (0, 1)])
    assert np.allclose(slopes, beams.slopes, atol=1e-12)


def test_spots_are_counted_from_the_left_seen_from_outside_on_both_sides() -> None:
    for inside in (False, True):
        mounting = Mounting(0.0, 0.0, 0.0, (0.0, 0.15, 2.2), inside)
        first = Taken(1, "end", 0.0, 0.0, 0.01, 0.0, 0, 0)
        last = Taken(2, "end", 0.0, 0.0, 0.01, 0.0, 0, -1)
        left, right = expected(curtain(inside=inside), mounting.pose, [first, last])
        assert (left, right) == (pytest.approx(-1.3), pytest.approx(1.3))


def test_a_box_pushed_in_meets_whichever_row_reaches_furthest_out() -> None:
    mounting = Mounting(0.0, 0.0, 0.0, (0.0, 0.15, 2.2), inside=False)
    own = curtain(inside=False)
    box = Taken(1, "in", 0.0, 0.0, 0.02, 0.008, box=0.7)
    (edge,) = expected(own, mounting.pose, [box])
    foot = 0.15 + (2.2 - 0.05) * np.tan(radians(5))
    assert edge == pytest.approx(foot)
    nearest = Taken(1, "out", 0.0, 0.0, 0.02, 0.008, box=0.7)
    assert expected(own, mounting.pose, [nearest]) == [pytest.approx(0.15)]


def test_a_row_that_leans_to_the_leaf_is_met_by_the_top_of_a_box_pushed_in() -> None:
    mounting = Mounting(radians(-3), 0.0, 0.0, (0.0, 0.15, 2.2), inside=False)
    box = Taken(1, "in", 0.0, 0.0, 0.02, 0.008, row=0, box=0.7)
    (edge,) = expected(curtain(inside=False), mounting.pose, [box])
    assert edge == pytest.approx(0.15 - (2.2 - 0.7) * np.tan(radians(3)))


def test_a_figure_stands_for_the_reading_that_it_belongs_to() -> None:
    spot = Taken(1, "spot", 0.0, 0.1, 0.005, 0.005, 0, 3)
    line = Taken(2, "line", 0.0, 0.1, 0.02, 0.005, 0)
    assert owners([spot, line]) == [0, 0, 1]
    assert len(shown([spot, line])) == 3


def test_a_half_width_counts_as_any_value_within_it_alike() -> None:
    mounting = Mounting(0.0, 0.0, 0.0, (0.0, 0.15, 2.2), inside=False)
    line = Taken(1, "line", 0.0, 0.15, 0.02, 0.006, 0)
    (own,) = spreads(curtain(inside=False), mounting.pose, [line], 0.0, 0.0)
    assert own == pytest.approx(0.006 / 3**0.5)


def test_a_line_read_somewhere_along_a_crooked_row_is_known_less_closely() -> None:
    straight = Mounting(0.0, 0.0, 0.0, (0.0, 0.15, 2.2), inside=False)
    crooked = Mounting(0.0, 0.0, radians(5), (0.0, 0.15, 2.2), inside=False)
    line = Taken(1, "line", 0.5, 0.15, 0.02, 0.005, 0)
    own = curtain(inside=False)
    (sure,), (less,) = (
        spreads(own, one.pose, [line], 0.0, 0.0) for one in (straight, crooked)
    )
    steep = 0.02 * np.tan(radians(5))
    assert less == pytest.approx(np.hypot(sure, steep / 3**0.5), rel=1e-3)


def test_an_unknown_lowest_height_makes_a_box_met_at_its_foot_less_sure() -> None:
    own = curtain(inside=False)
    unknown = Curtain(False, own.row_angles, own.fans, own.rows_on)
    mounting = Mounting(radians(4), 0.0, 0.0, (0.0, 0.15, 2.2), inside=False)
    box = Taken(1, "in", 0.0, 0.0, 0.02, 0.008, row=0, box=0.7)
    (known,) = spreads(own, mounting.pose, [box], 0.0, 0.0)
    (open_,) = spreads(unknown, mounting.pose, [box], 0.0, 0.0)
    assert open_ > 2 * known
