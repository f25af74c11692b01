"""What is said between visits comes to the same in whatever order it came."""

import random
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from builders.between_events import spoken
from builders.visit_events import name
from limen.model.agenda import Defect, FollowUp, Parts, Plan, agenda
from limen.model.between import Between, RefusedEvent

PLAN = {"day": "2027-03-17", "what": "check", "who": "M. Lind"}
LATER = {"day": "2027-04-02", "because": "Ladder away"}
REFUSED = {"by": "A. Keeper", "because": "Fair in the hall"}
SAID: dict[str, dict[str, Any]] = {
    "planned": PLAN,
    "moved": LATER,
    "refused": REFUSED,
    "called_off": {},
    "done": {"visit": name("visit", 1)},
    "owed": {"text": "Guide is loose"},
    "mended": {"note": "New guide"},
    "ordered": {"name": "Guide", "number": "G-4"},
    "fitted": {"name": "Guide", "number": "G-5"},
}
FIRST = ("planned", "owed", "ordered", "fitted")


@st.composite
def told(draw: st.DrawFn) -> list[Between]:
    """What two desks say of a few things; now and then both knew the same."""
    made: list[Between] = []
    for about in ("a", "b", "c")[: draw(st.integers(1, 3))]:
        for place in range(draw(st.integers(1, 6))):
            seq = draw(st.integers(max(place, 1), place + 1))
            known = [one.id for one in made if one.about == name(about, 0)]
            kind = draw(st.sampled_from(FIRST if not known else tuple(SAID)))
            said = SAID[kind]
            if known and draw(st.booleans()):
                kind, said = "undone", {"event": draw(st.sampled_from(known))}
            made.append(
                spoken(
                    about,
                    seq,
                    kind,
                    said,
                    minute=draw(st.integers(0, 3)),
                    which=str(place),
                )
            )
    return made


DEFECT = Defect(
    name("a", 0), "Leaf rubs", date(2026, 11, 26), name("visit", 1), "site", "main"
)


@given(told(), st.randoms(use_true_random=False))
def test_the_order_in_which_events_come_changes_nothing(
    events: list[Between], chance: random.Random
) -> None:
    shuffled = list(events)
    chance.shuffle(shuffled)
    assert agenda(shuffled, [DEFECT]) == agenda(events, [DEFECT])


@given(told())
def test_an_event_that_comes_twice_counts_once(events: list[Between]) -> None:
    assert agenda([*events, *reversed(events)]) == agenda(events)


@given(told())
def test_no_event_is_lost_and_each_stands_or_was_taken_back(
    events: list[Between],
) -> None:
    found = agenda(events)
    things = (*found.plans, *found.follow_ups, *found.parts)
    words = (*(one.words for one in things), *found.loose)
    kept = [each.id for one in words for each in one.events]
    assert sorted(kept) == sorted(one.id for one in events)
    for one in words:
        standing = {each.id for each in one.standing}
        assert standing | one.taken_back == {each.id for each in one.events}
        assert not standing & one.taken_back


@given(told())
def test_a_taking_back_that_is_taken_back_never_was(events: list[Between]) -> None:
    last = max(one.seq for one in events)
    target = events[0]
    about = next(one for one in "abc" if name(one, 0) == target.about)
    undo = spoken(about, last + 1, "undone", {"event": target.id}, which="u")
    again = spoken(about, last + 2, "undone", {"event": undo.id}, which="u")
    before, after = agenda(events), agenda([*events, undo, again])

    def standing(found: Any) -> set[str]:
        things = (*found.plans, *found.follow_ups, *found.parts)
        words = (*(one.words for one in things), *found.loose)
        return {each.id for one in words for each in one.standing} - {again.id}

    assert standing(after) == standing(before)


def _plan(*events: Between) -> Plan:
    (one,) = agenda(events).plans
    return one


def test_a_plan_stands_for_the_day_that_was_said_last() -> None:
    first, moved = spoken("a", 1, "planned", PLAN), spoken("a", 2, "moved", LATER)
    assert _plan(first).day == date(2027, 3, 17)
    found = _plan(moved, first)
    assert (found.day, found.who, found.state) == (
        date(2027, 4, 2),
        "M. Lind",
        "planned",
    )


def test_a_refusal_says_by_whom_and_why_and_another_day_is_another_try() -> None:
    first, no = spoken("a", 1, "planned", PLAN), spoken("a", 2, "refused", REFUSED)
    found = _plan(first, no)
    assert found.state == "refused"
    assert found.last is not None
    assert isinstance(found.last, RefusedEvent)
    assert found.last.said.because == "Fair in the hall"
    again = _plan(first, no, spoken("a", 3, "moved", LATER))
    assert (again.state, again.last) == ("planned", None)


def test_what_is_taken_back_leaves_the_word_before_it() -> None:
    first, no = spoken("a", 1, "planned", PLAN), spoken("a", 2, "refused", REFUSED)
    back = spoken("a", 3, "undone", {"event": no.id})
    assert _plan(first, no, back).state == "planned"


def test_a_plan_that_was_taken_back_is_no_plan_and_still_there_to_read() -> None:
    first = spoken("a", 1, "planned", PLAN)
    found = agenda([first, spoken("a", 2, "undone", {"event": first.id})])
    assert not found.plans
    assert [one.about for one in found.loose] == [first.about]


def test_a_plan_that_is_done_names_its_visit() -> None:
    first = spoken("a", 1, "planned", PLAN)
    visit = name("visit", 1)
    found = _plan(first, spoken("a", 2, "done", {"visit": visit}))
    assert (found.state, found.visit) == ("done", visit)


def test_a_defect_of_a_visit_is_owed_by_itself_until_it_is_said_to_be_mended() -> None:
    (open_,) = agenda([], [DEFECT]).follow_ups
    assert (open_.state, open_.text, open_.words.seq) == ("open", "Leaf rubs", 0)
    (closed,) = agenda([spoken("a", 1, "mended", {})], [DEFECT]).follow_ups
    assert closed.state == "mended"


def test_what_is_owed_first_stands_first_and_what_has_no_day_last() -> None:
    events = [
        spoken("a", 1, "owed", {"text": "No day"}),
        spoken("b", 1, "owed", {"text": "Late", "day": "2027-05-01"}),
        spoken("c", 1, "owed", {"text": "Soon", "day": "2027-04-01"}),
    ]
    texts = [one.text for one in agenda(events).follow_ups]
    assert texts == ["Soon", "Late", "No day"]


def test_a_part_that_was_fitted_is_the_part_that_was_fitted() -> None:
    ordered = spoken("a", 1, "ordered", SAID["ordered"])
    fitted = spoken("a", 2, "fitted", SAID["fitted"])
    (one,) = agenda([fitted, ordered]).parts
    assert (one.state, one.last.said.number) == ("fitted", "G-5")


def test_each_thing_is_found_by_its_id() -> None:
    found = agenda(
        [
            spoken("a", 1, "planned", PLAN),
            spoken("b", 1, "owed", SAID["owed"]),
            spoken("c", 1, "ordered", SAID["ordered"]),
        ]
    )
    kinds = [type(found.thing(name(one, 0))) for one in ("a", "b", "c")]
    assert kinds == [Plan, FollowUp, Parts]
    assert found.thing(name("d", 0)) is None


@pytest.mark.parametrize(
    ("kind", "said"),
    [
        ("planned", {"day": "2027-02-29", "what": "check"}),
        ("planned", {"day": "2027-02-28", "what": "tea"}),
        ("planned", PLAN | {"whom": "M. Lind"}),
        ("refused", {"by": "A. Keeper"}),
        ("owed", {"text": "  "}),
        ("ordered", {"name": "Guide", "count": 0}),
        ("done", {"visit": "last Tuesday"}),
    ],
)
def test_what_cannot_be_said_is_refused(kind: str, said: dict[str, Any]) -> None:
    with pytest.raises(ValidationError):
        spoken("a", 1, kind, said)
