"""Where a leaf is after a time: trapezoids, slow zones, bounds of a stopwatch."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.physics.leaf_course import (
    Course,
    quickest_in,
    rest_to_rest,
    slowest_in,
    with_slow_zone,
)

STROKE = st.floats(0.2, 3.0)
SPEED = st.floats(0.05, 1.5)
GAIN = st.floats(0.1, 5.0)
SHARE = st.floats(0.0, 1.0)
NOISE = 1e-9


def sampled(course: Course) -> tuple[np.ndarray, np.ndarray]:
    times = np.linspace(-0.5, course.end + 0.5, 501)
    return times, course.way(times)


@given(STROKE, SPEED, GAIN, GAIN)
def test_a_leaf_goes_from_nothing_to_its_stroke_and_never_back(
    stroke: float, speed: float, gain: float, loss: float
) -> None:
    _, way = sampled(rest_to_rest(stroke, speed, gain, loss))
    assert way[0] == 0.0
    assert way[-1] == stroke
    assert (np.diff(way) >= -NOISE).all()


@given(STROKE, SPEED, GAIN, GAIN)
def test_it_is_never_faster_than_it_may_and_gains_no_more_than_it_may(
    stroke: float, speed: float, gain: float, loss: float
) -> None:
    course = rest_to_rest(stroke, speed, gain, loss)
    times, way = sampled(course)
    step = times[1] - times[0]
    speeds = np.diff(way) / step
    assert course.top_speed <= speed + NOISE
    assert speeds.max() <= course.top_speed + NOISE
    gains = np.diff(speeds) / step
    assert gains.max() <= gain * (1 + 1e-6) + 1e-6
    assert gains.min() >= -loss * (1 + 1e-6) - 1e-6


@given(STROKE, SPEED, GAIN, GAIN, SHARE)
def test_the_time_to_a_way_is_when_that_way_is_done(
    stroke: float, speed: float, gain: float, loss: float, share: float
) -> None:
    course = rest_to_rest(stroke, speed, gain, loss)
    time = course.time_to(share * stroke)
    assert course.way(time) == pytest.approx(share * stroke, abs=1e-7)


@given(STROKE, SPEED, GAIN, st.floats(0.5, 2.0))
def test_twice_the_lengths_at_twice_the_speeds_takes_the_same_time(
    stroke: float, speed: float, gain: float, k: float
) -> None:
    once = rest_to_rest(stroke, speed, gain)
    scaled = rest_to_rest(k * stroke, k * speed, k * gain)
    assert scaled.end == pytest.approx(once.end, rel=1e-9)


@given(STROKE, SPEED, GAIN, st.floats(1.0, 3.0))
def test_a_quicker_leaf_is_never_behind(
    stroke: float, speed: float, gain: float, more: float
) -> None:
    slow = rest_to_rest(stroke, speed, gain)
    times, way = sampled(slow)
    for quick in (
        rest_to_rest(stroke, more * speed, gain),
        rest_to_rest(stroke, speed, more * gain),
    ):
        assert (quick.way(times) >= way - NOISE).all()


@given(STROKE, SPEED, GAIN, SHARE)
def test_a_leaf_that_starts_further_open_stays_ahead(
    stroke: float, speed: float, gain: float, share: float
) -> None:
    """So closed is the worst place from which to start anew."""
    start = 0.95 * share * stroke
    times, way = sampled(rest_to_rest(stroke, speed, gain))
    ahead = start + rest_to_rest(stroke - start, speed, gain).way(times)
    assert (ahead >= way - NOISE).all()


@given(STROKE, SPEED, GAIN, st.floats(1.0, 4.0))
def test_every_leaf_lies_between_the_bounds_of_its_stopwatch_time(
    stroke: float, speed: float, loss: float, quicker: float
) -> None:
    gain = quicker * loss
    leaf = rest_to_rest(stroke, speed, gain, loss)
    times, way = sampled(leaf)
    assert (way >= slowest_in(stroke, leaf.end).way(times) - NOISE).all()
    assert (way <= quickest_in(stroke, leaf.end).way(times) + NOISE).all()


@given(STROKE, SPEED, GAIN, SHARE)
def test_a_known_acceleration_narrows_the_bound_and_keeps_it_sound(
    stroke: float, speed: float, gain: float, share: float
) -> None:
    leaf = rest_to_rest(stroke, speed, gain)
    times, way = sampled(leaf)
    known = slowest_in(stroke, leaf.end, share * gain if share else None)
    assert (way >= known.way(times) - NOISE).all()
    assert (known.way(times) >= slowest_in(stroke, leaf.end).way(times) - NOISE).all()


@given(STROKE, SPEED, GAIN)
def test_a_timed_leaf_is_no_slower_than_the_mean_and_no_faster_than_twice_it(
    stroke: float, speed: float, gain: float
) -> None:
    leaf = rest_to_rest(stroke, speed, gain)
    mean = stroke / leaf.end
    assert mean - NOISE <= leaf.top_speed <= 2 * mean + NOISE


@given(STROKE, SPEED, GAIN, SHARE, SHARE)
def test_in_the_slow_zone_a_leaf_creeps(
    stroke: float, speed: float, gain: float, zone: float, slow: float
) -> None:
    length, creep = zone * stroke, 0.02 + slow * speed
    course = with_slow_zone(stroke, speed, gain, length, creep)
    times, way = sampled(course)
    assert way[-1] == stroke
    assert (np.diff(way) >= -NOISE).all()
    if creep**2 / (2 * gain) < length < stroke:
        inside = way[:-1] > stroke - length + NOISE
        speeds = np.diff(way) / (times[1] - times[0])
        assert speeds[inside].max(initial=0.0) <= max(creep, 0) * (1 + 1e-6) + 1e-6


def test_without_a_slow_zone_it_is_the_plain_way() -> None:
    assert with_slow_zone(1.0, 0.5, 1.0, 0.0, 0.1) == rest_to_rest(1.0, 0.5, 1.0)


def test_times_of_any_shape_give_ways_of_that_shape() -> None:
    course = rest_to_rest(1.0, 0.5, 1.0)
    assert course.way(0.5).shape == ()
    assert course.way(np.zeros((2, 3))).shape == (2, 3)
    assert course.way([0.5, 2.0]).tolist() == pytest.approx([0.125, 0.875])


@pytest.mark.parametrize("wrong", [0.0, -1.0, float("nan"), float("inf")])
def test_what_is_not_positive_is_refused(wrong: float) -> None:
    for place in range(4):
        numbers = [1.0, 0.5, 1.0, 1.0]
        numbers[place] = wrong
        with pytest.raises(ValueError, match="more than 0"):
            rest_to_rest(*numbers)
    with pytest.raises(ValueError, match="more than 0"):
        slowest_in(1.0, wrong)


def test_a_way_that_the_leaf_does_not_go_has_no_time() -> None:
    course = rest_to_rest(1.0, 0.5, 1.0)
    for way in (-0.1, 1.1):
        with pytest.raises(ValueError, match="goes 0 to"):
            course.time_to(way)
