"""Where a body can be put to the test."""

from math import isclose, pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.physics.coverage.pose import admissible
from limen.physics.reach import Body
from limen.prove.guessing import scene_of
from limen.prove.places import ALONG, TURNS, Spot, candidates, chosen, topped_up
from prove.doors import DEMO, asked

UPRIGHT = Body("upright", 0.3, 0.2, 0.7)
CLOSE = 1e-6


@pytest.mark.parametrize("door", DEMO)
def test_every_place_is_one_that_is_asked_for_and_can_be_set_out(door: str) -> None:
    """In whole steps from the nearer post, along, across or half way between."""
    scene = scene_of(asked(door))
    cases = {case.body: case for case in scene.cases if case.place.must_meet}
    found = candidates(scene.cases, scene.ground)
    assert found
    for spot in found:
        x, _, turn = spot.pose
        asks = scene.ground.problem((), cases[spot.body].place, spot.body, exact=True)
        assert admissible(asks, spot.pose)
        assert turn in TURNS
        long = abs(np.cos(turn)) * spot.body.width + abs(np.sin(turn)) * spot.body.depth
        steps = (scene.ground.plan.half - abs(x) - long / 2) / ALONG
        assert x == 0.0 or isclose(steps, round(steps), abs_tol=1e-4)


def test_a_body_wider_than_the_opening_is_put_nowhere() -> None:
    scene = scene_of(asked("staff"))
    lying = {spot.pose[2] for spot in candidates(scene.cases, scene.ground)}
    assert lying <= set(TURNS)
    assert all(
        abs(spot.pose[0]) <= scene.ground.plan.half
        for spot in candidates(scene.cases, scene.ground)
    )


def _row(count: int) -> list[Spot]:
    return [
        Spot(UPRIGHT, (0.2 * n, 0.0, 0.0), 0.01 * (count - n)) for n in range(count)
    ]


@given(st.integers(0, 2**32 - 1), st.integers(1, 8))
def test_the_first_place_shows_about_as_much_as_any_other(seed: int, most: int) -> None:
    rng = np.random.default_rng(seed)
    spots, missed = _row(8), rng.random((8, 20)) < 0.3
    weights = rng.dirichlet(np.ones(20))
    found = chosen(spots, missed, weights, most)
    assert len(found) == len(set(found)) <= most
    if found:
        assert missed[found[0]] @ weights >= 0.97 * (missed @ weights).max()
    together = missed[found].any(axis=0) @ weights
    every = missed.any(axis=0) @ weights
    if most == 8:
        assert together == pytest.approx(every)


def test_what_another_place_shows_already_counts_for_little() -> None:
    """Two places that show the same, and one that shows a little else: that is next."""
    spots = _row(3)
    missed = np.array([[True, True, False], [True, True, False], [False, False, True]])
    weights = np.array([0.4, 0.4, 0.2])
    first, second, third = chosen(spots, missed, weights, 3)
    assert second == 2
    assert {first, third} == {0, 1}


def test_of_places_that_show_as_much_that_with_the_least_room_comes_first() -> None:
    spots = _row(3)
    missed, weights = np.ones((3, 1), np.bool_), np.ones(1)
    assert chosen(spots, missed, weights, 2) == [2, 0]


def test_a_place_that_shows_nothing_is_not_chosen() -> None:
    assert chosen(_row(3), np.zeros((3, 4), np.bool_), np.ones(4) / 4, 3) == []
    assert chosen(_row(0), np.zeros((0, 4), np.bool_), np.ones(4) / 4, 3) == []


def test_what_is_lacking_is_spread_over_the_opening() -> None:
    """The ends first, then the middle of what is left."""
    spots = [
        *(Spot(UPRIGHT, (0.1 * n, 0.0, 0.0), 0.0) for n in range(-8, 9)),
        Spot(UPRIGHT, (0.0, 0.1, pi / 2), 0.0),
    ]
    found = topped_up([0], spots, 4)
    assert [round(spots[n].pose[0], 3) for n in found] == [-0.8, 0.8, 0.0, -0.4]
    assert topped_up(found, spots, 2) == found
    assert len(topped_up([], spots, 99)) == 17
