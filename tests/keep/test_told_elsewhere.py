"""Call-outs told by a second hand that had not seen the tables of odds.

Asked blind, once, after all sixty were written, and none was changed since: the cause
stood first in 47 (78 %) and among the first two in 52 (87 %); 10.3 questions were asked
on average, 16.4 from the fixed list, which had 53 among the first two.  It named a
cause as found in 40 and was right in 34 of them, though it held itself right in 95 of a
hundred.

Then their writer said which rows of the tables lack something, and the tables were
mended where physics bears that out; what was said came from these call-outs, so what
follows is no longer blind.  Now the cause stands first in 52 and among the first two in
55, after 10.7 questions instead of 18.6 (the list has one more, and 55 as well); of 41
found 37 are right, and 97 of a hundred are said.  The bounds lie a case or two below.
"""

from pathlib import Path
from statistics import mean

import pytest

from keep.written_cases import Written, asked_in_order, asked_out, written
from limen.keep.causes import NONE, Causes
from limen.keep.tracing import Traced
from limen.store.causes import known_causes

CASES = written(Path(__file__).parent / "written_elsewhere")
FIRST, FIRST_TWO, FOUND_RIGHT = 0.83, 0.88, 0.85
"""Least shares; 0.80 among the first two is what has to be reached."""
OF_THE_LIST = 0.6
"""Most questions, against the fixed list."""


@pytest.fixture(scope="module")
def causes() -> Causes:
    return known_causes()


@pytest.fixture(scope="module")
def ends(causes: Causes) -> list[Traced]:
    return [asked_out(causes, one.door, one.answers) for one in CASES]


@pytest.mark.parametrize("case", CASES, ids=lambda one: one.tells[:40])
def test_it_speaks_in_questions_that_there_are_and_that_the_door_can_be_asked(
    case: Written, causes: Causes
) -> None:
    assert case.cause in {one.id for one in causes.causes}
    for question, answer in case.answers.items():
        asking = causes.by_id[question]
        assert answer in asking.usual
        assert asking.needs is None or asking.needs in case.door.has


def test_there_are_sixty_and_every_cause_is_among_them(causes: Causes) -> None:
    assert len(CASES) == 60
    assert {one.cause for one in CASES} | {NONE} == {one.id for one in causes.causes}


def test_in_five_of_six_the_cause_stands_first(ends: list[Traced]) -> None:
    hit = [e.ranked[0].cause == c.cause for c, e in zip(CASES, ends, strict=True)]
    assert mean(hit) >= FIRST


def test_in_seven_of_eight_it_is_among_the_first_two(ends: list[Traced]) -> None:
    hit = [
        c.cause in {one.cause for one in e.ranked[:2]}
        for c, e in zip(CASES, ends, strict=True)
    ]
    assert mean(hit) >= FIRST_TWO


def test_four_in_ten_questions_of_the_fixed_list_are_spared(
    causes: Causes, ends: list[Traced]
) -> None:
    fixed = [len(asked_in_order(causes, c.door, c.answers).asked) for c in CASES]
    assert mean(len(one.asked) for one in ends) <= OF_THE_LIST * mean(fixed)


def test_in_six_of_seven_what_it_calls_found_is_the_cause(ends: list[Traced]) -> None:
    """It says so of 97 in a hundred: on tales of another hand it is too sure."""
    right = [e.found == c.cause for c, e in zip(CASES, ends, strict=True) if e.found]
    assert mean(right) >= FOUND_RIGHT
