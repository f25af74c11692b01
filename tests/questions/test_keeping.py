"""When a door is to be checked again.

T81 of the table of worked rows: France, last check on 31 August 2026, next due on
28 February 2027 (order of 21 December 1993, article 9, read second hand; that a month
without such a day ends the interval on its last one is a design rule).
"""

from datetime import date, timedelta

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from limen.findings import Finding, Verdict
from limen.questions.keeping import after_months
from limen.rules import Weight
from limen.store.bookshelf import open_shelf
from questions.asking import ask

FAILS, HOLDS, NOT_SHOWN = Verdict.FAILS, Verdict.HOLDS, Verdict.NOT_SHOWN
DUE = "keeping.due"
AFTER = "since the last check"


def due(
    on: date, kept: dict[str, object], *books: str, case: str | None = None
) -> Finding:
    book = open_shelf().edition(*(books or ("en", "2012")))
    changes = {"kept": {"checked": None, **kept}}
    return ask(DUE, changes, case=case, rules=book, on=on)


def test_a_month_without_such_a_day_ends_the_interval_on_its_last_one() -> None:
    assert after_months(date(2026, 8, 31), 6) == date(2027, 2, 28)
    assert after_months(date(2027, 8, 31), 6) == date(2028, 2, 29)
    assert after_months(date(2028, 2, 29), 12) == date(2029, 2, 28)


@given(st.dates(date(2000, 1, 1), date(2099, 12, 31)), st.integers(1, 60))
def test_the_months_are_those_of_an_independent_calendar(day: date, n: int) -> None:
    """python-dateutil, relativedelta."""
    assert after_months(day, n) == day + relativedelta(months=n)


@pytest.mark.parametrize(
    ("on", "verdict"), [(date(2027, 3, 17), HOLDS), (date(2027, 3, 18), FAILS)]
)
def test_a_year_is_over_on_the_day_after_the_same_day(
    on: date, verdict: Verdict
) -> None:
    found = due(on, {"checked": "2026-03-17"})
    assert found.verdict is verdict
    assert bool(found.remedy) is (verdict is FAILS)
    assert found.margin
    assert found.margin.value == (date(2027, 3, 17) - on) / timedelta(seconds=1)


@pytest.mark.parametrize(
    ("on", "verdict"), [(date(2027, 2, 28), HOLDS), (date(2027, 3, 1), FAILS)]
)
def test_in_france_half_a_year_is_a_must(on: date, verdict: Verdict) -> None:
    found = due(on, {"checked": "2026-08-31"}, "fr", "2012")
    assert (found.verdict, found.weight) == (verdict, Weight.MUST)


def test_the_makers_manual_may_ask_for_it_sooner_and_never_later() -> None:
    on = date(2026, 12, 1)
    sooner: dict[str, object] = {"checked": "2026-05-01", "every": "6 months"}
    later: dict[str, object] = {"checked": "2025-11-01", "every": "2 years"}
    assert due(on, sooner).verdict is FAILS
    assert due(on, later).verdict is FAILS


def test_a_check_that_nobody_dated_or_that_lies_ahead_shows_nothing() -> None:
    on = date(2026, 11, 25)
    for ahead in (None, "2026-11-26"):
        found = due(on, {"checked": ahead})
        assert found.verdict is NOT_SHOWN
        assert [one.key for one in found.lacking] == ["kept.checked"]


@pytest.mark.parametrize("what", ["changed", "fault"])
def test_what_befell_the_door_after_its_check_makes_one_due(what: str) -> None:
    on = date(2026, 11, 25)
    checked: dict[str, object] = {"checked": "2026-11-01"}
    assert due(on, {**checked, what: "2026-11-02"}, case=AFTER).verdict is FAILS
    assert due(on, {**checked, what: "2026-11-01"}, case=AFTER).verdict is HOLDS
    assert due(on, checked, case=AFTER).verdict is Verdict.NOT_ASKED


@pytest.mark.parametrize("checked", [None, "2026-11-26"])
def test_a_check_not_known_or_ahead_shows_nothing_of_what_befell(
    checked: str | None,
) -> None:
    kept: dict[str, object] = {"checked": checked, "changed": "2026-11-02"}
    found = due(date(2026, 11, 25), kept, case=AFTER)
    assert found.verdict is NOT_SHOWN
    assert [one.key for one in found.lacking] == ["kept.checked"]
