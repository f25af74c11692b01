"""How fast a closing leaf may go: what was set against what was timed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders.doorways import a_doorway
from limen.model.doorway import Doorway
from limen.physics.leaf_speed import Span, closing_speeds, speed_contradicted

WAY = {"leaves.travel": "1000 mm", "motion.slow_zone": "0 mm"}


def door(speed: str | None, time: str | None) -> Doorway:
    """One leaf's way of 1 m: a stopwatch shows 1 m / T at the least."""
    own = {"motion.closing_speed": speed, "motion.closing_time": time}
    return a_doorway({**WAY, **own})


def span(doorway: Doorway) -> Span:
    found = closing_speeds(doorway)
    assert isinstance(found, Span)
    return found


def test_a_stopwatch_alone_leaves_the_speed_between_even_and_triangle() -> None:
    """Kinematics: 1 m in 4 s is 0.25 m/s kept, or 0.5 m/s at the top of a triangle."""
    found = span(door(None, "4 s"))
    assert (found.low, found.high) == pytest.approx((0.25, 0.5))


def test_what_was_set_stands_where_the_stopwatch_does_not_speak_against_it() -> None:
    found = span(door("0.3 m/s ± 0.02 m/s", "4 s"))
    assert (found.low, found.high) == pytest.approx((0.28, 0.32))
    assert not speed_contradicted(door("0.3 m/s", "4 s"))


def test_a_quicker_leaf_by_the_stopwatch_leaves_all_of_both_open() -> None:
    found = span(door("0.2 m/s", "4 s"))
    assert speed_contradicted(door("0.2 m/s", "4 s"))
    assert (found.low, found.high) == pytest.approx((0.2, 0.5))


@given(st.floats(0.0, 0.1), st.floats(0.0, 1.0))
def test_looser_figures_never_make_what_disagrees_agree(u: float, t: float) -> None:
    """A ± so wide that both meet leaves at least as much open as none."""
    exact = span(door("0.2 m/s", "4 s"))
    loose = span(door(f"0.2 m/s ± {u:.6f} m/s", f"4 s ± {t:.6f} s"))
    assert loose.low <= exact.low + 1e-9
    assert loose.high >= exact.high - 1e-9
