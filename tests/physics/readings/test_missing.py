"""What is refused becomes solvable once what was named is taped."""

from dataclasses import replace
from itertools import combinations
from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limen.physics.readings.expecting import ALONG, Kind, Taken
from limen.physics.readings.hanging import Known, determined, hang
from limen.physics.readings.missing import LENS as FIGURES
from limen.physics.readings.missing import USEFUL, Missing, missing, read_at
from oracles.readings import ANGLE_ERROR, EVENNESS, LENS, SETS, WITHIN, curtain, drawn
from oracles.readings import read as honest

CLOSELY: dict[Kind, float] = {
    "spot": 0.005,
    "line": 0.005,
    "end": 0.010,
    "in": 0.008,
    "out": 0.008,
}


@st.composite
def incomplete(draw: st.DrawFn) -> tuple[int, tuple[bool, ...], tuple[int, ...], str]:
    name = draw(st.sampled_from(sorted(SETS)))
    picked = draw(st.sets(st.integers(0, len(SETS[name]) - 1)))
    taped = tuple(draw(st.booleans()) for _ in range(3))
    return draw(st.integers(0, 2**31)), taped, tuple(sorted(picked)), name


@given(incomplete())
@settings(max_examples=60)
def test_whatever_is_refused_is_determined_once_what_was_named_is_taped(
    case: tuple[int, tuple[bool, ...], tuple[int, ...], str],
) -> None:
    seed, taped, picked, name = case
    rng = np.random.default_rng(seed)
    mounting, lens = drawn(rng)
    own = curtain(inside=mounting.inside)
    sd = LENS / sqrt(3)
    first, second, third = (sd if one else None for one in taped)
    known = Known(
        own, lens, (first, second, third), mounting.tilt, ANGLE_ERROR, EVENNESS
    )
    taken = [
        honest(rng, mounting, own, SETS[name][place], place + 1) for place in picked
    ]
    wanted = missing(known, taken, CLOSELY, LENS)
    assert (wanted == ()) == determined(known, taken, known.begin())
    known, taken = _taped(known, taken, wanted)
    found = hang(known, taken)
    assert determined(known, taken, found.pose)


def _taped(
    known: Known, taken: list[Taken], wanted: tuple[Missing, ...]
) -> tuple[Known, list[Taken]]:
    """The same with everything taped that was named, where the plan expects it."""
    spreads = list(known.taped)
    for thing in wanted:
        if not thing.where:
            spreads[FIGURES.index(thing.what)] = LENS / sqrt(3)
    more = [
        read_at(known, thing, CLOSELY, 90 + n)
        for n, thing in enumerate(wanted)
        if thing.where
    ]
    first, second, third = spreads
    return replace(known, taped=(first, second, third)), [*taken, *more]


def _plain(taped: bool = True) -> Known:
    mounting, lens = drawn(np.random.default_rng(3))
    sd = LENS / sqrt(3) if taped else None
    own = curtain(inside=mounting.inside)
    return Known(own, lens, (sd, sd, sd), mounting.tilt, ANGLE_ERROR, EVENNESS)


def test_nothing_read_asks_for_both_lines_and_an_end() -> None:
    wanted = missing(_plain(), (), CLOSELY, LENS)
    assert wanted == (
        Missing("line", "left"),
        Missing("line", "right"),
        Missing("end", "left"),
    )


def test_a_height_that_was_not_taped_is_asked_for_first() -> None:
    known = _plain()
    own = replace(known, taped=(known.taped[0], known.taped[1], None))
    lines = [read_at(own, one, CLOSELY, n) for n, one in enumerate(USEFUL[:3], 1)]
    assert missing(own, lines, CLOSELY, LENS) == (Missing("height"),)


def test_no_smaller_set_would_do() -> None:
    known = _plain(taped=False)
    wanted = missing(known, (), CLOSELY, LENS)
    for fewer in combinations(wanted, len(wanted) - 1):
        own, taken = _taped(known, [], fewer)
        assert not determined(own, taken, own.begin())


@pytest.mark.parametrize("side", [False, True])
def test_the_useful_minimum_is_where_the_first_row_runs_and_ends(side: bool) -> None:
    known = replace(_plain(), curtain=curtain(inside=side))
    left, right = (read_at(known, USEFUL[which], CLOSELY) for which in (2, 3))
    middle = known.begin()[ALONG]
    assert left.x < middle < right.x
    assert (left.spot, right.spot) == (0, 23)


def test_readings_are_named_as_closely_as_the_simulation_reads() -> None:
    assert dict(CLOSELY) == WITHIN
