"""A second way to what a unit shows on the floor, by SciPy's rotations and by search.

Nothing here comes from limen but the tables in which a reading is kept.  A row is a
thousand beams; where it runs is read off between them, where a box is met is looked
for.  Angles turn about z, x, y and x again, intrinsic; an inside unit is turned by
half a turn about z.
"""

from dataclasses import dataclass, replace
from math import atan, nan, pi, radians

import numpy as np
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from limen.physics.readings.expecting import Curtain, Taken

Floats = NDArray[np.float64]
EVENNESS = 0.003
ANGLE_ERROR = radians(0.05)
LENS = 0.005
"""How closely the lens is taped, half-width (m)."""
WITHIN = {"spot": 0.005, "line": 0.005, "end": 0.010, "in": 0.008, "out": 0.008}
FOUND = ("spot", "line", "end")
"""Kinds that a finder shows."""
ALONG = 0.020


@dataclass(frozen=True)
class Mounting:
    """How a unit hangs: angles (rad), lens x, y, h (m), on which side."""

    tilt: float
    roll: float
    yaw: float
    lens: tuple[float, float, float]
    inside: bool

    @property
    def pose(self) -> Floats:
        """The same as limen's vector, its rows as wide as stated."""
        return np.array([self.tilt, self.roll, self.yaw, *self.lens, 1.0])


@dataclass(frozen=True)
class Wanted:
    """A reading to be taken: its kind, row, and spot, or how far along (m)."""

    kind: str
    row: int
    at: float


def curtain(*, inside: bool) -> Curtain:
    """Two rows of 24 spots, 2.6 m wide from 2.2 m, equal on the floor."""
    fan = np.arctan(np.linspace(-1.3, 1.3, 24) / 2.2)
    return Curtain(inside, (0.0, radians(5)), (fan, fan), (0, 1), low=0.05)


def drawn(
    rng: np.random.Generator, level: float = radians(1.5)
) -> tuple[Mounting, tuple[float, float, float]]:
    """A mounting, and where its lens was taped."""
    inside = bool(rng.integers(2))
    away = -1.0 if inside else 1.0
    taped = (
        float(rng.uniform(-0.3, 0.3)),
        away * float(rng.uniform(0.12, 0.2)),
        float(rng.uniform(2.0, 2.8)),
    )
    off = rng.uniform(-LENS, LENS, 3)
    lens = tuple(float(t + o) for t, o in zip(taped, off, strict=True))
    tilt = radians(float(rng.uniform(-5, 2)))
    roll, yaw = (float(one) for one in rng.uniform(-level, level, 2))
    assert len(lens) == 3
    return Mounting(tilt, roll, yaw, lens, inside), taped


def beams(mounting: Mounting, row_angle: float, fan: Floats, z: float = 0.0) -> Floats:
    """(n, 2) where beams of a row stand at a height."""
    unit = [mounting.yaw, mounting.tilt, mounting.roll]
    turned = Rotation.from_euler("ZXY", unit) * Rotation.from_euler("X", row_angle)
    if mounting.inside:
        turned = Rotation.from_euler("Z", pi) * turned
    flat = np.stack([np.sin(fan), np.zeros_like(fan), -np.cos(fan)], axis=1)
    way = turned.apply(flat)
    drop = mounting.lens[2] - z
    return np.array(mounting.lens[:2]) - drop * way[:, :2] / way[:, 2:]


def slope(mounting: Mounting, row_angle: float, fan: float) -> Floats:
    """Sideways over downward of one beam."""
    place = beams(mounting, row_angle, np.array([fan]))[0]
    return (place - np.array(mounting.lens[:2])) / mounting.lens[2]


def line_at(mounting: Mounting, row_angle: float, x: float, z: float = 0.0) -> float:
    """How far out a row runs at a place along the opening."""
    fan = np.linspace(-1.1, 1.1, 2001)
    floor = beams(mounting, row_angle, fan, z)
    order = np.argsort(floor[:, 0])
    return float(np.interp(x, floor[order, 0], floor[order, 1]))


def true_reading(
    mounting: Mounting, what: Curtain, wanted: Wanted, number: int
) -> Taken:
    """What a perfect reading shows."""
    angle, fan = what.row_angles[wanted.row], what.fans[wanted.row]
    row = wanted.row
    match wanted.kind:
        case "spot" | "end":
            spot = int(wanted.at) % len(fan)
            own = fan[len(fan) - 1 - spot] if mounting.inside else fan[spot]
            x, y = (float(p) for p in beams(mounting, angle, np.array([own]))[0])
            if wanted.kind == "end":
                return Taken(number, "end", x, nan, WITHIN["end"], 0.0, row, spot)
            u = WITHIN["spot"]
            return Taken(number, "spot", x, y, u, u, row, spot)
        case "line":
            x = mounting.lens[0] + wanted.at
            y = line_at(mounting, angle, x)
            return Taken(number, "line", x, y, ALONG, WITHIN["line"], row)
        case _:
            x = mounting.lens[0] + wanted.at
            y = _pushed(mounting, what, wanted, x)
            u = WITHIN[wanted.kind]
            kind = "in" if wanted.kind == "in" else "out"
            return Taken(number, kind, x, y, ALONG, u, row, box=BOX)


BOX = 0.7


def _pushed(mounting: Mounting, what: Curtain, wanted: Wanted, x: float) -> float:
    """The place of a box's leading edge at which a row first meets it, looked for."""
    away = -1.0 if mounting.inside else 1.0
    heights = np.linspace(what.low or 0.0, BOX, 5)
    angle = what.row_angles[wanted.row]
    out = [away * line_at(mounting, angle, x, float(z)) for z in heights]
    return away * (max(out) if wanted.kind == "in" else min(out))


def read(
    rng: np.random.Generator,
    mounting: Mounting,
    what: Curtain,
    wanted: Wanted,
    number: int,
    *,
    bounded: bool = False,
) -> Taken:
    """What an honest reading shows, spots a bit off their own angle.

    A tape and a box's edge err anywhere within what they say.  What a finder shows is
    judged by eye, from many small causes: normal, of the same standard uncertainty, and
    one time in twelve beyond what it says; unless all are to stay within it.
    """
    true = true_reading(mounting, what, wanted, number)
    gx, gy = _seen(mounting, what, true)
    z = BOX if wanted.kind in ("in", "out") else 0.0
    stray = (mounting.lens[2] - z) * (1 + gx * gx + gy * gy) * ANGLE_ERROR
    x, y = true.x, true.y
    if wanted.kind in ("spot", "end"):
        x += _any(rng, stray) + gx * _any(rng, EVENNESS)
    if wanted.kind != "end":
        y += _any(rng, stray) + (gy * _any(rng, EVENNESS) if z == 0.0 else 0.0)
    judged = wanted.kind in FOUND and not bounded
    off = _judged if judged else _any
    return replace(true, x=x + off(rng, true.ux), y=y + off(rng, true.uy))


def _seen(mounting: Mounting, what: Curtain, true: Taken) -> tuple[float, float]:
    row = true.row or 0
    along = (true.x - mounting.lens[0]) / mounting.lens[2]
    away = -1.0 if mounting.inside else 1.0
    gx, gy = slope(mounting, what.row_angles[row], away * atan(along))
    return float(gx), float(gy)


def _judged(rng: np.random.Generator, within: float) -> float:
    return float(rng.normal(0.0, within / 3**0.5))


def _any(rng: np.random.Generator, within: float) -> float:
    return float(rng.uniform(-within, within))


SETS: dict[str, tuple[Wanted, ...]] = {
    "the useful minimum": (
        Wanted("line", 0, -1.0),
        Wanted("line", 0, 1.0),
        Wanted("end", 0, 0),
        Wanted("end", 0, 23),
    ),
    "five spots": (
        Wanted("spot", 0, 0),
        Wanted("spot", 0, 23),
        Wanted("spot", 0, 12),
        Wanted("spot", 1, 3),
        Wanted("spot", 1, 20),
    ),
    "the minimum and a spot": (
        Wanted("line", 0, -1.0),
        Wanted("line", 0, 1.0),
        Wanted("end", 0, 0),
        Wanted("end", 0, 23),
        Wanted("spot", 0, 12),
    ),
    "a box and row ends": (
        Wanted("in", 0, -0.8),
        Wanted("in", 0, 0.8),
        Wanted("out", 0, 0.0),
        Wanted("end", 0, 0),
        Wanted("end", 0, 23),
    ),
}
"""What is read at a unit: sets that people would take."""
