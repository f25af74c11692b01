"""The cause is found, with few questions, and doubt is told as large as it is."""

from collections.abc import Iterator
from dataclasses import replace
from statistics import mean

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from keep.simulated import call_out
from keep.written_cases import Written, asked_in_order, asked_out, written
from limen.keep.causes import NEITHER, NONE, UNKNOWN, Cause, Causes, Picture
from limen.keep.tracing import (
    HARDLY,
    STRUCK,
    Door,
    Ranked,
    leading,
    ruled_out,
    trace,
)
from limen.store.causes import known_causes

ALL = frozenset({"presence", "motion", "lock", "battery", "neighbour"})
CASES = written()
MANY, SOME = 2000, 150
LATER = "no_power"
"""A cause that came into the list after they were written."""
BLAMED = {
    "floor": "floor_changed",
    "sensor": "own_leaf",
    "settings": "rows_wrong",
    "operator": "run_lost",
    "surroundings": "thing_standing",
    "neighbour": "shared_channel",
    "supply": "supply_low",
}
"""What a person who blames the last change would say."""


@pytest.fixture(scope="module")
def causes() -> Causes:
    return known_causes()


def first_two(ranked: tuple[Ranked, ...]) -> list[str]:
    return [one.cause for one in ranked[:2]]


@pytest.mark.parametrize("case", CASES, ids=lambda one: one.tells[:40])
def test_a_written_case_speaks_in_questions_that_there_are(
    case: Written, causes: Causes
) -> None:
    assert case.cause in {one.id for one in causes.causes}
    for question, answer in case.answers.items():
        assert answer in causes.by_id[question].usual


def test_there_are_sixty_written_cases_and_every_cause_is_among_them(
    causes: Causes,
) -> None:
    assert len(CASES) >= 60
    told = {one.cause for one in CASES} | {NONE, LATER}
    assert told == {one.id for one in causes.causes}


def test_three_quarters_of_the_written_cases_are_among_the_first_two(
    causes: Causes,
) -> None:
    ends = [asked_out(causes, one.door, one.answers) for one in CASES]
    hit = [c.cause in first_two(e.ranked) for c, e in zip(CASES, ends, strict=True)]
    assert mean(hit) >= 0.75


def test_fewer_questions_are_asked_than_from_a_fixed_list(causes: Causes) -> None:
    ours = [len(asked_out(causes, c.door, c.answers).asked) for c in CASES]
    fixed = [len(asked_in_order(causes, c.door, c.answers).asked) for c in CASES]
    assert mean(ours) < mean(fixed)


def test_it_does_better_than_to_blame_the_last_change(causes: Causes) -> None:
    blamed = [BLAMED.get(c.answers.get("changed", "")) == c.cause for c in CASES]
    ours = [
        asked_out(causes, c.door, c.answers).ranked[0].cause == c.cause for c in CASES
    ]
    assert mean(ours) > mean(blamed)


def test_what_it_calls_found_is_right_as_often_as_it_says(causes: Causes) -> None:
    ends = [(c, asked_out(causes, c.door, c.answers)) for c in CASES]
    found = [(e.ranked[0].p, e.found == c.cause) for c, e in ends if e.found]
    said, right = mean(p for p, _ in found), mean(hit for _, hit in found)
    three_sigma = 3 * (said * (1 - said) / len(found)) ** 0.5
    assert right >= said - three_sigma


@pytest.mark.parametrize(
    "many", [SOME, pytest.param(MANY, marks=pytest.mark.slow)], ids=["some", "many"]
)
def test_simulated_call_outs_are_found(many: int, causes: Causes) -> None:
    rng = np.random.default_rng(7)
    hits: list[bool] = []
    ours, fixed = 0, 0
    for _ in range(many):
        door, cause, answers = call_out(causes, rng)
        end = asked_out(causes, door, answers)
        hits.append(cause in first_two(end.ranked))
        ours += len(end.asked)
        fixed += len(asked_in_order(causes, door, answers).asked)
    assert mean(hits) >= 0.9
    assert ours < fixed


def test_symptom_mode_changes_and_lamps_are_asked_before_all_else(
    causes: Causes,
) -> None:
    given: dict[str, str] = {}
    order: list[str] = []
    for _ in range(5):
        following = trace(causes, Door(ALL), given).next
        assert following is not None
        order.append(following.question)
        given[following.question] = UNKNOWN
    assert order == ["does", "mode", "changed", "lamp_presence", "lamp_motion"]


def test_where_somebody_was_struck_nothing_is_looked_for(causes: Causes) -> None:
    end = trace(causes, Door(ALL), {"does": STRUCK})
    assert end.struck
    assert end.next is None
    assert not end.ranked


def test_a_cause_that_the_doorway_cannot_have_is_not_named(causes: Causes) -> None:
    end = trace(causes, Door(frozenset({"presence"})), {})
    named = {one.cause for one in end.ranked}
    assert not {"radar_dead", "lock_held", "battery_flat"} & named
    assert NONE in named


def test_a_fact_of_the_doorway_counts_once_even_if_it_is_answered_too(
    causes: Causes,
) -> None:
    known = Door(ALL, frozenset({"changed=floor"}))
    told = {"changed": "floor"}
    assert trace(causes, known, told).ranked == trace(causes, Door(ALL), told).ranked


def test_the_ladder_is_paid_once(causes: Causes) -> None:
    given = {"does": "fault-shown", "operator_says": "presence-test"}
    rest = dict.fromkeys(
        (one.id for one in causes.asked if not one.ladder and one.id not in given),
        UNKNOWN,
    )
    up = trace(causes, Door(ALL), {**given, **rest}).next
    assert up is not None
    again = trace(causes, Door(ALL), {**given, **rest, up.question: UNKNOWN}).next
    assert again is not None
    assert again.minutes == up.minutes - causes.ladder


@pytest.mark.parametrize("mute", [UNKNOWN, NEITHER])
def test_an_answer_that_tells_nothing_turns_nothing_and_is_not_asked_again(
    mute: str, causes: Causes
) -> None:
    given = {"does": "reopens"}
    said = trace(causes, Door(ALL), {**given, "mode": mute})
    assert said.ranked == trace(causes, Door(ALL), given).ranked
    assert said.next is not None
    assert said.next.question != "mode"


@given(st.data())
def test_chances_sum_to_one_and_order_of_answers_does_not_matter(
    data: st.DataObject,
) -> None:
    causes = known_causes()
    chosen = data.draw(st.lists(st.sampled_from(causes.asked), unique_by=id))
    given = {
        one.id: data.draw(st.sampled_from([UNKNOWN, *one.usual])) for one in chosen
    }
    end = trace(causes, Door(ALL), given)
    again = trace(causes, Door(ALL), dict(reversed(given.items())))
    assert sum(one.p for one in end.ranked) == pytest.approx(1.0)
    chances = {one.cause: one.p for one in end.ranked}
    assert {one.cause: one.p for one in again.ranked} == pytest.approx(chances)
    assert end.next is None or end.next.question not in given


@pytest.mark.parametrize(
    "answers", [{"colour": "blue"}, {"mode": "blue"}, {"mode": "struck"}]
)
def test_what_is_no_question_or_no_answer_is_refused(
    answers: dict[str, str], causes: Causes
) -> None:
    with pytest.raises(ValueError, match=next(iter(answers))):
        trace(causes, Door(ALL), answers)


def test_every_share_is_of_a_hundred(causes: Causes) -> None:
    for one in causes.asked:
        assert sum(one.usual.values()) == 100, one.id
    for cause in causes.causes:
        assert sum(one.share for one in cause.pictures) in (0, 100), cause.id
        for says in (cause.says, *(one.says for one in cause.pictures)):
            for question, row in says.items():
                usual = set(causes.by_id[question].usual)
                assert sum(row.values()) == 100, (cause.id, question)
                assert set(row) <= usual, (cause.id, question)


@given(st.data())
def test_pictures_of_a_cause_weigh_as_causes_of_their_own_would(
    data: st.DataObject,
) -> None:
    causes = known_causes()
    apart = replace(causes, causes=tuple(_apart(causes)))
    given = {
        one.id: data.draw(st.sampled_from([UNKNOWN, *one.usual]))
        for one in data.draw(st.lists(st.sampled_from(causes.asked), unique_by=id))
    }
    alone = {one.cause: one.p for one in trace(apart, Door(ALL), given).ranked}
    for one in trace(causes, Door(ALL), given).ranked:
        parts = [p for name, p in alone.items() if name.partition(".")[0] == one.cause]
        assert sum(parts) == pytest.approx(one.p)


def _apart(causes: Causes) -> Iterator[Cause]:
    """Every picture as a cause of its own."""
    for one in causes.causes:
        for at, each in enumerate(one.pictures or (Picture(100, {}),)):
            yield replace(
                one,
                id=f"{one.id}.{at}",
                odds=one.odds * each.share / 100,
                says={**one.says, **each.says},
                pictures=(),
            )


def test_a_cause_is_named_only_once_no_cheap_look_may_well_speak_against_it(
    causes: Causes,
) -> None:
    looks = 0
    bold = replace(causes, upset=1.1)
    for case in CASES:
        early = asked_out(bold, case.door, case.answers)
        given = {one: case.answers.get(one, UNKNOWN) for one in early.asked}
        end = trace(causes, case.door, given)
        if early.found and end.next is not None:
            looks += 1
            asking = causes.by_id[end.next.question]
            assert asking.minutes <= causes.glance
            assert not asking.ladder
            assert not asking.barrier
            assert end.found is None
        else:
            assert end.found == early.found
    assert looks


def test_what_is_left_is_the_fewest_causes_that_are_likely_enough(
    causes: Causes,
) -> None:
    end = trace(causes, Door(ALL), {"does": "reopens", "lamp_presence": "sees"})
    left = leading(causes, end)
    chances = [one.p for one in end.ranked]
    assert left == tuple(one.cause for one in end.ranked[: len(left)])
    assert sum(chances[: len(left)]) >= causes.known > sum(chances[: len(left) - 1])


def test_what_is_ruled_out_was_likely_once_and_an_answer_spoke_against_it(
    causes: Causes,
) -> None:
    given = {"does": "stays-shut", "mode": "automatic", "lamp_motion": "dark"}
    out = dict(ruled_out(causes, Door(ALL), given))
    chances = {one.cause: one.p for one in trace(causes, Door(ALL), given).ranked}
    assert out["own_leaf"] == "does"
    assert all(chances[one] < HARDLY for one in out)
    assert set(out.values()) <= set(given)
    assert not ruled_out(causes, Door(ALL), {})
    assert not ruled_out(causes, Door(ALL), {"mode": UNKNOWN})
