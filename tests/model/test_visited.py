"""What events come to does not depend on how they came."""

import random
from collections.abc import Sequence
from itertools import permutations
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders.visit_events import STARTED, event, name, step
from limen.model.visit import Event
from limen.model.visited import gaps, in_order, missing, visited

ANSWERS = ("stayed open", "touched", "lamp only", "cannot")
DEVICES = ("a", "b", "c")


@st.composite
def told(draw: st.DrawFn) -> list[Event]:
    """A visit of up to three devices that answer, take back, choose and hand over."""
    made: list[Event] = []
    for device in DEVICES[: draw(st.integers(1, 3))]:
        for seq in range(1, draw(st.integers(1, 6)) + 1):
            kind, said = draw(_said(made))
            made.append(event(device, seq, kind, said, minute=draw(st.integers(0, 9))))
    return made


def _said(before: Sequence[Event]) -> st.SearchStrategy[tuple[str, dict[str, Any]]]:
    answers = st.builds(step, st.sampled_from(ANSWERS), st.sampled_from(["one", "two"]))
    ways = [
        answers.map(lambda said: ("step", said)),
        st.sampled_from(["in use", "out of use"]).map(
            lambda state: ("handed_over", {"state": state})
        ),
        st.just(("started", STARTED)),
    ]
    known = [one.id for one in before]
    if known:
        ids = st.sampled_from(known)
        ways.append(ids.map(lambda one: ("undone", {"event": one})))
    if len(known) > 1:
        some = st.lists(st.sampled_from(known), min_size=2, max_size=4, unique=True)
        ways.append(some.map(_chosen))
    return st.one_of(ways)


def _chosen(of: list[str]) -> tuple[str, dict[str, Any]]:
    return "settled", {"between": of, "stands": of[0], "person": "R. Okafor"}


@given(told(), st.randoms(use_true_random=False))
def test_the_order_in_which_events_come_changes_nothing(
    events: list[Event], chance: random.Random
) -> None:
    shuffled = list(events)
    chance.shuffle(shuffled)
    assert visited(shuffled) == visited(events)


@given(told())
def test_events_that_come_twice_count_once(events: list[Event]) -> None:
    assert visited([*events, *reversed(events)]) == visited(events)


@given(told())
def test_each_devices_own_order_is_kept_whatever_its_clock_says(
    events: list[Event],
) -> None:
    ordered = list(in_order(events))
    assert sorted(ordered, key=id) == sorted(events, key=id)
    for device in DEVICES:
        own = [one.seq for one in ordered if one.device == device]
        assert own == sorted(own)


@given(told())
def test_no_event_is_lost_and_each_stands_or_says_why_not(events: list[Event]) -> None:
    found = visited(events)
    ids = {one.id for one in events}
    standing = {one.id for one in found.standing}
    assert standing | found.taken_back | found.set_aside == ids
    assert not standing & (found.taken_back | found.set_aside)
    assert not found.taken_back & found.set_aside


@given(told())
def test_a_taking_back_that_is_taken_back_never_was(events: list[Event]) -> None:
    target = events[0]
    with_one = [*events, event("z", 1, "undone", {"event": target.id})]
    with_two = [*with_one, event("z", 2, "undone", {"event": name("z", 1)})]
    stood = target.id in {one.id for one in visited(events).standing}
    if stood:
        assert target.id in visited(with_one).taken_back
    apart = {name("z", 1), name("z", 2)}
    again = [one for one in visited(with_two).standing if one.id not in apart]
    assert again == list(visited(events).standing)


@given(told())
def test_what_two_devices_say_differently_is_never_merged(events: list[Event]) -> None:
    found = visited(events)
    for one in ("one", "two"):
        last = {
            each.device: each.said.answer
            for each in found.standing
            if each.kind == "step" and each.said.step == one
        }
        differ = len(set(last.values())) > 1
        assert differ == (one in {each.of for each in found.conflicts})
        assert (one in found.answers) == (bool(last) and not differ)


def test_the_earlier_clock_goes_first_and_at_the_same_time_the_name() -> None:
    events = [
        event("b", 1, "note", {"text": "1"}, minute=5),
        event("b", 2, "note", {"text": "2"}, minute=1),
        event("a", 1, "note", {"text": "3"}, minute=5),
        event("a", 2, "note", {"text": "4"}, minute=6),
    ]
    said = [one.said.text for one in in_order(events) if one.kind == "note"]
    # b's second note claims an earlier time, but b made it after its first.
    assert said == ["3", "1", "2", "4"]


def test_the_last_answer_of_one_device_stands() -> None:
    events = [
        event("a", 1, "step", step("touched")),
        event("a", 2, "step", step("stayed open")),
    ]
    found = visited(events)
    assert not found.conflicts
    assert found.answers["box-left"].said.answer == "stayed open"


def test_a_conflict_is_settled_by_a_choice_and_by_its_taking_back_opened_again() -> (
    None
):
    events = [
        event("a", 1, "step", step("touched")),
        event("b", 1, "step", step("stayed open")),
    ]
    (conflict,) = visited(events).conflicts
    assert (conflict.about, conflict.of) == ("step", "box-left")
    between = [one.id for one in conflict.events]
    chosen = {"between": between, "stands": name("a", 1), "person": "R. Okafor"}
    events.append(event("desk", 1, "settled", chosen))
    found = visited(events)
    assert not found.conflicts
    assert found.answers["box-left"].said.answer == "touched"
    assert found.set_aside == {name("b", 1)}
    events.append(event("desk", 2, "undone", {"event": name("desk", 1)}))
    assert visited(events).conflicts == (conflict,)


def test_the_last_choice_about_the_same_events_counts() -> None:
    events = [
        event("a", 1, "handed_over", {"state": "in use"}),
        event("b", 1, "handed_over", {"state": "out of use"}),
    ]
    both = [name("a", 1), name("b", 1)]
    for seq, stands in enumerate(both, 1):
        said = {"between": both, "stands": stands, "person": "R. Okafor"}
        events.append(event("desk", seq, "settled", said))
    found = visited(events)
    assert found.handed_over is not None
    assert found.handed_over.said.state == "out of use"


def test_a_hand_over_that_devices_contradict_is_none() -> None:
    events = [
        event("a", 1, "handed_over", {"state": "in use"}),
        event("b", 1, "handed_over", {"state": "out of use"}),
    ]
    assert visited(events).handed_over is None


def test_a_value_that_two_devices_read_differently_is_asked() -> None:
    said = {"key": "operator.hold", "value": "1.5 s"}
    events = [
        event("a", 1, "reading", said),
        event("b", 1, "reading", said | {"value": "1.6 s"}),
        event("b", 2, "as_found", said),
    ]
    (conflict,) = visited(events).conflicts
    assert (conflict.about, conflict.of) == ("reading", "operator.hold")


def test_a_row_may_be_read_by_many() -> None:
    reading = {"kind": "row line", "out": "64 mm", "along": "0 mm"}
    events = [
        event("a", 1, "reading", {"fitting": "inside", "reading": reading}),
        event(
            "b",
            1,
            "reading",
            {"fitting": "inside", "reading": reading | {"out": "70 mm"}},
        ),
    ]
    assert not visited(events).conflicts


@pytest.mark.parametrize("order", list(permutations(range(3))), ids=str)
def test_a_taking_back_may_come_before_what_it_takes_back(order: tuple[int]) -> None:
    events = [
        event("a", 1, "step", step("touched"), minute=9),
        event("b", 1, "undone", {"event": name("a", 1)}, minute=1),
        event("a", 2, "note", {"text": "x"}, minute=9),
    ]
    found = visited([events[place] for place in order])
    assert found.taken_back == {name("a", 1)}


def test_events_that_take_each_other_back_do_not_hang() -> None:
    events = [
        event("a", 1, "undone", {"event": name("a", 2)}),
        event("a", 2, "undone", {"event": name("a", 1)}),
        event("a", 3, "undone", {"event": name("a", 3)}),
    ]
    found = visited(events)
    assert name("a", 3) not in found.taken_back
    assert len(found.taken_back) == 1


def test_a_thousand_takings_back_of_takings_back_are_followed() -> None:
    events = [event("a", 1, "note", {"text": "x"})]
    events += [
        event("a", seq, "undone", {"event": name("a", seq - 1)}, minute=0)
        for seq in range(2, 1002)
    ]
    assert name("a", 1) not in visited(events).taken_back


def test_numbers_that_have_not_come_in_are_named_in_runs() -> None:
    events = [event("a", seq, "note", {"text": "x"}, minute=0) for seq in (2, 3, 7, 9)]
    assert missing(events) == {"a": ((4, 6), (8, 8))}
    assert gaps((1, 2**31 - 1)) == ((2, 2**31 - 2),)
    assert gaps(()) == ()


def test_a_visit_that_nobody_began_has_no_beginning() -> None:
    found = visited([event("a", 1, "note", {"text": "x"})])
    assert found.started is None
    assert found.people == ()


def test_everybody_who_began_is_named_once() -> None:
    events = [
        event("a", 1, "started", STARTED),
        event("a", 2, "started", STARTED),
        event("b", 1, "started", STARTED | {"person": "M. Lind"}, minute=9),
    ]
    assert visited(events).people == ("R. Okafor", "M. Lind")
