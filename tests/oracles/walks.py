"""People who walk to a door one by one, step by step: its own radar, its own leaf.

Nothing of `limen` is used.  A walker moves by small steps; the radar is asked at
each; once it has noticed without a break for its response the operator waits and a
leaf is driven by rule: gain speed, keep it, brake in time.  Whoever, near the
leaves, is not wholly within what is free was late.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
STEP = 0.005  # m walked between two looks
FAR = 8.0  # m at which a walk begins
TICK = 0.0005  # s between two states of the leaf


@dataclass(frozen=True)
class Door:
    """A doorway seen from outside, with a radar of a Gaussian beam."""

    half: float
    hand: str | None
    leaf_speed: float
    leaf_gain: float
    delay: float
    height: float
    out: float
    tilt: float
    across: float
    ahead: float
    reach: float
    least: float
    response: float
    aside: float
    deep: float
    steepest: float
    target: float
    looks_at: float = 1.0
    start: float = np.inf


def a_door(rng: np.random.Generator) -> Door:
    """A doorway of likely figures."""
    hand = [None, None, "left", "right"][rng.integers(4)]
    return Door(
        half=rng.uniform(0.55, 0.7) if hand else rng.uniform(0.7, 1.3),
        hand=hand,
        leaf_speed=rng.uniform(0.35, 0.9),
        leaf_gain=rng.uniform(0.6, 2.5),
        delay=rng.uniform(0.1, 0.6),
        height=rng.uniform(2.0, 3.0),
        out=rng.uniform(0.08, 0.3),
        tilt=np.radians(rng.uniform(25, 50)),
        across=np.radians(rng.uniform(40, 100)),
        ahead=np.radians(rng.uniform(25, 50)),
        reach=rng.uniform(3.5, 6.0),
        least=rng.uniform(0.05, 0.25),
        response=rng.uniform(0.05, 0.3),
        aside=rng.uniform(0.3, 0.4),
        deep=rng.uniform(0.2, 0.35),
        steepest=np.radians(rng.uniform(5, 60)),
        target=rng.uniform(0.0, 0.1),
        start=np.inf if rng.random() < 0.7 else rng.uniform(1.5, 3.0),
    )


@dataclass(frozen=True)
class Walks:
    """Some walks: where from, where to, how quickly."""

    heading: Array
    target: Array
    speed: Array


def some_walks(
    door: Door, rng: np.random.Generator, count: int, mean: float, spread: float
) -> Walks:
    """Walks that fit through the opening, speeds normal but never backwards."""
    kept: list[Array] = []
    while sum(len(rows) for rows in kept) < count:
        heading = rng.uniform(-door.steepest, door.steepest, count)
        target = rng.uniform(-door.target, door.target, count)
        speed = rng.normal(mean, spread, count)
        room = door.half - door.aside - door.deep * np.tan(np.abs(heading))
        good = (np.abs(target) <= room) & (speed > 0.0)
        kept.append(np.column_stack([heading, target, speed])[good])
        assert good.any()
    rows = np.concatenate(kept)[:count]
    return Walks(rows[:, 0], rows[:, 1], rows[:, 2])


def late(door: Door, walks: Walks) -> NDArray[np.bool_]:
    """Which of the walkers find the door too narrow, walking step by step."""
    way = _leaf(door)
    dt = STEP / walks.speed
    noticing = np.zeros_like(dt)
    signal = np.full_like(dt, np.inf)
    missed = np.zeros(len(dt), dtype=bool)
    begin = min(FAR, door.start)
    for left in np.arange(begin, -door.deep / np.cos(door.steepest) - STEP, -STEP):
        x = walks.target + left * np.sin(walks.heading)
        y = left * np.cos(walks.heading)
        now = (begin - left) / walks.speed
        seen = _seen(door, x, y, walks)
        noticing = np.where(seen, noticing + dt, 0.0)
        told = np.isinf(signal) & (noticing - dt >= door.response - 1e-12)
        signal = np.where(told, now, signal)
        right, other = _free(door, way, now - signal)
        inside = (x + door.aside <= right) & (x - door.aside >= other)
        missed |= (np.abs(y) <= door.deep) & ~inside
    return missed


def _seen(door: Door, x: Array, y: Array, walks: Walks) -> NDArray[np.bool_]:
    """Whether the radar notices them now: near enough, quick enough towards it."""
    dx, dy, dz = x, y - door.out, np.full_like(x, door.looks_at - door.height)
    far = np.sqrt(dx**2 + dy**2 + dz**2)
    ahead = dy * np.sin(door.tilt) - dz * np.cos(door.tilt)
    up = dy * np.cos(door.tilt) + dz * np.sin(door.tilt)
    off = np.arccos(np.clip(ahead / far, -1.0, 1.0))
    side = np.arctan2(dx, up)
    square = (2 * off * np.sin(side) / door.across) ** 2
    square += (2 * off * np.cos(side) / door.ahead) ** 2
    reach = np.where(ahead > 0, door.reach * 2.0 ** (-square / 2), 0.0)
    vx = -walks.speed * np.sin(walks.heading)
    vy = -walks.speed * np.cos(walks.heading)
    closing = -(vx * dx + vy * dy) / far
    return (far <= reach) & (closing >= door.least)


def _leaf(door: Door) -> Array:
    """The way of a leaf at every tick from the moment it starts."""
    stroke = 2 * door.half if door.hand else door.half
    way, speed, ways = 0.0, 0.0, [0.0]
    while stroke - way > 1e-5 and len(ways) < 100_000:
        brakes = speed**2 / (2 * door.leaf_gain) >= stroke - way
        speed += (-1 if brakes else 1) * door.leaf_gain * TICK
        speed = min(max(speed, 1e-4), door.leaf_speed)
        way += speed * TICK
        ways.append(min(way, stroke))
    ways.append(stroke)
    return np.array(ways)


def _free(door: Door, way: Array, since: Array) -> tuple[Array, Array]:
    """How far is free to the right and to the left, so long after the signal."""
    ticks = np.where(np.isfinite(since), (since - door.delay) / TICK, -1.0)
    done = np.where(ticks < 0, 0.0, np.interp(ticks, np.arange(len(way)), way))
    if door.hand == "right":
        return done - door.half, np.full_like(done, -door.half)
    if door.hand == "left":
        return np.full_like(done, door.half), door.half - done
    return done, -done
