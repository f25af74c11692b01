"""What may be wrong at a doorway, and at which places a body would show it."""

import json
from base64 import b64decode

import numpy as np
import pytest

from limen.physics.coverage import meets
from limen.prove import as_pack, guess
from limen.prove.guessing import UNFORESEEN, Guess, scene_of
from limen.prove.packing import bitmap
from limen.prove.scoring import SURE
from limen.questions.coverage import Case
from prove.doors import DEMO, a_doorway_aimed_well, asked, cast, four, prover_of, put

LARGEST = 120_000
"""Of a pack's 200 kB, for the guess (bytes)."""


@pytest.fixture(scope="module")
def main() -> Guess:
    """What is guessed of the demo's main entrance as corrected."""
    return guess(asked("main"), four(scene_of(asked("main"))))


def test_what_is_tested_anyway_comes_first_and_further_places_after(
    main: Guess,
) -> None:
    given = four(scene_of(asked("main")))
    assert [(spot.body, spot.pose) for spot in main.spots[:4]] == list(given)
    assert 16 <= len(main.spots) - 4 <= 40
    poses = [(spot.body, spot.pose) for spot in main.spots]
    assert len(set(poses)) == len(poses)


def test_where_a_body_is_missed_at_a_place_there_is_a_hole(main: Guess) -> None:
    missed = ~main.reached[4:].all(axis=0)
    assert not (missed & ~main.hole).any()
    assert main.weights.sum() == pytest.approx(1.0)
    assert main.reached.shape == (len(main.spots), len(main.weights))


def test_most_of_what_may_be_wrong_shows_at_some_place(main: Guess) -> None:
    shown = ~main.reached.all(axis=0)
    holed = main.weights @ main.hole - UNFORESEEN
    assert 0.02 < holed < 0.5
    assert main.weights @ shown > 0.65 * holed


def test_room_is_what_the_proof_says_of_the_pose(main: Guess) -> None:
    """A body that much smaller on every side is still met, and one smaller is not."""
    scene = scene_of(asked("main"))
    for spot in main.spots:
        case = next(c for c in scene.cases if c.body == spot.body)
        asks = scene.ground.problem(scene.units, case.place, spot.body, exact=True)
        if spot.room > min(spot.body.width, spot.body.depth) / 2 - 1e-3:
            continue  # of so small a body nothing is left
        for by, reached in ((1e-6, True), (-1e-6, False)):
            met = meets(asks, spot.pose, grow=by - spot.room) >= asks.needed
            assert met.any() == reached


def test_rows_that_are_apart_leave_a_hole_however_the_units_hang() -> None:
    """As found, the main entrance's inner rows are 250 mm apart."""
    found = guess(asked("main", "as-found"), most=8)
    assert found.hole.all()
    assert found.spots[0].room < 0.0
    at = [spot.pose[0] for spot in found.spots[:4]]
    assert max(at) - min(at) > 0.8


def test_the_same_doorway_is_guessed_alike_and_another_seed_nearly_so() -> None:
    one, same, other = (guess(asked("staff"), seed=seed) for seed in (1, 1, 2))
    assert one.spots == same.spots
    assert np.array_equal(one.reached, same.reached)
    assert one.weights @ one.hole == pytest.approx(other.weights @ other.hole, abs=0.02)


def test_where_nobody_knows_what_a_unit_casts_places_are_spread() -> None:
    """The demo's escape door as found: an old manual that names no fan."""
    question = asked("escape", "as-found")
    scene = scene_of(question)
    assert not scene.known
    found = guess(question, four(scene))
    assert 0.0 < found.weights @ found.hole < 1.0
    assert all(np.isneginf(spot.room) for spot in found.spots)
    at = sorted(spot.pose[0] for spot in found.spots[4:12])
    assert at[-1] - at[0] > 0.5 * 2 * scene.ground.plan.half
    shown = ~found.reached.all(axis=0)
    assert found.weights @ (found.hole & shown) > 0.9 * (found.weights @ found.hole)


def test_a_smaller_zone_is_not_asked_for_where_a_body_is_hardly_struck() -> None:
    """Bodies that a leaf strikes by less than a tape can tell are left to the desk."""
    whole = asked("main")["presence.leaf_path"].settled.plan.leaf_path
    for case in scene_of(asked("main")).cases:
        inner = case.place.must_meet
        assert inner is not None
        assert inner.right == pytest.approx(whole.right - 0.01)
        assert inner.far <= whole.far


@pytest.mark.parametrize("door", [*DEMO])
def test_cases_of_a_planned_doorway_hold(door: str) -> None:
    scene = scene_of(asked(door))
    assert scene.known
    assert all(isinstance(case, Case) for case in scene.cases)
    assert prover_of(scene).anywhere(cast(scene, scene.units)) is None


def test_a_doorway_with_two_readings_takes_the_least_room_of_both() -> None:
    question = put(a_doorway_aimed_well(3))
    found = guess(question, most=4)
    assert all(np.isfinite(spot.room) for spot in found.spots)


def test_the_card_carries_a_guess_in_little_room(main: Guess) -> None:
    at = [None, *range(len(main.spots)), None]
    pack = as_pack(main, at)
    text = json.dumps(pack)
    assert len(text) < LARGEST
    back = json.loads(text)
    assert back["reached"][0] is back["reached"][-1] is back["room"][0] is None
    bits = np.frombuffer(b64decode(back["reached"][1]), np.uint8)
    flags = np.unpackbits(bits, count=len(main.weights), bitorder="little")
    assert np.array_equal(flags.astype(np.bool_), main.reached[0])
    assert sum(back["weights"]) == pytest.approx(1.0, abs=1e-4)
    assert back["hole"] == main.hole.astype(int).tolist()
    assert back["sure"]["leg"] == [SURE["leg"].reached, SURE["leg"].missed]


def test_flags_are_packed_lowest_bit_first() -> None:
    assert bitmap(np.array([True] + 8 * [False])) == "AQA="
    assert bitmap(np.array([False] * 7 + [True])) == "gA=="


def test_a_room_that_nobody_knows_is_written_as_none() -> None:
    found = guess(asked("escape", "as-found"), most=3)
    assert as_pack(found, [0, 1, 2])["room"] == [None, None, None]


def test_where_presence_is_not_asked_no_place_is_added() -> None:
    """A rulebook without rules of presence: only what is tested anyway."""
    question = {k: v for k, v in asked("escape").items() if "presence" not in k}
    given = four(scene_of(asked("escape")))
    found = guess(question, given)
    assert len(found.spots) == len(given)
    assert not found.hole.any()
    assert guess(question).spots == ()
