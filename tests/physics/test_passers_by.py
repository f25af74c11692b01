"""On which share of their walks past a door people are seen by a radar."""

from dataclasses import replace
from math import radians

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.physics.beams import Attitude
from limen.physics.passers_by import Strip, speeds_of, triggering
from limen.physics.radar import Contour, Radar
from limen.physics.radar_beam import Lobe
from limen.physics.walking import Group

ADULTS = Group(1.34, 0.26)
EITHER = (0.5, 0.5)


def radar(ahead: float = 4.0, tilt: float = 45.0, **more: object) -> Radar:
    made = Radar(
        (0.0, 0.15, 2.2),
        Attitude(radians(tilt), 0.0, 0.0, False),
        (Contour(ahead, Lobe(radians(60), radians(50))),),
        inner=True,
        least_speed=0.1,
        response=0.12,
        direction_aware=False,
    )
    return replace(made, **more)  # pyright: ignore[reportArgumentType]  # by name


def strip(out: float, off: float = 0.0, breadth: float = 0.5) -> Strip:
    return Strip(out, off, breadth, 1.0)


def share(one: Radar, where: Strip, group: Group = ADULTS) -> tuple[float, float]:
    return triggering([one], where, group, from_left=EITHER)


def test_everybody_who_passes_in_the_field_is_seen_and_nobody_beyond_it() -> None:
    assert share(radar(), strip(1.5)) == (1.0, 1.0)
    assert share(radar(), strip(6.0)) == (0.0, 0.0)


def test_without_a_radar_nobody_is_seen() -> None:
    assert triggering([], strip(1.5), ADULTS, from_left=EITHER) == (0.0, 0.0)


def test_one_line_on_the_edge_of_the_field_divides_the_strip() -> None:
    """A strip that lies half beyond the field is half seen, by hand."""
    edge = _edge(radar(response=0.0, least_speed=0.0))
    low, high = share(radar(response=0.0, least_speed=0.0), strip(edge, breadth=1.0))
    assert low == high == pytest.approx(0.5, abs=0.05)


def _edge(one: Radar) -> float:
    """How far out somebody at the height of a trunk is reached at all."""
    y = np.arange(0.2, 6.0, 0.005)
    points = np.stack([np.zeros_like(y), y, np.full_like(y, 1.0)], axis=1)
    x = np.linspace(-4, 4, 161)
    for far in y[::-1]:
        line = np.stack([x, np.full_like(x, far), np.full_like(x, 1.0)], axis=1)
        if one.contains(line).any():
            return float(far)
    assert len(points)
    return 0.0


def test_who_walks_straight_across_the_axis_shows_no_speed_there() -> None:
    """A radar that needs more than anybody shows on its narrow beam sees nobody."""
    narrow = replace(
        radar(least_speed=1.2), contours=(Contour(4.0, Lobe(radians(12), 0.9)),)
    )
    assert share(narrow, strip(2.5)) == (0.0, 0.0)
    assert share(replace(narrow, least_speed=0.02), strip(2.5))[1] > 0.5


def test_a_turned_radar_that_tells_coming_from_going_sees_those_who_come() -> None:
    aside = radar(direction_aware=True)
    turned = replace(aside, attitude=Attitude(radians(60), 0.0, radians(-50), False))
    to_right = triggering([turned], strip(2.2), ADULTS, from_left=(1.0, 1.0))
    to_left = triggering([turned], strip(2.2), ADULTS, from_left=(0.0, 0.0))
    assert to_right != to_left


@given(st.floats(0.3, 5.0), st.floats(1.0, 4.0), st.floats(0.05, 2.0))
def test_a_deeper_field_speaks_for_no_fewer(
    out: float, ahead: float, more: float
) -> None:
    low, high = share(radar(ahead), strip(out))
    deeper_low, deeper_high = share(radar(ahead + more), strip(out))
    assert deeper_low >= low - 0.05
    assert deeper_high >= high - 0.05


@given(st.floats(0.3, 5.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_what_is_known_less_closely_widens_the_range(
    out: float, off: float, more: float
) -> None:
    low, high = share(radar(), strip(out, off))
    wider_low, wider_high = share(radar(), strip(out, off + more))
    assert 0.0 <= wider_low <= low + 0.05
    assert 1.0 >= wider_high >= high - 0.05


@given(st.floats(0.3, 5.0), st.floats(0.0, 1.0))
def test_a_mirror_image_is_seen_alike(out: float, from_left: float) -> None:
    aware = radar(direction_aware=True)
    one = triggering([aware], strip(out), ADULTS, from_left=(from_left, from_left))
    other = 1.0 - from_left
    back = triggering([aware], strip(out), ADULTS, from_left=(other, other))
    assert one == pytest.approx(back, abs=1e-9)


def test_a_slow_response_misses_who_crosses_a_narrow_field_quickly() -> None:
    quick, slow = Group(4.0, 0.0), Group(0.5, 0.0)
    late = radar(response=1.5)
    assert share(late, strip(2.0), quick)[1] < share(late, strip(2.0), slow)[0]


def test_the_speeds_of_a_group_stand_for_equal_shares() -> None:
    speeds = speeds_of(ADULTS)
    assert float(speeds.mean()) == pytest.approx(ADULTS.mean, abs=0.005)
    assert (np.diff(speeds) > 0).all()
    assert set(speeds_of(Group(1.2, 0.0))) == {1.2}


def test_walks_at_random_are_seen_as_often() -> None:
    """600 walks, place by place, against the share: within three errors."""
    one, where = radar(direction_aware=True), strip(2.9, breadth=1.0)
    chance, count = np.random.default_rng(7), 600
    lines = where.middle + (chance.random(count) - 0.5) * where.breadth
    speeds = np.abs(chance.normal(ADULTS.mean, ADULTS.spread, count))
    seen = sum(
        _walked(one, y, v, way)
        for y, v, way in zip(
            lines, speeds, chance.choice([-1.0, 1.0], count), strict=True
        )
    )
    low, high = share(one, where)
    assert low == high
    assert seen / count == pytest.approx(high, abs=3 * 0.5 / count**0.5)


def _walked(one: Radar, y: float, speed: float, way: float) -> bool:
    """One walk in steps of 5 ms, counted."""
    step = 0.005 * speed
    x = np.arange(-5.0, 5.0, step)[:: int(way)]
    points = np.stack([x, np.full_like(x, y), np.full_like(x, 1.0)], axis=1)
    going = np.broadcast_to(np.array([way * speed, 0.0, 0.0]), points.shape)
    seen = one.detects(points, going)
    run = best = 0
    for hit in seen:
        run = run + 1 if hit else 0
        best = max(best, run)
    return best * step >= speed * one.response and best > 0
