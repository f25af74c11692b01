"""A stopwatch ran for the whole way; what it bounds of a shorter one."""

import numpy as np
from hypothesis import assume, given
from hypothesis import strategies as st

from builders.doorways import a_doorway
from limen.physics.leaf import Opening, opening_of
from limen.physics.leaf_course import rest_to_rest

TIMED = {
    "motion.opening_speed": None,
    "motion.opening_acceleration": None,
    "motion.opening_time": "2.4 s",
}
STROKE, TIME = 1.0, 2.4  # m, s: the reference doorway's leaf


@given(st.floats(1.02, 1.999), st.floats(0.35, 0.999))
def test_no_leaf_that_took_that_long_is_behind_the_slow_bound_or_before_the_quick_one(
    quickness: float, share: float
) -> None:
    speed = quickness * STROKE / TIME
    gain = speed**2 / (speed * TIME - STROKE)
    leaf = rest_to_rest(share * STROKE, speed, gain)
    assume(abs(rest_to_rest(STROKE, speed, gain).end - TIME) < 1e-6)
    slow, quick = (_opening(share, latest=latest) for latest in (True, False))
    since = np.linspace(0.0, 3.0, 301)
    way = leaf.way(since)
    assert (slow.course.way(since) <= way + 1e-9).all()
    assert (quick.course.way(since) >= way - 1e-9).all()


def _opening(share: float, *, latest: bool) -> Opening:
    found = opening_of(a_doorway(TIMED), width=2 * STROKE * share, latest=latest)
    assert isinstance(found, Opening)
    return found
