"""Rows and spots that nobody counted: found where one way is plain, tied where not."""

from dataclasses import replace
from math import radians, sqrt

import numpy as np
import pytest

from limen.physics.readings.expecting import Taken
from limen.physics.readings.hanging import Known
from limen.physics.readings.resolving import Usual, apart, explanations
from oracles.readings import (
    ANGLE_ERROR,
    EVENNESS,
    LENS,
    SETS,
    Mounting,
    Wanted,
    curtain,
    true_reading,
)
from physics.readings.simulated import Simulated, simulated


def _opened(taken: tuple[Taken, ...]) -> tuple[Taken, ...]:
    """The same with rows and spots forgotten; a row's end stays its end."""
    return tuple(
        replace(one, row=None, spot=one.spot if one.kind == "end" else None)
        for one in taken
    )


def _distinct(unit: Simulated, taken: tuple[Taken, ...]) -> int:
    found = explanations(unit.known, taken, unit.usual)
    return 1 + sum(apart(found[0], one) for one in found[1:])


@pytest.mark.parametrize("name", ["five spots", "the useful minimum"])
def test_what_was_read_is_numbered_as_it_was(name: str) -> None:
    for drawn in simulated(name, 3, 7):
        usual = replace(drawn.usual, tilt=drawn.mounting.tilt)
        unit, taken = replace(drawn, usual=usual), _opened(drawn.taken)
        found = explanations(unit.known, taken, unit.usual)
        assert _numbers(unit.taken) in [_numbers(one.taken) for one in found]
        assert _distinct(unit, taken) == 1


def _numbers(taken: tuple[Taken, ...]) -> list[tuple[int | None, int | None]]:
    """Row and spot of what was read; to which row an end belongs hardly matters."""
    return [(one.row, one.spot) for one in taken if one.kind != "end"]


def _on_the_fence(tilt: float | None) -> tuple[Known, tuple[Taken, ...], Usual]:
    """Two lines and an end, read at a unit whose rows are 5 degrees apart."""
    mounting = Mounting(radians(-2), 0.0, 0.0, (0.0, 0.15, 2.2), inside=False)
    own = curtain(inside=False)
    wanted = [Wanted("line", 0, -1.0), Wanted("line", 0, 1.0), Wanted("end", 0, 0)]
    taken = [true_reading(mounting, own, one, n) for n, one in enumerate(wanted, 1)]
    sd = LENS / sqrt(3)
    known = Known(own, mounting.lens, (sd, sd, sd), tilt or 0.0, ANGLE_ERROR, EVENNESS)
    return known, _opened(tuple(taken)), Usual(tilt, radians(1), radians(1))


def test_two_rows_are_tied_where_the_scale_was_not_read() -> None:
    known, taken, usual = _on_the_fence(None)
    found = explanations(known, taken, usual)
    rows = {one.taken[0].row for one in found}
    assert rows == {0, 1}
    assert any(apart(found[0], one) for one in found[1:])


def test_two_rows_are_tied_where_the_scale_lies_between_them() -> None:
    known, taken, usual = _on_the_fence(radians(-4.5))
    assert {one.taken[0].row for one in explanations(known, taken, usual)} == {0, 1}


def test_the_scale_tells_rows_apart_that_lie_further_off_than_it_errs() -> None:
    known, taken, usual = _on_the_fence(radians(-2))
    assert {one.taken[0].row for one in explanations(known, taken, usual)} == {0}


def test_spots_that_would_turn_the_unit_as_far_either_way_are_tied() -> None:
    """Read half a pitch off: one spot to the left of it, or to the right."""
    half_a_pitch = 0.5 * 2.6 / 23 / 2.2
    mounting = Mounting(0.0, half_a_pitch, 0.0, (0.0, 0.15, 2.2), inside=False)
    own = curtain(inside=False)
    wanted = [Wanted("spot", 0, 5), Wanted("spot", 0, 11), Wanted("spot", 0, 17)]
    taken = [true_reading(mounting, own, one, n) for n, one in enumerate(wanted, 1)]
    sd = LENS / sqrt(3)
    known = Known(own, mounting.lens, (sd, sd, sd), 0.0, ANGLE_ERROR, EVENNESS)
    usual = Usual(0.0, radians(1), radians(1))
    opened = tuple(replace(one, spot=None) for one in taken)
    found = explanations(known, opened, usual)
    firsts = {one.taken[0].spot for one in found}
    assert firsts >= {5, 4} or firsts >= {5, 6}
    assert any(apart(found[0], one) for one in found[1:])


def test_numbers_that_are_known_are_never_changed() -> None:
    (unit,) = simulated("five spots", 1, 11)
    found = explanations(unit.known, unit.taken, unit.usual)
    assert len(found) == 1
    assert found[0].taken == unit.taken


def test_too_few_readings_explain_nothing() -> None:
    (unit,) = simulated("five spots", 1, 11)
    assert explanations(unit.known, unit.taken[:2], unit.usual) == ()


def test_an_unusual_pose_costs_by_how_far_it_is_from_level_and_square() -> None:
    usual = Usual(radians(-2), radians(1), radians(1))
    pose = np.array([radians(-2), radians(1), 0.0, 0.0, 0.15, 2.2, 1.0])
    assert usual.cost(pose) == pytest.approx(3.0)
    assert usual.cost(pose * 0 + [radians(-2), 0, 0, 0, 0, 0, 0]) == pytest.approx(0)


def test_the_sets_are_read_by_spots_and_lines() -> None:
    kinds = {what.kind for each in SETS.values() for what in each}
    assert kinds == {"spot", "line", "end", "in", "out"}
