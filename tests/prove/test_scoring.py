"""What a test tells of a hole, and which comes next."""

import json
from dataclasses import replace
from math import log2

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders.alike import unlike
from limen.prove.scoring import (
    SURE,
    Answer,
    Known,
    Trust,
    reweighed,
    scores,
    suggested,
    weighed,
)
from prove.vectors import COUNT, FILE, SEED, vectors, written

CLOSE = 1e-12
WAYS, TESTS = 12, 4


def _entropy(share: float) -> float:
    parts = [p for p in (share, 1 - share) if p > 0]
    return -sum(p * log2(p) for p in parts)


@st.composite
def doorways(draw: st.DrawFn) -> Known:
    """Small doorways of a few ways and tests."""
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    weights = rng.dirichlet(np.ones(WAYS))
    hole, reached = rng.random(WAYS) < 0.4, rng.random((TESTS, WAYS)) < 0.7
    minutes, room = rng.uniform(0.3, 3.0, TESTS), rng.uniform(-0.05, 0.1, TESTS)
    return Known(weights, hole, reached, minutes, room)


def _told(known: Known, trust: Trust) -> np.ndarray:
    return scores(known.weights, known.hole, known.reached, known.minutes, trust)


@pytest.mark.parametrize("error", [0.0, 0.01, 0.11, 0.5])
def test_a_test_that_errs_tells_what_a_symmetric_channel_carries(error: float) -> None:
    """1 - H(e) bit, reached at even odds.

    Source: Cover, Thomas, Elements of information theory, 2nd ed. (2006), section
    7.1.4, binary symmetric channel (from memory).
    """
    hole, reached = np.array([True, False]), np.array([[False, True]])
    found = scores(
        np.array([0.5, 0.5]), hole, reached, np.ones(1), Trust(1 - error, error)
    )
    assert found[0] == pytest.approx(1 - _entropy(error), abs=CLOSE)


@given(doorways(), st.sampled_from(list(SURE.values())))
def test_the_score_is_the_entropy_lost_on_average_over_both_answers(
    known: Known, trust: Trust
) -> None:
    """By both answers in turn, each way counted by hand."""
    for test, told in enumerate(_told(known, trust)):
        after = 0.0
        for good in (True, False):
            opened = [trust.reached if r else trust.missed for r in known.reached[test]]
            joint = [
                w * (p if good else 1 - p)
                for w, p in zip(known.weights, opened, strict=True)
            ]
            holed = sum(j for j, h in zip(joint, known.hole, strict=True) if h)
            after += sum(joint) * _entropy(min(1.0, holed / sum(joint)))
        before = _entropy(float(known.weights @ known.hole))
        lost = (before - after) / known.minutes[test]
        assert told == pytest.approx(max(0.0, lost), abs=1e-9)


@given(doorways())
def test_what_a_test_tells_is_never_negative_and_never_more_than_is_open(
    known: Known,
) -> None:
    told = _told(known, SURE["body"])
    assert (told >= 0).all()
    most = _entropy(float(known.weights @ known.hole)) / known.minutes
    assert (told <= most + CLOSE).all()


@given(doorways(), st.integers(0, WAYS - 1))
def test_a_way_cut_into_two_alike_changes_nothing(known: Known, way: int) -> None:
    halves = np.append(known.weights, known.weights[way] / 2)
    halves[way] /= 2
    cut = replace(
        known,
        weights=halves,
        hole=np.append(known.hole, known.hole[way]),
        reached=np.column_stack([known.reached, known.reached[:, way]]),
    )
    assert _told(cut, SURE["leg"]) == pytest.approx(
        _told(known, SURE["leg"]), abs=CLOSE
    )


@given(doorways())
def test_twice_the_minutes_tell_half_a_minute(known: Known) -> None:
    slow = replace(known, minutes=2 * known.minutes)
    assert 2 * _told(slow, SURE["body"]) == pytest.approx(_told(known, SURE["body"]))


@given(doorways(), st.permutations(range(TESTS)), st.integers(0, 15))
def test_the_order_of_answers_does_not_matter(
    known: Known, order: list[int], good: int
) -> None:
    answers = [Answer(test, bool(good >> test & 1)) for test in range(TESTS)]
    other = [answers[test] for test in order]
    assert weighed(known, other) == pytest.approx(weighed(known, answers), abs=CLOSE)


@given(doorways(), st.integers(0, TESTS - 1))
def test_a_body_that_was_missed_never_makes_a_hole_there_less_likely(
    known: Known, test: int
) -> None:
    missed = ~known.reached[test]
    after = reweighed(known.weights, known.reached[test], SURE["body"], good=False)
    assert after @ missed >= known.weights @ missed - CLOSE


def test_a_carton_and_a_leg_are_believed_less_than_the_body() -> None:
    weights, reached = np.array([0.5, 0.5]), np.array([True, False])
    said = {
        tool: reweighed(weights, reached, trust, good=True)[0]
        for tool, trust in SURE.items()
    }
    assert said["body"] > said["carton"] > said["leg"] > 0.5


def test_the_most_telling_comes_next_and_of_those_alike_the_one_with_least_room() -> (
    None
):
    hole = np.array([False, True])
    known = Known(
        np.array([0.8, 0.2]),
        hole,
        np.array([[True, True], [True, False], [True, False]]),
        np.ones(3),
        np.array([0.001, 0.03, 0.02]),
    )
    found = suggested(known, [], range(3))
    assert (found.test, found.why, found.left, found.of) == (2, "shows most", 2, 2)
    assert suggested(known, [], [0, 1]).test == 1
    again = suggested(known, [Answer(2, good=True)], range(3))
    assert (again.test, again.left, again.of) == (1, 0, 2)
    assert again.why == "shows most"
    failed = suggested(known, [Answer(2, good=False)], range(3))
    assert (failed.test, failed.why, failed.left) == (1, "how far", 1)


def test_where_no_test_tells_anything_places_come_in_their_order() -> None:
    known = Known(
        np.array([1.0]),
        np.array([False]),
        np.ones((3, 1), np.bool_),
        np.ones(3),
        np.array([0.03, -np.inf, 0.02]),
    )
    for may, why in (([0, 2], "spread"), ([2, 0], "least room"), ([1, 0], "spread")):
        found = suggested(known, [], may)
        assert (found.test, found.why) == (may[0], why)


def test_nothing_is_suggested_where_all_is_done() -> None:
    known = next(iter(vectors())).known
    every = range(len(known.minutes))
    done = [Answer(test, good=True) for test in every]
    assert suggested(known, done, every).test is None


def test_the_shared_file_holds_what_the_desk_says_of_a_thousand_doorways() -> None:
    shared, made = json.loads(FILE.read_text("utf-8")), json.loads(written())
    assert not list(unlike(shared, made))
    assert list(unlike(shared, made | {"seed": SEED + 1}))
    assert COUNT == 1_000
