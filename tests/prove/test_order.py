"""Our order of tests against others, on mountings with hidden faults and without.

What is claimed in docs/method/next-test.md is checked here: 2,000 mountings with a hole
and 2,000 without, drawn as they are guessed and such as nobody guesses them.  `bench/
prove.py` prints the same figures.
"""

from collections.abc import Sequence
from math import sqrt

import numpy as np
import pytest

from prove.doors import DEMO, planned
from prove.mountings import KINDS, LOOKS, Door, Summary, door_of, tallies

DOORS, EACH, SPARE = 25, 80, 15
FEW, SOME = 2, 60
POINTS = 0.05


@pytest.fixture(scope="module")
def few() -> Summary:
    """A few mountings of the first doorways made by a seed, drawn as guessed."""
    first = len(DEMO)
    doors = [door_of(question) for question in planned(first + FEW)[first:]]
    return tallies(doors, KINDS["as guessed"], SOME, FEW)


@pytest.fixture(scope="module")
def several() -> list[Door]:
    """25 doorways, and some to take the place of those a kind leaves no doubt of."""
    return [door_of(question) for question in planned(DOORS + SPARE)]


def test_a_few_holes_are_found_sooner_than_by_room_and_than_by_raster(
    few: Summary,
) -> None:
    ours, room, raster = few.places.mean(axis=0)
    assert ours < room < raster


def test_what_is_thought_of_a_doorway_is_what_it_is_like(few: Summary) -> None:
    said, was = few.overall
    assert abs(said - was) < POINTS


@pytest.mark.slow
@pytest.mark.parametrize("name", KINDS)
def test_holes_are_found_sooner_than_by_room_and_than_by_raster(
    several: Sequence[Door], name: str
) -> None:
    """2,000 with a hole, 2,000 without; also where the truth is not as it is guessed.

    What is thought is right to five points beside what chance leaves open: two standard
    errors, the looks at one mounting counted once.
    """
    found = tallies(several, KINDS[name], EACH, DOORS)
    assert found.with_hole == found.without == DOORS * EACH
    median, late = np.percentile(found.places, (50, 95), axis=0)
    assert median[0] < median[1] < median[2]
    assert late[0] <= late[1] <= late[2]
    mean = found.places.mean(axis=0)
    assert mean[0] < mean[1] < mean[2]
    for one in found.bins:
        chance = 2 * sqrt(one.was * (1 - one.was) * len(LOOKS) / one.looks)
        assert abs(one.said - one.was) < POINTS + chance, (name, one)
