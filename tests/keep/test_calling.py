"""A call-out is what its events come to: the last word on each question."""

from datetime import UTC, datetime

from hypothesis import given
from hypothesis import strategies as st

from limen.keep.calling import CAUSE, call_of
from limen.model.called_out import CallAnswered, CallBegun

WHEN = datetime(2026, 10, 14, 16, 10, tzinfo=UTC)
ASKED = st.sampled_from(["does", "mode", "when", CAUSE])
SAID = st.one_of(st.none(), st.sampled_from(["one", "other", "unknown"]))
EVENTS = st.lists(st.builds(CallAnswered, question=ASKED, answer=SAID), max_size=12)


def test_who_and_when_stand_as_they_were_said() -> None:
    call = call_of([CallBegun(at=WHEN, person="R. Okafor")])
    assert (call.at, call.person) == (WHEN, "R. Okafor")
    assert not call.answers
    assert call.cause is None


def test_an_answer_is_changed_in_its_place_and_taken_back() -> None:
    told = [("does", "reopens"), ("mode", "open"), ("does", "sticks"), ("mode", None)]
    events = [CallAnswered(question=q, answer=a) for q, a in told]
    assert call_of(events).answers == {"does": "sticks"}


def test_what_a_person_takes_to_be_the_cause_is_no_answer_to_weigh() -> None:
    call = call_of([CallAnswered(question=CAUSE, answer="own_leaf")])
    assert call.cause == "own_leaf"
    assert not call.answers


@given(EVENTS)
def test_the_last_word_on_each_question_stands(events: list[CallAnswered]) -> None:
    call = call_of(events)
    last = {one.question: one.answer for one in events}
    assert call.cause == last.pop(CAUSE, None)
    assert dict(call.answers) == {q: a for q, a in last.items() if a is not None}
