"""Whether a body is missed somewhere, by proof; and which bodies beams meet."""

from dataclasses import replace
from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.geometry.boxes import Box
from limen.physics.coverage import meets
from limen.physics.coverage import pose as one_pose
from limen.physics.coverage.pose import admissible
from limen.physics.reach import Body, Place
from limen.prove.casting import Thrown, gaps, met
from limen.prove.dead import dead_sets, spots_of
from limen.prove.guessing import scene_of
from limen.prove.holes import asked_cases, missed_by
from limen.questions.coverage import Case
from prove.doors import DEMO, asked, cast, prover_of

CLOSE = 1e-12
seeds = st.integers(0, 10_000)


@given(seed=seeds, door=st.sampled_from(DEMO), face=st.integers(0, 2))
def test_many_poses_at_once_are_met_as_one_by_one(
    seed: int, door: str, face: int
) -> None:
    """Against `physics.coverage.pose`, which every witness is checked with."""
    rng, scene = np.random.default_rng(seed), scene_of(asked(door))
    case, units = scene.cases[face], scene.units
    poses = [
        (float(x), float(y), float(turn))
        for x, y, turn in rng.uniform((-1, -0.4, -pi / 2), (1, 0.4, pi / 2), (5, 3))
    ]
    problem = scene.ground.problem(units, case.place, case.body, exact=True)
    throws = cast(scene, units)
    lines = [t[case.body].lines[t[case.body].lit] for t in throws]
    for number, pose in enumerate(poses):
        alone = one_pose.gaps(problem, pose, errors=False)
        many = np.concatenate([gaps(some, case.body, poses)[number] for some in lines])
        assert np.sort(many) == pytest.approx(np.sort(alone), abs=CLOSE)
        counts = [met(some, case.body, poses)[number].sum() for some in lines]
        assert counts == meets(problem, pose).tolist()
        reached = (np.array(counts) >= problem.needed).any()
        assert reached == (missed_by(throws, case.body, poses)[number] <= 0.0)


@given(seed=seeds, door=st.sampled_from(DEMO))
def test_dead_spots_are_judged_about_them_as_everywhere(seed: int, door: str) -> None:
    """Asked only where a dead spot met the body, against the whole proof anew."""
    rng, scene = np.random.default_rng(seed), scene_of(asked(door))
    throws, prover = cast(scene, scene.units), prover_of(scene)
    assert prover.anywhere(throws) is None
    dead = [np.zeros(spots_of(unit), np.bool_) for unit in scene.units]
    sets = dead_sets(scene.units[0])
    dead[0][list(sets[int(rng.integers(len(sets)))].spots)] = True
    without = tuple(
        {body: replace(own, lit=own.lit & ~gone) for body, own in unit.items()}
        for unit, gone in zip(throws, dead, strict=True)
    )
    about, everywhere = prover.about(throws, dead), prover.anywhere(without)
    assert (about is None) == (everywhere is None)
    if about is not None:
        room = missed_by(throws, about.case.body, [about.pose], dead)
        assert room[0] > 0.0
        for spot in prover.set_out(about, throws, dead):
            asks = scene.ground.problem((), about.case.place, spot.body, exact=True)
            assert admissible(asks, spot.pose)
            assert missed_by(throws, spot.body, [spot.pose], dead)[0] > 0.0


def test_rows_out_of_place_are_found() -> None:
    """The demo's main entrance as found: its inner rows are 250 mm apart."""
    scene = scene_of(asked("main", "as-found"))
    found = prover_of(scene).anywhere(cast(scene, scene.units))
    assert found is not None
    throws = cast(scene, scene.units)
    assert missed_by(throws, found.case.body, [found.pose])[0] > 0.0


def test_rows_that_pause_do_not_count_in_that_state() -> None:
    body = Body("upright", 0.3, 0.2, 0.7)
    row = np.array([0, 0, 1])
    own = Thrown(np.zeros((3, 6)), np.ones(3, np.bool_), row, 1)
    case = Case("", body, Place(Box(0, 1, 0, 1), None), pausing=(("in", (1,)),))
    assert own.counted(case, "in").tolist() == [True, True, False]
    assert own.counted(case, "out").all()
    muted = replace(case, muted=frozenset({"in"}))
    assert not own.counted(muted, "in").any()


def test_a_case_is_left_out_where_another_asks_for_all_of_its_poses() -> None:
    body = Body("upright", 0.3, 0.2, 0.7)
    path = Box(-1.0, 1.0, -0.02, 0.02)
    wide = Case("path", body, Place(path.grown(0.2, 0.2), path))
    line = Case("line", body, Place(path, None))
    far = Case("far", body, Place(path.grown(0.0, 0.2), None))
    paused = replace(line, pausing=(("in", (0,)),))
    assert asked_cases([wide, line, far, paused]) == (wide, far, paused)
