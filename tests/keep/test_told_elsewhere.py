"""Call-outs told by a second hand that had not seen the tables of odds.

Asked once, after all sixty were written, and none was changed since: the cause stood
first in 47 and among the first two in 52; 10.3 questions were asked on average, 16.4
from the fixed list, which had 53 among the first two.  It named a cause as found in 40
and was right in 34 of them, though it held itself right in 95 of a hundred.  The bounds
lie a case or two below; no table was fitted to these call-outs.
"""

from pathlib import Path
from statistics import mean

import pytest

from keep.written_cases import Written, asked_in_order, asked_out, written
from limen.keep.causes import NONE, Causes
from limen.keep.tracing import Traced
from limen.store.causes import known_causes

CASES = written(Path(__file__).parent / "written_elsewhere")
FIRST, FIRST_TWO, FOUND_RIGHT = 0.75, 0.85, 0.8
"""Least shares; 0.80 among the first two is what has to be reached."""
OF_THE_LIST = 0.7
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


def test_in_three_of_four_the_cause_stands_first(ends: list[Traced]) -> None:
    hit = [e.ranked[0].cause == c.cause for c, e in zip(CASES, ends, strict=True)]
    assert mean(hit) >= FIRST


def test_in_seventeen_of_twenty_it_is_among_the_first_two(ends: list[Traced]) -> None:
    hit = [
        c.cause in {one.cause for one in e.ranked[:2]}
        for c, e in zip(CASES, ends, strict=True)
    ]
    assert mean(hit) >= FIRST_TWO


def test_three_in_ten_questions_of_the_fixed_list_are_spared(
    causes: Causes, ends: list[Traced]
) -> None:
    fixed = [len(asked_in_order(causes, c.door, c.answers).asked) for c in CASES]
    assert mean(len(one.asked) for one in ends) <= OF_THE_LIST * mean(fixed)


def test_in_four_of_five_what_it_calls_found_is_the_cause(ends: list[Traced]) -> None:
    """It says so of nineteen in twenty: on tales of another hand it is too sure."""
    right = [e.found == c.cause for c, e in zip(CASES, ends, strict=True) if e.found]
    assert mean(right) >= FOUND_RIGHT
