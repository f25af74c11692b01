"""A door opens in time, or it does not: against hand, walkers and itself."""

from dataclasses import dataclass, replace
from math import inf, radians
from time import perf_counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limen.physics.in_time import Approach, fits, late_share, lateness, ways
from limen.physics.in_time_edges import Array, edges_of
from limen.physics.in_time_field import Field, field_of
from limen.physics.in_time_walk import walked
from limen.physics.in_time_worst import Sweep, worst
from limen.physics.walking import Group, Walk, Walker
from oracles.walks import Door, Walks, a_door, late, some_walks
from physics.crossings import approach_of, opening_of, radar_of

ADULTS = Group(1.34, 0.26)
EXACT = 2e-3  # s: two steps of the table of an opening


@dataclass(frozen=True)
class Steady:
    """Leaves that part at a steady speed after a delay."""

    half: float
    speed: float
    delay: float

    @property
    def breaks(self) -> tuple[float, ...]:
        return self.delay, self.delay + self.half / self.speed

    def free(self, t: object) -> tuple[Array, Array]:
        since = np.asarray(t, dtype=float) - self.delay
        way = np.clip(since * self.speed, 0.0, self.half)
        return -way, way


def square(depth: float, width: float, response: float = 0.0) -> Field:
    """A field that is a rectangle before the door; its lens sees every speed."""
    half = width / 2
    corners = [(-half, -1.0), (half, -1.0), (half, depth), (-half, depth)]
    return Field(np.array(corners), (0.0, 0.0, 1.0), 0.0, response)


def crossing(field: Field, steepest: float = 0.0, **changes: object) -> Approach:
    opening = Steady(1.0, 0.5, 0.15)
    made = Approach(
        edges_of(opening, 1.0),  # pyright: ignore[reportArgumentType]
        (field,),
        Walker(0.4, 0.3),
        (-steepest, steepest),
        (0.0, 0.0),
    )
    return replace(made, **changes)  # pyright: ignore[reportArgumentType]


def test_who_comes_straight_is_late_by_what_is_computed_by_hand() -> None:
    # 0.4 m each way take 0.15 + 0.8 s after a response of 0.1 s; from 3.0 m to
    # 0.3 m before the leaves are 2.7 m.
    approach = crossing(square(3.0, 2.0, 0.1))
    for speed in (0.8, 1.6, 3.0):
        by_hand = 1.05 - 2.7 / speed
        found = worst(approach, speed, speed, tolerance=1e-3)
        assert found.low - EXACT <= by_hand <= found.high + EXACT


def test_who_comes_aslant_enters_the_field_at_its_side() -> None:
    # At 45° towards the middle a field 2 m wide is entered 1 m out, √2 m to walk.
    # There 0.3 m before the leaves the body is 0.3 m aside.
    slant = radians(45.0)
    approach = crossing(square(3.0, 2.0, 0.1), headings=(slant, slant))
    way, need = 2**0.5 * (1.0 - 0.3), 0.1 + 0.15 + 0.7 / 0.5
    found = worst(approach, 1.2, 1.2, tolerance=1e-3)
    by_hand = need - way / 1.2
    assert found.low - EXACT <= by_hand <= found.high + EXACT


def test_a_walk_that_begins_at_a_corner_is_noticed_no_sooner() -> None:
    approach = crossing(square(3.0, 2.0, 0.1), start=2.0)
    by_hand = 1.05 - 1.7 / 1.6
    found = worst(approach, 1.6, 1.6, tolerance=1e-3)
    assert found.low - EXACT <= by_hand <= found.high + EXACT


def test_what_passes_through_the_field_in_less_than_the_response_is_not_noticed() -> (
    None
):
    thin = np.array([(-1.0, 2.0), (1.0, 2.0), (1.0, 2.2), (-1.0, 2.2)])
    field = Field(thin, (0.0, 0.0, 1.0), 0.0, 0.2)
    assert worst(crossing(field), 0.9, 0.9).high < inf
    assert worst(crossing(field), 1.1, 1.1, decide=True).low == inf


def test_slower_than_the_least_speed_nobody_is_noticed() -> None:
    field = replace(square(3.0, 2.0), least_speed=0.5)
    assert worst(crossing(field), 0.45, 0.45, decide=True).low == inf
    assert worst(crossing(field), 0.7, 0.7).high < inf


def test_of_two_units_the_one_that_notices_sooner_counts() -> None:
    near, far = square(1.5, 2.0, 0.1), square(3.0, 2.0, 0.1)
    alone = worst(crossing(far), 1.6, 1.6)
    both = worst(crossing(near, fields=(near, far)), 1.6, 1.6)
    assert both.low == pytest.approx(alone.low, abs=0.02)


def test_a_walk_too_steep_for_the_opening_is_not_asked() -> None:
    approach = crossing(square(3.0, 2.0))
    steep = np.array([radians(60.0), radians(70.0)])
    assert fits(approach, steep, np.zeros(2)).tolist() == [True, False]


def test_where_nobody_fits_nothing_is_late() -> None:
    approach = crossing(square(3.0, 2.0), walker=Walker(1.2, 0.3))
    found = worst(approach, 1.0, 1.0)
    assert found.walk is None
    with pytest.raises(ValueError, match="no walk fits"):
        late_share(approach, ADULTS)


seeds = st.integers(0, 2**32 - 1)


@settings(max_examples=10)
@given(seeds, st.floats(0.6, 2.0), st.floats(0.05, 0.5))
def test_the_worst_of_all_walks_is_no_better_than_any(
    seed: int, speed: float, span: float
) -> None:
    rng = np.random.default_rng(seed)
    door = a_door(rng)
    approach = approach_of(door)
    found = worst(approach, speed, speed + span, tolerance=0.05)
    walks = some_walks(door, rng, 100, speed + span / 2, span / 4)
    within = np.clip(walks.speed, speed, speed + span)
    ready = ways(approach, walks.heading, walks.target)
    assert np.max(lateness(approach, ready, within)) <= found.high + EXACT


@settings(max_examples=10)
@given(seeds, st.floats(0.6, 2.0))
def test_a_walk_that_only_just_fits_is_no_later_than_the_worst(
    seed: int, speed: float
) -> None:
    """There the last of the opening is needed, which comes slowly."""
    rng = np.random.default_rng(seed)
    approach = approach_of(a_door(rng))
    found = worst(approach, speed, speed, tolerance=0.02)
    heading = rng.uniform(*approach.headings, 200)
    _, right = approach.edges.full
    sway = approach.walker.ahead * np.tan(np.abs(heading)) + approach.walker.aside
    target = np.clip(right - sway, *approach.targets)
    target = np.where(rng.random(200) < 0.5, target, -target)
    kept = fits(approach, heading, target)
    ready = ways(approach, heading[kept], target[kept])
    late = lateness(approach, ready, np.full(int(np.sum(kept)), speed))
    assert np.max(late, initial=-inf) <= found.high + EXACT


@settings(max_examples=10)
@given(seeds, st.lists(st.floats(0.3, 2.5), min_size=2, max_size=5))
def test_what_was_asked_before_changes_no_answer(
    seed: int, speeds: list[float]
) -> None:
    approach = approach_of(a_door(np.random.default_rng(seed)))
    sweep = Sweep(approach)
    for speed in speeds:
        again, alone = sweep.worst(speed, speed), worst(approach, speed, speed)
        assert again.low <= alone.high
        assert alone.low <= again.high
        assert again.high - again.low <= 0.01 or again.low == inf
        deeper = sweep.further(0.2).worst(speed, speed)
        other = worst(replace(approach, further=0.2), speed, speed)
        assert deeper.low <= other.high
        assert other.low <= deeper.high


@settings(max_examples=6)
@given(seeds, st.floats(0.6, 2.0))
def test_a_deeper_field_and_a_quicker_door_are_never_later(
    seed: int, speed: float
) -> None:
    door = a_door(np.random.default_rng(seed))
    here = approach_of(door)
    now = worst(here, speed, speed, tolerance=0.02)
    for better in (
        replace(here, further=0.3),
        replace(here, edges=here.edges.earlier(0.2)),
    ):
        assert worst(better, speed, speed, tolerance=0.02).low <= now.high + EXACT


@settings(max_examples=6)
@given(seeds, st.floats(0.8, 1.8))
def test_what_is_asked_for_mends(seed: int, speed: float) -> None:
    door = replace(a_door(np.random.default_rng(seed)), start=inf)
    here = approach_of(door)
    now = worst(here, speed, speed)
    if not 0.0 < now.high < inf:
        return
    sooner = replace(here, edges=here.edges.earlier(now.high))
    assert worst(sooner, speed, speed, tolerance=EXACT).high <= 2 * EXACT
    further = replace(here, further=now.high * speed)
    assert worst(further, speed, speed, tolerance=EXACT).high <= 2 * EXACT


def test_inside_is_outside_turned_by_half_a_turn() -> None:
    door = a_door(np.random.default_rng(5))
    door = replace(door, hand="left", half=0.6, aside=0.3)
    out = field_of(radar_of(door), 1.0, 1.0)
    back = field_of(radar_of(door, -1.0), -1.0, 1.0)
    assert out
    assert back
    np.testing.assert_allclose(out.corners, back.corners, atol=1e-6)
    outside = edges_of(opening_of(door), 1.0)
    inside = edges_of(opening_of(replace(door, hand="right")), -1.0)
    np.testing.assert_allclose(outside.right, inside.right)


def test_the_polygon_of_a_field_lies_within_its_contour() -> None:
    rng = np.random.default_rng(3)
    for _ in range(20):
        door = a_door(rng)
        radar, field = radar_of(door), field_of(radar_of(door), 1.0, 1.0)
        assert field
        beside = np.roll(field.corners, -1, axis=0)
        for share in np.linspace(0.0, 1.0, 11):
            on_edge = (1 - share) * field.corners + share * beside
            height = np.full(len(on_edge), 1.0)
            assert radar.contains(np.column_stack([on_edge, height])).all()


def test_the_polygon_leaves_out_little_of_its_contour() -> None:
    door = a_door(np.random.default_rng(4))
    radar, field = radar_of(door), field_of(radar_of(door), 1.0, 1.0)
    assert field
    middle = field.corners.mean(axis=0)
    grown = middle + (field.corners - middle) * 1.01
    points = np.column_stack([grown, np.full(len(grown), 1.0)])
    assert radar.contains(points).mean() < 0.2


def test_a_kidney_of_a_field_is_met_where_its_edge_is() -> None:
    """A field bent away from the door: a ray may leave it and come back."""
    turns = np.linspace(-1.2, 1.2, 33)
    outer = np.column_stack([3 * np.sin(turns), 3 * np.cos(turns)])
    inner = np.column_stack([2 * np.sin(turns), 2 * np.cos(turns)])[::-1]
    field = Field(np.concatenate([outer, inner]), (0.0, 0.0, 1.0), 0.0, 0.0)
    approach = crossing(field)
    ready = ways(approach, np.zeros(1), np.zeros(1))
    by_hand = 0.95 - (3.0 - 0.3) / 1.5
    assert lateness(approach, ready, np.array([1.5]))[0] == pytest.approx(
        by_hand, abs=EXACT
    )


def test_one_walk_looked_at_closely_is_as_late_as_computed() -> None:
    rng = np.random.default_rng(8)
    for _ in range(20):
        door = a_door(rng)
        approach = approach_of(door, 256)
        walks = some_walks(door, rng, 1, 1.3, 0.2)
        walk = Walk(
            float(walks.heading[0]),
            float(walks.target[0]),
            float(walks.speed[0]),
            float(door.start),
        )
        ready = ways(approach, walks.heading, walks.target)
        computed = lateness(approach, ready, walks.speed)[0]
        met = walked(
            walk, [radar_of(door)], approach.edges, approach.walker, 1.0, door.looks_at
        )
        assert met.late == pytest.approx(computed, abs=0.02)


# Against walkers that walk step by step -------------------------------------------


def share_agrees(door: Door, rng: np.random.Generator, count: int) -> None:
    """The share of late walkers within 3.5 of its statistical errors."""
    walks = some_walks(door, rng, count, ADULTS.mean, ADULTS.spread)
    by_foot = float(late(door, walks).mean())
    share = late_share(approach_of(door), ADULTS)
    error = np.sqrt(max(share * (1 - share), 1 / count) / count)
    assert by_foot == pytest.approx(share, abs=3.5 * error + 0.003), door


def none_served_is_late(door: Door, rng: np.random.Generator, count: int) -> bool:
    """Whether a speed is served; if so nobody between 0.7 m/s and it is late."""
    approach = approach_of(door)
    for fast in (2.0, 1.6, 1.3, 1.0, 0.8):
        if worst(approach, 0.7, fast, decide=True).high <= 0.0:
            walks = some_walks(door, rng, count, ADULTS.mean, ADULTS.spread)
            served = replace(walks, speed=rng.uniform(0.7, fast, count))
            assert not late(door, served).any(), (door, fast)
            return True
    return False


def walk_through(doors: int, count: int) -> int:
    served = 0
    for seed in range(doors):
        rng = np.random.default_rng(seed)
        door = a_door(rng)
        share_agrees(door, rng, count)
        served += none_served_is_late(door, rng, count)
    return served


def test_on_five_doors_walkers_find_what_is_computed() -> None:
    assert walk_through(5, 400) > 0


@pytest.mark.slow
def test_on_a_hundred_doors_200_000_walkers_find_what_is_computed() -> None:
    assert walk_through(100, 2000) > 20


@pytest.mark.slow
def test_a_share_is_known_a_hundred_times_sooner_than_by_200_000_walks() -> None:
    """A ratio of two times in one run; in our trials it is in the thousands."""
    rng = np.random.default_rng(1)
    door, count = a_door(rng), 2000
    late_share(approach_of(door), ADULTS)
    begun = perf_counter()
    late_share(approach_of(door), ADULTS)
    computed = perf_counter() - begun
    walks = some_walks(door, rng, count, ADULTS.mean, ADULTS.spread)
    begun = perf_counter()
    late(door, walks)
    walked_for = (perf_counter() - begun) * 200_000 / count
    assert walked_for > 100 * computed


def test_the_walking_oracle_can_tell_a_late_door() -> None:
    door = a_door(np.random.default_rng(1))
    walks = Walks(np.zeros(2), np.zeros(2), np.array([0.8, 9.0]))
    slow = replace(door, least=0.05, start=inf)
    assert late(slow, walks).tolist()[1]
