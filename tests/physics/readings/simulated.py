"""Units mounted somehow and read honestly, for rates that are counted."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import radians, sqrt

import numpy as np

from limen.physics.readings.expecting import Taken
from limen.physics.readings.hanging import Known
from limen.physics.readings.resolving import Usual
from oracles.readings import (
    ANGLE_ERROR,
    EVENNESS,
    LENS,
    SETS,
    Mounting,
    curtain,
    drawn,
    read,
)

LEVEL, SCALE = radians(1.0), radians(1.0)
"""How closely units are mounted and their scales set: common practice, no source."""
WRONG = 0.100
"""A tape misread by ten centimetres: m."""


@dataclass(frozen=True)
class Simulated:
    """One unit: how it hangs, what is known, what was read."""

    mounting: Mounting
    known: Known
    taken: tuple[Taken, ...]
    usual: Usual


def simulated(
    name: str, count: int, seed: int, *, bounded: bool = False
) -> Iterator[Simulated]:
    """Units mounted within what is usual, and read by one of the sets."""
    rng = np.random.default_rng(seed)
    sd = LENS / sqrt(3)
    for _ in range(count):
        mounting, taped = drawn(rng, LEVEL)
        own = curtain(inside=mounting.inside)
        taken = tuple(
            read(rng, mounting, own, what, number, bounded=bounded)
            for number, what in enumerate(SETS[name], 1)
        )
        tilt = mounting.tilt + float(rng.uniform(-1, 1)) * (LEVEL + SCALE)
        known = Known(own, taped, (sd, sd, sd), tilt, ANGLE_ERROR, EVENNESS)
        yield Simulated(mounting, known, taken, Usual(tilt, LEVEL, SCALE))


def misread(unit: Simulated, rng: np.random.Generator) -> tuple[int, tuple[Taken, ...]]:
    """The same with one reading off by a decimetre, and which one."""
    place = int(rng.integers(len(unit.taken)))
    one, off = unit.taken[place], WRONG * float(rng.choice([-1.0, 1.0]))
    across = one.kind != "end" and (one.kind != "spot" or bool(rng.integers(2)))
    bad = replace(one, y=one.y + off) if across else replace(one, x=one.x + off)
    taken = (*unit.taken[:place], bad, *unit.taken[place + 1 :])
    return one.number, taken
