"""Which beams readings met, where nobody counted rows and spots.

Every way to number the open rows and spots is one explanation.  An explanation costs
the misfit of its best pose and, besides, how far that pose is from how units hang:
level, square and at the tilt of the scale, as closely as units are mounted.  What
costs less than another by `TOLD_APART` is a thousand times as likely; explanations
closer than that are tied, and none of them is chosen.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import atan, inf, log

import numpy as np

from limen.geometry.turns import Array
from limen.physics.readings.expecting import (
    ACROSS,
    ALONG,
    HEIGHT,
    ROLL,
    TILT,
    YAW,
    Curtain,
    Taken,
    frames,
    met_by,
)
from limen.physics.readings.hanging import Hanging, Known, determined, hang

TOLD_APART = 2 * log(1000.0)
"""Difference of costs at which one explanation is a thousand times as likely."""
MOST_COMBINED = 64
"""Numberings of open rows that are all tried; beyond that, from likely poses only."""
APART = 2.0
"""Standard uncertainties by which two poses differ that are not one: what differs by
less is added to what the fit leaves open."""
LIKELY = 10
"""Poses from which what is open is numbered: those nearest to the readings."""
ROUNDS = 6
PITCHES = (-2, -1, 0, 1, 2)
"""Spots to either side of the nearest one that are tried for an open spot."""


@dataclass(frozen=True, slots=True)
class Usual:
    """How units hang before anybody reads anything.

    Attributes:
        tilt: of the scale (rad); None if it was not read off.
        level: how closely a unit hangs level and square (rad).
        scale: how closely the tilt scale is set (rad).
    """

    tilt: float | None
    level: float
    scale: float

    def cost(self, pose: Array) -> float:
        """How unusual a pose is: the sum of its squares, in half-widths over root 3."""
        cost = 3.0 * (pose[ROLL] ** 2 + pose[YAW] ** 2) / self.level**2
        if self.tilt is not None:
            within = self.level + self.scale
            cost += 3.0 * (pose[TILT] - self.tilt) ** 2 / within**2
        return float(cost)


@dataclass(frozen=True, slots=True)
class Explained:
    """One way to understand all readings.

    Attributes:
        taken: the readings, each resolved.
        hanging: the pose that follows.
        cost: misfit, and how unusual the pose is.
    """

    taken: tuple[Taken, ...]
    hanging: Hanging
    cost: float

    @property
    def numbers(self) -> tuple[tuple[int, int | None, int | None], ...]:
        """Place in the file, row and spot of each reading, from 0."""
        return tuple((one.number, one.row, one.spot) for one in self.taken)


def apart(one: Explained, other: Explained) -> bool:
    """Whether two explanations give poses that differ by more than their doubt.

    Which row a row's end belongs to, for one, hardly matters: rows end alike.
    """
    angles = slice(TILT, YAW + 1)
    off = np.abs(one.hanging.pose[angles] - other.hanging.pose[angles])
    return bool(np.any(off > APART * one.hanging.spread[angles]))


def explanations(
    known: Known, taken: Sequence[Taken], usual: Usual
) -> tuple[Explained, ...]:
    """Every way to understand the readings that is about as likely as the best.

    Args:
        known: what is known of the unit.
        taken: the readings; rows and spots may be open.
        usual: how units hang.

    Returns:
        The likeliest first; one where nothing is tied, none where the readings do
        not determine a pose.
    """
    found: dict[tuple[object, ...], Explained] = {}
    for numbered in _numberings(known, taken, usual):
        one = _explained(known, numbered, usual)
        if one is not None:
            found.setdefault(one.numbers, one)
    ranked = sorted(found.values(), key=lambda one: one.cost)
    least = ranked[0].cost if ranked else inf
    return tuple(one for one in ranked if one.cost - least < TOLD_APART)


def _explained(
    known: Known, taken: tuple[Taken, ...], usual: Usual
) -> Explained | None:
    if not determined(known, taken, known.begin()):
        return None
    found = hang(known, taken)
    if not determined(known, taken, found.pose):
        return None
    return Explained(taken, found, found.misfit + usual.cost(found.pose))


def _numberings(
    known: Known, taken: Sequence[Taken], usual: Usual
) -> Iterator[tuple[Taken, ...]]:
    """Ways to number what is open: all of them, or from likely poses only."""
    if all(one.resolved for one in taken):
        yield tuple(taken)
        return
    seen: set[tuple[Taken, ...]] = set()
    for rowed in _rowed(known, taken):
        starts = list(_starts(known, rowed, usual))
        apart = [nearest(known.curtain, rowed, pose)[1] for pose in starts]
        order = sorted(range(len(starts)), key=apart.__getitem__)
        for which in order[:LIKELY]:
            numbered = _settled(known, rowed, starts[which])
            if numbered not in seen:
                seen.add(numbered)
                yield numbered


def _rowed(known: Known, taken: Sequence[Taken]) -> Iterator[tuple[Taken, ...]]:
    """The readings with every open line numbered, as far as that can be gone through.

    Rows end alike: to which row an end belongs, the nearest pose says.  Beside open
    spots the lines are left open too.
    """
    rows = known.curtain.rows_on
    open_ = [
        place
        for place, one in enumerate(taken)
        if one.row is None and one.kind == "line"
    ]
    spots = any(one.kind == "spot" and not one.resolved for one in taken)
    if spots or len(rows) ** len(open_) > MOST_COMBINED:
        yield tuple(taken)
        return
    for picked in product(rows, repeat=len(open_)):
        numbered = dict(zip(open_, picked, strict=True))
        yield tuple(
            replace(one, row=numbered[place]) if place in numbered else one
            for place, one in enumerate(taken)
        )


def _starts(known: Known, taken: Sequence[Taken], usual: Usual) -> Iterator[Array]:
    """Poses from which open spots, and rows that are left open, are numbered."""
    begin = known.begin()
    tilts = dict.fromkeys(round(t, 3) for t in _tilts(known, taken))
    for tilt in tilts or [known.tilt if usual.tilt is None else usual.tilt]:
        at = begin.copy()
        at[TILT] = tilt
        for roll in _rolls(known, taken, at):
            pose = at.copy()
            pose[ROLL] = roll
            yield pose


def _tilts(known: Known, taken: Sequence[Taken]) -> Iterator[float]:
    """Tilts at which a row passes where something was read, unturned otherwise."""
    x, y, h = known.lens
    del x
    for one in taken:
        if one.kind == "end" or one.is_box:
            continue
        run = known.curtain.away * (one.y - y)
        rows = known.curtain.rows_on if one.row is None else (one.row,)
        yield from (atan(run / h) - known.curtain.row_angles[row] for row in rows)


def _rolls(known: Known, taken: Sequence[Taken], pose: Array) -> list[float]:
    """Rolls at which some spot lies where an open one was read."""
    open_ = next((o for o in taken if o.kind == "spot" and o.spot is None), None)
    if open_ is None:
        return [0.0]
    row = known.curtain.rows_on[0] if open_.row is None else open_.row
    fan = np.sort(known.curtain.fans[row])
    slope = (open_.x - pose[ALONG]) / pose[HEIGHT] * known.curtain.away
    nearest = int(np.argmin(np.abs(np.tan(fan) - slope)))
    spots = {min(max(nearest + pitch, 0), len(fan) - 1) for pitch in PITCHES}
    return [float(fan[spot]) - atan(slope) for spot in sorted(spots)]


def _settled(known: Known, taken: tuple[Taken, ...], pose: Array) -> tuple[Taken, ...]:
    """What is open numbered by the nearest beam, and again by the pose that follows."""
    numbered, _ = nearest(known.curtain, taken, pose)
    if numbered == taken:
        return numbered
    for _ in range(ROUNDS):
        if not all(determined(known, numbered, at) for at in (pose, known.begin())):
            return numbered
        again, _ = nearest(known.curtain, taken, hang(known, numbered).pose)
        if again == numbered:
            return numbered
        numbered = again
    return numbered


def nearest(
    curtain: Curtain, taken: Sequence[Taken], pose: Array
) -> tuple[tuple[Taken, ...], float]:
    """What is open numbered by the nearest beam, and the squares of all distances."""
    each = frames(curtain, pose)

    def distance(one: Taken) -> float:
        gx, gy, z = met_by(curtain, pose, one, each)
        drop = pose[HEIGHT] - z
        x = pose[ALONG] + drop * gx - one.x if one.kind in ("spot", "end") else 0.0
        y = pose[ACROSS] + drop * gy - one.y if one.kind != "end" else 0.0
        return float(x * x + y * y)

    numbered = tuple(
        one if one.resolved else min(_choices(curtain, one), key=distance)
        for one in taken
    )
    return numbered, sum(map(distance, numbered))


def _choices(curtain: Curtain, one: Taken) -> Iterator[Taken]:
    rows = curtain.rows_on if one.row is None else (one.row,)
    for row in rows:
        if one.kind != "spot" or one.spot is not None:
            yield replace(one, row=row)
        else:
            spots = range(len(curtain.fans[row]))
            yield from (replace(one, row=row, spot=spot) for spot in spots)
