"""The answers to when a door is due agree with the list, whoever says the days.

That the newest that is known counts is a design rule of limen (decision 24).
"""

from datetime import UTC, date, datetime, timedelta
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders.doorways import a_doorway
from limen.findings import Finding, Message, Verdict
from limen.keep.due import QUESTION, Due, due_of
from limen.keep.due_known import differs, known_findings
from limen.keep.folding import Doubt, Said, What, folded
from limen.model.doorway import Doorway
from limen.model.keeping import Kept
from limen.questions.keeping import due
from limen.rules import Rulebook
from limen.store.bookshelf import open_shelf
from limen.study.running import asked_of

ON = date(2026, 11, 26)
MAY = date(2026, 5, 3)
RECORD = Message("due.source.record", {"number": 4})
REPORT = Message("due.source.report")


@cache
def book() -> Rulebook:
    return open_shelf().edition("en", "2012")


@cache
def bare() -> Doorway:
    return a_doorway()


def door(kept: Kept) -> Doorway:
    return bare().model_copy(update={"kept": kept})


def own(one: Doorway) -> tuple[Finding, ...]:
    """What the question says on the text alone."""
    return due(asked_of(one, book(), on=ON)[QUESTION])


def asked(
    kept: Kept, said: list[Said], doubts: list[Doubt]
) -> tuple[Due, tuple[Finding, ...]]:
    one = door(kept)
    listed = due_of(one, book(), ON, known=folded(kept, ON, said, doubts))
    assert listed is not None
    return listed, known_findings(one, book(), ON, None, listed)


DAYS = st.dates(ON - timedelta(800), ON + timedelta(20))
KEPT = st.builds(
    Kept, checked=st.none() | DAYS, changed=st.none() | DAYS, fault=st.none() | DAYS
)


def at(day: date, hour: int) -> datetime:
    return datetime(day.year, day.month, day.day, hour, tzinfo=UTC)


SAID = st.builds(
    lambda what, day, hour, source: Said(
        what, day, source, at(day, hour) if hour else None
    ),
    st.sampled_from(("checked", "tested", "changed", "fault")),
    DAYS,
    st.none() | st.integers(6, 18),
    st.sampled_from((RECORD, REPORT)),
)
DOUBTS = st.builds(Doubt, DAYS, st.just(Message("due.doubt.unsealed")), st.booleans())


@given(KEPT)
def test_where_the_text_alone_speaks_its_own_answers_stand(kept: Kept) -> None:
    _, found = asked(kept, [], [])
    assert found == own(door(kept))


@given(KEPT, st.lists(SAID, max_size=4), st.lists(DOUBTS, max_size=2))
def test_the_answers_are_those_of_the_list(
    kept: Kept, said: list[Said], doubts: list[Doubt]
) -> None:
    listed, (regular, after) = asked(kept, said, doubts)
    assert (after.verdict is Verdict.FAILS) == (listed.state == "at once")
    if listed.state == "at once":
        assert after.because == listed.because
        return
    verdict = {
        "overdue": Verdict.FAILS,
        "in time": Verdict.HOLDS,
        "not known": Verdict.NOT_SHOWN,
    }
    assert regular.verdict is verdict[listed.state]
    if listed.day is not None:
        assert regular.because.values["day"] == listed.day.isoformat()
    else:
        assert (regular.because, regular.lacking) == (listed.because, listed.lacking)


def sealed(what: What, day: date) -> Said:
    return Said(what, day, RECORD, at(day, 10), of="ab" * 32)


def test_a_record_is_named_where_the_text_names_no_day() -> None:
    listed, (regular, after) = asked(Kept(), [sealed("checked", MAY)], [])
    assert regular.verdict is Verdict.HOLDS
    assert regular.because == Message(
        "due.known.in_time",
        {"checked": "2026-05-03", "day": "2027-05-03", "source": RECORD},
    )
    assert regular.authority == own(door(Kept()))[0].authority
    assert after.verdict is Verdict.NOT_ASKED
    assert listed.last is not None
    assert listed.last.of == "ab" * 32


@pytest.mark.parametrize(
    ("kept", "said", "other"),
    [
        (Kept(checked=MAY), sealed("checked", MAY), False),
        (Kept(checked=MAY), sealed("checked", MAY + timedelta(1)), True),
        (Kept(), sealed("checked", MAY), True),
    ],
)
def test_who_says_it_is_no_difference_and_another_day_is(
    kept: Kept, said: Said, *, other: bool
) -> None:
    _, found = asked(kept, [said], [])
    assert differs(own(door(kept))[0], found[0]) is other


def test_a_change_that_was_tested_since_is_said_to_be() -> None:
    kept = Kept(checked=MAY, changed=MAY + timedelta(7))
    assert own(door(kept))[1].verdict is Verdict.FAILS
    _, (_, after) = asked(kept, [sealed("tested", MAY + timedelta(9))], [])
    assert (after.verdict, after.because) == (
        Verdict.HOLDS,
        Message("due.known.cleared"),
    )
