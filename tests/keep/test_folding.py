"""The newest that is known of a door counts, and contradictions are never rounded.

What counts as a check, a change and a fault is a design rule of limen; that a door is
to be checked after an essential change and after any fault: DGUV 208-022, section 10.2,
and the French order of 21 December 1993, article 9 (read second hand).
"""

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limen.findings import Message
from limen.keep.folding import FILE, Doubt, Said, What, folded
from limen.model.keeping import Kept

ON = date(2026, 11, 26)
RECORD = Message("due.source.record", {"number": 4})
REPORT = Message("due.source.report")
MARCH = date(2026, 3, 17)


def at(day: date, hour: int = 10) -> datetime:
    return datetime(day.year, day.month, day.day, hour, tzinfo=UTC)


def sealed(what: What, day: date, hour: int = 10) -> Said:
    return Said(what, day, RECORD, at(day, hour))


def test_the_file_alone_is_believed_where_nothing_else_speaks() -> None:
    kept = Kept(checked=MARCH)
    known = folded(kept, ON)
    assert known.kept == kept
    assert known.checked == Said("checked", MARCH, FILE)
    assert known.pending is None
    assert known.beside == ()


def test_a_later_record_counts_and_both_days_are_said() -> None:
    known = folded(Kept(checked=date(2025, 3, 1)), ON, [sealed("checked", MARCH)])
    assert known.kept.checked == MARCH
    (said,) = known.beside
    assert said.key == "due.beside.record_later"
    assert (said.values["checked"], said.values["day"]) == ("2025-03-01", "2026-03-17")


def test_a_later_day_in_the_file_counts_and_says_that_no_record_shows_it() -> None:
    known = folded(Kept(checked=MARCH), ON, [sealed("checked", date(2025, 3, 1))])
    assert known.kept.checked == MARCH
    assert [one.key for one in known.beside] == ["due.beside.file_later"]


def test_the_same_day_from_both_is_said_once() -> None:
    known = folded(Kept(checked=MARCH), ON, [sealed("checked", MARCH)])
    assert known.beside == ()


@pytest.mark.parametrize(("hour", "pending"), [(9, False), (11, True)])
def test_of_one_day_the_moment_decides_where_both_say_one(
    hour: int, pending: bool
) -> None:
    fault = Said("fault", MARCH, REPORT, at(MARCH, hour))
    known = folded(Kept(), ON, [sealed("checked", MARCH), fault])
    assert (known.pending == fault) is pending


def test_of_one_day_without_a_moment_nothing_is_rounded() -> None:
    """The file names a day only: which of the two came first is not known."""
    fault = Said("fault", MARCH, REPORT, at(MARCH))
    known = folded(Kept(checked=MARCH), ON, [fault])
    assert known.pending == fault
    assert known.unsettled == Said("checked", MARCH, FILE)


def test_a_fault_left_by_a_check_is_not_cleared_by_it_but_a_change_is() -> None:
    check, fault = sealed("checked", MARCH), sealed("fault", MARCH)
    assert folded(Kept(), ON, [check, fault]).pending == fault
    assert folded(Kept(), ON, [check, sealed("changed", MARCH)]).pending is None


def test_a_test_after_a_repair_clears_what_befell_it_and_moves_no_interval() -> None:
    fault = Said("fault", date(2026, 6, 1), REPORT, at(date(2026, 6, 1)))
    repair = sealed("tested", date(2026, 6, 2))
    known = folded(Kept(checked=MARCH, fault=date(2026, 5, 1)), ON, [fault, repair])
    assert known.pending is None
    assert (known.kept.checked, known.kept.fault) == (MARCH, None)


def test_what_lies_ahead_counts_for_nothing_and_is_said() -> None:
    ahead = sealed("checked", ON + timedelta(days=1))
    known = folded(Kept(checked=MARCH), ON, [ahead])
    assert known.kept.checked == MARCH
    assert known.ahead
    assert [one.key for one in known.beside] == ["due.beside.ahead"]


def test_a_check_in_the_file_that_its_own_record_does_not_bear_out_counts_not() -> None:
    doubt = Doubt(MARCH, Message("due.doubt.unanswered"))
    before = sealed("checked", date(2025, 3, 1))
    known = folded(Kept(checked=MARCH), ON, [before], [doubt])
    assert known.contradicted == doubt
    assert known.kept.checked == before.day
    assert folded(Kept(checked=MARCH), ON, (), [doubt]).kept.checked is None


def test_a_visit_that_nobody_sealed_speaks_against_nothing() -> None:
    doubt = Doubt(MARCH, Message("due.doubt.unsealed"), against=False)
    known = folded(Kept(checked=MARCH), ON, (), [doubt])
    assert known.contradicted is None
    assert known.kept.checked == MARCH


def test_only_the_newest_check_that_counts_not_is_said() -> None:
    doubts = [Doubt(date(2026, n, 1), Message(f"n{n}")) for n in (4, 6, 5)]
    known = folded(Kept(checked=MARCH), ON, (), doubts)
    assert known.beside == (Message("n6"),)


DAYS = st.dates(date(2024, 1, 1), ON)
SAID = st.builds(
    lambda what, day, hour: Said(what, day, RECORD, at(day, hour)),
    st.sampled_from(("checked", "tested", "changed", "fault")),
    DAYS,
    st.integers(0, 23),
)


@settings(max_examples=40)
@given(st.lists(SAID, max_size=6), st.randoms(use_true_random=False))
def test_the_order_in_which_it_is_said_changes_nothing(
    said: list[Said], chance: object
) -> None:
    kept = Kept(checked=MARCH)
    shuffled = list(said)
    chance.shuffle(shuffled)  # type: ignore[attr-defined]
    one, other = folded(kept, ON, said), folded(kept, ON, shuffled)
    assert one.kept == other.kept
    assert (one.pending is None) == (other.pending is None)


@settings(max_examples=40)
@given(st.lists(SAID, max_size=6), DAYS)
def test_one_more_fault_never_makes_it_less_urgent(said: list[Said], day: date) -> None:
    """Monotonic: what is pending stays so whatever else is told of faults."""
    fault = Said("fault", day, REPORT, at(day))
    without = folded(Kept(), ON, said)
    known = folded(Kept(), ON, [*said, fault])
    assert without.pending is None or known.pending is not None
    assert known.kept.checked == without.kept.checked
