"""How a doorway may really be."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.model.doorway import Doorway
from limen.physics.reach import Level, Placed, row_distance
from limen.prove.dead import SHARE, SMEAR, dead_sets, draws, spots_of
from limen.prove.guessing import Scene, scene_of
from limen.prove.imagining import (
    AIMED,
    ERRORS,
    FALL,
    OTHERWISE,
    Fall,
    Fault,
    aimed,
    falls_of,
    faults_of,
    mountings,
)
from prove.doors import DEMO, asked

BODY_TOP = 0.7
Faults = tuple[tuple[Fault, ...], ...]
SLACK = 5e-4  # what is off is turned back in a straight line: an arc less its chord


def _level(scene: Scene) -> tuple[Fall, ...]:
    return ((0.0, 0.0),) * len(scene.units)


def _some(door: str, seed: int = 1) -> tuple[Scene, Faults, np.random.Generator]:
    question = asked(door)
    scene = scene_of(question)
    faults = faults_of(question["presence.leaf_path"].doorway, scene.ways)
    return scene, faults, np.random.default_rng(seed)


@given(seed=st.integers(0, 10_000), door=st.sampled_from(DEMO))
def test_no_spot_stands_further_off_than_the_proof_allows(seed: int, door: str) -> None:
    """At every height that counts, against the bounds of `physics.tolerance`."""
    scene, _, chance = _some(door, seed)
    for unit in scene.units:
        if not isinstance(unit, Placed):
            continue
        off = chance.uniform(-1.0, 1.0, ERRORS)
        found = aimed(unit, off, chance)
        assert isinstance(found, Placed)
        beams, real = unit.beams(), found.beams()
        bounds = unit.bounds(beams, (0.0, BODY_TOP))
        most = bounds.common + bounds.residual + SLACK
        for height in np.linspace(0.0, BODY_TOP, 4):
            drop = found.lens[2] - height
            there = np.array(found.lens[:2]) + drop * found.slopes(real)
            moved = there - (
                np.array(unit.lens[:2]) + (unit.lens[2] - height) * unit.slopes(beams)
            )
            assert (np.abs(moved) <= most).all()


@pytest.mark.parametrize("door", DEMO)
def test_mountings_are_as_likely_together_as_it_is_that_one_of_them_is_true(
    door: str,
) -> None:
    scene, faults, chance = _some(door)
    found = mountings(scene.ways, faults, _level(scene), chance)
    weights = np.array([mounting.weight for mounting in found])
    assert weights.sum() == pytest.approx(1.0)
    able = sum(1 for some in faults if some)
    assert weights[:AIMED].sum() == pytest.approx((1 - OTHERWISE) ** able)
    assert len({len(mounting.units) for mounting in found}) == 1


def test_a_unit_set_otherwise_is_a_mark_off_or_narrower_or_has_a_row_less() -> None:
    scene, faults, chance = _some("main")
    plan = scene.units[0]
    assert isinstance(plan, Placed)
    for fault in faults[0]:
        found = fault(plan, 0, chance)
        tilted = found.attitude != plan.attitude
        rows = len(found.rows_on) < len(plan.rows_on)
        fans = zip(found.fan.angles, plan.fan.angles, strict=True)
        other = any(not np.array_equal(a, b) for a, b in fans)
        assert tilted or rows or other


def test_a_fan_that_was_read_at_the_door_is_not_doubted() -> None:
    """The corrected escape door's row ends were read; the main entrance's were not."""
    read, faults, _ = _some("escape")
    assert len(faults) == len(read.units)
    whole = {len(some) for some in faults}
    rows = {len(u.rows_on) for u in read.units if isinstance(u, Placed)}
    assert whole == {3 + (n if n > 1 else 0) for n in rows}


@pytest.mark.parametrize("door", DEMO)
def test_what_is_drawn_is_weighed_back_to_how_likely_it_is(door: str) -> None:
    scene, faults, chance = _some(door)
    found = mountings(scene.ways, faults, _level(scene), chance)
    drawn = draws([m.weight for m in found], AIMED, scene.units, chance)
    assert drawn.weights.sum() == pytest.approx(1.0)
    some = np.column_stack([dead.any(axis=1) for dead in drawn.dead])
    able = len(scene.units)
    assert drawn.weights @ ~some.any(axis=1) == pytest.approx((1 - SHARE) ** able, 0.05)
    shares = drawn.weights @ some
    for share in shares:
        assert share == pytest.approx(SHARE, rel=0.25)


def test_dead_are_one_spot_two_neighbours_or_the_same_few_of_every_row() -> None:
    scene, _, _ = _some("main")
    unit = scene.units[0]
    assert isinstance(unit, Placed)
    rows, spots = len(unit.rows_on), len(unit.fan.angles[0])
    sizes = [len(dead.spots) for dead in dead_sets(unit)]
    assert sizes.count(1) == rows * spots
    assert sizes.count(2) == rows * (spots - 1)
    assert sizes.count(SMEAR * rows) == spots - SMEAR + 1
    assert sum(dead.weight for dead in dead_sets(unit)) == pytest.approx(1.0)
    assert max(max(dead.spots) for dead in dead_sets(unit)) < spots_of(unit)


def test_a_barrier_has_beams_that_fail_one_by_one() -> None:
    barrier = Level("barrier", ((0.05, 0.2), (0.05, 0.5)))
    assert [dead.spots for dead in dead_sets(barrier)] == [(0,), (1,)]
    off = np.zeros(ERRORS)
    assert aimed(barrier, off, np.random.default_rng(0)) == barrier


def test_the_same_chance_imagines_the_same() -> None:
    one, other = (
        mountings(scene.ways, faults, _level(scene), chance)
        for scene, faults, chance in (_some("staff", 5), _some("staff", 5))
    )
    lenses = [
        [u.lens for m in some for u in m.units if isinstance(u, Placed)]
        for some in (one, other)
    ]
    assert lenses[0] == lenses[1]


def _unread(door: str) -> tuple[Scene, Doorway]:
    """A doorway's scene, and the doorway with no row read at it."""
    question = asked(door)
    doorway = question["presence.leaf_path"].doorway
    none = {"read": doorway.fitting[0].read.model_copy(update={"first_row": None})}
    fittings = tuple(one.model_copy(update=none) for one in doorway.fitting)
    return scene_of(question), doorway.model_copy(update={"fitting": fittings})


@pytest.mark.parametrize("door", DEMO)
def test_only_where_no_row_was_read_may_the_floor_outside_fall_away(door: str) -> None:
    scene, unread = _unread(door)
    outside = {one.id for one in unread.fitting if one.side == "outside"}
    falls = falls_of(unread, scene.ways)
    for unit, fall in zip(scene.units, falls, strict=True):
        assert fall == (FALL if unit.fitting in outside else (0.0, 0.0))
    read = falls_of(asked(door)["presence.leaf_path"].doorway, scene.ways)
    assert sum(most for _, most in read) <= sum(most for _, most in falls)


def test_over_a_floor_that_falls_away_rows_land_further_out() -> None:
    scene, faults, chance = _some("main")
    level = mountings(scene.ways, faults, _level(scene), chance)[:AIMED]
    scene, faults, chance = _some("main")
    most = FALL[1]
    falling = [(most, most)] * len(scene.units)
    fallen = mountings(scene.ways, faults, falling, chance)[:AIMED]
    plan = scene.units[0]
    assert isinstance(plan, Placed)
    out = plan.lens[2] * most
    for one, other in zip(level, fallen, strict=True):
        for unit, leaning in zip(one.units, other.units, strict=True):
            if isinstance(unit, Placed) and isinstance(leaning, Placed):
                moved = row_distance(leaning, 0, 0.0) - row_distance(unit, 0, 0.0)
                assert moved == pytest.approx(out, rel=0.1)
