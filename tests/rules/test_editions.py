from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.rules import AskEdition, Edition, WhyAsk, choose_edition

OLD = Edition("house", "1", "old", date(2013, 1, 1), date(2024, 8, 31))
NEW = Edition("house", "2", "new", date(2023, 1, 1))


def test_a_door_is_judged_by_the_edition_of_its_day() -> None:
    assert choose_edition([NEW, OLD], date(2015, 5, 1)) is OLD
    assert choose_edition([NEW, OLD], date(2024, 9, 1)) is NEW


@pytest.mark.parametrize(
    ("day", "editions"),
    [
        (date(2022, 12, 31), (OLD,)),
        (date(2023, 1, 1), (OLD, NEW)),
        (date(2024, 8, 31), (OLD, NEW)),
        (date(2024, 9, 1), (NEW,)),
    ],
)
def test_first_and_last_day_belong_to_an_edition(
    day: date, editions: tuple[Edition, ...]
) -> None:
    found = choose_edition([OLD, NEW], day)
    asked = found.editions if isinstance(found, AskEdition) else (found,)
    assert asked == editions


def test_in_the_transition_both_are_named_oldest_first() -> None:
    found = choose_edition([NEW, OLD], date(2024, 3, 1))
    assert found == AskEdition("house", date(2024, 3, 1), (OLD, NEW), WhyAsk.TRANSITION)


def test_a_door_older_than_every_edition_is_a_question_not_a_guess() -> None:
    found = choose_edition([OLD, NEW], date(2012, 12, 31))
    assert isinstance(found, AskEdition)
    assert found.why is WhyAsk.OUTSIDE
    assert found.editions == (OLD, NEW)


def test_without_a_date_there_is_a_question_only_if_there_is_a_choice() -> None:
    found = choose_edition([OLD, NEW], None)
    assert isinstance(found, AskEdition)
    assert found.why is WhyAsk.DATE_UNKNOWN
    assert choose_edition([NEW], None) is NEW


def test_editions_of_two_rulebooks_or_of_none_are_the_callers_fault() -> None:
    with pytest.raises(ValueError, match="one rulebook"):
        choose_edition([], None)
    with pytest.raises(ValueError, match="one rulebook"):
        choose_edition([OLD, Edition("other", "1", "other")], None)


@given(st.integers(0, 20_000), st.integers(0, 3))
def test_an_edition_is_chosen_only_if_it_alone_covers_the_day(
    days: int, count: int
) -> None:
    day = date(1990, 1, 1) + timedelta(days=days)
    shelf = [OLD, NEW, Edition("house", "0", "oldest", None, date(2013, 1, 1))]
    shelf = shelf[: max(1, count)]
    covering = [one for one in shelf if one.covers(day)]
    found = choose_edition(shelf, day)
    assert isinstance(found, AskEdition) == (len(covering) != 1)
    assert isinstance(found, AskEdition) or found in covering
