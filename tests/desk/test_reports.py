"""A fault that is reported is kept as it was said, seen, and settled, once each."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from uuid import uuid4

import pytest

from limen.desk.library import Desk, open_desk
from limen.desk.library_sites import add_demo
from limen.desk.refusal import Refusal
from limen.desk.reports import (
    NoSuchReportError,
    report,
    reports,
    see,
    settle,
    take_down,
)
from limen.desk.reports_mail import day_of, read_pasted, struck_of, symptom_of
from limen.desk.spoken import At
from limen.exchange.fault_mail import Door, Field, mail_body
from limen.store.database.keeping import events_about
from limen.words import languages
from limen.words.tracing import said_answer

DAY = date(2026, 11, 26)
OPEN = {"struck": False, "symptom": "stays-open", "text": "since it rained"}


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    opened = open_desk(
        tmp_path_factory.mktemp("desk") / "library.db", today=lambda: DAY
    )
    yield opened
    opened.library.close()


@pytest.fixture
def at(desk: Desk) -> At:
    return At(add_demo(desk, "corrected").id, "main", "M. Lind")


def test_a_report_is_kept_as_it_was_said(desk: Desk, at: At) -> None:
    one = take_down(desk, at, {**OPEN, "by": "A. Keeper", "since": "2026-11-20"})
    assert one.said.symptom == "stays-open"
    assert one.said.text == "since it rained"
    assert one.said.since == date(2026, 11, 20)
    assert (one.first.person, one.open, one.seen) == ("M. Lind", True, None)
    assert reports(desk, at.site, "main") == (one,)
    assert reports(desk, at.site, "staff") == ()


def test_the_same_report_sent_twice_is_one(desk: Desk, at: At) -> None:
    drawn = str(uuid4())
    one, other = (take_down(desk, at, OPEN, drawn) for _ in range(2))
    assert one == other
    assert len(events_about(desk.library, drawn)) == 1


def test_another_report_under_the_same_id_is_refused(desk: Desk, at: At) -> None:
    drawn = str(uuid4())
    take_down(desk, at, OPEN, drawn)
    with pytest.raises(Refusal, match="meanwhile"):
        take_down(desk, at, {**OPEN, "text": "something else"}, drawn)
    with pytest.raises(Refusal, match="meanwhile"):
        take_down(desk, replace(at, doorway="staff"), OPEN, drawn)


def test_seen_and_settled_are_said_once(desk: Desk, at: At) -> None:
    one = take_down(desk, at, OPEN)
    seen = see(desk, replace(at, person="B. Reader"), one.id)
    assert seen.seen is not None
    assert seen.seen.person == "B. Reader"
    done = settle(desk, at, one.id, "mat moved back")
    assert done.settled is not None
    assert done.settled.said.because == "mat moved back"
    assert not done.open
    for again in (lambda: see(desk, at, one.id), lambda: settle(desk, at, one.id, "x")):
        with pytest.raises(Refusal, match="settled already"):
            again()


def test_what_is_open_stands_before_what_is_settled(desk: Desk, at: At) -> None:
    struck = take_down(desk, at, {"struck": True})
    first = take_down(desk, at, OPEN)
    settled = settle(desk, at, take_down(desk, at, OPEN).id, "done")
    found = [one.id for one in reports(desk, at.site)]
    assert found == [struck.id, first.id, settled.id]


def test_settling_without_a_word_is_refused(desk: Desk, at: At) -> None:
    one = take_down(desk, at, OPEN)
    with pytest.raises(Refusal, match="found and done"):
        settle(desk, at, one.id, "")
    assert report(desk, at, one.id).open


def test_a_report_of_another_door_is_not_found(desk: Desk, at: At) -> None:
    one = take_down(desk, at, OPEN)
    with pytest.raises(NoSuchReportError):
        report(desk, replace(at, doorway="staff"), one.id)


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ({"struck": False}, "Say what the door does"),
        ({**OPEN, "since": "last week"}, "year-month-day"),
        ({**OPEN, "record": "twelve"}, "whole number"),
        ({**OPEN, "by": "x" * 121}, "120 letters"),
        ({**OPEN, "text": "x" * 2001}, "too long"),
    ],
)
def test_what_is_not_accepted_says_what_is(
    desk: Desk, at: At, said: dict[str, object], why: str
) -> None:
    with pytest.raises(Refusal) as refused:
        take_down(desk, at, said)
    assert why in str(refused.value)


def test_a_doorway_that_is_not_there_has_no_reports(desk: Desk, at: At) -> None:
    with pytest.raises(Refusal):
        take_down(desk, replace(at, doorway="nowhere"), OPEN)


# A mail that is pasted -----------------------------------------------------------


def _mail(at: At, language: str = "en", **told: str) -> str:
    answers: dict[Field, str] = {
        one: told.get(one, "") for one in ("does", "since", "struck", "who")
    }  # pyright: ignore[reportAssignmentType]
    return mail_body(Door(at.site, at.doorway, record=7), answers, language=language)


def test_a_pasted_mail_fills_in_what_it_says(at: At) -> None:
    text = _mail(
        at, does="stays open", since="2026-11-20", struck="No.", who="A. Keeper, 0142"
    )
    found = read_pasted(at, text)
    assert (found.symptom, found.struck, found.since) == (
        "stays-open",
        False,
        date(2026, 11, 20),
    )
    assert (found.by, found.record, found.text) == ("A. Keeper, 0142", 7, "stays open")


def test_nothing_that_was_written_is_lost(at: At) -> None:
    """What no field takes as it is stands among the words."""
    text = _mail(at, does="it bites", since="Monday or so", struck="a child, nearly")
    found = read_pasted(at, text)
    assert (found.symptom, found.struck, found.since) == ("", None, None)
    for one in ("it bites", "Monday or so", "a child, nearly"):
        assert one in found.text


@pytest.mark.parametrize("other", ["staff", "main-2"])
def test_a_mail_about_another_door_fills_in_nothing(at: At, other: str) -> None:
    with pytest.raises(Refusal, match="another door"):
        read_pasted(at, _mail(replace(at, doorway=other)))


@pytest.mark.parametrize("tongue", languages())
def test_a_symptom_is_known_by_its_words_in_any_language(tongue: str) -> None:
    said = said_answer("does", "stays-shut", language=tongue)
    assert symptom_of(f"{said.upper()}.") == "stays-shut"


@pytest.mark.parametrize(
    ("answer", "struck"),
    [
        ("yes", True),
        ("Ja, eine Frau", True),
        ("Oui.", True),
        ("No", False),
        ("nein!", False),
        ("non", False),
        ("", None),
        ("nobody", None),
        ("not yet", None),
        ("I do not know", None),
    ],
)
def test_whether_somebody_was_struck_is_never_guessed(
    answer: str, struck: bool | None
) -> None:
    assert struck_of(answer) is struck


@pytest.mark.parametrize(
    ("answer", "day"),
    [
        ("2026-11-26", DAY),
        ("26.11.2026", DAY),
        ("26/11/2026", DAY),
        ("05/06/2026", None),
        ("5/5/2026", date(2026, 5, 5)),
        ("31.2.2026", None),
        ("Monday", None),
        ("", None),
    ],
)
def test_a_day_that_can_be_meant_in_two_ways_is_none(
    answer: str, day: date | None
) -> None:
    assert day_of(answer) == day
