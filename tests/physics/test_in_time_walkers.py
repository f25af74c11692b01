"""Straight walkers against those of a simulator of pedestrians.

JuPedSim 1.4 (Forschungszentrum Jülich), its collision-free speed model: Tordeux, A.,
Chraibi, M. and Seyfried, A. (2016), Collision-free speed model for pedestrian
dynamics, Traffic and Granular Flow '15, 225-232, section 2.  One walker alone goes
straight at the desired speed; so a door is as late for this walker as it is for ours,
to within one step of time.  That it is installed beside the environment, and how,
stands in `./run`; limen never needs it.
"""

import sys
from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from math import cos, isfinite, radians, sin
from typing import Any

import numpy as np
import pytest

from health.tree import ROOT
from limen.physics.in_time_edges import Array, edges_of
from limen.physics.in_time_walk import LOOK, walked
from limen.physics.leaf import Opening
from limen.physics.radar import Radar
from limen.physics.walking import Walk, Walker
from oracles.walks import a_door
from physics.crossings import opening_of, radar_of

pytestmark = pytest.mark.slow

CROWD = ROOT / ".venv" / "crowd"
STEP = 0.01
"""s: the step of time of the simulator."""
BEYOND = 1.5
"""m that a walker goes on behind the leaves."""
GROUND = [(-15.0, -15.0), (15.0, -15.0), (15.0, 15.0), (-15.0, 15.0)]
"""Open ground: nothing there to keep away from."""
WALKS = 40
TABLE = 1e-3
"""s between two states of the opening, to find when so much of it is free."""
FAR = 7.0
"""m from the leaves at which walks begin, where nothing makes them begin nearer."""


@dataclass(frozen=True)
class Trail:
    """Where a walker was at each step of time: s, and x and y in m."""

    times: Array
    x: Array
    y: Array


Trace = Callable[[Walk], Trail]


@pytest.fixture(scope="module")
def trace() -> Trace:
    """Walks of the simulator, which has to be there."""
    if str(CROWD) not in sys.path:
        sys.path.append(str(CROWD))
    try:
        crowd = import_module("jupedsim")
    except ImportError as error:  # pragma: no cover - where it was not installed
        pytest.fail(f"no simulator of pedestrians in {CROWD}: ./run crowd ({error})")
    return lambda walk: _trail(crowd, walk)


def _trail(crowd: Any, walk: Walk) -> Trail:
    """One walker alone, from the start of the walk until behind the leaves."""
    simulation = crowd.Simulation(
        model=crowd.CollisionFreeSpeedModel(), geometry=GROUND, dt=STEP
    )
    goal = simulation.add_waypoint_stage(walk.at(-2 * BEYOND), 0.1)
    journey = simulation.add_journey(crowd.JourneyDescription([goal]))
    walker = simulation.add_agent(
        crowd.CollisionFreeSpeedModelAgentParameters(
            position=walk.at(walk.start),
            journey_id=journey,
            stage_id=goal,
            desired_speed=walk.speed,
        )
    )
    rows: list[tuple[float, float, float]] = []
    for _ in range(int((walk.start + BEYOND) / walk.speed / STEP)):
        x, y = simulation.agent(walker).position
        rows.append((simulation.elapsed_time(), x, y))
        simulation.iterate()
    times, x, y = np.array(rows).T
    return Trail(times, x, y)


def _reached(trail: Trail, y: float) -> float:
    """When a walker comes to a distance from the leaves, between two steps (s)."""
    return float(np.interp(-y, -trail.y, trail.times))


def test_one_adult_crosses_four_and_a_half_metres_in_336_steps(trace: Trace) -> None:
    # 4.5 m at 1.34 m/s are 3.358 s.
    trail = trace(Walk(0.0, 0.0, 1.34, 4.5))
    first = int(np.argmax(trail.y <= 0.0))
    assert trail.times[first] == pytest.approx(3.36, abs=1e-9)


@pytest.mark.parametrize("heading", [0.0, 20.0, -35.0, 60.0])
@pytest.mark.parametrize("speed", [0.4, 0.8, 1.34, 2.2, 4.0])
def test_a_straight_walk_is_at_every_step_where_ours_is(
    trace: Trace, heading: float, speed: float
) -> None:
    walk = Walk(radians(heading), 0.1, speed, 4.5)
    trail = trace(walk)
    left = walk.start - speed * trail.times
    x = walk.target + left * sin(walk.heading)
    y = left * cos(walk.heading)
    off = np.hypot(trail.x - x, trail.y - y)
    assert float(np.max(off)) <= speed * STEP
    assert abs(_reached(trail, 0.0) - walk.start / speed) <= STEP


def _noticed(trail: Trail, radar: Radar, height: float) -> float:
    """When the operator is told, asking at every step of the trail (s)."""
    points = np.column_stack([trail.x, trail.y, np.full_like(trail.x, height)])
    going = np.gradient(points, trail.times, axis=0)
    seen = radar.detects(points, going)
    held = round(radar.response / STEP)
    for step in np.flatnonzero(seen):
        if step + held < len(seen) and seen[step : step + held + 1].all():
            return float(trail.times[step]) + radar.response
    return float("inf")


def _lateness(trail: Trail, opening: Opening, walker: Walker, signal: float) -> float:
    """By how much the opening comes too late for a trail (s)."""
    since = np.arange(0.0, 20.0, TABLE)
    left, right = opening.free(since)
    before = np.linspace(
        _reached(trail, walker.ahead), _reached(trail, -walker.ahead), 2001
    )
    x = np.interp(before, trail.times, trail.x)
    # Both ends only ever move outward.
    needed_right = np.interp(x + walker.aside, right, since, left=0.0)
    needed_left = np.interp(walker.aside - x, -left, since, left=0.0)
    return float(np.max(np.maximum(needed_right, needed_left) - before)) + signal


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_door_is_as_late_for_their_walker_as_for_ours(
    trace: Trace, seed: int
) -> None:
    rng = np.random.default_rng(seed)
    compared = 0
    for _ in range(WALKS):
        door = a_door(rng)
        walk = Walk(
            rng.uniform(-door.steepest, door.steepest),
            rng.uniform(-door.target, door.target),
            rng.uniform(0.4, 3.0),
            min(FAR, door.start),
        )
        room = door.half - door.aside - door.deep * abs(np.tan(walk.heading))
        if abs(walk.target) > room:
            continue  # too steep to fit at all
        radar, opening = radar_of(door), opening_of(door)
        walker = Walker(door.aside, door.deep)
        edges = edges_of(opening, 1.0)
        ours = walked(walk, [radar], edges, walker, 1.0, door.looks_at)
        trail = trace(walk)
        signal = _noticed(trail, radar, door.looks_at)
        assert isfinite(ours.late) == isfinite(signal)
        if not isfinite(signal):
            continue
        compared += 1
        # A step of theirs, a look of ours, a state of each table.
        near = STEP + 2 * LOOK / walk.speed + 2 * TABLE
        crossed = walk.start / walk.speed
        assert abs(signal - (crossed + ours.signal)) <= near
        assert abs(_lateness(trail, opening, walker, signal) - ours.late) <= near
    assert compared >= WALKS // 3
