"""What is said between visits is kept once, and never over somebody else's word."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from typing import Any
from uuid import uuid4

import pytest

from builders.lived import DOOR, Lived, lived_door
from limen.desk.ahead import agenda_of, awaited, planned, still_owed, suggested
from limen.desk.between import (
    NoSuchThingError,
    call_off,
    done,
    fit,
    follow_up,
    mend,
    move,
    part,
    plan,
    refuse,
    take_back,
)
from limen.desk.library import NoSuchSiteError
from limen.desk.refusal import Refusal
from limen.desk.spoken import At
from limen.desk.visits import Folded, visits
from limen.model.agenda import FollowUp, Parts, Plan
from limen.store.database.keeping import events_about, keep_event

CHECK = {"day": "2027-03-17", "what": "check", "who": "M. Lind"}


@pytest.fixture(scope="module")
def lived(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Lived]:
    """One desk for all: each test speaks of things of its own."""
    path = tmp_path_factory.mktemp("lived") / "library.db"
    with lived_door(path, records=False) as one:
        yield one


def _at(lived: Lived, known: int | None = None, person: str = "R. Okafor") -> At:
    return At(lived.site, DOOR, person, known)


def _plan(lived: Lived, **more: Any) -> Plan:
    return plan(lived.desk, _at(lived), CHECK | more)


def test_a_plan_is_on_the_list_of_all_sites_by_day_and_by_person(
    lived: Lived,
) -> None:
    made = _plan(lived, day="2027-01-05", who="T. Quay")
    late = _plan(lived, day="2027-06-05", who="T. Quay")
    found = planned(lived.desk, who="t. quay")
    assert [one.thing for one in found] == [made, late]
    assert found[0].door_name == "Main entrance, on the quay"
    near = planned(lived.desk, upto=date(2027, 1, 31), who="T. Quay")
    assert [one.thing for one in near] == [made]


def test_what_is_refused_stays_on_the_list_and_what_is_done_leaves_it(
    lived: Lived,
) -> None:
    made = _plan(lived, who="U. Quay")
    about = made.words.about
    refuse(lived.desk, _at(lived), about, {"by": "A. Keeper", "because": "Fair"})
    (found,) = planned(lived.desk, who="U. Quay")
    assert found.thing.state == "refused"
    done(lived.desk, _at(lived), about, {"day": "2027-03-18"})
    assert not planned(lived.desk, who="U. Quay")


def test_a_site_that_is_put_away_has_nothing_on_the_list(lived: Lived) -> None:
    _plan(lived, who="V. Quay")
    lived.desk.library.put_away(lived.site, archived=True)
    assert not planned(lived.desk, who="V. Quay")
    lived.desk.library.put_away(lived.site, archived=False)
    assert len(planned(lived.desk, who="V. Quay")) == 1


def test_the_same_plan_sent_twice_is_kept_once(lived: Lived) -> None:
    about = str(uuid4())
    first = plan(lived.desk, _at(lived), CHECK, about)
    assert plan(lived.desk, _at(lived), CHECK, about) == first
    assert len(events_about(lived.desk.library, about)) == 1


def test_another_plan_under_a_taken_id_is_refused(lived: Lived) -> None:
    about = str(uuid4())
    plan(lived.desk, _at(lived), CHECK, about)
    with pytest.raises(Refusal, match="Somebody else"):
        plan(lived.desk, _at(lived), CHECK | {"day": "2027-03-18"}, about)
    assert len(events_about(lived.desk.library, about)) == 1


def test_who_has_not_read_the_last_word_is_not_taken_for_having_answered_it(
    lived: Lived,
) -> None:
    made = _plan(lived)
    about, known = made.words.about, made.words.seq
    refuse(lived.desk, _at(lived, known), about, {"by": "K", "because": "Fair"})
    with pytest.raises(Refusal, match="meanwhile"):
        call_off(lived.desk, _at(lived, known), about, {})
    with pytest.raises(Refusal, match="meanwhile"):
        move(lived.desk, _at(lived, known), about, {"day": "2027-04-01"})
    found = agenda_of(lived.desk, lived.site, DOOR).thing(about)
    assert isinstance(found, Plan)
    assert found.state == "refused"


def test_the_same_word_sent_twice_is_kept_once(lived: Lived) -> None:
    made = _plan(lived)
    about, known = made.words.about, made.words.seq
    for _ in range(2):
        move(lived.desk, _at(lived, known), about, {"day": "2027-04-01"})
    assert len(events_about(lived.desk.library, about)) == 2


def test_a_word_that_is_taken_back_stays_to_be_read(lived: Lived) -> None:
    about = _plan(lived).words.about
    found = call_off(lived.desk, _at(lived), about, {"because": "Sold"})
    assert isinstance(found, Plan)
    assert found.last is not None
    again = take_back(lived.desk, _at(lived), about, found.last.id)
    assert isinstance(again, Plan)
    assert (again.state, len(again.words.events)) == ("planned", 3)


def test_what_is_closed_takes_no_further_word_but_a_taking_back(lived: Lived) -> None:
    about = _plan(lived).words.about
    done(lived.desk, _at(lived), about, {})
    for say in (move, call_off):
        with pytest.raises(Refusal, match="closed"):
            say(lived.desk, _at(lived), about, {"day": "2027-04-01"})


def test_a_visit_is_joined_by_a_person_and_only_one_of_this_doorway(
    lived: Lived,
) -> None:
    about = _plan(lived).words.about
    with pytest.raises(Refusal, match="no such visit"):
        done(lived.desk, _at(lived), about, {"visit": str(uuid4())})
    found = done(lived.desk, _at(lived), about, {"visit": lived.visit(5)})
    assert isinstance(found, Plan)
    assert found.visit == lived.visit(5)


def _gone(lived: Lived) -> tuple[Folded, ...]:
    return visits(lived.desk, lived.site, DOOR)


def test_visits_are_suggested_from_the_day_of_the_plan_on_and_never_twice(
    lived: Lived,
) -> None:
    made = _plan(lived)
    assert not suggested(_gone(lived), made)
    lived.clock.day = date(2099, 1, 1)
    visit = lived.tap(90, ("started", _started()))
    lived.clock.day = date(2026, 11, 26)
    assert [one.visit for one in suggested(_gone(lived), made)] == [visit.visit]
    assert not suggested(_gone(lived), made, [visit.visit])


def _started() -> dict[str, Any]:
    from builders.visit_events import STARTED

    return dict(STARTED)


def test_a_defect_that_a_visit_left_is_owed_by_itself_until_somebody_mends_it(
    lived: Lived,
) -> None:
    (found,) = (
        one.thing
        for one in still_owed(lived.desk, lived.site)
        if isinstance(one.thing, FollowUp) and one.thing.visit == lived.visit(4)
    )
    assert isinstance(found, FollowUp)
    assert found.text == "Floor guide is loose"
    assert found.words.events == ()
    closed = mend(lived.desk, _at(lived), found.words.about, {"visit": lived.visit(5)})
    assert isinstance(closed, FollowUp)
    assert closed.state == "mended"
    texts = [one.thing for one in still_owed(lived.desk, lived.site)]
    assert found not in texts
    assert closed.last is not None
    take_back(lived.desk, _at(lived), found.words.about, closed.last.id)


def test_what_is_owed_can_be_said_and_called_off(lived: Lived) -> None:
    said = {"text": "Paint the mark anew", "day": "2027-01-31"}
    made = follow_up(lived.desk, _at(lived), said)
    assert made.day == date(2027, 1, 31)
    found = call_off(lived.desk, _at(lived), made.words.about, {})
    assert isinstance(found, FollowUp)
    assert found.state == "called off"


def test_a_part_is_awaited_until_it_is_fitted(lived: Lived) -> None:
    made = part(lived.desk, _at(lived), {"name": "Guide", "number": "G-4"})
    assert [one.thing for one in awaited(lived.desk, lived.site)] == [made]
    found = fit(lived.desk, _at(lived), made.words.about, {"name": "Guide"})
    assert isinstance(found, Parts)
    assert found.state == "fitted"
    assert not awaited(lived.desk, lived.site)


def test_a_part_may_be_fitted_without_an_order(lived: Lived) -> None:
    made = part(lived.desk, _at(lived), {"name": "Guide", "count": 2}, fitted=True)
    assert (made.state, made.last.said.count) == ("fitted", 2)


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"day": "soon", "what": "check"}, "The day"),
        ({"day": "2027-02-29", "what": "check"}, "The day"),
        ({"what": "check"}, "The day"),
        ({"day": "2027-02-28", "what": "tea"}, "come for"),
        ({"day": "2027-02-28", "what": "check", "who": "x" * 121}, "Who comes"),
    ],
)
def test_what_is_not_accepted_says_which_field_and_what_is(
    lived: Lived, said: dict[str, Any], field: str
) -> None:
    with pytest.raises(Refusal) as refusal:
        plan(lived.desk, _at(lived), said)
    assert any(field in line for line in refusal.value.lines)


def test_nobody_says_nothing(lived: Lived) -> None:
    with pytest.raises(Refusal, match="Who says so"):
        plan(lived.desk, _at(lived, person="  "), CHECK)


def test_things_and_places_that_are_not_there_are_said_so(lived: Lived) -> None:
    with pytest.raises(NoSuchThingError):
        move(lived.desk, _at(lived), str(uuid4()), {"day": "2027-04-01"})
    with pytest.raises(Refusal):
        plan(lived.desk, At(lived.site, "cellar", "R. Okafor"), CHECK)
    with pytest.raises(NoSuchSiteError):
        plan(lived.desk, At("nowhere", DOOR, "R. Okafor"), CHECK)
    about = _plan(lived).words.about
    with pytest.raises(NoSuchThingError):
        move(lived.desk, At(lived.site, "staff", "R. Okafor"), about, {})


def test_events_of_other_kinds_are_no_trouble(lived: Lived) -> None:
    keep_event(
        lived.desk.library,
        about="0123456789ab",
        site=lived.site,
        doorway=DOOR,
        kind="reported",
        text='{"text": "It hums"}',
    )
    assert agenda_of(lived.desk, lived.site, DOOR).thing("0123456789ab") is None


def test_of_two_who_say_something_at_once_one_is_kept_and_the_other_told(
    lived: Lived,
) -> None:
    made = _plan(lived)
    about, known = made.words.about, made.words.seq

    def said(day: int) -> str:
        try:
            move(lived.desk, _at(lived, known), about, {"day": f"2027-05-{day:02}"})
        except Refusal as refusal:
            return refusal.lines[0]
        return "kept"

    with ThreadPoolExecutor(4) as pool:
        answers = list(pool.map(said, range(1, 9)))
    assert answers.count("kept") == 1
    assert all("meanwhile" in one for one in answers if one != "kept")
    assert len(events_about(lived.desk.library, about)) == 2
