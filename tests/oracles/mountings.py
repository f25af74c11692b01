"""Mountings that err: lens moved, unit turned, fan off, all computed exactly."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

import numpy as np

from oracles.doorways import Doorway, Errors, Floats, Unit, directions, lens_of


@dataclass(frozen=True)
class Slip:
    """One error of one unit: dx, dy, dh, turn (x, y, z), and (n,) fan errors."""

    place: Floats
    turn: Floats
    fan: Floats


def rotation(vector: Floats) -> Floats:
    """The rotation by a rotation vector (Rodrigues), (3, 3)."""
    angle = float(np.linalg.norm(vector))
    if angle == 0.0:
        return np.eye(3)
    x, y, z = vector / angle
    k = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    return np.eye(3) + np.sin(angle) * k + (1.0 - np.cos(angle)) * (k @ k)


def slipped(unit: Unit, slip: Slip) -> tuple[Floats, Floats]:
    """Lens (3,) and beam directions (n, 3) of a unit mounted with an error."""
    beams = directions(unit, slip.fan) @ rotation(slip.turn).T
    return lens_of(unit) + slip.place, beams


def spots(unit: Unit) -> int:
    """How many beams a unit has."""
    return sum(len(row.fan) for row in unit.rows)


def random_slip(unit: Unit, errors: Errors, rng: np.random.Generator) -> Slip:
    """Any error within the bounds; half of the time many parts at their limit."""
    scale = rng.choice([1.0, 1.6])
    seven = np.clip(rng.uniform(-scale, scale, 6), -1.0, 1.0)
    fan = np.clip(rng.uniform(-scale, scale, spots(unit)), -1.0, 1.0)
    return _slip(errors, seven, fan)


def corner_slips(unit: Unit, errors: Errors) -> Iterator[Slip]:
    """All 64 corners of place and turn, each with the fan narrow and wide."""
    edge = np.sign(np.concatenate([np.array(row.fan) for row in unit.rows]))
    for signs in product((-1.0, 1.0), repeat=7):
        yield _slip(errors, np.array(signs[:6]), signs[6] * edge)


def mountings(
    doorway: Doorway, count: int, rng: np.random.Generator
) -> Iterator[list[tuple[Floats, Floats]]]:
    """``count`` random mountings of all units, then every corner of each.

    Units err independently: the corners of the second are met in an order of its own.
    """
    for _ in range(count):
        yield [slipped(u, random_slip(u, doorway.errors, rng)) for u in doorway.units]
    corners = [list(corner_slips(u, doorway.errors)) for u in doorway.units]
    orders = [rng.permutation(len(c)) for c in corners]
    for i in range(len(corners[0])):
        yield [
            slipped(u, c[o[i]])
            for u, c, o in zip(doorway.units, corners, orders, strict=True)
        ]


def _slip(errors: Errors, six: Floats, fan: Floats) -> Slip:
    place = np.array([errors.dx, errors.dy, errors.dh]) * six[:3]
    turn = np.array([errors.tilt, errors.roll, errors.yaw]) * six[3:]
    return Slip(place, turn, errors.fan * fan)
