"""Seeded random doorways in plain numbers, and their beams in three dimensions.

Frame: origin on the floor at the middle of the clear opening, x along the opening,
y outwards, z up. All lengths in metres, all angles in radians.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Box = tuple[float, float, float, float]

WALL_LENGTH = 1.5
"""How far a wall goes on behind its post: more than any body is long."""


@dataclass(frozen=True)
class Rest:
    """One rest face of the reference body: plan size w by d, height b."""

    name: str
    w: float
    d: float
    b: float

    @property
    def reach(self) -> float:
        """Half the diagonal of the plan."""
        return float(np.hypot(self.w, self.d)) / 2.0


RESTS = (
    Rest("upright", 0.300, 0.200, 0.700),
    Rest("on its face", 0.700, 0.300, 0.200),
    Rest("on its edge", 0.700, 0.200, 0.300),
)


@dataclass(frozen=True)
class Row:
    """One row of spots: its angle from the unit's axis and the fan angle of each."""

    angle: float
    fan: tuple[float, ...]


@dataclass(frozen=True)
class Unit:
    """A mounted unit, told in the frame of its own side (turned by pi if inside)."""

    x: float
    y: float
    h: float
    tilt: float
    roll: float
    yaw: float
    rows: tuple[Row, ...]
    inside: bool
    needed: int


@dataclass(frozen=True)
class Errors:
    """Bounds of a pose error: lens place, turn about x, y, z, and the fan angle."""

    dx: float
    dy: float
    dh: float
    tilt: float
    roll: float
    yaw: float
    fan: float


@dataclass(frozen=True)
class Doorway:
    """A random doorway with two units and one body, all in plain numbers."""

    seed: int
    width: float
    leaf: float
    reveal: float | None
    units: tuple[Unit, ...]
    rest: Rest
    low: float
    evenness: float
    tolerance: float
    errors: Errors

    @property
    def span(self) -> tuple[float, float]:
        """The heights between which a beam can meet the body."""
        lowest_lens = min(u.h for u in self.units)
        low = self.low + self.evenness
        return low, min(self.rest.b, lowest_lens) - self.evenness


@dataclass(frozen=True)
class Plan:
    """What a coverage proof is given: beams on the floor, and where bodies may be."""

    segments: Floats
    group: Ints
    needed: Ints
    body: tuple[float, float]
    zone: Box
    must_meet: Box
    blocked: tuple[Box, ...]


def turn_x(a: float) -> Floats:
    """Right-handed turn about x."""
    c, s = np.cos(a), np.sin(a)
    return np.array([[1.0, 0.0, 0.0], [0.0, c, -s], [0.0, s, c]])


def turn_y(a: float) -> Floats:
    """Right-handed turn about y."""
    c, s = np.cos(a), np.sin(a)
    return np.array([[c, 0.0, s], [0.0, 1.0, 0.0], [-s, 0.0, c]])


def turn_z(a: float) -> Floats:
    """Right-handed turn about z."""
    c, s = np.cos(a), np.sin(a)
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])


def lens_of(unit: Unit) -> Floats:
    """The lens point in the doorway's frame, (3,)."""
    sign = -1.0 if unit.inside else 1.0
    return np.array([sign * unit.x, sign * unit.y, unit.h])


def directions(unit: Unit, fan_error: Floats | None = None) -> Floats:
    """Unit vectors of every beam in the doorway's frame, (n, 3).

    ``fan_error`` (n,) is added to the fan angle of each beam, row after row.
    """
    mount = turn_z(unit.yaw) @ turn_x(unit.tilt) @ turn_y(unit.roll)
    if unit.inside:
        mount = turn_z(np.pi) @ mount
    found: list[Floats] = []
    start = 0
    for row in unit.rows:
        phi = np.array(row.fan)
        if fan_error is not None:
            phi = phi + fan_error[start : start + phi.size]
        start += phi.size
        local = np.stack([np.sin(phi), np.zeros_like(phi), -np.cos(phi)])
        found.append((mount @ turn_x(row.angle) @ local).T)
    return np.vstack(found)


def axes_of(unit: Unit) -> tuple[Floats, Floats]:
    """The axes about which a fan and a row angle turn each beam, two (n, 3)."""
    mount = turn_z(unit.yaw) @ turn_x(unit.tilt) @ turn_y(unit.roll)
    if unit.inside:
        mount = turn_z(np.pi) @ mount
    fan = [
        np.tile(
            mount @ turn_x(row.angle) @ np.array([0.0, -1.0, 0.0]), (len(row.fan), 1)
        )
        for row in unit.rows
    ]
    across = np.tile(mount @ np.array([1.0, 0.0, 0.0]), (sum(map(len, fan)), 1))
    return np.vstack(fan), across


def segments_of(lens: Floats, beams: Floats, span: tuple[float, float]) -> Floats:
    """The parts of beams between two heights, seen from above, (n, 4).

    A beam that does not go down, or an empty span, is refused: the generator makes
    none, so one that appears is a fault of ours.
    """
    low, high = span
    if not (low < high < lens[2]) or bool(np.any(beams[:, 2] >= -1e-3)):
        raise ValueError("a beam does not go down through the span")
    slope = beams[:, :2] / -beams[:, 2:]
    bottom = lens[:2] + (lens[2] - low) * slope
    top = lens[:2] + (lens[2] - high) * slope
    return np.ascontiguousarray(np.hstack([bottom, top]))


def plan_of(
    doorway: Doorway, mounted: list[tuple[Floats, Floats]] | None = None
) -> Plan:
    """The plan of a doorway, with its units as drawn or as ``mounted``.

    ``mounted`` holds a lens (3,) and beam directions (n, 3) for each unit.
    """
    if mounted is None:
        mounted = [(lens_of(u), directions(u)) for u in doorway.units]
    parts = [segments_of(lens, beams, doorway.span) for lens, beams in mounted]
    half, leaf, reach = doorway.width / 2, doorway.leaf / 2, doorway.rest.reach
    walls: tuple[Box, ...] = ()
    if doorway.reveal is not None:
        out, deep = half + WALL_LENGTH, doorway.reveal
        walls = ((-out, -half, -deep, deep), (half, out, -deep, deep))
    return Plan(
        segments=np.vstack(parts),
        group=np.repeat(np.arange(len(parts)), [len(p) for p in parts]),
        needed=np.array([u.needed for u in doorway.units]),
        body=(doorway.rest.w, doorway.rest.d),
        zone=(-half - reach, half + reach, -leaf - reach, leaf + reach),
        must_meet=(-half, half, -leaf, leaf),
        blocked=walls,
    )


def random_doorway(seed: int) -> Doorway:
    """The doorway with this number: the same for ever.

    Three in five are aimed as a careful fitter would; the others are drawn from the
    whole range, so that both verdicts are frequent; one in six of the aimed ones has
    rows within a few millimetres of the limit.
    """
    rng = np.random.default_rng([20240607, seed])
    aimed = bool(rng.random() < 0.6)
    near = aimed and bool(rng.random() < 0.17)
    width = float(rng.uniform(0.9, 3.0))
    rest = RESTS[int(rng.integers(3))]
    needed = 1 if rng.random() < 0.65 else 2
    height = float(rng.uniform(2.0, 3.5))
    first = _first_rows(rng, aimed, near, rest)
    units = tuple(
        _random_unit(rng, width, height, first[side], aimed, needed, bool(side))
        for side in (0, 1)
    )
    return Doorway(
        seed=seed,
        width=width,
        leaf=float(rng.uniform(0.030, 0.060)),
        reveal=float(rng.uniform(0.04, 0.30)) if rng.random() < 0.85 else None,
        units=units,
        rest=rest,
        low=float(rng.uniform(0.0, 0.060)),
        evenness=float(rng.uniform(0.0, 0.005)),
        tolerance=0.0 if rng.random() < 0.4 else float(rng.uniform(0.0, 0.010)),
        errors=_random_errors(rng),
    )


def _first_rows(
    rng: np.random.Generator, aimed: bool, near: bool, rest: Rest
) -> tuple[float, float]:
    """Where the innermost row of each side lands, from the leaf middle."""
    if not aimed:
        return float(rng.uniform(0.03, 0.30)), float(rng.uniform(0.03, 0.30))
    if near:
        total = rest.d + float(rng.uniform(-0.006, 0.012))
        one = total / 2 + float(rng.uniform(-0.02, 0.02))
        return one, total - one
    return float(rng.uniform(0.03, 0.09)), float(rng.uniform(0.03, 0.09))


def _random_unit(
    rng: np.random.Generator,
    width: float,
    height: float,
    first: float,
    aimed: bool,
    needed: int,
    inside: bool,
) -> Unit:
    y = float(rng.uniform(0.03, 0.16))
    x = float(rng.normal(0.0, 0.03)) if aimed else float(rng.uniform(-0.25, 0.25))
    small = 0.15 if aimed else 1.0
    tilt = float(np.radians(rng.uniform(0.0, 6.0)))
    yaw, roll = (float(np.radians(small * rng.uniform(-1.0, 1.0))) for _ in "yr")
    h = height + float(rng.uniform(-0.05, 0.05))
    h = min(max(h, 2.0), 3.5)
    rows = _random_rows(rng, width, h, y, tilt, first, aimed)
    return Unit(x, y, h, tilt, roll, yaw, rows, inside, needed)


def _random_rows(
    rng: np.random.Generator,
    width: float,
    h: float,
    y: float,
    tilt: float,
    first: float,
    aimed: bool,
) -> tuple[Row, ...]:
    count = int(rng.integers(1, 5))
    steps = np.concatenate([[0.0], rng.uniform(0.02, 0.09, count - 1)])
    landings = np.minimum(first + np.cumsum(steps), 0.30)
    share = float(rng.uniform(0.93, 1.2) if aimed else rng.uniform(0.6, 1.2))
    spots = int(rng.integers(14, 41) if aimed else rng.integers(8, 41))
    even_on_floor = bool(rng.random() < 0.5)
    stagger = bool(rng.random() < 0.3)
    rows: list[Row] = []
    for i, landing in enumerate(landings):
        angle = float(np.arctan2(landing - y, h)) - tilt
        slant = float(np.hypot(h, landing - y))
        edge = share * width / 2
        step = 2 * edge / (spots - 1)
        nudge = step / 2 if stagger and i % 2 else 0.0
        if even_on_floor:
            fan = np.arctan((np.linspace(-edge, edge, spots) + nudge) / slant)
        else:
            reach = float(np.arctan(edge / slant))
            fan = np.linspace(-reach, reach, spots) + nudge / slant
        rows.append(Row(angle, tuple(float(f) for f in fan)))
    return tuple(rows)


def _random_errors(rng: np.random.Generator) -> Errors:
    place = rng.uniform(0.0, 0.004, 3)
    turn = np.radians(rng.uniform(0.0, 0.12, 3))
    fan = float(np.radians(rng.uniform(0.0, 0.15)))
    dx, dy, dh = (float(v) for v in place)
    tilt, roll, yaw = (float(v) for v in turn)
    return Errors(dx, dy, dh, tilt, roll, yaw, fan)
