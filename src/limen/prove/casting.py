"""What units cast on the floor, every spot of them, and which bodies that meets."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from limen.geometry.turns import Array
from limen.physics.coverage.pose import Pose
from limen.physics.reach import Body, Ground, Level, Placed, Scope, Unit
from limen.prove.dead import spots_of
from limen.questions.coverage import Case

Flags = NDArray[np.bool_]
Ints = NDArray[np.int64]
Half = NDArray[np.float32]
"""Counts of a few beams, in half the room."""


@dataclass(frozen=True, slots=True)
class Thrown:
    """All spots of one unit, as a body at rest is met by them.

    Attributes:
        lines: (spots, 6) middle x, y and half vector x, y on the floor (m), two zeros.
        lit: (spots,) whether the spot is on and gets to the body at all.
        row: (spots,) its row, from 0.
        needed: how many of them it takes.
    """

    lines: Array
    lit: Flags
    row: Ints
    needed: int

    def counted(self, case: Case, fitting: str) -> Flags:
        """(spots,) those that count in a state of the doorway."""
        if fitting in case.muted:
            return np.zeros_like(self.lit)
        paused = dict(case.pausing).get(fitting, ())
        if not paused:
            return self.lit
        return self.lit & ~np.isin(self.row, paused)


def thrown(unit: Unit, ground: Ground, body: Body) -> Thrown:
    """What a unit casts, taken as it is, without errors.

    Args:
        unit: as it hangs and is set.
        ground: the floor and what stands in the way.
        body: at rest.
    """
    if isinstance(unit, Level):
        return _level(unit, ground, body)
    return _placed(unit, ground, body)


def _level(unit: Level, ground: Ground, body: Body) -> Thrown:
    half = ground.plan.half
    lines = np.array([(0.0, y, half, 0.0, 0.0, 0.0) for y, _ in unit.beams])
    top = body.height - ground.evenness
    lit = np.array([ground.evenness <= z <= top for _, z in unit.beams], np.bool_)
    return Thrown(lines.reshape(-1, 6), lit, np.zeros(len(lit), np.int64), 1)


def _placed(unit: Placed, ground: Ground, body: Body) -> Thrown:
    count = spots_of(unit)
    rows = np.repeat(np.arange(len(unit.fan.angles)), [len(a) for a in unit.fan.angles])
    lines, lit = np.zeros((count, 6)), np.zeros(count, np.bool_)
    scope = Scope(body, ground.evenness, exact=True)
    parts = Ground(ground.plan, ground.evenness).traced(unit, scope).parts
    if parts is not None:
        seen, _ = parts
        beams = unit.beams()
        firsts = np.searchsorted(rows, beams.row)
        at = firsts + beams.spot
        half = (seen.near[:, 2:] - seen.near[:, :2]) / 2.0
        lines[at, :2], lines[at, 2:4] = seen.near[:, :2] + half, half
        lit[at] = seen.has_near
    return Thrown(lines, lit, rows, unit.needed)


def met(lines: Array, body: Body, poses: Sequence[Pose]) -> Flags:
    """(poses, spots) whether each line meets the body at each pose."""
    along, across, aside, _ = _parted(lines, body, poses)
    return (along <= 0.0) & (across <= 0.0) & (aside <= 0.0)


def gaps(lines: Array, body: Body, poses: Sequence[Pose]) -> Array:
    """(poses, spots) by how much each side of the body must grow to be met (m).

    As `limen.physics.coverage.pose.gaps`, over many poses at once.

    Args:
        lines: (spots, 6) as in `Thrown`.
        body: at rest.
        poses: x, y (m) and yaw (rad).
    """
    along, across, aside, spread = _parted(lines, body, poses)
    point = spread == 0.0
    aside = np.where(point, -np.inf, aside / np.where(point, 1.0, spread))
    return np.maximum(np.maximum(along, across), aside)


def _parted(
    lines: Array, body: Body, poses: Sequence[Pose]
) -> tuple[Array, Array, Array, Array]:
    """How far each axis parts a line from the body, the line's own one in its scale."""
    at = np.array(poses, dtype=np.float64).reshape(-1, 3)
    c, s = np.cos(at[:, 2])[:, None], np.sin(at[:, 2])[:, None]
    w, d = body.width / 2, body.depth / 2
    x, y = lines[:, 0] - at[:, :1], lines[:, 1] - at[:, 1:2]
    hx, hy = lines[:, 2], lines[:, 3]
    hu, hv = np.abs(c * hx + s * hy), np.abs(c * hy - s * hx)
    along = np.abs(c * x + s * y) - hu - w
    across = np.abs(c * y - s * x) - hv - d
    return along, across, np.abs(hx * y - hy * x) - w * hv - d * hu, hu + hv
