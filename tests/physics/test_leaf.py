"""The least free opening after a signal, whatever the leaves were doing."""

from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders.doorways import a_doorway
from limen.model.doorway import Doorway
from limen.physics.leaf import Opening, opening_of
from limen.physics.leaf_course import rest_to_rest, with_slow_zone
from limen.physics.leaf_speed import Span, closing_speeds, spread, stroke_of
from limen.quantity import Grade, Quantity

NOISE = 1e-9
TIMES = np.linspace(0.0, 6.0, 301)
SINGLE = {"leaves.kind": "single", "leaves.hand": "right"}


def opening(changes: dict[str, Any] | None = None, **more: Any) -> Opening:
    found = opening_of(a_doorway(changes), **more)
    assert isinstance(found, Opening)
    return found


def width(one: Opening, times: Any = TIMES) -> np.ndarray:
    left, right = one.free(times)
    return right - left


def exact_way(
    place: float, t: np.ndarray, v: float, delay: float, b: float, open_: Opening
) -> np.ndarray:
    """A leaf that was closing at v from a place when the signal came (m)."""
    stop = delay + v / b
    braking = np.clip(t - delay, 0.0, v / b)
    back = v * np.minimum(t, delay) + v * braking - b * braking**2 / 2
    stood = max(0.0, place - (v * delay + v**2 / (2 * b)))
    closing = np.maximum(0.0, place - back)
    rest = open_.course.stroke - stood
    pieces = open_.course.pieces
    again = stood + rest_to_rest(rest, pieces[1].speed, pieces[0].gain).way(t - stop)
    return np.where(t < stop, closing, again)


@given(st.floats(0.0, 1.0), st.floats(0.05, 0.8), st.floats(0.0, 0.5))
def test_from_no_state_of_closing_is_less_free_than_it_says(
    share: float, speed: float, delay: float
) -> None:
    speed, delay = round(speed, 3), round(delay, 3)
    changes = {
        "motion.closing_speed": f"{speed} m/s",
        "motion.reversal_delay": f"{delay} s",
        "motion.opening_time": None,
    }
    bound = opening(changes)
    place = share * bound.course.stroke
    way = exact_way(place, TIMES, speed, delay, 1.5, bound)
    assert (2 * way >= width(bound) - NOISE).all()


def test_the_worst_state_is_reached_so_the_bound_is_no_looser_than_need_be() -> None:
    bound = opening({"motion.opening_time": None})
    stops = 0.25 * 0.1 + 0.25**2 / (2 * 1.5)
    way = exact_way(stops, TIMES, 0.25, 0.1, 1.5, bound)
    after = bound.delay <= TIMES
    assert (2 * way)[after] == pytest.approx(width(bound)[after], abs=1e-9)


def test_a_door_that_is_quick_to_turn_waits_for_the_start_from_rest() -> None:
    bound = opening({"motion.start_delay": "0.9 s"})
    assert bound.delay == pytest.approx(0.9)
    assert opening({"motion.start_delay": "0.9 s"}, from_closed=True).delay == 0.9


def test_the_free_opening_never_shrinks_and_ends_at_the_clear_width() -> None:
    for changes in ({}, SINGLE, {"motion.opening_acceleration": None}):
        for latest in (True, False):
            free = width(opening(changes, latest=latest))
            assert (np.diff(free) >= -NOISE).all()
            assert free[0] == 0.0
            assert free[-1] == pytest.approx(2.0)


def test_the_latest_opening_is_never_ahead_of_the_earliest() -> None:
    doubted = {
        "motion.opening_speed": "0.5 m/s ± 0.1 m/s",
        "motion.opening_acceleration": "1.25 m/s² ± 0.3 m/s²",
        "motion.opening_time": None,
        "motion.start_delay": "0.3 s ± 0.1 s",
        "motion.braking": "1.5 m/s² ± 0.5 m/s²",
    }
    late, early = opening(doubted), opening(doubted, latest=False)
    assert (width(early) >= width(late) - NOISE).all()
    assert width(early, 1.0) > width(late, 1.0)


def test_every_figure_counts_by_its_worse_end() -> None:
    doubted = {
        "motion.closing_speed": "0.3 m/s ± 0.1 m/s",
        "motion.reversal_delay": "0.2 s ± 0.05 s",
        "motion.braking": "1.5 m/s² ± 0.5 m/s²",
    }
    assert opening(doubted).delay == pytest.approx(0.25 + 0.4 / 1.0)
    early = opening(doubted, latest=False).delay
    assert early == pytest.approx(0.15 + 0.2 / 2.0)


def test_a_single_leaf_frees_its_side_and_two_leaves_the_middle() -> None:
    left, right = opening(SINGLE).free(TIMES)
    assert (left == -1.0).all()
    assert right[-1] == pytest.approx(1.0)
    left, right = opening({**SINGLE, "leaves.hand": "left"}).free(TIMES)
    assert (right == 1.0).all()
    left, right = opening().free(TIMES)
    assert (left == -right).all()


def test_a_reduced_width_ends_there() -> None:
    assert width(opening(width=1.2), 9.0) == pytest.approx(1.2)
    left, right = opening(SINGLE, width=1.2).free(9.0)
    assert (left, right) == (pytest.approx(-1.0), pytest.approx(0.2))


def test_between_its_breaks_the_opening_moves_as_a_parabola() -> None:
    for changes in ({}, {"motion.opening_acceleration": None}):
        one = opening(changes)
        breaks = [0.0, *one.breaks]
        for start, end in pairwise(breaks):
            times = np.linspace(start, end, 9)[1:-1]
            thirds = np.diff(width(one, times), n=3)
            assert np.abs(thirds).max() < 1e-9


def test_the_time_to_a_width_is_when_it_is_free() -> None:
    one = opening()
    assert width(one, one.time_to(1.6)) == pytest.approx(1.6)


def test_the_stopwatch_counts_where_it_is_longer_than_what_was_set() -> None:
    slow = opening({"motion.opening_time": "3 s"}, from_closed=True)
    assert slow.course.end == pytest.approx(3.0)
    runs = {"motion.opening_runs": ["2.4 s", "2.9 s"]}
    assert opening(runs).course.end == pytest.approx(2.9)


def test_grades_of_all_figures_come_with_it() -> None:
    estimate = {"motion.braking": "1.5 m/s², estimate"}
    assert Grade.ESTIMATE in opening(estimate).grades
    assert Grade.ESTIMATE not in opening(estimate, from_closed=True).grades


@pytest.mark.parametrize(
    ("left_out", "keys"),
    [
        (["motion.start_delay"], {"motion.start_delay"}),
        (["motion.braking"], {"motion.braking"}),
        (["motion.reversal_delay"], set[str]()),  # the operator's own figure serves
        (
            ["motion.reversal_delay", "operator.reacts_in"],
            {"motion.reversal_delay"},
        ),
        (["motion.closing_speed", "motion.closing_time"], {"motion.closing_time"}),
        (["motion.closing_speed", "motion.slow_zone"], {"motion.slow_zone"}),
        (["motion.opening_speed", "motion.opening_time"], {"motion.opening_time"}),
        (["motion.opening_speed"], set[str]()),
        (["motion.opening_time"], set[str]()),
    ],
)
def test_what_is_missing_is_named(left_out: list[str], keys: set[str]) -> None:
    found = opening_of(a_doorway(dict.fromkeys(left_out)))
    assert (set(found) if isinstance(found, tuple) else set()) == keys


# The closing speed ------------------------------------------------------------


def speeds(changes: dict[str, Any]) -> Span:
    found = closing_speeds(a_doorway({"motion.closing_speed": None, **changes}))
    assert isinstance(found, Span)
    return found


def test_a_timed_door_closes_at_once_to_twice_its_mean_speed() -> None:
    span = speeds({"motion.closing_time": "4 s ± 0.1 s"})
    assert (span.low, span.high) == pytest.approx((1 / 4.1, 2 / 3.9))


def test_several_runs_span_from_the_shortest_to_the_longest() -> None:
    runs = {"motion.closing_runs": ["4 s", "5 s"], "motion.closing_time": None}
    span = speeds(runs)
    assert (span.low, span.high) == pytest.approx((1 / 5, 2 / 4))
    assert spread(None, ()) is None


@given(st.floats(0.1, 0.6), st.floats(0.3, 2.0), st.floats(0.05, 0.3))
def test_with_a_slow_zone_the_true_speed_lies_within(
    speed: float, gain: float, zone: float
) -> None:
    leaf = with_slow_zone(1.0, speed, gain, zone, 0.08)
    span = closing_speeds(_timed(leaf.end, zone))
    if isinstance(span, Span):
        assert span.low <= leaf.top_speed + 1e-6
        assert leaf.top_speed <= span.high + 1e-6


def test_a_slow_zone_takes_its_time_once_to_twice() -> None:
    """0.9 m in 4 to 5 s, so 0.18 m/s to twice 0.225 m/s."""
    zone = {"motion.slow_zone": "100 mm", "motion.slow_speed": "0.1 m/s"}
    span = speeds({**zone, "motion.closing_time": "6 s"})
    assert (span.low, span.high) == pytest.approx((0.18, 0.45))


def _timed(time: float, zone: float) -> Doorway:
    door = a_doorway({"motion.closing_speed": None})
    motion = door.motion.model_copy(
        update={
            "closing_time": Quantity(time),
            "slow_zone": Quantity(zone),
            "slow_speed": Quantity(0.08),
        }
    )
    return door.model_copy(update={"motion": motion})


def test_the_way_of_a_leaf_is_its_share_of_the_clear_width_unless_stated() -> None:
    assert stroke_of(a_doorway()).high == 1.0
    assert stroke_of(a_doorway(SINGLE)).high == 2.0
    assert stroke_of(a_doorway({"leaves.travel": "1050 mm"})).high == 1.05
